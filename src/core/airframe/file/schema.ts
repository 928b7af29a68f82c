/**
 * The airframe file's schema: every key, its range, unit and default.
 *
 * An airframe file is a job file without its plates and with `airframe:` instead; machine, sheets,
 * cutters, cutting and rates are the job's own. Frame: X right, Y forward, Z up from the bottom plate's
 * underside, origin in the middle of the stack. Defaults that have no source are common practice.
 */

import { z } from "zod";
import { SCREWS, type Screw } from "../../plate/screw.ts";

interface Range {
  readonly min: number;
  readonly max: number;
}

function quantity(unit: string, { min, max }: Range, description: string) {
  return z.number().min(min).max(max).meta({ unit, description });
}

const mm = (min: number, max: number, description: string) =>
  quantity("mm", { min, max }, description);
const deg = (min: number, max: number, description: string) =>
  quantity("degrees", { min, max }, description);
const spot = (description: string) =>
  z.tuple([mm(-1000, 1000, "X, right."), mm(-1000, 1000, "Y, forward.")]).meta({ description });
const sheetName = () =>
  z.string().min(1).max(80).meta({ description: "One of the file's sheets." });

/** One line of printable text: it reaches file heads and comments. */
const name = (description: string) =>
  z
    .string()
    .min(1)
    .max(80)
    // biome-ignore lint/suspicious/noControlCharactersInRegex: keeping them out is the point.
    .regex(/^[^\u0000-\u001f\u007f]*$/)
    .meta({ description });

const screw = (fallback: Screw) =>
  z.enum(SCREWS).default(fallback).meta({ description: "Metric thread." });

export const LAYOUTS = ["x", "stretched-x", "h", "offset-front", "plus", "hexa", "tri"] as const;
export type LayoutName = (typeof LAYOUTS)[number];

const propeller = z
  .strictObject({
    diameter: mm(20, 800, "Of the disc that it sweeps."),
    clearance: mm(1, 200, "Least distance between two discs.").default(4),
    bodyClearance: mm(0, 100, "Least distance from a disc to the top plate.").default(3),
    mass: quantity("g", { min: 0, max: 500 }, "Of one propeller.").optional(),
  })
  .meta({ description: "The propeller." });

const motor = z
  .strictObject({
    boltCircle: mm(4, 60, "Across opposite holes.").optional(),
    side: mm(3, 45, "Side of the square of holes.").optional(),
    pairs: z
      .tuple([mm(4, 60, "Along the arm's turn."), mm(4, 60, "Across it.")])
      .meta({ description: "Two pairs at right angles, each across opposite holes: 16 x 19." })
      .optional(),
    holes: z.int().min(2).max(6).default(4).meta({ description: "Holes on the bolt circle." }),
    screw: screw("M3"),
    slot: mm(0, 6, "How much the holes are drawn out along the radius.").default(0),
    relief: mm(0, 30, "Hole for the shaft and its clip; 0: none.").default(6),
    pad: mm(8, 90, "Diameter of the pad. Absent: from the holes.").optional(),
    turnDeg: deg(-360, 360, "First hole against the arm.").default(45),
    height: mm(1, 120, "From arm to propeller.").default(18),
    mass: quantity("g", { min: 0, max: 2000 }, "Of one motor.").optional(),
    thrust: quantity("N", { min: 0.01, max: 200 }, "Of one motor at full power.").optional(),
  })
  .meta({ description: "The motor and its mount." });

const arms = z
  .strictObject({
    sheet: sheetName().optional(),
    shape: z
      .enum(["straight", "tapered", "tangent"])
      .default("tapered")
      .meta({ description: "Of the flanks: tangent ones are arcs that run into the pad." }),
    root: mm(3, 80, "Width at the body."),
    tip: mm(3, 80, "Width at the pad; of a tangent arm the least. Absent: as the root.").optional(),
    fillet: mm(0, 60, "Radius where arm and pad meet.").default(10),
    rootFillet: mm(0, 60, "Radius where arm and body meet.").default(6),
    wireSlot: z
      .strictObject({
        width: mm(0.5, 30, "Across."),
        length: mm(2, 300, "Over all."),
      })
      .meta({ description: "A slot along the middle of the arm." })
      .optional(),
    screw: screw("M3"),
    pitch: mm(4, 120, "Between the two screws of a separate arm. Absent: five holes.").optional(),
    play: mm(0.05, 5, "Between arms that meet.").default(0.2),
  })
  .meta({ description: "The arms." });

const stack = z
  .strictObject({
    side: mm(8, 80, "Side of the square of screws: 16, 20, 25.5, 30.5, 35."),
    screw: screw("M3"),
    alternate: mm(8, 80, "Side of a second square on the same centre.").optional(),
    alternateScrew: screw("M2"),
    board: mm(10, 120, "Side of the boards. Absent: the square and 6 mm.").optional(),
  })
  .meta({ description: "The electronics in the middle." });

const standoffs = z
  .strictObject({
    screw: screw("M3"),
    body: mm(2, 20, "Diameter.").default(5),
    height: mm(4, 120, "From plate to plate.").default(25),
    onArms: z
      .boolean()
      .default(true)
      .meta({ description: "Outer screws of separate arms carry standoffs, too." }),
    rows: z
      .array(
        z.strictObject({
          at: mm(-500, 500, "Y of the row."),
          across: mm(0, 300, "Between the two; 0: one in the middle."),
        }),
      )
      .max(12)
      .meta({ description: "Rows besides those on arm screws. Absent on one-piece plates: two." })
      .optional(),
  })
  .meta({ description: "What carries the top plate." });

const plateKeys = {
  sheet: sheetName(),
  corner: mm(0.5, 40, "Radius of outside corners; less where it would not fit.").default(4),
};

const windows = z
  .array(
    z.strictObject({
      at: spot("Its middle."),
      size: z.tuple([mm(2, 200, "Along X."), mm(2, 200, "Along Y.")]),
      corner: mm(0.3, 50, "Radius of its corners.").default(2),
    }),
  )
  .max(40)
  .default([])
  .meta({ description: "Openings for wires." });

const camera = z
  .strictObject({
    sheet: sheetName(),
    width: mm(6, 60, "Between the two sides."),
    length: mm(14, 120, "Of a side, along Y.").default(30),
    from: mm(-300, 300, "Y of their rear edge. Absent: as near as stack and arms let.").optional(),
    screw: screw("M2"),
    swing: mm(4, 30, "From the pivot to the second screw.").default(9),
    tiltDeg: z
      .tuple([deg(-30, 85, "Lowest."), deg(-30, 85, "Highest.")])
      .default([0, 40])
      .meta({ description: "How far it looks up." }),
    tab: mm(3, 40, "Width of the tabs.").default(8),
    clearance: mm(0, 1, "In all, between tab and slot.").default(0.1),
    bracket: z
      .strictObject({
        lens: mm(2, 40, "Diameter of the port."),
        setDeg: deg(-30, 85, "The tilt that it is cut for. Absent: the middle.").optional(),
      })
      .meta({ description: "A plate across the front with a port for the lens." })
      .optional(),
  })
  .meta({ description: "Two sides that hold a camera between bottom and top plate." });

const straps = z
  .strictObject({
    width: mm(5, 60, "Of the strap.").default(20),
    slot: mm(1, 8, "Width of its slots.").default(3),
    across: mm(8, 200, "Between the two slots, middle to middle."),
    at: z
      .array(mm(-500, 500, "Y of a strap."))
      .min(1)
      .max(6)
      .default([0]),
  })
  .meta({ description: "Slots for battery straps in the top plate." });

const lighten = z
  .strictObject({
    plates: z
      .array(z.enum(["bottom", "top", "clamp", "arm", "camera-side"]))
      .min(1)
      .max(5),
    pattern: z.enum(["panels", "triangles", "slots"]).default("panels"),
    web: mm(0.8, 20, "Least material between openings and to the edge.").default(3),
    corner: mm(0.3, 20, "Radius of corners.").default(2),
    pitch: mm(6, 120, "Between the middles of webs.").default(24),
    least: quantity("mm²", { min: 1, max: 5000 }, "Smallest window.").default(40),
  })
  .meta({ description: "Windows cut for mass where nothing else is." });

const equipment = z
  .array(
    z.strictObject({
      name: name("What it is."),
      mass: quantity("g", { min: 0, max: 20_000 }, "Its mass."),
      at: z.tuple([mm(-1000, 1000, "X."), mm(-1000, 1000, "Y."), mm(-500, 500, "Z.")]),
    }),
  )
  .max(60)
  .default([])
  .meta({ description: "Parts that count for the centre of mass." });

export const airframeSchema = z
  .strictObject({
    name: name("What the airframe is called."),
    layout: z.enum(LAYOUTS).meta({ description: "How the motors stand." }),
    construction: z
      .enum(["one-piece", "separate-arms"])
      .default("one-piece")
      .meta({ description: "Arms in one with the bottom plate, or bolted to it." }),
    wheelbase: mm(
      50,
      2000,
      "Twice the distance from middle to motor. Absent: from the propeller.",
    ).optional(),
    stretch: quantity("", { min: 0.5, max: 2 }, "Length over width of the motors' box.").default(
      1.2,
    ),
    spread: quantity("", { min: 1, max: 2 }, "Front motors over rear ones, across.").default(1.25),
    forward: quantity("", { min: 0.3, max: 1.2 }, "Front motors over rear ones, along.").default(
      0.8,
    ),
    sweepDeg: deg(0, 60, "Front arms against straight across.").default(22),
    fit: z
      .enum(["fine", "medium", "coarse"])
      .default("medium")
      .meta({ description: "Series of clearance holes, ISO 273." }),
    propeller,
    motor,
    arms,
    stack,
    standoffs: standoffs.prefault({}),
    bottom: z.strictObject({ ...plateKeys, windows }).meta({ description: "The bottom plate." }),
    top: z
      .strictObject({ ...plateKeys, windows })
      .meta({ description: "The top plate." })
      .optional(),
    clamp: z
      .strictObject(plateKeys)
      .meta({ description: "A plate over the roots of separate arms." })
      .optional(),
    straps: straps.optional(),
    antenna: z
      .strictObject({
        diameter: mm(1, 30, "Of the hole.").default(6.5),
        at: spot("Its middle. Absent: near the rear edge.").optional(),
      })
      .meta({ description: "A hole in the top plate." })
      .optional(),
    camera: camera.optional(),
    lighten: lighten.optional(),
    equipment,
  })
  .meta({ description: "The airframe." });

export type AirframeSpec = z.infer<typeof airframeSchema>;
export type CameraSpec = NonNullable<AirframeSpec["camera"]>;
export type LightenSpec = NonNullable<AirframeSpec["lighten"]>;
