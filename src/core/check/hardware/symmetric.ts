/** Plates that are symmetric but for a few vertices that are a little off. */
import type { Finding } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { COMMON_PRACTICE, type Rule } from "../rule.ts";
import { mirrorAxes, TWIN } from "../shape/symmetry.ts";
import { type PlateView, pointPlace } from "../view.ts";

/** Further off than this it was meant, mm. */
export const MEANT = 1;

export const symmetric: Rule = {
  code: "nearly-symmetric",
  asks: "Is a plate that is nearly symmetric wholly so?",
  reason:
    "A vertex dragged by accident is seen in no drawing, and an airframe that is lopsided drifts.",
  limits: [
    {
      what: "a vertex or hole from its twin's mirror image",
      value: `up to ${TWIN} mm, or ${MEANT} mm and more (then it is taken as meant)`,
      source: COMMON_PRACTICE,
    },
  ],
  when: "plates",
  run: (view) => view.plates.flatMap(findingsFor),
};

function findingsFor(p: PlateView): Finding[] {
  return mirrorAxes(p).flatMap(({ axis, at, odd }) => {
    const slips = odd.filter((o) => o.off < MEANT).sort((a, b) => b.off - a.off);
    const [worst] = slips;
    // One point that has no twin at all is a feature; then the rest may be off for its sake.
    if (worst === undefined || slips.length < odd.length) return [];
    const data = { found: worst.off, wanted: TWIN, axis, middle: at, points: slips.length };
    return [reportCheck("nearly-symmetric", data, pointPlace(p, worst.point))];
  });
}
