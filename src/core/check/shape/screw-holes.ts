/** Which holes are for screws: those of the sizes of M2 to M5, but not a motor's relief in the middle of its pattern. */

import { distance } from "../../geometry/segment.ts";
import type { Feature } from "../../plate/plate.ts";
import { clearanceHole, nominal, SCREWS, type Screw } from "../../plate/screw.ts";
import type { PlateView } from "../view.ts";

/** A drawn hole may be this much smaller than its screw and still mean it: threads are cut undersize, mm. */
const UNDER = 0.05;

/** The screw that a hole's size suggests: the largest that goes in. */
export function suggested(diameter: number): Screw | undefined {
  if (diameter > clearanceHole("M5", "coarse") + UNDER) return undefined;
  return [...SCREWS].reverse().find((s) => diameter >= nominal(s) - UNDER);
}

export function screwHoles(p: PlateView): Feature[] {
  const centres = p
    .patterns()
    .filter((q) => q.kind === "mount")
    .map((q) => q.centre);
  return p.holes.filter(
    (h) =>
      suggested(h.diameter ?? 0) !== undefined && !centres.some((c) => distance(c, h.at) < 0.5),
  );
}
