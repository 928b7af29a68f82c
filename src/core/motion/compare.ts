/**
 * Which cutter for these plates: for each one what it cannot make, minutes, metres, deflection, cost.
 *
 * Each cutter is taken to make all plates alone. Times are those of a rough program on this machine (see
 * rough.ts), so they compare; the plan's own estimate is the one to go by.
 */
import type { Cutter, MaterialName, Rates } from "../cutting/cutter.ts";
import { lifeOf } from "../cutting/data/life.ts";
import { chooseRates } from "../cutting/rates.ts";
import { type Finding, stops } from "../finding/finding.ts";
import type { Machine } from "../machine/machine.ts";
import type { FeatureKind, Plate } from "../plate/plate.ts";
import type { Trace, TraceStep } from "../program/read/trace.ts";
import { type RoughOptions, roughProgram } from "./rough.ts";
import { timeOf } from "./time.ts";

export interface CompareInput extends RoughOptions {
  readonly plates: readonly { readonly plate: Plate; readonly count: number }[];
  readonly cutters: readonly Cutter[];
  readonly material: MaterialName;
  readonly machine: Machine;
  readonly passDepth?: number | undefined;
  readonly perHour: number;
}

export interface CannotMake {
  readonly plate: string;
  readonly kind: FeatureKind | "outline";
  /** Smallest measure that is known: diameter or width, mm. */
  readonly size?: number | undefined;
  readonly at?: readonly [number, number] | undefined;
}

export interface CutterRow {
  readonly cutter: string;
  readonly diameter: number;
  readonly rates: Rates;
  readonly cannot: readonly CannotMake[];
  /** Inside corners and necks that it leaves, all plates, mm². */
  readonly leftMm2: number;
  readonly minutes: number;
  readonly cutMetres: number;
  readonly edgeMetres: number;
  readonly lifeUsed: number;
  readonly deflectionMm: number;
  /** Machine time and cutter share. */
  readonly cost: number;
  readonly findings: readonly Finding[];
}

export interface Comparison {
  readonly rows: readonly CutterRow[];
  readonly assumptions: readonly string[];
}

export function compareCutters(input: CompareInput): Comparison {
  return {
    rows: input.cutters.map((cutter) => rowOf(input, cutter)),
    assumptions: [
      "Each cutter makes all plates alone; what it cannot make is left out of its minutes.",
      "No tabs, lead-ins or spindle run-up; plates one by one.",
      `Cost is machine time at ${input.perHour} an hour and the share of the cutter's life.`,
    ],
  };
}

/**
 * Diameters to choose among where the job names no cutters yet. Flutes no longer than the cut needs, and
 * no longer than 4 D (common practice, no source): a thin cutter may then be too short for the sheet.
 */
export function usualRouters(depth: number): readonly Cutter[] {
  return [1, 1.5, 2, 2.5, 3.175].map((diameter) => {
    const fluteLength = Math.min(4 * diameter, Math.max(2 * diameter, depth + 1));
    return {
      name: `router-${diameter}`,
      kind: "diamond-router",
      diameter,
      fluteLength,
      overhang: fluteLength + 6,
      flutes: 2,
      coating: "none",
    };
  });
}

function rowOf(input: CompareInput, cutter: Cutter): CutterRow {
  const { value: rates, findings } = chooseRates({ ...input, cutter });
  if (stops(findings)) return nothing(cutter, rates, input, findings);
  const steps: TraceStep[] = [];
  const cannot: CannotMake[] = [];
  let edge = 0;
  let left = 0;
  for (const { plate, count } of input.plates) {
    const rough = roughProgram(plate, cutter, rates, input);
    for (let k = 0; k < count; k++) steps.push(...rough.steps);
    edge += (rough.edge * count) / 1000;
    left += rough.left * count;
    for (const id of rough.cannot) cannot.push(cannotMake(plate, id));
  }
  const time = timeOf(traceOf(steps), input.machine);
  const lifeUsed = edge / lifeOf(cutter).metres;
  return {
    cutter: cutter.name,
    diameter: cutter.diameter,
    rates,
    cannot,
    leftMm2: left,
    minutes: time.seconds / 60,
    cutMetres: time.cutMetres,
    edgeMetres: edge,
    lifeUsed,
    deflectionMm: rates.deflectionMm,
    cost: (time.seconds / 3600) * input.perHour + lifeUsed * (cutter.price ?? 0),
    findings,
  };
}

/** A cutter that is refused makes nothing. */
function nothing(
  cutter: Cutter,
  rates: Rates,
  input: CompareInput,
  findings: readonly Finding[],
): CutterRow {
  return {
    cutter: cutter.name,
    diameter: cutter.diameter,
    rates,
    cannot: input.plates.flatMap(({ plate }) => [
      ...plate.features.map((f) => cannotMake(plate, f.id)),
      cannotMake(plate, -1),
    ]),
    leftMm2: 0,
    minutes: 0,
    cutMetres: 0,
    edgeMetres: 0,
    lifeUsed: 0,
    deflectionMm: rates.deflectionMm,
    cost: 0,
    findings,
  };
}

function cannotMake(plate: Plate, id: number): CannotMake {
  const feature = plate.features.find((f) => f.id === id);
  if (feature === undefined) return { plate: plate.name, kind: "outline" };
  const { kind, at } = feature;
  return { plate: plate.name, kind, size: feature.diameter ?? feature.width, at: [at.x, at.y] };
}

function traceOf(steps: readonly TraceStep[]): Trace {
  return {
    file: "rough",
    steps,
    comments: [],
    lines: steps.length,
    longestLine: 0,
    states: { units: true, absolute: true, plane: true, feedMode: true },
    ended: true,
    findings: [],
  };
}

/** A table for people: one line a cutter, what it cannot make below it. */
export function compareText(comparison: Comparison, currency: string): string {
  const head = [
    "cutter",
    "minutes",
    "metres cut",
    "life used",
    "bends mm",
    `cost ${currency}`,
    "corners left mm²",
  ];
  const rows = comparison.rows.map((r) => [
    r.cutter,
    r.minutes.toFixed(1),
    r.cutMetres.toFixed(2),
    `${Math.round(r.lifeUsed * 100)} %`,
    r.deflectionMm.toFixed(3),
    r.cost.toFixed(2),
    r.leftMm2.toFixed(1),
  ]);
  const widths = head.map((h, i) => Math.max(h.length, ...rows.map((r) => r[i]?.length ?? 0)));
  const row = (cells: readonly string[]): string =>
    cells
      .map((c, i) => (i === 0 ? c.padEnd(widths[i] ?? 0) : c.padStart(widths[i] ?? 0)))
      .join("  ");
  return [
    row(head),
    ...comparison.rows.flatMap((r, i) => [row(rows[i] ?? []), ...cannotText(r)]),
    "",
    ...comparison.assumptions,
    "",
  ].join("\n");
}

function cannotText(row: CutterRow): readonly string[] {
  const counted = new Map<string, number>();
  for (const c of row.cannot) {
    const size = c.size === undefined ? "" : ` of ${Number(c.size.toFixed(3))}`;
    const name = `${c.plate}: ${c.kind}${size}`;
    counted.set(name, (counted.get(name) ?? 0) + 1);
  }
  const stopped = row.findings.filter((f) => f.severity === "stop").map((f) => `  ${f.message}`);
  if (stopped.length > 0) return stopped;
  return [...counted].map(([name, n]) => `  cannot make ${n === 1 ? "" : `${n} × `}${name}`);
}
