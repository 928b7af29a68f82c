/** Jobs with made up settings: the demo's plates, and of all else whatever the schema takes. */
import { readFileSync } from "node:fs";
import process from "node:process";
import fc from "fast-check";
import { parse, stringify } from "yaml";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;

/** Tenons and reliefs, slots that just let the cutter in, small bores; the long run takes all plates. */
const FEW = new Set(["arm", "camera-side"]);

export function readDemo(name: string): Uint8Array | undefined {
  try {
    return readFileSync(new URL(`../../fixtures/demo/${name}`, import.meta.url));
  } catch {
    return undefined;
  }
}

const yaml = (name: string): Record<string, unknown> =>
  parse(new TextDecoder().decode(readDemo(name))) as Record<string, unknown>;

type Some = Readonly<Record<string, unknown>>;

/** Each of these or not. */
const some = <T>(keys: { readonly [K in keyof T]: fc.Arbitrary<T[K]> }): fc.Arbitrary<Some> =>
  fc.record(keys, { requiredKeys: [] }) as fc.Arbitrary<Some>;
const of = fc.constantFrom;

const cutting = some({
  order: of("plate-by-plate", "whole-sheet"),
  direction: of("climb", "conventional"),
  hop: of(0.5, 1, 3, 6, 10),
  clearance: of(3, 6, 20),
  rampDeg: of(0.5, 1, 3, 10, 30, 45),
  passDepth: of(0.3, 0.7, 1.5, 4),
  throughDepth: of(0, 0.1, 0.5, 1),
  finish: fc.record({ stock: of(0, 0.05, 0.2, 0.5) }),
  tabs: fc.record({
    width: of(2, 4, 8),
    height: of(0.3, 0.8, 1.5),
    spacing: of(40, 140, 400),
    least: of(1, 3, 5),
  }),
});
const origin = some({
  at: of("lower-left", "lower-right", "upper-left", "upper-right", "centre"),
  z: of("sheet-top", "spoilboard"),
});
const machine = some({
  arcs: fc.boolean(),
  decimals: of(3, 4, 5, 6),
  repeatMotion: fc.boolean(),
  comments: of("parentheses", "semicolon", "none"),
  dwell: of("seconds", "milliseconds"),
  // A straight move in three axes with six decimals has 35 characters: shorter lines are refused, and told why.
  lineLength: of(45, 60, 128),
  programEnd: of("M2", "M30", "none"),
  percentLines: fc.boolean(),
  workOffset: of("G54", "G55", "none"),
  axisScale: fc.tuple(of(0.99, 1, 1.01), of(0.99, 1, 1.005)),
});
const spindle = some({
  start: of("program", "hand-at-stop", "hand-in-dwell"),
  sAtMax: of(255, 1000),
});
export const settings = fc.record({
  cutting,
  origin,
  machine,
  spindle,
  diameter: of(1, 1.3, 1.5, 2, 2.1),
  material: of("carbon-woven", "carbon-quasi-isotropic", "glass-epoxy"),
  count: of(1, 2),
});

export type Settings = typeof settings extends fc.Arbitrary<infer T> ? T : never;

export function jobWith(s: Settings): string {
  const job = yaml("job.yaml");
  const profile = typeof job["machine"] === "string" ? yaml(job["machine"]) : job["machine"];
  const own = profile as Record<string, unknown>;
  const each = (key: string, change: Some): Some[] =>
    (job[key] as Some[]).map((one) => ({ ...one, ...change }));
  return stringify({
    ...job,
    machine: { ...own, ...s.machine, spindle: { ...(own["spindle"] as Some), ...s.spindle } },
    origin: s.origin,
    cutting: { ...(job["cutting"] as Some), ...s.cutting },
    sheets: each("sheets", { material: s.material }),
    plates: each("plates", { count: s.count }).filter((p) => LONG || FEW.has(String(p["name"]))),
    cutters: each("cutters", { diameter: s.diameter, measuredDiameter: s.diameter }),
  });
}
