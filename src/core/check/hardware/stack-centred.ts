/** Board patterns that are nearly, but not, in the middle of their plate. */
import { reportCheck } from "../../finding/say-check.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import { mirrorAxes } from "../shape/symmetry.ts";
import { originOf, pointPlace } from "../view.ts";

/** Off the middle by more than the first and less than the second, it is a slip, mm. */
export const OFF_MIDDLE = 0.05;
export const ON_PURPOSE = 1;

export const stackCentred: Rule = {
  code: "stack-off-centre",
  asks: "Is the board's pattern in the middle of its plate, where it nearly is?",
  reason: "The board's edge or plug touches a standoff or camera plate on one side.",
  limits: [
    {
      what: "the pattern's middle from the plate's mirror line",
      value: `up to ${OFF_MIDDLE} mm, or ${ON_PURPOSE} mm and more (then it is taken as meant)`,
      source: COMMON_PRACTICE,
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) =>
      p
        .patterns()
        .filter((q) => q.kind === "stack")
        .flatMap((q) =>
          mirrorAxes(p).flatMap(({ axis, at }) => {
            const found = Math.abs((axis === "X" ? q.centre.x : q.centre.y) - at);
            if (found <= OFF_MIDDLE + AT_LIMIT || found >= ON_PURPOSE - AT_LIMIT) return [];
            const data = { found, wanted: OFF_MIDDLE, side: q.nominal[0], axis, middle: at };
            return [
              reportCheck("stack-off-centre", data, pointPlace(p, q.centre, originOf(q.holes[0]))),
            ];
          }),
        ),
    ),
};
