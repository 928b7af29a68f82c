/** A machine that, by its coupon, moves more or less than it is told. */
import { reportCheck } from "../../finding/say-check.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";

/** What a plate may come out too long or short, mm: the repeatability of routers at home. */
export const OFF = 0.05;

export const scale: Rule = {
  code: "axis-scale-off",
  asks: "Does the machine move as far as it is told?",
  reason:
    "Hole patterns come out too wide or too narrow by the same share, and plates do not go together.",
  limits: [
    {
      what: "over the longest plate",
      value: `${OFF} mm`,
      source: `${COMMON_PRACTICE}: repeatability of about 0.05 mm at home`,
    },
  ],
  when: "plates",
  run: (view) => {
    const { axisScale } = view.machine;
    if (axisScale === undefined) return [];
    // Plates may lie either way on the sheet.
    const side = Math.max(
      0,
      ...view.plates.map(({ plate: { bounds: b } }) =>
        Math.max(b.max.x - b.min.x, b.max.y - b.min.y),
      ),
    );
    return (["X", "Y"] as const).flatMap((axis, i) => {
      const factor = axisScale[i] as number;
      const found = Math.abs(factor - 1) * side;
      if (found <= OFF + AT_LIMIT) return [];
      const data = { found, wanted: OFF, axis, scale: factor, side, machine: view.machine.name };
      return [reportCheck("axis-scale-off", data)];
    });
  },
};
