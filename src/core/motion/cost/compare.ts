/**
 * Which cutter for these plates: for each one what it cannot make, minutes, metres, deflection, cost.
 *
 * Each cutter is taken to make all plates alone: every kind of plate is routed with it on a sheet of its own, as
 * `plan` would, and timed on this machine. What it cannot make is left out of its minutes.
 * Cost: one routing for each cutter and kind of plate.
 */
import type { Cutter, MaterialName, Rates } from "../../cutting/cutter.ts";
import { lifeOf, lifeWeight } from "../../cutting/data/life.ts";
import { chooseRates } from "../../cutting/rates.ts";
import { type Finding, stops } from "../../finding/finding.ts";
import { oriented, rectangle } from "../../geometry/contour.ts";
import { offsetRings } from "../../geometry/offset.ts";
import { areaOf } from "../../geometry/region.ts";
import { BARELY } from "../../geometry/tolerance.ts";
import type { SheetLayout } from "../../layout/layout.ts";
import type { Machine } from "../../machine/machine.ts";
import type { Feature, FeatureKind, Plate } from "../../plate/plate.ts";
import type { Trace, TraceStep } from "../../program/read/trace.ts";
import { assignCutters } from "../../toolpath/choose/assign.ts";
import type { CuttingOptions } from "../../toolpath/cut.ts";
import { route } from "../../toolpath/route.ts";
import { routedMoves } from "../routed.ts";
import { timeOf } from "../time.ts";
import { blockEdges } from "../wear/block-edges.ts";

export interface CompareInput {
  readonly plates: readonly { readonly plate: Plate; readonly count: number }[];
  readonly cutters: readonly Cutter[];
  readonly material: MaterialName;
  readonly thickness: number;
  readonly specificEnergy?: number | undefined;
  readonly machine: Machine;
  readonly options: CuttingOptions;
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
      "Plates one by one, without the spindle's run-up and the way from plate to plate.",
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
  const { options } = input;
  const { value: rates, findings } = chooseRates({
    ...input,
    cutter,
    throughDepth: options.throughDepth,
    passDepth: options.passDepth,
    finishStock: options.finish.stock,
    rampDeg: options.rampDeg,
  });
  if (stops(findings)) return nothing(cutter, rates, input, findings);
  const sum = { seconds: 0, cut: 0, edge: 0, left: 0 };
  const cannot: CannotMake[] = [];
  for (const { plate, count } of input.plates) {
    const trial = tryOn(input, cutter, plate);
    sum.seconds += trial.seconds * count;
    sum.cut += trial.cut * count;
    sum.edge += trial.edge * count;
    sum.left += trial.left * count;
    cannot.push(...trial.cannot.map((id) => cannotMake(plate, id)));
  }
  const lifeUsed = (sum.edge * lifeWeight(input.thickness)) / lifeOf(cutter).metres;
  return {
    cutter: cutter.name,
    diameter: cutter.diameter,
    rates,
    cannot,
    leftMm2: sum.left,
    minutes: sum.seconds / 60,
    cutMetres: sum.cut,
    edgeMetres: sum.edge,
    lifeUsed,
    deflectionMm: rates.deflectionMm,
    cost: (sum.seconds / 3600) * input.perHour + lifeUsed * (cutter.price ?? 0),
    findings,
  };
}

interface Trial {
  readonly seconds: number;
  readonly cut: number;
  readonly edge: number;
  readonly left: number;
  /** Feature ids; -1 is the outline. */
  readonly cannot: readonly number[];
}

/** Round the plate, so that every tab and lead-in finds room, mm. */
const ROOM = 50;

function tryOn(input: CompareInput, cutter: Cutter, plate: Plate): Trial {
  // A drill goes round nothing: a router of the usual size stands in for what is not its own.
  const cutters = cutter.kind === "drill" ? [cutter, standIn(input)] : [cutter];
  const { outline, features } = assignCutters(plate, cutters);
  const made = plate.features.filter((f) => features.get(f.id) === cutter);
  const cannot = plate.features.filter((f) => !made.includes(f)).map((f) => f.id);
  const { machine, options } = input;
  const routed = route({ layouts: [aloneOn(input, plate)], cutters, options, machine });
  const frame = { zero: { x: 0, y: 0 }, clearance: options.clearance };
  let seconds = 0;
  let cut = 0;
  let edge = 0;
  for (const program of routed.programs.filter((p) => p.cutter === cutter)) {
    const time = timeOf(traceOf(routedMoves(program, frame).flat()), machine);
    seconds += time.seconds;
    cut += time.cutMetres;
    edge += blockEdges(program, frame.zero).reduce((a, b) => a + b, 0);
  }
  return {
    seconds,
    cut,
    edge,
    left: made.reduce((sum, f) => sum + leftIn(f, cutter), 0),
    cannot: outline === cutter ? cannot : [...cannot, -1],
  };
}

function standIn({ thickness, options }: CompareInput): Cutter {
  return usualRouters(thickness + options.throughDepth).at(-1) as Cutter;
}

function aloneOn({ material, thickness, specificEnergy }: CompareInput, plate: Plate): SheetLayout {
  const { min, max } = plate.bounds;
  const outline = rectangle(min.x - ROOM, min.y - ROOM, max.x + ROOM, max.y + ROOM);
  const sheet = {
    name: plate.name,
    material,
    thickness,
    specificEnergy,
    outline,
    fibreDeg: 0,
    margin: 0,
    keepOuts: [],
  };
  const placement = {
    plate,
    copy: 1,
    plateToSheet: { x: 0, y: 0, angle: 0, flipped: false },
    outer: plate.outer,
    features: plate.features,
  };
  return { sheet, placements: [placement], utilisation: 0 };
}

/** Corners and necks that a round cutter leaves: the opening less what of it shrinks and grows back. */
function leftIn(feature: Feature, cutter: Cutter): number {
  const d = cutter.diameter;
  if (feature.kind === "hole" || (feature.width ?? Number.POSITIVE_INFINITY) - d <= BARELY)
    return 0;
  const rings = offsetRings([oriented(feature.contour, true)], -d / 2);
  return Math.max(0, feature.area - areaOf(offsetRings(rings, d / 2)));
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
    file: "",
    steps,
    comments: [],
    lines: steps.length,
    longestLine: 0,
    states: { units: true, absolute: true, plane: true, feedMode: true },
    ended: true,
    findings: [],
  };
}
