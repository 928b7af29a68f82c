/**
 * Boxes of contours, reckoned once: doubles, near-doubles, borders and nesting all ask for them. Full circles, of
 * which plates have most, need no angles for theirs.
 */
import { bounds, isCircle } from "../../../geometry/contour.ts";
import { boxOf, isFullCircle } from "../../../geometry/segment.ts";
import type { Box, Contour, Segment } from "../../../geometry/shape.ts";

const known = new WeakMap<Contour, Box>();

export function boxAround(c: Contour): Box {
  let box = known.get(c);
  if (box === undefined) {
    box = isCircle(c) ? segmentBox(c.segments[0] as Segment) : bounds(c);
    known.set(c, box);
  }
  return box;
}

export function segmentBox(s: Segment): Box {
  if (!isFullCircle(s)) return boxOf(s);
  const { centre, radius } = s;
  return {
    min: { x: centre.x - radius, y: centre.y - radius },
    max: { x: centre.x + radius, y: centre.y + radius },
  };
}

/** Around all of them; an empty list gives an empty box (min > max). */
export function boxAroundAll(contours: readonly Contour[]): Box {
  let [x0, y0, x1, y1] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const c of contours) {
    const { min, max } = boxAround(c);
    x0 = Math.min(x0, min.x);
    y0 = Math.min(y0, min.y);
    x1 = Math.max(x1, max.x);
    y1 = Math.max(y1, max.y);
  }
  return { min: { x: x0, y: y0 }, max: { x: x1, y: y1 } };
}
