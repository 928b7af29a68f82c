/**
 * plan.json as text → PlanJson, for commands that judge or change an earlier plan.
 *
 * Only what those commands use is looked at: what a plan is for, what its sheets are to become, with what
 * it is cut. A plan of a later weftcut may hold more.
 * Promise: never throws; a value comes back exactly when no finding stops.
 */
import { z } from "zod";
import { type Finding, type Outcome, reporter } from "../finding/finding.ts";
import { sayJob } from "../finding/say-job.ts";
import { machineSchema } from "./keys/machine.ts";
import type { NamedText } from "./parse.ts";
import type { PlanJson } from "./plan-json.ts";

const say = reporter(sayJob);

const point = z.tuple([z.number(), z.number()]);
const segment = z.union([
  z.looseObject({ to: point, centre: point, ccw: z.boolean() }),
  z.looseObject({ to: point, centre: z.undefined().optional() }),
]);
const contour = z.looseObject({ start: point, segments: z.array(segment).min(1) });

const placement = z.looseObject({
  plate: z.string(),
  copy: z.int(),
  outer: contour,
  inner: z.array(contour),
  features: z.array(
    z.looseObject({
      id: z.int(),
      kind: z.enum(["hole", "slot", "window", "recess"]),
      at: point,
      contour,
      depth: z.number().optional(),
    }),
  ),
});

const sheet = z.looseObject({
  name: z.string(),
  material: z.string(),
  thickness: z.number().gt(0),
  outline: contour,
  margin: z.number(),
  keepOut: z.array(
    z.union([
      z.looseObject({ at: point, diameter: z.number() }),
      z.looseObject({ from: point, to: point }),
    ]),
  ),
  originOffset: point,
  placements: z.array(placement),
  tabs: z.array(
    z.looseObject({
      plate: z.string(),
      copy: z.int(),
      feature: z.int().optional(),
      at: point,
      width: z.number(),
      height: z.number(),
    }),
  ),
});

const cutter = z.looseObject({
  name: z.string(),
  kind: z.enum(["diamond-router", "two-flute", "compression", "drill"]),
  effectiveDiameter: z.number().gt(0),
  fluteLength: z.number(),
  overhang: z.number(),
  flutes: z.number(),
  chip: z.looseObject({ least: z.number(), most: z.number() }),
});

const planSchema = z.looseObject({
  weftcut: z.number(),
  name: z.string(),
  units: z.literal("mm"),
  origin: z.looseObject({
    at: z.enum(["lower-left", "lower-right", "upper-left", "upper-right", "centre"]),
    z: z.enum(["sheet-top", "spoilboard"]),
  }),
  machine: machineSchema,
  cutting: z.looseObject({
    tabs: z.looseObject({ width: z.number(), height: z.number(), least: z.number() }),
    throughDepth: z.number(),
    finish: z.looseObject({ stock: z.number() }),
    rampDeg: z.number(),
    clearance: z.number(),
    hop: z.number().optional(),
  }),
  throughDepth: z.number(),
  sheets: z.array(sheet).min(1),
  cutters: z.array(cutter),
  programs: z.array(
    z.looseObject({
      file: z.string(),
      sheet: z.string(),
      cutter: z.string(),
      passDepth: z.number(),
    }),
  ),
});

export function readPlan({ name, text }: NamedText): Outcome<PlanJson | undefined> {
  const stop = (finding: Finding) => ({ value: undefined, findings: [finding] });
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return stop(say("plan-not-json", { why }, { drawing: { file: name } }));
  }
  const result = planSchema.safeParse(value);
  // What was checked is a part of a plan; the rest of it was written by the same `plan`.
  if (result.success) return { value: value as PlanJson, findings: [] };
  const [issue] = result.error.issues;
  const path = issue?.path.map(String).join(".") || "the whole";
  const data = { path, why: issue?.message ?? "", problems: result.error.issues.length };
  return stop(say("plan-shape", data, { drawing: { file: name } }));
}
