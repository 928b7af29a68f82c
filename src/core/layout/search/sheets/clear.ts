/** What is left of a sheet in one rectangle. */
import type { Box } from "../../../geometry/shape.ts";

/**
 * Area of the largest upright rectangle in a box that none of the boxes taken reaches into. From every left side to the
 * right: what is taken on the way parts the heights that are left in two. Cost: O(n²) for n boxes.
 */
export function clearArea(all: Box, taken: readonly Box[]): number {
  const sorted = [...taken].sort((a, b) => a.min.x - b.min.x);
  let best = 0;
  const from = (left: number, low: number, high: number, first: number): void => {
    if (high <= low) return;
    for (let i = first; i < sorted.length; i++) {
      const { min, max } = sorted[i] as Box;
      if (max.x <= left || max.y <= low || min.y >= high) continue;
      best = Math.max(best, (Math.min(min.x, all.max.x) - left) * (high - low));
      if ((all.max.x - left) * (high - low) <= best) return;
      from(left, low, Math.min(high, min.y), i + 1);
      from(left, Math.max(low, max.y), high, i + 1);
      return;
    }
    best = Math.max(best, (all.max.x - left) * (high - low));
  };
  for (const left of [all.min.x, ...sorted.map((b) => Math.max(b.max.x, all.min.x))]) {
    from(left, all.min.y, all.max.y, 0);
  }
  return best;
}
