/**
 * Pairs of boxes that overlap, by a sweep along X.
 *
 * Cost: O(n log n + pairs that overlap in X). Both the looks and the pairs are bounded, because a small file can
 * draw everything over everything; the answer says when a bound was met.
 */
import type { Box } from "../../geometry/shape.ts";

/** A look compares four numbers. */
const LOOKS_MOST = 20_000_000;
/** A pair is looked into: plates have a few for each segment, and some more where long edges stand aslant. */
const PAIRS_MOST = 150_000;
const PAIRS_EACH = 30;

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
  let pairsLeft = PAIRS_MOST + PAIRS_EACH * boxes.length;
  for (const i of order) {
    const b = boxes[i] as Box;
    const still: number[] = [];
    for (const j of active) {
      const a = boxes[j] as Box;
      if (a.max.x + margin < b.min.x) continue;
      still.push(j);
      if (a.min.y > b.max.y + margin || b.min.y > a.max.y + margin) continue;
      if (--pairsLeft < 0) return false;
      pair(Math.min(i, j), Math.max(i, j));
    }
    looks += active.length;
    if (looks > LOOKS_MOST) return false;
    still.push(i);
    active = still;
  }
  return true;
}
