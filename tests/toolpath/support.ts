/** Plates of the fixtures, routed and written for one machine and sheet; and the moves of a cut. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Cutter } from "../../src/core/cutting/cutter.ts";
import { readDrawing } from "../../src/core/drawing/read.ts";
import {
  bounds,
  oriented,
  perimeter,
  placeContour,
  rectangle,
} from "../../src/core/geometry/contour.ts";
import { distance, placePoint } from "../../src/core/geometry/segment.ts";
import type { Contour, Point, Rigid } from "../../src/core/geometry/shape.ts";
import type { Sheet, SheetLayout } from "../../src/core/layout/layout.ts";
import { layPlates } from "../../src/core/layout/place.ts";
import type { Machine } from "../../src/core/machine/machine.ts";
import { feedWay } from "../../src/core/motion/routed.ts";
import { timeOf } from "../../src/core/motion/time.ts";
import type { Feature, Plate } from "../../src/core/plate/plate.ts";
import { recognise } from "../../src/core/plate/recognise.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import type { Trace } from "../../src/core/program/read/trace.ts";
import { writeProgram } from "../../src/core/program/write/write.ts";
import type { CuttingOptions, Routed } from "../../src/core/toolpath/cut.ts";
import { route } from "../../src/core/toolpath/route.ts";

const fixtures = fileURLToPath(new URL("../../fixtures/", import.meta.url));

/** Drawings with true outlines and features, and what unit to read them in where they do not say. */
export const PLATE_FILES: readonly string[] = [
  "cases/02-ocs-arc-lwpolyline-minus-z.dxf",
  "cases/04-bulge-signs.dxf",
  "cases/05-bulge-over-one.dxf",
  "cases/07-bulge-circle-two-vertices.dxf",
  "cases/10-line-group-order.dxf",
  "cases/16-arc-crossing-zero.dxf",
  "cases/18-insert-nested-rot-scale.dxf",
  "cases/28-duplicate-edges.dxf",
  "cases/42-islands.dxf",
  "demo/arm.dxf",
  "demo/bottom-plate.dxf",
  "demo/top-plate.dxf",
  "demo/camera-side.dxf",
];

export function platesFrom(file: string): Plate[] {
  const bytes = new Uint8Array(readFileSync(fixtures + file));
  return recognise(readDrawing(file, bytes, { units: "mm" }), "plate").value;
}

export const MACHINE: Machine = {
  name: "test router",
  travel: [600, 400, 80],
  maxFeed: [3000, 3000, 800],
  acceleration: [300, 300, 100],
  junctionDeviation: 0.01,
  spindle: { min: 8000, max: 24000, powerW: 500, spinUpS: 5 },
  decimals: 4,
  lineLength: 70,
  dwell: "seconds",
  comments: "parentheses",
  repeatMotion: false,
  workOffset: "G54",
  arcs: true,
  blocksPerSecond: 250,
};

export const ROUTER: Cutter = {
  name: "router-2",
  kind: "diamond-router",
  diameter: 2,
  measuredDiameter: 1.97,
  fluteLength: 8,
  overhang: 14,
  flutes: 2,
  coating: "none",
};

export const OPTIONS: CuttingOptions = {
  tabs: { width: 4, height: 0.8, spacing: 140, least: 3 },
  throughDepth: 0.25,
  passDepth: 0.5,
  finish: { stock: 0.1 },
  direction: "climb",
  rampDeg: 3,
  clearance: 6,
  hop: 1.5,
};

export const SHEET: Sheet = {
  name: "sheet",
  material: "carbon-woven",
  thickness: 3,
  outline: rectangle(0, 0, 400, 300),
  fibreDeg: 0,
  margin: 6,
  keepOuts: [],
};

export interface Setting {
  readonly plates: readonly Plate[];
  readonly cutters?: readonly Cutter[];
  readonly options?: Partial<CuttingOptions>;
  readonly sheet?: Partial<Sheet>;
  readonly machine?: Partial<Machine>;
  readonly count?: number;
  readonly orderSteps?: number;
}

export interface Run {
  readonly layouts: readonly SheetLayout[];
  readonly routed: Routed;
  readonly texts: readonly string[];
  readonly traces: readonly Trace[];
  readonly blocks: number;
  /** As read back, and as a plan tells it. */
  readonly cutMetres: number;
  readonly feedMetres: number;
}

export function runOf(setting: Setting): Run {
  const cutters = setting.cutters ?? [ROUTER];
  const machine = { ...MACHINE, ...setting.machine };
  const options = { ...OPTIONS, ...setting.options };
  const sheet = { ...SHEET, ...setting.sheet };
  const widest = Math.max(...cutters.map((c) => c.measuredDiameter ?? c.diameter));
  const laid = layPlates({
    sheets: [sheet],
    plates: setting.plates.map((plate) => ({
      plate,
      sheet: sheet.name,
      count: setting.count ?? 1,
      gap: 6,
    })),
    widestCutter: widest,
  });
  const routed = route({
    layouts: laid.value,
    cutters,
    options,
    machine,
    orderSteps: setting.orderSteps,
  });
  const written = routed.programs.map((p, i) =>
    writeProgram(p, {
      job: "test",
      machine,
      options,
      originAt: "lower left corner",
      zAt: "sheet-top",
      zero: { x: 0, y: 0 },
      number: i + 1,
      of: routed.programs.length,
    }),
  );
  const traces = written.map((w, i) => readProgram(`${i}.nc`, w.text));
  return {
    layouts: laid.value,
    routed,
    texts: written.map((w) => w.text),
    traces,
    blocks: written.reduce((n, w) => n + w.blocks, 0),
    feedMetres: routed.programs.reduce((n, p) => n + feedWay(p), 0) / 1000,
    cutMetres: traces.reduce((n, t) => n + timeOf(t, machine).cutMetres, 0),
  };
}

/** The same plate drawn elsewhere: turned, mirrored, shifted. */
export function redrawn(plate: Plate, m: Rigid): Plate {
  const outer = oriented(placeContour(plate.outer, m), true);
  const features = plate.features.map((f): Feature => {
    const turn = f.angle === undefined ? undefined : (m.flipped ? -f.angle : f.angle) + m.angle;
    return {
      ...f,
      contour: oriented(placeContour(f.contour, m), false),
      at: placePoint(f.at, m),
      ...(turn === undefined ? {} : { angle: ((turn % Math.PI) + Math.PI) % Math.PI }),
    };
  });
  return { ...plate, outer, features, bounds: bounds(outer), perimeter: perimeter(outer) };
}

export function plateOf(outer: Contour, features: readonly Feature[] = []): Plate {
  return {
    name: "plate",
    drawing: "plate.dxf",
    outer,
    features,
    area: 0,
    perimeter: perimeter(outer),
    bounds: bounds(outer),
  };
}

/** Steepest way down in a stretch of moves, as the tangent of its angle. */
export function steepness(from: Point, to: Point, drop: number, length?: number): number {
  return drop / (length ?? distance(from, to));
}
