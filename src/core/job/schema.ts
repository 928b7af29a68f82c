/**
 * The job file's schema: every key, its type, range, unit and default. The JSON Schema in docs/ and the
 * words "wanted …" of findings are both made from this, so they cannot drift apart.
 *
 * Shapes only: what one key says about another is in cross-check.ts.
 */
import { z } from "zod";
import type { Cutter } from "../cutting/cutter.ts";
import type { Machine } from "../machine/machine.ts";
import type { CuttingOptions } from "../toolpath/cut.ts";
import * as defaults from "./defaults.ts";
import type { FixedPlace, JobOrigin, JobRates } from "./job.ts";
import { type JobKeys, jobKeys, type PlateKeys, plateKeys } from "./keys/checking.ts";
import { type CutterFile, cutterSchema } from "./keys/cutter.ts";
import { machineSchema } from "./keys/machine.ts";
import {
  angle,
  coordinate,
  fileName,
  length,
  name,
  point,
  quantity,
  whole,
} from "./keys/quantity.ts";

type Pair = readonly [number, number];

export interface KeepOutFile {
  readonly at?: Pair | undefined;
  readonly diameter?: number | undefined;
  readonly from?: Pair | undefined;
  readonly to?: Pair | undefined;
}

export interface SheetFile {
  readonly name: string;
  readonly material: "carbon-woven" | "carbon-quasi-isotropic" | "glass-epoxy";
  readonly thickness: number;
  readonly measuredThickness?: number | undefined;
  readonly count: number;
  readonly size?: Pair | undefined;
  readonly outline?: string | undefined;
  readonly layout?: string | undefined;
  readonly fibreDeg: number;
  readonly margin: number;
  readonly keepOut: readonly KeepOutFile[];
  readonly price?: number | undefined;
  readonly density?: number | undefined;
  readonly specificEnergy?: number | undefined;
}

export interface PlateFile extends PlateKeys {
  readonly name: string;
  readonly drawing: string;
  readonly units?: "mm" | "in" | undefined;
  readonly closeGaps?: number | undefined;
  readonly dropNearDuplicates?: boolean | undefined;
  readonly sheet: string;
  readonly count: number;
  readonly fibreDeg?: number | undefined;
  readonly mayCross: boolean;
  readonly mayFlip: boolean;
  readonly gap: number;
  readonly layers: {
    readonly cut?: readonly (string | number)[] | undefined;
    readonly ignore: readonly (string | number)[];
    readonly recess: Readonly<Record<string, number>>;
  };
  readonly place: readonly FixedPlace[];
  readonly points: readonly { readonly name: string; readonly at: Pair }[];
}

export interface JobFile extends JobKeys {
  readonly weftcut: 1;
  readonly name?: string | undefined;
  readonly machine: string | Machine;
  readonly origin: JobOrigin;
  readonly sheets: readonly SheetFile[];
  readonly plates: readonly PlateFile[];
  readonly cutters: readonly Cutter[];
  readonly cutting: CuttingOptions;
  readonly rates: JobRates;
  readonly ledger?: string | undefined;
}

const keepOut = z
  .union([
    z.strictObject({
      at: point("Its centre, sheet frame."),
      diameter: length({ above: 0, max: 10_000 }, "Its diameter."),
    }),
    z.strictObject({ from: point("One corner, sheet frame."), to: point("The other corner.") }),
  ])
  .meta({ description: "A clamp or screw that nothing may touch: a disc or a box." });

const sheet = z
  .strictObject({
    name: name("What you call it; part of file names."),
    material: z
      .enum(["carbon-woven", "carbon-quasi-isotropic", "glass-epoxy"])
      .meta({ description: "What it is made of." }),
    thickness: length({ min: 0.1, max: 25 }, "Nominal thickness."),
    measuredThickness: length({ min: 0.1, max: 25 }, "Measured; used where given.").optional(),
    count: whole(1, 100, "How many of them there are; the fewest that will do are used.").default(
      defaults.SHEET.count,
    ),
    size: z
      .tuple([
        length({ above: 0, max: 10_000 }, "Along X."),
        length({ above: 0, max: 10_000 }, "Along Y."),
      ])
      .meta({ description: "A rectangle's width and height." })
      .optional(),
    outline: fileName("A drawing of the sheet's outline, for offcuts.").optional(),
    layout: fileName(
      "A layout of this sheet that plan wrote, DXF or SVG, with plates moved and turned in a drawing program: they lie as it shows them. Of several sheets, the first.",
    ).optional(),
    fibreDeg: angle({ min: -360, max: 360 }, "Direction of the fibre.").default(
      defaults.SHEET.fibreDeg,
    ),
    margin: length({ min: 0, max: 500 }, "Least distance from a plate to the edge.").default(
      defaults.SHEET.margin,
    ),
    keepOut: z.array(keepOut).max(200).default([]).meta({ description: "Clamps and screws." }),
    price: quantity("money", { min: 0, max: 1e6 }, "Price of the whole sheet.").optional(),
    density: quantity(
      "g/cm³",
      { above: 0, max: 25 },
      "Your own density. Absent: the material's.",
    ).optional(),
    specificEnergy: quantity(
      "J/mm³",
      { above: 0, max: 100 },
      "Your own energy to cut it. Absent: a planning value that falls with the chip.",
    ).optional(),
  })
  .meta({
    description: "A sheet of stock: `size` or `outline` says its shape.",
    oneOf: [{ required: ["size"] }, { required: ["outline"] }],
  });

/** `0` is a common layer name and a number to YAML. */
const layerName = z.union([name("A layer."), z.int()]);

const plate = z
  .strictObject({
    name: name("What you call it."),
    drawing: fileName("DXF or SVG, beside the job."),
    units: z
      .enum(["mm", "in"])
      .optional()
      .meta({ description: "Overrides what the drawing says." }),
    closeGaps: length(
      { above: 0, max: 5 },
      "Gaps in outlines up to this are closed. Absent: 0.01.",
    ).optional(),
    dropNearDuplicates: z.boolean().optional().meta({
      description: "Of outlines drawn twice within a tenth of a millimetre, the first is kept.",
    }),
    sheet: name("The sheet that it is cut from."),
    count: whole(1, 1000, "How many.").default(defaults.PLATE.count),
    fibreDeg: angle(
      { min: -360, max: 360 },
      "Direction in the drawing that must lie along the sheet's fibre. Absent: free.",
    ).optional(),
    mayCross: z
      .boolean()
      .default(false)
      .meta({ description: "May lie across the fibre too, where the weave is balanced." }),
    mayFlip: z.boolean().default(false).meta({ description: "May be turned over." }),
    gap: length({ min: 0, max: 500 }, "Least distance to the next plate.").default(
      defaults.PLATE.gap,
    ),
    layers: z
      .strictObject({
        cut: z.array(layerName).optional().meta({ description: "Only these are cut." }),
        ignore: z.array(layerName).default([]).meta({ description: "These are not read." }),
        recess: z
          .record(name("A layer."), length({ above: 0, max: 25 }, "Depth."))
          .default({})
          .meta({ description: "Layers that are cleared to a depth below the sheet's top." }),
      })
      .prefault({})
      .meta({ description: "What the drawing's layers mean." }),
    ...plateKeys,
    place: z
      .array(
        z.strictObject({
          x: coordinate(),
          y: coordinate(),
          rotationDeg: angle({ min: -360, max: 360 }, "Counter-clockwise.").default(0),
          flipped: z.boolean().default(false).meta({ description: "Turned over." }),
        }),
      )
      .default([])
      .meta({ description: "Fixed places; the layout takes the rest." }),
    points: z
      .array(z.strictObject({ name: name("What it is called."), at: point("Where, as drawn.") }))
      .max(500)
      .default([])
      .meta({ description: "Points with names, carried into the plan." }),
  })
  .meta({ description: "A plate to cut." });

const cutting = z
  .strictObject({
    tabs: z
      .strictObject({
        width: length({ min: 0.3, max: 50 }, "Of the bridge that stays.").default(
          defaults.TABS.width,
        ),
        height: length({ min: 0.1, max: 25 }, "From the sheet's underside.").default(
          defaults.TABS.height,
        ),
        spacing: length({ min: 10, max: 5000 }, "Along the outline.").default(
          defaults.TABS.spacing,
        ),
        least: whole(0, 50, "Fewest on one plate.").default(defaults.TABS.least),
      })
      .prefault({})
      .meta({ description: "Holding tabs." }),
    throughDepth: length({ min: 0, max: 1 }, "Below the sheet's underside.").default(
      defaults.THROUGH_DEPTH,
    ),
    passDepth: length(
      { min: 0.02, max: 25 },
      "Deepest pass in uncut stock. Absent: what the cutting data says.",
    ).optional(),
    finish: z
      .strictObject({
        stock: length({ min: 0, max: 2 }, "Left for the last pass; 0: none.").default(
          defaults.FINISH_STOCK,
        ),
      })
      .prefault({})
      .meta({ description: "The finishing pass." }),
    direction: z
      .enum(["climb", "conventional"])
      .default("climb")
      .meta({ description: "Seen from a clockwise spindle." }),
    rampDeg: angle({ min: 0.1, max: 45 }, "Of ramps and helices down into the sheet.").default(
      defaults.RAMP_DEG,
    ),
    clearance: length({ min: 0.5, max: 200 }, "Height of rapids above the sheet's top.").default(
      defaults.CLEARANCE,
    ),
    hop: length(
      { min: 0.5, max: 200 },
      "The same between two cuts where only whole sheet lies between: no keep-out, edge or piece cut free. As high as clearance: never lower.",
    ).default(defaults.HOP),
    order: z.enum(["plate-by-plate", "whole-sheet"]).default("plate-by-plate").meta({
      description:
        "Each plate finished before the next begins, or the shortest way over the sheet: inner features before their outline in any case.",
    }),
  })
  .prefault({})
  .meta({ description: "How things are cut." });

/** What the schema itself yields: cutters have no flutes filled in yet. */
export type CheckedFile = Omit<JobFile, "cutters"> & { readonly cutters: readonly CutterFile[] };

export const jobSchema: z.ZodType<CheckedFile, unknown> = z
  .strictObject({
    weftcut: z.literal(1).default(1).meta({ description: "Version of this file's form." }),
    name: name("What the job is called.").optional(),
    machine: z
      .union([fileName("A machine profile beside the job."), machineSchema])
      .meta({ description: "A machine profile, or the name of a file that holds one." }),
    origin: z
      .strictObject({
        at: z
          .enum(["lower-left", "lower-right", "upper-left", "upper-right", "centre"])
          .default(defaults.ORIGIN.at)
          .meta({ description: "Where on the sheet X and Y are zero." }),
        z: z
          .enum(["sheet-top", "spoilboard"])
          .default(defaults.ORIGIN.z)
          .meta({ description: "Where Z is zero." }),
      })
      .prefault({})
      .meta({ description: "Program zero." }),
    sheets: z.array(sheet).min(1).max(100).meta({ description: "The stock." }),
    plates: z.array(plate).min(1).max(1000).meta({ description: "What to cut." }),
    cutters: z.array(cutterSchema).min(1).max(50).meta({ description: "What to cut with." }),
    cutting,
    rates: z
      .strictObject({
        perHour: quantity("money", { min: 0, max: 1e6 }, "Price of an hour.").default(
          defaults.RATES.perHour,
        ),
        currency: name("For the job sheet.").default(defaults.RATES.currency),
        setupMinutes: quantity(
          "min",
          { min: 0, max: 10_000 },
          "At the machine before the first program, for the whole job.",
        ).default(defaults.RATES.setupMinutes),
        offcutValue: quantity(
          "share",
          { min: 0, max: 1 },
          "What an offcut is worth of its area's price.",
        ).default(defaults.RATES.offcutValue),
      })
      .prefault({})
      .meta({ description: "For the estimate." }),
    ledger: fileName(
      "The cutters' ledger, beside the job, that `weftcut life` keeps. Absent: cutter-life.jsonl, where there is one.",
    ).optional(),
    ...jobKeys,
  })
  .meta({
    title: "weftcut job",
    description: "A job for weftcut: plates, sheets, cutters, machine.",
  });
