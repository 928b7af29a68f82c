/**
 * Whether roughing a stock further out reaches all that the finishing pass goes through. It does not in a notch or
 * neck that the cutter just enters: there the finishing pass would meet the whole depth at its full width.
 */
import { segmentIndex } from "../../geometry/nearest.ts";
import { pointAt } from "../../geometry/segment.ts";
import type { Contour } from "../../geometry/shape.ts";

/**
 * A finished ring turns away from its roughing ring by the stock along a wall, and by stock / sin(half the angle) in
 * a corner: four times, in one of 29°. Further off is what was not entered.
 */
const OFF = 4;

/** The bottom of what was not entered is a vertex of the finished ring, or the middle of an arc. */
export function reaches(rough: Contour, finished: Contour, stock: number): boolean {
  const index = segmentIndex([rough]);
  const limit = OFF * stock + 1e-6;
  return finished.segments.every((s) =>
    [0, 0.5].every((t) => index.distance(pointAt(s, t), 2 * limit) <= limit),
  );
}
