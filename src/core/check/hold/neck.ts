/** Necks of arms and outlines that are narrow for the sheet. */
import { reportCheck } from "../../finding/say-check.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import { narrowestNeck } from "../shape/necks.ts";
import { pointPlace } from "../view.ts";

/** Least width of a neck, mm, and as a multiple of the thickness, whichever is more. */
export const LEAST_NECK = 3;
export const NECK_SHARE = 1.5;

export const neck: Rule = {
  code: "neck-thin",
  asks: "Is the plate nowhere so narrow that it breaks there?",
  reason: "All the load of what is beyond goes through the neck.",
  limits: [
    {
      what: "a neck of the outline",
      value: `${LEAST_NECK} mm, or ${NECK_SHARE} times the thickness if that is more`,
      source: `${COMMON_PRACTICE}: arms of published airframes are 9.8 mm and more at their narrowest`,
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) => {
      const wanted = Math.max(LEAST_NECK, NECK_SHARE * p.thickness);
      const found = narrowestNeck(p.plate.outer, wanted);
      if (found === undefined || found.width >= wanted - AT_LIMIT) return [];
      const data = { found: found.width, wanted };
      return [reportCheck("neck-thin", data, pointPlace(p, found.at))];
    }),
};
