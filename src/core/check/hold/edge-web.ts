/** Webs between an opening and the plate's edge that are thin for the sheet. */
import { reportCheck } from "../../finding/say-check.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import { middle } from "../shape/gaps.ts";
import { originOf, pointPlace } from "../view.ts";
import { SLIVER } from "./sliver.ts";

/** Least web to the edge, mm, and as a share of the thickness, whichever is more. */
export const LEAST_EDGE_WEB = 1.2;
export const EDGE_WEB_SHARE = 0.5;

export const edgeWeb: Rule = {
  code: "web-to-edge-thin",
  asks: "Is the web from every opening to the edge as thick as the sheet asks?",
  reason: "It is the first to chip in cutting and the first to tear when something is hit.",
  limits: [
    {
      what: "a web to the edge",
      value: `${LEAST_EDGE_WEB} mm, or ${EDGE_WEB_SHARE} of the thickness if that is more`,
      source: `${COMMON_PRACTICE}: published plates 2.4 mm in the median, nine in ten 1.2 and more`,
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) => {
      const wanted = Math.max(LEAST_EDGE_WEB, EDGE_WEB_SHARE * p.thickness);
      return p
        .gaps()
        .filter((g) => g.from === undefined)
        .filter((g) => g.distance >= SLIVER - AT_LIMIT && g.distance < wanted - AT_LIMIT)
        .map((g) => {
          const data = { feature: nameOf(g.to), found: g.distance, wanted };
          return reportCheck("web-to-edge-thin", data, pointPlace(p, middle(g), originOf(g.to)));
        });
    }),
};
