/** Patterns whose holes are not at equal distances from the middle and square to each other. */
import { reportCheck } from "../../finding/say-check.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import { worstHole } from "../shape/pattern.ts";
import { featurePlace } from "../view.ts";

/** Of a hole from its true place, mm. */
export const TRUE = 0.05;

export const patternTrue: Rule = {
  code: "pattern-not-true",
  asks: "Are a motor's and a board's holes equally far from the middle and square to each other?",
  reason: "Three screws go in and the fourth does not, or the board is bent by its screws.",
  limits: [
    {
      what: "a hole from its true place",
      value: `${TRUE} mm`,
      source: `${COMMON_PRACTICE}: half the play of an M3 screw in a fine hole is 0.1 mm, less what the router repeats`,
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) =>
      p
        .patterns()
        .filter((q) => q.kind !== "rectangle")
        .flatMap((q) => {
          const { hole, off } = worstHole(q);
          if (off <= TRUE + AT_LIMIT) return [];
          const data = { kind: q.kind, feature: nameOf(hole), found: off, wanted: TRUE };
          return [reportCheck("pattern-not-true", data, featurePlace(p, hole))];
        }),
    ),
};
