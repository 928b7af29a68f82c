/** Drawings as they were understood, before and beside any plan: sizes, features, layers, questions. */
import type { Drawing, ReadOptions } from "../../core/drawing/drawing.ts";
import { inspectSvg } from "../../core/drawing/inspect/picture.ts";
import { unitWords } from "../../core/drawing/inspect/text.ts";
import { readDrawing } from "../../core/drawing/read.ts";
import type { Box } from "../../core/geometry/shape.ts";
import { readSource } from "../../core/job/source/yaml-source.ts";
import type { Plate } from "../../core/plate/plate.ts";
import { recognise } from "../../core/plate/recognise.ts";
import type { Bytes, Files, Inspected, JobText, LayerSeen, PlateSeen } from "./protocol.ts";

/** What was read last of each file, and how it was asked for. */
const known = new Map<string, { bytes: Bytes; asked: string; seen: Inspected }>();

export function inspectAll(job: JobText | undefined, files: Files): Inspected[] {
  const wishes = wishesOf(job);
  return [...files]
    .filter(([name]) => /\.(dxf|svg)$/i.test(name))
    .map(([name, bytes]) => {
      const options = wishes.get(baseOf(name)) ?? {};
      const asked = JSON.stringify(options);
      const before = known.get(name);
      if (before !== undefined && before.bytes === bytes && before.asked === asked)
        return before.seen;
      const seen = inspected(name, bytes, options);
      known.set(name, { bytes, asked, seen });
      return seen;
    });
}

/** How the job wants each drawing read. It may be in any state, so nothing of it is taken for granted. */
function wishesOf(job: JobText | undefined): Map<string, ReadOptions> {
  const wishes = new Map<string, ReadOptions>();
  if (job === undefined) return wishes;
  const plates = Object(readSource(job.text).value).plates;
  for (const plate of Array.isArray(plates) ? plates : []) {
    const { drawing, units, closeGaps, dropNearDuplicates, layers } = Object(plate);
    if (typeof drawing !== "string" || wishes.has(baseOf(drawing))) continue;
    const ignore = namesOf(Object(layers).ignore);
    wishes.set(baseOf(drawing), {
      ...(units === "mm" || units === "in" ? { units } : {}),
      ...(typeof closeGaps === "number" && closeGaps > 0 ? { closeGaps } : {}),
      ...(dropNearDuplicates === true ? { dropNearDuplicates } : {}),
      cutLayers: namesOf(Object(layers).cut),
      ignoreLayers: ignore?.length === 0 ? undefined : ignore,
    });
  }
  return wishes;
}

function namesOf(value: unknown): string[] | undefined {
  return Array.isArray(value) ? value.map(String) : undefined;
}

function baseOf(name: string): string {
  return name.split(/[\\/]/).at(-1) ?? name;
}

function inspected(file: string, bytes: Bytes, options: ReadOptions): Inspected {
  const drawing = readDrawing(file, bytes, { ...options, decodeText });
  const { value: plates, findings } = recognise(drawing, baseOf(file).replace(/\.[^.]*$/, ""));
  const boxes = plates.length === 0 ? [drawing.bounds] : plates.map((p) => p.bounds);
  return {
    file,
    picture: inspectSvg(drawing, plates),
    ...sizeOf(around(boxes)),
    units: unitWords(drawing.units),
    layers: layersOf(drawing),
    plates: plates.map(plateSeen),
    findings: [...drawing.findings, ...findings, ...drawing.repairs],
  };
}

/** Names in encodings of two bytes a character; what the browser does not know stays as bytes. */
function decodeText(bytes: Uint8Array, encoding: string): string {
  try {
    return new TextDecoder(encoding).decode(bytes);
  } catch {
    return String.fromCharCode(...bytes);
  }
}

function around(boxes: readonly Box[]): Box {
  return {
    min: { x: Math.min(...boxes.map((b) => b.min.x)), y: Math.min(...boxes.map((b) => b.min.y)) },
    max: { x: Math.max(...boxes.map((b) => b.max.x)), y: Math.max(...boxes.map((b) => b.max.y)) },
  };
}

function sizeOf({ min, max }: Box): { width: number; height: number } {
  return { width: max.x - min.x, height: max.y - min.y };
}

function layersOf(drawing: Drawing): LayerSeen[] {
  const drawn = new Map<string, number>();
  const add = (layer: string, count: number) => drawn.set(layer, (drawn.get(layer) ?? 0) + count);
  for (const loop of drawing.loops) add(loop.layer, 1);
  for (const chain of drawing.openChains) add(chain.layer, 1);
  const layers = new Map<string, LayerSeen>(
    [...drawn].map(([name, count]) => [name, { name, drawn: count }]),
  );
  for (const { layer, why } of drawing.ignored) {
    if (layer === undefined || layers.has(layer)) continue;
    layers.set(layer, { name: layer, drawn: 0, leftOut: why });
  }
  return [...layers.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
}

function plateSeen(p: Plate): PlateSeen {
  const counts = (["hole", "slot", "window", "recess"] as const).map((kind) => ({
    kind,
    count: p.features.filter((f) => f.kind === kind).length,
  }));
  return {
    name: p.name,
    ...sizeOf(p.bounds),
    area: p.area,
    counts: counts.filter(({ count }) => count > 0),
  };
}
