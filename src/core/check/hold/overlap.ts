/** Openings that cross or touch each other or the outline. */
import { reportCheck } from "../../finding/say-check.ts";
import { WELD } from "../../geometry/tolerance.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import type { Rule } from "../rule.ts";
import { middle } from "../shape/gaps.ts";
import { originOf, pointPlace } from "../view.ts";

export const overlap: Rule = {
  code: "features-overlap",
  asks: "Do all openings lie apart from each other and from the outline?",
  reason:
    "Where they cross, what was drawn as a wall is cut away, and a loose piece may jam the cutter.",
  limits: [{ what: "distance", value: "more than 0", source: "geometry" }],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) =>
      p
        .gaps()
        .filter((g) => g.distance <= WELD)
        .map((g) => {
          const other = g.from === undefined ? "the outline" : nameOf(g.from);
          const data = { feature: nameOf(g.to), other, found: 0, wanted: 0 };
          return reportCheck("features-overlap", data, pointPlace(p, middle(g), originOf(g.to)));
        }),
    ),
};
