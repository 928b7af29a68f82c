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
