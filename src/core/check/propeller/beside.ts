/** Propeller discs that come too near to plates that stand in their height. */
import { reportCheck } from "../../finding/say-check.ts";
import { contains } from "../../geometry/contour.ts";
import { nearestOn } from "../../geometry/segment.ts";
import type { Contour, Point } from "../../geometry/shape.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import { pointPlace } from "../view.ts";

export const beside: Rule = {
  code: "propeller-near-plate",
  asks: "Do propellers clear the plates that stand in their height?",
  reason:
    "A blade that reaches over a plate hits what is mounted there, or the plate itself when the arm flexes.",
  limits: [
    {
      what: "from a disc to a plate named in props.beside",
      value: "props.gap of the job, 3 mm unless it says otherwise",
      source: COMMON_PRACTICE,
    },
  ],
  when: "plates",
  run: ({ propellers, plates }) => {
    if (propellers === undefined) return [];
    const { at, diameter, gap, beside: names } = propellers;
    return plates
      .filter((p) => names.includes(p.plate.name))
      .flatMap((p) =>
        at.flatMap((axis, i) => {
          const near = nearestPoint(p.plate.outer, axis);
          const found = near.distance - diameter / 2;
          if (found >= gap - AT_LIMIT) return [];
          const data = { found, wanted: gap, disc: i + 1, diameter };
          return [reportCheck("propeller-near-plate", data, pointPlace(p, near.point))];
        }),
      );
  },
};

function nearestPoint(outer: Contour, axis: Point): { point: Point; distance: number } {
  if (contains(outer, axis)) return { point: axis, distance: 0 };
  return outer.segments
    .map((s) => nearestOn(s, axis))
    .reduce((best, n) => (n.distance < best.distance ? n : best));
}
