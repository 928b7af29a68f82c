/**
 * Which contour lies in which, by containment alone: depth 0, 2, 4 … is material, 1, 3 … is a hole in it.
 *
 * A contour's place is told by points of its own that lie clear of the other; direction and layer say nothing.
 * Cost: a sweep over boxes, and O(pairs with nested boxes × segments).
 */
import { boxAround } from "../drawing/mend/double/boxes.ts";
import { overlappingPairs } from "../drawing/mend/double/sweep.ts";
import { contains, distanceTo, signedArea } from "../geometry/contour.ts";
import { pointAt } from "../geometry/segment.ts";
import type { Box, Contour, Point } from "../geometry/shape.ts";

export interface Nest {
  readonly depth: number;
  /** Index of the innermost contour around this one; −1 where there is none. */
  readonly parent: number;
}

export function nesting(contours: readonly Contour[]): Nest[] {
  const boxes = contours.map(boxAround);
  const areas = contours.map((c) => Math.abs(signedArea(c)));
  const around: number[][] = contours.map(() => []);
  // Where the sweep gives up, the mending has given the same drawing up before, and said so.
  overlappingPairs(boxes, BOX_SLACK, (i, j) => {
    const [inner, outer] = smaller(areas, i, j) ? [i, j] : [j, i];
    if (boxInside(boxes[inner] as Box, boxes[outer] as Box)) around[inner]?.push(outer);
  });
  const parents = contours.map((c, i) => {
    const candidates = around[i] as number[];
    candidates.sort((a, b) => (smaller(areas, a, b) ? -1 : 1));
    return candidates.find((j) => inside(c, contours[j] as Contour)) ?? -1;
  });
  const depths = new Array<number>(contours.length).fill(-1);
  const order = contours.map((_, i) => i);
  order.sort((a, b) => (smaller(areas, a, b) ? 1 : -1));
  for (const i of order) {
    const parent = parents[i] as number;
    depths[i] = parent < 0 ? 0 : (depths[parent] as number) + 1;
  }
  return parents.map((parent, i) => ({ depth: depths[i] as number, parent }));
}

/** A contour can only lie in a larger one; of two equals the first counts as larger. */
function smaller(areas: readonly number[], i: number, j: number): boolean {
  const d = (areas[i] as number) - (areas[j] as number);
  return d < 0 || (d === 0 && i > j);
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
