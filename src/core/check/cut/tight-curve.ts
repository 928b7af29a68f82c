/** Inside curves on a smaller radius than the cutter's: they come out with the cutter's. */
import { reportCheck } from "../../finding/say-check.ts";
import { AT_LIMIT, type Rule } from "../rule.ts";
import { walls } from "../shape/walls.ts";

export const tightCurve: Rule = {
  code: "curve-tighter-than-cutter",
  asks: "Is every rounded inside corner at least as round as the cutter?",
  reason:
    "The curve is drawn on purpose, and comes out larger than drawn: what was to lie in it does not.",
  limits: [
    {
      what: "an inside radius",
      value: "the cutter's effective radius",
      source: "geometry; 1.05–1.1 × avoids a dwell in the corner",
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) =>
      walls(view, p).flatMap((wall) => {
        const tight = wall.corners.filter(
          (c) => c.radius > 0 && c.radius < wall.diameter / 2 - AT_LIMIT,
        );
        const [worst] = tight;
        if (worst === undefined) return [];
        const data = {
          feature: wall.name,
          found: worst.radius,
          wanted: wall.diameter / 2,
          corners: tight.length,
          cutter: wall.cutter.name,
          diameter: wall.diameter,
          cornerMm: worst.mm,
          leftMm2: tight.reduce((sum, c) => sum + c.mm2, 0),
        };
        return [reportCheck("curve-tighter-than-cutter", data, wall.placeAt(worst))];
      }),
    ),
};
