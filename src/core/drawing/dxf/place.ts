/**
 * The entities of model space, with all blocks put where they are inserted, as pieces in mm.
 *
 * An INSERT maps its block's plane by: point = insertion + R(rotation) · S(scale) · (p − base), then its own
 * extrusion, then what surrounds it; arrays step along the turned axes. A thing on layer 0 in a block lies
 * on the layer of the INSERT; a frozen layer hides an INSERT with all in it, a layer that is off hides only
 * what lies on it (DXF reference and common behaviour of readers).
 *
 * Promise: ends on any document: nesting, repeats and the number of pieces are bounded.
 */
import type { Finding } from "../../finding/finding.ts";
import { reportDrawing } from "../../finding/say-drawing.ts";
import type { Origin, Segment } from "../../geometry/shape.ts";
import { radians } from "../../geometry/trig.ts";
import {
  type Affine,
  compose,
  determinant,
  isFinite6,
  rotation,
  scaling,
  shift,
} from "../curve/affine.ts";
import { segmentsOf } from "../curve/segments.ts";
import { moveStroke } from "../curve/stroke.ts";
import type { ReadOptions } from "../drawing.ts";
import { type Leave, layerRule, offers } from "../mend/layers.ts";
import { count, listed, PIECES_MOST, type Piece, type Pieces, type Tally } from "../mend/piece.ts";
import { type Document, type Entity, number, textOf } from "./document.ts";
import { extrusionFrame } from "./extrusion.ts";
import { CUT_TYPES } from "./regular.ts";
import { type Refusal, type Remark, shapeOf } from "./shape.ts";

/** Blocks in blocks: drawings nest three or four deep. */
const NESTING_MOST = 24;
/** Copies that one array may hold. */
const ARRAY_MOST = 10_000;
/** Steps through blocks, counted with empty ones, beyond a few for each entity drawn: a drawing without end. */
const VISITS_MOST = 200_000;

interface Context {
  readonly file: string;
  readonly doc: Document;
  readonly leave: Leave;
  readonly pieces: Piece[];
  readonly tally: Tally;
  readonly repairs: Finding[];
  readonly findings: Finding[];
  readonly remarks: Map<Remark, { count: number; origin: Origin }>;
  visitsLeft: number;
  full: boolean;
}

interface Where {
  readonly move: Affine;
  /** The layer that things on layer 0 take. */
  readonly layer: string;
  readonly inside: readonly string[];
}

export function placeDocument(
  file: string,
  doc: Document,
  factor: number,
  options: ReadOptions,
): Pieces {
  const c: Context = {
    file,
    doc,
    leave: layerRule(options),
    pieces: [],
    tally: new Map(),
    repairs: [],
    findings: [],
    remarks: new Map(),
    visitsLeft: VISITS_MOST + 4 * drawnEntities(doc),
    full: false,
  };
  for (const e of doc.entities) {
    if (number(e, 67, 0) !== 0)
      count(c.tally, typeName(e), layerName(c, textOf(e, 8) || "L0"), "paper space");
    else place(c, e, { move: scaling(factor, factor), layer: "L0", inside: [] });
  }
  const ignored = listed(c.tally);
  if (ignored.some((i) => i.why === "paper space"))
    c.findings.push(
      reportDrawing("paper-space", { count: total(ignored, "paper space") }, { drawing: { file } }),
    );
  c.findings.push(...offers(file, ignored, new Set(CUT_TYPES)));
  if (c.full)
    c.findings.push(reportDrawing("too-many-pieces", { most: PIECES_MOST }, { drawing: { file } }));
  return {
    // A part of what has no end is worth nothing.
    pieces: c.full ? [] : c.pieces,
    ignored,
    repairs: [...c.repairs, ...remarksOf(c)],
    findings: c.findings,
  };
}

function drawnEntities(doc: Document): number {
  let n = doc.entities.length;
  for (const block of doc.blocks.values()) n += block.entities.length;
  return n;
}

function total(ignored: readonly { why: string; count: number }[], why: string): number {
  return ignored.reduce((n, i) => (i.why === why ? n + i.count : n), 0);
}

function typeName(e: Entity): string {
  return e.type === "OTHER" ? textOf(e, 1) : e.type;
}

function layerName(c: Context, key: string): string {
  return c.doc.layers.get(key)?.name ?? "0";
}

function originOf(c: Context, e: Entity): Origin {
  const handle = textOf(e, 5);
  const entity = handle === "" ? typeName(e) : `${typeName(e)} ${handle}`;
  return { file: c.file, entity, line: number(e, 999, 0) };
}

function place(c: Context, e: Entity, where: Where): void {
  if (c.full || --c.visitsLeft < 0) {
    c.full = true;
    return;
  }
  const own = textOf(e, 8) || "L0";
  const layer = own === "L0" ? where.layer : own;
  if (e.type === "INSERT") {
    insert(c, e, layer, where);
    return;
  }
  const name = layerName(c, layer);
  const why = leftOut(c, e, layer, name);
  if (why !== undefined) {
    count(c.tally, typeName(e), name, why);
    return;
  }
  const shape = shapeOf(e);
  if (typeof shape === "string") {
    refuse(c, e, name, shape);
    return;
  }
  const origin = originOf(c, e);
  for (const r of shape.remarks) {
    const known = c.remarks.get(r);
    if (known === undefined) c.remarks.set(r, { count: 1, origin });
    else known.count++;
  }
  const segments: Segment[] = [];
  let fitted = false;
  for (const stroke of shape.strokes) {
    const read = segmentsOf(moveStroke(stroke, where.move), origin);
    fitted ||= read.fitted;
    for (const s of read.segments) segments.push(s);
  }
  if (c.pieces.length >= PIECES_MOST) c.full = true;
  else c.pieces.push({ segments, closed: shape.closed, layer: name, origin, fitted });
}

function leftOut(c: Context, e: Entity, layer: string, name: string): string | undefined {
  const l = c.doc.layers.get(layer);
  const byLayer =
    l?.frozen === true ? "layer is frozen" : l?.off === true ? "layer is off" : undefined;
  const hidden = byLayer ?? (number(e, 60, 0) === 1 ? "hidden" : undefined);
  const why = c.leave(name, hidden);
  if (why !== undefined) return why;
  if (e.type !== "OTHER") return undefined;
  const type = typeName(e);
  return SOLID_TYPES.has(type) ? "cannot be read as an outline" : "not an outline";
}

/** Types that may hold the shape of a plate in a form that is not read here. */
const SOLID_TYPES: ReadonlySet<string> = new Set([
  "REGION",
  "3DSOLID",
  "BODY",
  "SURFACE",
  "MESH",
  "MLINE",
  "ACAD_PROXY_ENTITY",
  "HELIX",
]);

function refuse(c: Context, e: Entity, layer: string, why: Refusal): void {
  const origin = originOf(c, e);
  count(c.tally, e.type, layer, REFUSALS[why]);
  const data = { entity: origin.entity ?? e.type, line: origin.line ?? 0 };
  if (why === "incomplete")
    c.findings.push(reportDrawing("entity-incomplete", data, { drawing: origin }));
  if (why === "not-flat")
    c.findings.push(reportDrawing("entity-not-flat", data, { drawing: origin }));
}

const REFUSALS: Readonly<Record<Refusal, string>> = {
  "no-size": "no size",
  incomplete: "incomplete",
  "not-flat": "does not lie flat",
  mesh: "a mesh in space",
};

function insert(c: Context, e: Entity, layer: string, where: Where): void {
  const name = layerName(c, layer);
  const hidden = hiddenInsert(c, e, layer);
  // Layers named in the job are weighed thing by thing inside; only what hides the whole stops it here.
  if (hidden !== undefined && c.leave(name, hidden) !== undefined) {
    count(c.tally, "INSERT", name, hidden);
    return;
  }
  const key = textOf(e, 2);
  const block = c.doc.blocks.get(key);
  if (block === undefined) {
    refuseInsert(c, e, name, "the drawing does not hold it");
  } else if (block.external) {
    refuseInsert(c, e, name, "it lies in another drawing");
  } else if (where.inside.includes(key) || where.inside.length >= NESTING_MOST) {
    refuseInsert(c, e, name, "it contains itself");
  } else {
    const inside = [...where.inside, key];
    for (const move of insertMoves(c, e, block.base)) {
      c.visitsLeft--;
      if (c.full) return;
      const inner: Where = { move: compose(where.move, move), layer, inside };
      for (const child of block.entities) place(c, child, inner);
    }
  }
}

function hiddenInsert(c: Context, e: Entity, layer: string): string | undefined {
  if (c.doc.layers.get(layer)?.frozen === true) return "layer is frozen";
  return number(e, 60, 0) === 1 ? "hidden" : undefined;
}

function refuseInsert(c: Context, e: Entity, layer: string, why: string): void {
  count(c.tally, "INSERT", layer, why);
  const origin = originOf(c, e);
  const data = { block: textOf(e, 2), line: origin.line ?? 0, why };
  c.findings.push(reportDrawing("insert-left-out", data, { drawing: origin }));
}

function insertMoves(c: Context, e: Entity, base: { x: number; y: number }): Affine[] {
  const frame = extrusionFrame(e);
  const origin = originOf(c, e);
  const data = { entity: origin.entity ?? "INSERT", line: origin.line ?? 0 };
  if (frame === undefined) {
    count(c.tally, "INSERT", layerName(c, textOf(e, 8) || "L0"), "does not lie flat");
    c.findings.push(reportDrawing("entity-not-flat", data, { drawing: origin }));
    return [];
  }
  const turn = rotation(radians(number(e, 50, 0)));
  const scale = scaling(number(e, 41, 1), number(e, 42, 1));
  const at = compose(frame, shift(number(e, 10, 0), number(e, 20, 0)));
  const columns = Math.max(1, Math.round(number(e, 70, 1)) || 1);
  const rows = Math.max(1, Math.round(number(e, 71, 1)) || 1);
  if (determinant(scale) === 0 || columns * rows > ARRAY_MOST) {
    count(c.tally, "INSERT", layerName(c, textOf(e, 8) || "L0"), "no size");
    c.findings.push(reportDrawing("entity-incomplete", data, { drawing: origin }));
    return [];
  }
  const moves: Affine[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const step = shift(column * number(e, 44, 0), row * number(e, 45, 0));
      const own = compose(compose(turn, step), compose(scale, shift(-base.x, -base.y)));
      moves.push(compose(at, own));
    }
  }
  return moves.filter(isFinite6);
}

function remarksOf(c: Context): Finding[] {
  return [...c.remarks].map(([code, { count, origin }]) =>
    reportDrawing(code, { count }, { drawing: origin }),
  );
}
