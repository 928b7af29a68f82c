/** Webs so thin that they are no part of the plate any more. */
import { reportCheck } from "../../finding/say-check.ts";
import { WELD } from "../../geometry/tolerance.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import { middle } from "../shape/gaps.ts";
import { originOf, pointPlace } from "../view.ts";

/** Under the thinnest web of 45 published plates, 0.55 mm. */
export const SLIVER = 0.5;

export const sliver: Rule = {
  code: "sliver-left",
  asks: "Does every web stand while it is cut?",
  reason:
    "A sliver breaks off under the cutter, is thrown or jams, and tears fibres out of the wall behind it.",
  limits: [
    {
      what: "a web",
      value: `${SLIVER} mm`,
      source: `${COMMON_PRACTICE}: the thinnest in published plates is 0.55 mm`,
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) =>
      p
        .gaps()
        .filter((g) => g.distance > WELD && g.distance < SLIVER - AT_LIMIT)
        .map((g) => {
          const other = g.from === undefined ? "the outline" : nameOf(g.from);
          const data = { feature: nameOf(g.to), other, found: g.distance, wanted: SLIVER };
          return reportCheck("sliver-left", data, pointPlace(p, middle(g), originOf(g.to)));
        }),
    ),
};
