/**
 * Which contour lies in which, by containment alone: depth 0, 2, 4 … is material, 1, 3 … is a hole in it.
 *
 * A contour's place is told by points of its own that lie clear of the other; direction and layer say nothing.
 * Cost: O(pairs with nested boxes × segments).
 */
import { bounds, contains, distanceTo, signedArea } from "../geometry/contour.ts";
import { pointAt } from "../geometry/segment.ts";
import type { Box, Contour, Point } from "../geometry/shape.ts";

export interface Nest {
  readonly depth: number;
  /** Index of the innermost contour around this one; −1 where there is none. */
  readonly parent: number;
}

export function nesting(contours: readonly Contour[]): Nest[] {
  const boxes = contours.map(bounds);
  const areas = contours.map((c) => Math.abs(signedArea(c)));
  // Larger first: a contour can only lie in one that comes before it.
  const order = contours.map((_, i) => i);
  order.sort((a, b) => (areas[b] as number) - (areas[a] as number) || a - b);
  const nests: Nest[] = contours.map(() => ({ depth: 0, parent: -1 }));
  order.forEach((i, rank) => {
    for (let k = rank - 1; k >= 0; k--) {
      const j = order[k] as number;
      if (!boxInside(boxes[i] as Box, boxes[j] as Box)) continue;
      if (!inside(contours[i] as Contour, contours[j] as Contour)) continue;
      nests[i] = { depth: (nests[j] as Nest).depth + 1, parent: j };
      return;
    }
  });
  return nests;
}

/** Boxes of touching contours may stick out by rounding. */
const BOX_SLACK = 0.01;
/** A point this near a contour does not tell its side. */
const CLEAR = 0.01;

function boxInside(a: Box, b: Box): boolean {
  return (
    a.min.x >= b.min.x - BOX_SLACK &&
    a.min.y >= b.min.y - BOX_SLACK &&
    a.max.x <= b.max.x + BOX_SLACK &&
    a.max.y <= b.max.y + BOX_SLACK
  );
}

function inside(a: Contour, b: Contour): boolean {
  let fallback: Point | undefined;
  for (const s of a.segments) {
    for (const t of [0.5, 0.25, 0]) {
      const p = pointAt(s, t);
      fallback ??= p;
      if (distanceTo(b, p) > CLEAR) return contains(b, p);
    }
  }
  return fallback !== undefined && contains(b, fallback);
}
