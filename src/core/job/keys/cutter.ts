/** The keys of a cutter, in a job or in a file of its own. */
import { z } from "zod";
import type { Cutter } from "../../cutting/cutter.ts";
import { length, name, quantity, whole } from "./quantity.ts";

const cutterObject = z.strictObject({
  name: name("What you call it; part of the program's file name."),
  kind: z
    .enum(["diamond-router", "two-flute", "compression", "drill"])
    .meta({ description: "Its pattern." }),
  diameter: length({ min: 0.1, max: 25 }, "Nominal diameter."),
  measuredDiameter: length(
    { min: 0.1, max: 25 },
    "Width of the slot that it really cuts.",
  ).optional(),
  fluteLength: length({ above: 0, max: 100 }, "Length of its flutes."),
  overhang: length({ above: 0, max: 400 }, "From the collet's face to the tip."),
  shankDiameter: length(
    { above: 0, max: 25 },
    "Round part above the flutes. Absent: the usual one for its size.",
  ).optional(),
  flutes: whole(1, 24, "Teeth. Absent: 2.").optional(),
  coating: z.enum(["none", "dlc", "diamond"]).default("none").meta({ description: "Its coating." }),
  feedPerRev: quantity(
    "mm/rev",
    { above: 0, max: 10 },
    "Your own chip load at full width, instead of the chart's.",
  ).optional(),
  surfaceSpeed: quantity(
    "m/min",
    { above: 0, max: 2000 },
    "Your own surface speed at full width, instead of the chart's.",
  ).optional(),
  edgeRadius: length(
    { above: 0, max: 0.1 },
    "Radius of its cutting edges. Absent: a new edge's, by coating.",
  ).optional(),
  lifeMetres: quantity(
    "m",
    { above: 0, max: 100_000 },
    "How many metres of plate edge it cuts in sheet of 2–3 mm before it is worn; several passes over an edge count once.",
  ).optional(),
  diameterLoss: length({ min: 0, max: 5 }, "What its diameter loses over that life.").optional(),
  fitOffset: length(
    { min: -1, max: 1 },
    "Added to every fit's clearance, measured by a coupon.",
  ).optional(),
  coupons: z
    .array(
      z.strictObject({
        date: name("When it was measured."),
        measuredDiameter: length({ min: 0.1, max: 25 }, "What was found."),
        plusMinus: length({ min: 0, max: 25 }, "Its uncertainty, 95 %."),
        fitOffset: length({ min: -1, max: 1 }, "What was found.").optional(),
        fitPlusMinus: length({ min: 0, max: 25 }, "Its uncertainty.").optional(),
        before: length({ min: 0.1, max: 25 }, "The measured diameter before.").optional(),
        fitBefore: length({ min: -1, max: 1 }, "The fit offset before.").optional(),
      }),
    )
    .max(1000)
    .optional()
    .meta({ description: "What coupons have found; the last is in force." }),
  price: quantity("money", { min: 0, max: 1e6 }, "Price, in the currency of `rates`.").optional(),
});

/** `flutes` is still to be filled in by kind. */
export type CutterFile = Omit<Cutter, "flutes"> & { readonly flutes?: number | undefined };
export const cutterSchema: z.ZodType<CutterFile, unknown> = cutterObject.meta({
  description: "A cutter.",
});
