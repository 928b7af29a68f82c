/** The keys of a machine profile, beside the job or in it. */
import { z } from "zod";
import { HAND_S, type Machine } from "../../machine/machine.ts";
import * as defaults from "../defaults.ts";
import { axes, length, name, quantity, whole } from "./quantity.ts";

/** Printable ASCII, and none of what streamed controllers obey wherever it stands. */
const ownLines = (where: string) =>
  z
    .array(
      z
        .string()
        .min(1)
        .max(256)
        .regex(/^[ -~]*$/)
        .meta({ description: "One line." }),
    )
    .max(40)
    .meta({
      description: `Your own lines, ${where}. They may not move the machine, turn the spindle, or change units, plane, distance mode or zero.`,
    });

const scales = (description: string, min = 0.9) =>
  z
    .tuple([quantity("mm/mm", { min, max: 1.1 }, "X"), quantity("mm/mm", { min, max: 1.1 }, "Y")])
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
        sAtMax: whole(
          1,
          100_000,
          "What S is at the fastest speed, and in proportion below it. Absent: S is rpm.",
        ).optional(),
        start: z.enum(["program", "hand-at-stop", "hand-in-dwell"]).optional().meta({
          description:
            "Who starts the spindle. By hand: programs wait at M0 for it, or for handS where the controller has no M0. Absent: program.",
        }),
        handS: quantity(
          "s",
          { min: 1, max: 600 },
          `With hand-in-dwell: time to switch it on, before it comes up to speed. Absent: ${HAND_S}.`,
        ).optional(),
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
      .enum(["G54", "G55", "G56", "G57", "G58", "G59", "none"])
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
    programEnd: z
      .enum(["M2", "M30", "none"])
      .optional()
      .meta({ description: "The word that ends programs. Absent: M2." }),
    percentLines: z
      .boolean()
      .optional()
      .meta({ description: "true for a controller that wants programs between two lines of %." }),
    startLines: ownLines("before everything else in every program").optional(),
    endLines: ownLines("after the spindle's stop, before the end of every program").optional(),
    axisScale: z
      .tuple([
        quantity("mm/mm", { min: 0.9, max: 1.1 }, "X"),
        quantity("mm/mm", { min: 0.9, max: 1.1 }, "Y"),
      ])
      .optional()
      .meta({ description: "What X and Y really move for each mm asked, measured by a coupon." }),
    coupons: z
      .array(
        z.strictObject({
          date: name("When it was measured."),
          axisScale: scales("What was found."),
          plusMinus: scales("Its uncertainty, 95 %.", 0),
          before: scales("What stood here before.").optional(),
        }),
      )
      .max(1000)
      .optional()
      .meta({ description: "What coupons have found; the last is in force." }),
  })
  .meta({ description: "A machine profile." });
