/** Slots so near to the cutter's width that both walls are cut at once. */
import { effectiveDiameter } from "../../cutting/cutter.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import { AT_LIMIT, type Rule } from "../rule.ts";
import { featurePlace } from "../view.ts";

/** Twice the runout of a trim router, rounded up, mm. */
export const PLAY = 0.06;
/** As in narrow.ts. */
const HAIR = 1e-3;

export const nearWidth: Rule = {
  code: "slot-near-cutter-width",
  asks: "Is a slot that should be true to size wider than its cutter by more than the cutter wobbles?",
  reason:
    "Both walls are cut at once: runout and bending add to the width and no finishing pass can true it.",
  limits: [
    {
      what: "width less cutter",
      value: `${PLAY} mm`,
      source:
        "twice the runout of 0.025–0.038 mm measured on trim routers; common practice, no source",
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((p) =>
      p.openings.flatMap((f) => {
        const width = f.width ?? 0;
        if (f.kind !== "slot") return [];
        const cutter = [...view.routers]
          .reverse()
          .find((c) => effectiveDiameter(c) <= width + HAIR);
        if (cutter === undefined) return [];
        const diameter = effectiveDiameter(cutter);
        if (width >= diameter + PLAY - AT_LIMIT) return [];
        const data = {
          feature: nameOf(f),
          found: width,
          wanted: diameter + PLAY,
          cutter: cutter.name,
          diameter,
        };
        return [reportCheck("slot-near-cutter-width", data, featurePlace(p, f))];
      }),
    ),
};
