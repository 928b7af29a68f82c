/** Motor patterns without room for the shaft's end and its clip. */
import type { Finding } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { contains, distanceTo } from "../../geometry/contour.ts";
import type { Point } from "../../geometry/shape.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import type { Pattern } from "../shape/pattern.ts";
import { originOf, type PlateView, pointPlace } from "../view.ts";

/** For motors of 16 across and more, mm; smaller motors in proportion. */
export const RELIEF = 5;
const FULL_FROM = 16;

export const relief: Rule = {
  code: "motor-relief-missing",
  asks: "Is there a hole in the middle of every motor pattern for the shaft's clip?",
  reason: "The clip grinds on the plate: the motor runs hot, or its shaft is pushed out.",
  limits: [
    {
      what: "relief, diameter about the pattern's middle",
      value: `${RELIEF} mm from ${FULL_FROM} across, smaller motors in proportion`,
      source: `${COMMON_PRACTICE}: 5–8 mm; in proportion is derived`,
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) =>
      p
        .patterns()
        .filter((q) => q.kind === "mount")
        .flatMap((q) => reliefFinding(p, q)),
    ),
};

function reliefFinding(p: PlateView, q: Pattern): Finding[] {
  const wanted = RELIEF * Math.min(1, q.nominal[0] / FULL_FROM);
  const found = roomAt(p, q.centre);
  if (found >= wanted - AT_LIMIT) return [];
  const data = { found, wanted, across: q.nominal[0] };
  return [reportCheck("motor-relief-missing", data, pointPlace(p, q.centre, originOf(q.holes[0])))];
}

/** Diameter of the largest disc about a point that is open. */
function roomAt(p: PlateView, at: Point): number {
  const open = p.openings.find((f) => contains(f.contour, at));
  return open === undefined ? 0 : 2 * distanceTo(open.contour, at);
}
