/** Sharp inside corners: a round cutter leaves their tips. Fine, but where a plate has to sit in the corner. */
import { reportCheck } from "../../finding/say-check.ts";
import type { Rule } from "../rule.ts";
import { walls } from "../shape/walls.ts";

export const insideCorner: Rule = {
  code: "corner-stays-round",
  asks: "Are there sharp inside corners, and does anything sit in them?",
  reason:
    "The tip of a sharp inside corner stays; a plate that mates there does not seat until it is filed out.",
  limits: [
    {
      what: "what stays of a corner that turns by φ",
      value: "r²(tan φ/2 − φ/2); its tip is r(1/cos φ/2 − 1) from the cutter",
      source: "geometry",
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) =>
      walls(view, p).flatMap((wall) => {
        const sharp = wall.corners.filter((c) => c.radius === 0);
        const [worst] = sharp;
        if (worst === undefined) return [];
        const data = {
          feature: wall.name,
          found: 0,
          wanted: wall.diameter / 2,
          corners: sharp.length,
          cutter: wall.cutter.name,
          diameter: wall.diameter,
          cornerMm: worst.mm,
          leftMm2: sharp.reduce((sum, c) => sum + c.mm2, 0),
          mates: wall.mates ? "yes" : "no",
        };
        const finding = reportCheck("corner-stays-round", data, wall.placeAt(worst));
        return [wall.mates ? { ...finding, severity: "warn" as const } : finding];
      }),
    ),
};
