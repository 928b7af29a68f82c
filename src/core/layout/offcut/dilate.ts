/**
 * Polygons grown by a radius, as convex polygons that overlap: each convex part is added to a polygon round the disc.
 *
 * Promise: all together they cover every place within the radius of the polygon, and none further than 1.02 of it.
 * Cost: that of cutting into convex parts, far below that of an exact offset.
 * Source: dilation of Serra, Image Analysis and Mathematical Morphology, 1982; sums of convex polygons as in convex.ts.
 */
import { polygon } from "../../geometry/contour.ts";
import { circle } from "../../geometry/segment.ts";
import type { Contour } from "../../geometry/shape.ts";
import { coverOf } from "../cover.ts";
import { convexParts, convexSum, fromLowest, type Ring } from "../search/contact/convex.ts";

const ROUND = 0.02;

/** Of an outer ring, counter-clockwise, with its holes, clockwise. */
export function dilated(outer: Ring, holes: readonly Ring[], radius: number): Contour[] {
  const disc = { segments: [circle({ x: 0, y: 0 }, radius, true)] };
  const round = fromLowest(coverOf(disc, ROUND * radius));
  return convexParts(outer, holes).map((part) => contourOf(convexSum(fromLowest(part), round)));
}

export function contourOf(ring: Ring): Contour {
  return polygon(
    Array.from({ length: ring.length / 2 }, (_, i) => ({
      x: ring[2 * i] as number,
      y: ring[2 * i + 1] as number,
    })),
  );
}
