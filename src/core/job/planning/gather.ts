/**
 * What the job names, read: drawings become plates, sheets get their outlines. Each drawing is read
 * once however often it is named.
 */

import type { Fastener } from "../../check/view.ts";
import type { Drawing, ReadOptions } from "../../drawing/drawing.ts";
import { readDrawing } from "../../drawing/read.ts";
import { type Finding, reporter } from "../../finding/finding.ts";
import { sayPlan } from "../../finding/say-plan.ts";
import type { Fitted } from "../../fit/apply.ts";
import type { FitChange } from "../../fit/mate.ts";
import { bounds, oriented, placeContour, rectangle } from "../../geometry/contour.ts";
import type { Contour } from "../../geometry/shape.ts";
import { DUST } from "../../geometry/tolerance.ts";
import type { Sheet } from "../../layout/layout.ts";
import type { PlateOrder } from "../../layout/riders.ts";
import type { Feature, Plate } from "../../plate/plate.ts";
import { recognise } from "../../plate/recognise.ts";
import { type Job, type JobPlate, type JobSheet, sheetOf } from "../job.ts";
import { keyOf, NO_MEMORY, type PlanMemory } from "../work/memory.ts";
import { fitted } from "./checking.ts";
import { withLayouts } from "./laying/hand-layouts.ts";

export type ReadFile = (file: string) => Uint8Array | undefined;

export interface Gathered {
  readonly sheets: readonly Sheet[];
  readonly orders: readonly PlateOrder[];
  readonly findings: readonly Finding[];
  /** What was changed for mates and relief. */
  readonly changes: readonly FitChange[];
  /** By plate: openings in which another plate sits, and the screws that the job names. */
  readonly mating: ReadonlyMap<string, ReadonlySet<number>>;
  readonly fasteners: ReadonlyMap<string, readonly Fastener[]>;
}

const report = reporter(sayPlan);

export function gather(job: Job, read: ReadFile, memory: PlanMemory = NO_MEMORY): Gathered {
  const key = (): string => {
    const { sheets, plates, mates, cutters, cutting } = job;
    const outlines = sheets.map((s) => (s.shape.kind === "drawing" ? s.shape.file : undefined));
    const named = [...outlines, ...sheets.map((s) => s.layout), ...plates.map((p) => p.drawing)];
    const files = [...new Set(named)].map((file) =>
      file === undefined ? "" : contentOf(read(file)),
    );
    return keyOf(sheets, plates, mates, cutters, cutting.finish.stock, files);
  };
  return memory.recall("gathered", key, () => gatherAnew(job, read, memory));
}

function gatherAnew(job: Job, read: ReadFile, memory: PlanMemory): Gathered {
  const drawings = drawingReader(read, memory);
  const findings: Finding[] = [];
  const sheets: Sheet[] = [];
  for (const sheet of job.sheets) {
    const made = outlineFor(sheet, drawings);
    findings.push(...made.findings);
    if (made.outline !== undefined) sheets.push(sheetOf(sheet, made.outline));
  }
  const found = new Map<JobPlate, Plate[]>();
  for (const plate of job.plates) {
    const made = platesFor(plate, drawings, memory);
    findings.push(...made.findings);
    found.set(plate, made.plates);
  }
  const made = fittedAgain(job, found, sheets, memory);
  findings.push(...made.findings);
  const plates = new Map(made.plates.flat().map((plate) => [plate.name, plate]));
  const asked = job.plates.flatMap((p) =>
    (found.get(p) ?? []).map((drawn) => orderFor(plates.get(drawn.name) ?? drawn, p, memory)),
  );
  const { value: orders, findings: drawn } = withLayouts(job, sheets, asked, read);
  findings.push(...drawn);
  const fasteners = new Map(
    job.plates.flatMap((p) => (found.get(p) ?? []).map((q) => [q.name, p.fasteners] as const)),
  );
  const { changes, mating } = made;
  return { sheets, orders, findings, changes, mating, fasteners };
}

/** Equal plates with equal wishes are the same plates still: what is known of them is known on. */
function fittedAgain(
  job: Job,
  found: ReadonlyMap<JobPlate, readonly Plate[]>,
  sheets: readonly Sheet[],
  { recall, id }: PlanMemory,
): Fitted {
  const wishes = job.plates.map((p) => {
    const { name, count, mates, relief, sheet } = p;
    return [name, count, mates, relief, sheet, (found.get(p) ?? []).map(id)];
  });
  const key = (): string => keyOf(wishes, sheets, job.cutters, job.cutting.finish.stock, job.mates);
  return recall("fitted", key, () => fitted(job, found, sheets));
}

function orderFor(plate: Plate, p: JobPlate, { recall, id }: PlanMemory): PlateOrder {
  const { points = [] } = p;
  const pointed = (): Plate => ({ ...plate, points });
  return {
    plate: points.length === 0 ? plate : recall("pointed", () => keyOf(id(plate), points), pointed),
    sheet: p.sheet,
    count: p.count,
    gap: p.gap,
    fibreDeg: p.fibreDeg,
    mayCross: p.mayCross,
    mayFlip: p.mayFlip,
    place: p.fixed,
  };
}

export type Drawings = (file: string, options: ReadOptions) => Drawing | undefined;

/** Reads each drawing once for the same options; with a memory, once for the same bytes. */
export function drawingReader(read: ReadFile, memory: PlanMemory): Drawings {
  const known = new Map<string, Drawing>();
  return (file, options) => {
    const key = keyOf(file, options);
    const before = known.get(key);
    if (before !== undefined) return before;
    const bytes = read(file);
    if (bytes === undefined) return undefined;
    const drawing = memory.recall(
      "drawings",
      () => keyOf(file, options, contentOf(bytes)),
      () => readDrawing(file, bytes, options),
    );
    known.set(key, drawing);
    return drawing;
  };
}

/** Bytes as a text of as many characters, to be compared. */
function contentOf(bytes: Uint8Array | undefined): string {
  let text = "";
  for (let i = 0; i < (bytes?.length ?? 0); i += CHUNK) {
    text += String.fromCharCode(...(bytes as Uint8Array).subarray(i, i + CHUNK));
  }
  return text;
}

/** Arguments that a call takes without fail. */
const CHUNK = 8192;

function outlineFor(
  sheet: JobSheet,
  drawings: Drawings,
): { outline?: Contour; findings: readonly Finding[] } {
  const { shape } = sheet;
  if (shape.kind === "size")
    return { outline: rectangle(0, 0, shape.width, shape.height), findings: [] };
  const drawing = drawings(shape.file, {});
  if (drawing === undefined) {
    return { findings: [report("drawing-missing", { file: shape.file }, { sheet: sheet.name })] };
  }
  const { value: plates, findings } = recognise(drawing, sheet.name);
  const said = [...drawing.findings, ...findings].map((f) => ({ ...f, sheet: sheet.name }));
  const [plate] = plates;
  if (plate === undefined || plates.length > 1) {
    const data = { file: shape.file, outlines: plates.length };
    return { findings: [...said, report("sheet-outline-unclear", data, { sheet: sheet.name })] };
  }
  const { min } = bounds(plate.outer);
  const toOrigin = { x: -min.x, y: -min.y, angle: 0, flipped: false };
  return { outline: placeContour(oriented(plate.outer, true), toOrigin), findings: said };
}

interface Drawn {
  readonly plates: Plate[];
  readonly findings: readonly Finding[];
}

function platesFor(p: JobPlate, drawings: Drawings, { recall, id }: PlanMemory): Drawn {
  const drawing = drawings(p.drawing, {
    units: p.units,
    closeGaps: p.closeGaps,
    dropNearDuplicates: p.dropNearDuplicates,
    cutLayers: p.layers.cut,
    ignoreLayers: p.layers.ignore.length === 0 ? undefined : p.layers.ignore,
  });
  if (drawing === undefined) {
    const data = { file: p.drawing };
    return { plates: [], findings: [report("drawing-missing", data, { plate: p.name })] };
  }
  const key = (): string => keyOf(id(drawing), p.name, p.layers.recess);
  return recall("plates", key, () => platesOf(p, drawing));
}

function platesOf(p: JobPlate, drawing: Drawing): Drawn {
  const recess = Object.fromEntries(p.layers.recess.map((r) => [r.layer, r.depth]));
  const { value: drawn, findings } = recognise(drawing, p.name, { recess });
  const said = [...drawing.repairs, ...drawing.findings, ...findings];
  const plates = withoutDust(drawn, said);
  if (plates.length === 0) {
    said.push(report("drawing-without-plate", { file: p.drawing }, { plate: p.name }));
  }
  return { plates, findings: said.map((f) => ({ plate: p.name, ...f })) };
}

/** Specks that no cutter could make were not meant: they are left out, and told. */
function withoutDust(plates: readonly Plate[], said: Finding[]): Plate[] {
  const kept = new Map(plates.map((p) => [p.name, p.features.filter((f) => sizeOf(f) >= DUST)]));
  return plates.map((plate) => {
    const features = kept.get(plate.name) ?? [];
    const dust = plate.features.filter((f) => !features.includes(f));
    for (const f of dust) {
      const drawing = f.contour.segments[0]?.origin;
      const place = { plate: plate.name, at: [f.at.x, f.at.y] as const, drawing };
      said.push(report("speck-left-out", { size: sizeOf(f) }, place));
    }
    const { drawnInside: inside } = plate;
    return {
      ...plate,
      features: features.map((f, id) => ({ ...f, id })),
      area: plate.area + dust.reduce((sum, f) => sum + f.area, 0),
      // Windows are named by their number, which dust before them had moved.
      ...(inside === undefined
        ? {}
        : {
            drawnInside: { ...inside, feature: numberIn(kept.get(inside.plate), inside.feature) },
          }),
    };
  });
}

function numberIn(features: readonly Feature[] | undefined, id: number): number {
  return features?.findIndex((f) => f.id === id) ?? id;
}

function sizeOf(feature: Feature): number {
  const { min, max } = bounds(feature.contour);
  return Math.max(max.x - min.x, max.y - min.y);
}
