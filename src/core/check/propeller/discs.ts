/** Propeller discs that come too near to each other. */
import { reportCheck } from "../../finding/say-check.ts";
import { distance } from "../../geometry/segment.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";

export const discs: Rule = {
  code: "propeller-discs-near",
  asks: "Do propellers clear each other?",
  reason:
    "Blades bend and arms flex towards each other in a hard turn; two that touch are both gone.",
  limits: [
    {
      what: "between two discs",
      value: "props.gap of the job, 3 mm unless it says otherwise",
      source: COMMON_PRACTICE,
    },
  ],
  when: "plates",
  run: ({ propellers }) => {
    if (propellers === undefined) return [];
    const { at, diameter, gap } = propellers;
    return at.flatMap((b, j) =>
      at.slice(0, j).flatMap((a, i) => {
        const found = distance(a, b) - diameter;
        if (found >= gap - AT_LIMIT) return [];
        const data = { found, wanted: gap, one: i + 1, two: j + 1, diameter };
        return [reportCheck("propeller-discs-near", data)];
      }),
    );
  },
};
