/**
 * Where lightening windows must not go: motor pads, seats of screw heads and washers, arms of a one-piece
 * plate, and what separate arms bear on. Counter-clockwise contours, plate frame.
 */
import { placePoint } from "../../geometry/segment.ts";
import type { Contour, Point } from "../../geometry/shape.ts";
import { armToFrame } from "../arms/roots.ts";
import type { AirframePlate } from "../model.ts";
import type { Arm, Setting } from "../setting.ts";
import { disc, strip } from "../shape/build.ts";

/** Heads and washers need this much round a screw, in holes across. */
const SEAT = 1.1;
/** Pads are left alone this far beyond their edge, mm. */
const PAD_RIM = 1;

export function keepOuts(s: Setting, plate: AirframePlate, web: number): Contour[] {
  const pads = plate.points
    .filter((p) => p.name.startsWith("motor"))
    .map((p) => disc(p.at, s.pad + PAD_RIM));
  const seats = plate.cutouts.flatMap(({ screwHole, contour }) => {
    const arc = contour.segments[0];
    if (screwHole === undefined || arc?.kind !== "arc") return [];
    return [disc(arc.centre, SEAT * screwHole + web / 2)];
  });
  const bears = plate.role === "bottom" || plate.role === "clamp";
  return [...pads, ...seats, ...(bears ? s.arms.map((arm) => bearing(s, arm)) : [])];
}

/** Under a separate arm from screw to screw; all of an arm that is one with the plate. */
function bearing(s: Setting, { axis, root }: Arm): Contour {
  const at = (x: number): Point => placePoint({ x, y: 0 }, armToFrame(axis));
  const half = s.spec.arms.root / 2;
  if (root !== undefined) return strip(at(root.inner), at(root.outer + half), half, half);
  return strip(at(s.spec.stack.side / Math.SQRT2), at(axis.length), half + 1, half + 1);
}
