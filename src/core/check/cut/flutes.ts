/** Cutters that cannot go as deep as the sheet and the depth below it ask. */
import { reportCheck } from "../../finding/say-check.ts";
import { AT_LIMIT, type Rule } from "../rule.ts";
import { cuttersUsed } from "../shape/cutters-used.ts";

export const flutes: Rule = {
  code: "flute-shorter-than-cut",
  asks: "Are the flutes as long as the cut is deep?",
  reason: "Above its flutes the cutter rubs instead of cutting: it burns the resin and breaks.",
  limits: [
    {
      what: "a cutter's flutes",
      value: "sheet thickness and throughDepth",
      source: "geometry",
    },
  ],
  when: "plates",
  run: (view) =>
    cuttersUsed(view).flatMap(({ cutter, sheet, thickness }) => {
      const depth = thickness + view.cutting.throughDepth;
      if (cutter.fluteLength >= depth - AT_LIMIT) return [];
      const data = {
        found: cutter.fluteLength,
        wanted: depth,
        cutter: cutter.name,
        thickness,
        through: view.cutting.throughDepth,
      };
      return [reportCheck("flute-shorter-than-cut", data, { sheet: sheet.name })];
    }),
};
