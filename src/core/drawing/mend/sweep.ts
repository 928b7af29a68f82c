/**
 * Pairs of boxes that overlap, by a sweep along X.
 *
 * Cost: O(n log n + pairs that overlap in X); the number of pairs looked at is bounded, and the answer says
 * when the bound was met.
 */
import type { Box } from "../../geometry/shape.ts";

/** 20 million looks take about a second. */
const LOOKS_MOST = 20_000_000;

/** Calls `pair(i, j)` for every two boxes within `margin`; false where there were too many to look at. */
export function overlappingPairs(
  boxes: readonly Box[],
  margin: number,
  pair: (i: number, j: number) => void,
): boolean {
  const order = boxes.map((_, i) => i);
  order.sort((i, j) => (boxes[i] as Box).min.x - (boxes[j] as Box).min.x || i - j);
  let active: number[] = [];
  let looks = 0;
  for (const i of order) {
    const b = boxes[i] as Box;
    const still: number[] = [];
    for (const j of active) {
      const a = boxes[j] as Box;
      if (a.max.x + margin < b.min.x) continue;
      still.push(j);
      if (a.min.y <= b.max.y + margin && b.min.y <= a.max.y + margin)
        pair(Math.min(i, j), Math.max(i, j));
    }
    looks += active.length;
    if (looks > LOOKS_MOST) return false;
    still.push(i);
    active = still;
  }
  return true;
}
