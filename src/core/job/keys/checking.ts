/** The keys of a job that checks and fits are told by: mates, fasteners, relief, propellers, and the weight of rules. */
import { z } from "zod";
import { CHECK_CODES, type CheckCode } from "../../finding/say-check.ts";
import { FIT_NAMES, type FitName, RELIEFS, type ReliefWish } from "../../fit/fits.ts";
import { SCREWS, type Screw } from "../../plate/screw.ts";
import * as defaults from "../defaults.ts";
import { length, name, point } from "./quantity.ts";

type Pair = readonly [number, number];

/** Of each plate. */
export interface PlateKeys {
  readonly mates: readonly {
    readonly slot: Pair;
    readonly of: string;
    readonly clearance?: number | undefined;
    readonly fit?: FitName | undefined;
    readonly relief: ReliefWish;
  }[];
  readonly fasteners: readonly { readonly screw: Screw; readonly at?: Pair | undefined }[];
  readonly relief: readonly {
    readonly window: Pair;
    readonly way: "along-wall" | "bisector";
    readonly radius?: number | undefined;
  }[];
}

/** Of the job. */
export interface JobKeys {
  readonly mates: "named" | "find";
  readonly checks: readonly {
    readonly code: CheckCode;
    readonly severity: "stop" | "warn" | "note";
    readonly reason: string;
    readonly plate?: string | undefined;
  }[];
  readonly props?:
    | {
        readonly diameter: number;
        readonly chord?: number | undefined;
        readonly at: readonly Pair[];
        readonly beside: readonly string[];
        readonly gap: number;
      }
    | undefined;
}

export const plateKeys = {
  mates: z
    .array(
      z.strictObject({
        slot: point("A point in the slot, as drawn."),
        of: name("The plate whose edge sits in it."),
        clearance: length(
          { min: 0, max: 2 },
          "Room in all. Absent: that of `fit`, else 0.1.",
        ).optional(),
        fit: z.enum(FIT_NAMES).optional().meta({
          description: "A clearance by name: press 0.05, snug 0.1, free 0.2 in all.",
        }),
        relief: z.enum(RELIEFS).default("chosen").meta({
          description:
            "How corners are cut free: chosen by what stays of the plate, or along the longer wall, or on the bisector.",
        }),
      }),
    )
    .default([])
    .meta({ description: "Slots in which other plates sit." }),
  fasteners: z
    .array(
      z.strictObject({
        screw: z.enum(SCREWS).meta({ description: "Its size." }),
        at: point(
          "The hole that it goes through, as drawn. Absent: any of the plate's.",
        ).optional(),
      }),
    )
    .max(200)
    .default([])
    .meta({ description: "The screws of this plate, for the check of their holes." }),
  relief: z
    .array(
      z.strictObject({
        window: point("A point in the window, as drawn."),
        way: z.enum(["along-wall", "bisector"]).default("along-wall").meta({
          description: "Along the longer wall, or on the bisector of each corner.",
        }),
        radius: length(
          { min: 0.2, max: 25 },
          "Of the relief. Absent: a little more than the smallest cutter's.",
        ).optional(),
      }),
    )
    .max(200)
    .default([])
    .meta({ description: "Windows whose sharp corners are cut free." }),
};

export const jobKeys = {
  mates: z.enum(["named", "find"]).default("named").meta({
    description: "find: proposes the mates that geometry shows; it changes nothing by itself.",
  }),
  checks: z
    .array(
      z.strictObject({
        code: z.enum(CHECK_CODES).meta({ description: "The rule, as docs/CHECKS.md names it." }),
        severity: z
          .enum(["stop", "warn", "note"])
          .meta({ description: "The weight that it has in this job." }),
        reason: name("Why; printed with each of its findings."),
        plate: name("For this plate alone.").optional(),
      }),
    )
    .max(200)
    .default([])
    .meta({ description: "Rules whose weight this job changes, with a reason." }),
  props: z
    .strictObject({
      diameter: length({ above: 0, max: 1000 }, "Of the propellers."),
      chord: length({ above: 0, max: 200 }, "Widest part of the blade.").optional(),
      at: z.array(point("A motor's axis.")).max(16).default([]).meta({
        description: "The motors' axes, all in one frame.",
      }),
      beside: z.array(name("A plate.")).max(100).default([]).meta({
        description: "Plates drawn in that frame that stand in the discs' height.",
      }),
      gap: length({ min: 0, max: 100 }, "Least way from a disc to what is beside it.").default(
        defaults.PROPELLER_GAP,
      ),
    })
    .optional()
    .meta({ description: "Propellers, for the checks of what they pass." }),
};
