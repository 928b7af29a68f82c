/**
 * A drawing file of any format to closed loops in mm.
 *
 * Promise: never throws and always ends; whatever is left out, mended or in doubt is told. Where nothing can
 * be read there is a finding of severity stop.
 */
import type { Finding } from "../finding/finding.ts";
import { reportDrawing } from "../finding/say-drawing.ts";
import type { Box } from "../geometry/shape.ts";
import { decode, latin1 } from "./bytes.ts";
import type { Drawing, ReadOptions, Units } from "./drawing.ts";
import { readDxf } from "./dxf/read.ts";
import { isBinary } from "./dxf/tags.ts";
import { boxAroundAll } from "./mend/double/boxes.ts";
import { type Mended, mend } from "./mend/mend.ts";
import type { Piece, Pieces } from "./mend/piece.ts";
import { sniff } from "./sniff.ts";
import { readSvg } from "./svg/read.ts";
import { measureOf, unitFindings } from "./unit-findings.ts";
import { chosenUnits } from "./units.ts";

export function readDrawing(
  file: string,
  content: Uint8Array | string,
  options: ReadOptions = {},
): Drawing {
  const binary = typeof content !== "string" && isBinary(content);
  const kind = sniff(file, content, binary);
  if (kind.format === "none") {
    return nothing(
      file,
      reportDrawing("not-a-drawing", { what: kind.what }, { drawing: { file } }),
    );
  }
  if (kind.format === "svg") {
    return drawingOf(file, "svg", readSvg(file, svgText(content), options), options);
  }
  return drawingOf(file, "dxf", readDxf(file, content, options), options);
}

export interface Layers {
  /** By name, as the file first writes it. */
  readonly layers: ReadonlyMap<string, Mended>;
  /** Of the file as a whole. */
  readonly findings: readonly Finding[];
}

/** Each layer by itself: nothing on one joins, doubles or crosses what is on another. */
export function readLayers(
  file: string,
  content: Uint8Array | string,
  wanted: (layer: string) => boolean,
): Layers {
  const binary = typeof content !== "string" && isBinary(content);
  const kind = sniff(file, content, binary);
  if (kind.format === "none") {
    const place = { drawing: { file } };
    const findings = [reportDrawing("not-a-drawing", { what: kind.what }, place)];
    return { layers: new Map(), findings };
  }
  const read: Pieces =
    kind.format === "svg" ? readSvg(file, svgText(content), {}) : readDxf(file, content, {});
  const pieces = new Map<string, Piece[]>();
  for (const piece of read.pieces.filter((p) => wanted(p.layer))) {
    const known = pieces.get(piece.layer);
    if (known === undefined) pieces.set(piece.layer, [piece]);
    else known.push(piece);
  }
  const mended = [...pieces].map(([layer, its]) => [layer, mend(file, its, { texts: 0 })] as const);
  return { layers: new Map(mended), findings: read.findings };
}

/** XML says its encoding in its first line; UTF-8 where it does not. */
function svgText(content: Uint8Array | string): string {
  if (typeof content === "string") return content.replace(/^\uFEFF/, "");
  const head = latin1(content.subarray(0, 200));
  const named = /encoding\s*=\s*["']([\w-]+)["']/.exec(head)?.[1]?.toLowerCase() ?? "utf-8";
  const page = /^(?:windows-|cp)(\d+)$/.exec(named)?.[1];
  return decode(content, page ?? "1252", named === "utf-8").text.replace(/^\uFEFF/, "");
}

function nothing(file: string, finding: Finding): Drawing {
  return {
    file,
    format: file.toLowerCase().endsWith(".svg") ? "svg" : "dxf",
    units: chosenUnits(null, {}),
    bounds: EMPTY,
    loops: [],
    openChains: [],
    ignored: [],
    repairs: [],
    findings: [finding],
  };
}

const TEXTS: ReadonlySet<string> = new Set(["TEXT", "MTEXT", "ATTRIB", "text"]);

const EMPTY: Box = { min: { x: 0, y: 0 }, max: { x: 0, y: 0 } };

interface Measured extends Pieces {
  readonly units: Units;
  /** px to an inch, where the size of an SVG drawing rests on it. */
  readonly perInch?: number | undefined;
}

function drawingOf(
  file: string,
  format: "dxf" | "svg",
  read: Measured,
  options: ReadOptions,
): Drawing {
  const { units, perInch } = read;
  const texts = read.ignored.reduce((n, i) => (TEXTS.has(i.type) ? n + i.count : n), 0);
  const m = mend(file, read.pieces, { ...options, texts });
  const drawn = [...m.loops.map((l) => l.contour), ...m.openChains];
  const measure = measureOf(m.loops, m.openChains, units.factor);
  const findings = [
    ...unitFindings(file, units, measure, options, perInch),
    ...read.findings,
    ...m.findings,
  ];
  const endless = read.findings.some((f) => f.code === "too-many-pieces");
  if (drawn.length === 0 && !endless)
    findings.push(reportDrawing("nothing-drawn", {}, { drawing: { file } }));
  else if (m.loops.length === 0 && !endless)
    findings.push(reportDrawing("no-loop", { chains: m.openChains.length }, { drawing: { file } }));
  return {
    file,
    format,
    units,
    bounds: drawn.length === 0 ? EMPTY : boxAroundAll(drawn),
    loops: m.loops,
    openChains: m.openChains,
    ignored: [...read.ignored, ...m.ignored],
    repairs: [...read.repairs, ...m.repairs],
    findings,
  };
}
