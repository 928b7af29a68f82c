/** Webs between two openings that are thin for the sheet. */
import { reportCheck } from "../../finding/say-check.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import { middle } from "../shape/gaps.ts";
import { originOf, pointPlace } from "../view.ts";
import { SLIVER } from "./sliver.ts";

/** Least web, mm, and as a share of the thickness, whichever is more. */
export const LEAST_WEB = 1.5;
export const WEB_SHARE = 0.6;

export function leastWeb(thickness: number): number {
  return Math.max(LEAST_WEB, WEB_SHARE * thickness);
}

export const web: Rule = {
  code: "web-between-thin",
  asks: "Is the web between any two openings as thick as the sheet asks?",
  reason: "Thin webs delaminate in cutting and crack from hole to hole in a crash.",
  limits: [
    {
      what: "a web between openings",
      value: `${LEAST_WEB} mm, or ${WEB_SHARE} of the thickness if that is more`,
      source: `${COMMON_PRACTICE}: published plates 2.35 mm in the median, nine in ten 1.5 and more; services ask 1.5–2`,
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) => {
      const wanted = leastWeb(p.thickness);
      return p
        .gaps()
        .filter((g) => g.from !== undefined)
        .filter((g) => g.distance >= SLIVER - AT_LIMIT && g.distance < wanted - AT_LIMIT)
        .map((g) => {
          const data = {
            feature: nameOf(g.to),
            other: g.from === undefined ? "" : nameOf(g.from),
            found: g.distance,
            wanted,
          };
          return reportCheck("web-between-thin", data, pointPlace(p, middle(g), originOf(g.to)));
        });
    }),
};
