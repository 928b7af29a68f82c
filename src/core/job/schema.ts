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
import type { FixedPlace, JobOrigin } from "./job.ts";

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
  readonly size?: Pair | undefined;
  readonly outline?: string | undefined;
  readonly fibreDeg: number;
  readonly margin: number;
  readonly keepOut: readonly KeepOutFile[];
  readonly price?: number | undefined;
}

export interface PlateFile {
  readonly name: string;
  readonly drawing: string;
  readonly units?: "mm" | "in" | undefined;
  readonly sheet: string;
  readonly count: number;
  readonly fibreDeg?: number | undefined;
  readonly gap: number;
  readonly layers: {
    readonly cut?: readonly (string | number)[] | undefined;
    readonly ignore: readonly (string | number)[];
    readonly recess: Readonly<Record<string, number>>;
  };
  readonly mates: readonly {
    readonly slot: Pair;
    readonly of: string;
    readonly clearance: number;
  }[];
  readonly place: readonly FixedPlace[];
}

export interface JobFile {
  readonly weftcut: 1;
  readonly name?: string | undefined;
  readonly machine: string | Machine;
  readonly origin: JobOrigin;
  readonly sheets: readonly SheetFile[];
  readonly plates: readonly PlateFile[];
  readonly cutters: readonly Cutter[];
  readonly cutting: CuttingOptions;
  readonly rates: { readonly perHour: number; readonly currency: string };
}

interface Range {
  readonly min?: number;
  /** Greater than this, not equal. */
  readonly above?: number;
  readonly max?: number;
}

function quantity(unit: string, range: Range, description: string) {
  let schema = z.number();
  if (range.min !== undefined) schema = schema.min(range.min);
  if (range.above !== undefined) schema = schema.gt(range.above);
  if (range.max !== undefined) schema = schema.max(range.max);
  return schema.meta({ unit, description });
}

const length = (range: Range, description: string) => quantity("mm", range, description);
const angle = (range: Range, description: string) => quantity("degrees", range, description);
const coordinate = () => length({ min: -10_000, max: 10_000 }, "A coordinate.");
const point = (description: string) => z.tuple([coordinate(), coordinate()]).meta({ description });
const whole = (min: number, max: number, description: string) =>
  z.int().min(min).max(max).meta({ description });

/** One line of printable text: names reach comments of programs and names of files. */
const name = (description: string) =>
  z
    .string()
    .min(1)
    .max(80)
    // biome-ignore lint/suspicious/noControlCharactersInRegex: keeping them out is the point.
    .regex(/^[^\u0000-\u001f\u007f]*$/)
    .meta({ description });
const fileName = (description: string) =>
  z
    .string()
    .min(1)
    .max(400)
    // biome-ignore lint/suspicious/noControlCharactersInRegex: no file name has them.
    .regex(/^[^\u0000-\u001f\u007f]*$/)
    .meta({ description });

const axes = (unit: string, range: Range, description: string) =>
  z
    .tuple([quantity(unit, range, "X"), quantity(unit, range, "Y"), quantity(unit, range, "Z")])
    .meta({ description });

export const machineSchema: z.ZodType<Machine, unknown> = z
  .strictObject({
    name: name("What you call it."),
    travel: axes("mm", { above: 0, max: 10_000 }, "How far it moves in X, Y, Z, mm."),
    maxFeed: axes("mm/min", { min: 1, max: 100_000 }, "Fastest feed in X, Y, Z, mm/min."),
    acceleration: axes("mm/s²", { min: 1, max: 50_000 }, "Acceleration in X, Y, Z, mm/s²."),
    junctionDeviation: length(
      { above: 0, max: 1 },
      "How far a corner may be rounded when the controller works out its corner speed.",
    ).default(defaults.DIALECT.junctionDeviation),
    spindle: z
      .strictObject({
        min: quantity("rpm", { min: 0, max: 200_000 }, "Slowest speed at which it can cut."),
        max: quantity("rpm", { above: 0, max: 200_000 }, "Fastest speed."),
        powerW: quantity("W", { above: 0, max: 20_000 }, "Power at the cutter.").default(
          defaults.SPINDLE.powerW,
        ),
        spinUpS: quantity("s", { min: 0, max: 120 }, "Time to come up to speed.").default(
          defaults.SPINDLE.spinUpS,
        ),
      })
      .meta({ description: "The spindle." }),
    decimals: whole(3, 6, "Decimals of coordinates in programs.").default(4),
    lineLength: whole(
      32,
      256,
      "Longest program line that the controller takes, characters.",
    ).default(defaults.DIALECT.lineLength),
    dwell: z
      .enum(["seconds", "milliseconds"])
      .default(defaults.DIALECT.dwell)
      .meta({ description: "What P of G4 counts." }),
    comments: z
      .enum(["parentheses", "semicolon", "none"])
      .default(defaults.DIALECT.comments)
      .meta({ description: "How the controller marks comments." }),
    repeatMotion: z
      .boolean()
      .default(defaults.DIALECT.repeatMotion)
      .meta({ description: "true for a controller that forgets G0, G1, G2 from line to line." }),
    workOffset: z
      .enum(["G54", "none"])
      .default(defaults.DIALECT.workOffset)
      .meta({ description: "The work offset that programs select." }),
    arcs: z
      .boolean()
      .default(defaults.DIALECT.arcs)
      .meta({ description: "false for a controller without G2 and G3." }),
    blocksPerSecond: quantity(
      "1/s",
      { min: 10, max: 10_000 },
      "Program lines that it keeps up with.",
    ).default(defaults.DIALECT.blocksPerSecond),
  })
  .meta({ description: "A machine profile." });

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
  lifeMetres: quantity(
    "m",
    { above: 0, max: 100_000 },
    "How far it cuts before it is worn.",
  ).optional(),
  price: quantity("money", { min: 0, max: 1e6 }, "Price, in the currency of `rates`.").optional(),
});

/** `flutes` is still to be filled in by kind. */
export type CutterFile = Omit<Cutter, "flutes"> & { readonly flutes?: number | undefined };
export const cutterSchema: z.ZodType<CutterFile, unknown> = cutterObject.meta({
  description: "A cutter.",
});

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
    size: z
      .tuple([
        length({ above: 0, max: 10_000 }, "Along X."),
        length({ above: 0, max: 10_000 }, "Along Y."),
      ])
      .meta({ description: "A rectangle's width and height." })
      .optional(),
    outline: fileName("A drawing of the sheet's outline, for offcuts.").optional(),
    fibreDeg: angle({ min: -360, max: 360 }, "Direction of the fibre.").default(
      defaults.SHEET.fibreDeg,
    ),
    margin: length({ min: 0, max: 500 }, "Least distance from a plate to the edge.").default(
      defaults.SHEET.margin,
    ),
    keepOut: z.array(keepOut).max(200).default([]).meta({ description: "Clamps and screws." }),
    price: quantity("money", { min: 0, max: 1e6 }, "Price of the whole sheet.").optional(),
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
    sheet: name("The sheet that it is cut from."),
    count: whole(1, 1000, "How many.").default(defaults.PLATE.count),
    fibreDeg: angle(
      { min: -360, max: 360 },
      "Direction in the drawing that must lie along the sheet's fibre. Absent: free.",
    ).optional(),
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
    mates: z
      .array(
        z.strictObject({
          slot: point("A point in the slot, as drawn."),
          of: name("The plate whose edge sits in it."),
          clearance: length({ min: 0, max: 2 }, "Room in all.").default(defaults.MATE_CLEARANCE),
        }),
      )
      .default([])
      .meta({ description: "Slots in which other plates sit." }),
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
      })
      .prefault({})
      .meta({ description: "For the estimate." }),
  })
  .meta({
    title: "weftcut job",
    description: "A job for weftcut: plates, sheets, cutters, machine.",
  });
