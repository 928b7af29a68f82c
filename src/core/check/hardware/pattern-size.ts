/** Patterns that are a little larger or smaller than the motor or board that they were meant for. */
import { reportCheck } from "../../finding/say-check.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import { originOf, pointPlace } from "../view.ts";

/** Between two holes, mm. */
export const OFF_SIZE = 0.1;

export const patternSize: Rule = {
  code: "pattern-off-size",
  asks: "Has the pattern the size of the part that goes on it?",
  reason:
    "The part's holes are where they are: a pattern drawn 0.2 mm wide needs oversize holes or a file.",
  limits: [
    {
      what: "across or side, against the known size",
      value: `${OFF_SIZE} mm`,
      source: `${COMMON_PRACTICE}: half the play of an M3 screw in a fine hole`,
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) =>
      p.patterns().flatMap((q) => {
        if (q.kind === "rectangle") return [];
        const sizes = q.kind === "mount" ? q.across : q.sides;
        const off = sizes.map((s, i) => Math.abs(s - (q.nominal[i] as number)));
        const i = (off[1] as number) > (off[0] as number) ? 1 : 0;
        if ((off[i] as number) <= OFF_SIZE + AT_LIMIT) return [];
        const data = {
          kind: q.kind,
          found: sizes[i] as number,
          wanted: q.nominal[i] as number,
          most: OFF_SIZE,
        };
        return [
          reportCheck("pattern-off-size", data, pointPlace(p, q.centre, originOf(q.holes[0]))),
        ];
      }),
    ),
};
