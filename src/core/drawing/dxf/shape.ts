/**
 * One DXF entity to strokes in its own block's plane: object coordinates resolved, bulges and splines read.
 * Entities that are not cut, or have no shape, come back with the reason.
 */
import type { Point } from "../../geometry/shape.ts";
import { atan, hypot, radians, TAU } from "../../geometry/trig.ts";
import { bulged, circular, conic, moveStroke, type Stroke } from "../curve/stroke.ts";
import { type Entity, number, numbers } from "./document.ts";
import { extrusionFrame } from "./extrusion.ts";
import { splineShape } from "./spline.ts";

/** What is worth telling of a shape that was read. */
export type Remark =
  | "width-ignored"
  | "vertex-repeated"
  | "arc-start-equals-end"
  | "spline-from-fit-points"
  | "spline-mended";

export interface Shape {
  readonly strokes: readonly Stroke[];
  /** A loop by itself: the strokes end where they begin, or the entity says closed. */
  readonly closed: boolean;
  readonly remarks: readonly Remark[];
}

/** Why an entity gave nothing. */
export type Refusal = "no-size" | "incomplete" | "not-flat" | "mesh";

export function shapeOf(e: Entity): Shape | Refusal {
  switch (e.type) {
    case "LINE":
      return lineShape(e);
    case "CIRCLE":
    case "ARC":
      return roundShape(e);
    case "ELLIPSE":
      return ellipseShape(e);
    case "LWPOLYLINE":
      return lightPolyline(e);
    case "POLYLINE":
      return heavyPolyline(e);
    case "SPLINE":
      return splineOf(e);
    default:
      return "incomplete";
  }
}

function has(e: Entity, ...codes: number[]): boolean {
  return codes.every((c) => e.codes.includes(c));
}

function pointOf(e: Entity, code: number): Point {
  return { x: number(e, code, 0), y: number(e, code + 10, 0) };
}

function lineShape(e: Entity): Shape | Refusal {
  if (!has(e, 10, 20, 11, 21)) return "incomplete";
  // A line's ends are world points; its extrusion is that of a thickness only.
  return {
    strokes: [{ kind: "line", from: pointOf(e, 10), to: pointOf(e, 11) }],
    closed: false,
    remarks: [],
  };
}

function roundShape(e: Entity): Shape | Refusal {
  if (!has(e, 10, 20, 40)) return "incomplete";
  const radius = number(e, 40, 0);
  if (!(radius > 0)) return "no-size";
  const frame = extrusionFrame(e);
  if (frame === undefined) return "not-flat";
  const remarks: Remark[] = [];
  let start = 0;
  let sweep = TAU;
  if (e.type === "ARC") {
    if (!has(e, 50, 51)) return "incomplete";
    const a0 = number(e, 50, 0);
    const a1 = number(e, 51, 0);
    const turn = (((a1 - a0) % 360) + 360) % 360;
    start = radians(a0 % 360);
    // 0 to 360 is a circle for every reader; equal angles are a point for some of them.
    if (turn < FULL_TURN_SLACK || turn > 360 - FULL_TURN_SLACK) {
      if (Math.abs(a1 - a0) < FULL_TURN_SLACK) remarks.push("arc-start-equals-end");
    } else {
      sweep = radians(turn);
    }
  }
  const stroke = circular(pointOf(e, 10), radius, start, sweep);
  return { strokes: [moveStroke(stroke, frame)], closed: sweep === TAU, remarks };
}

/** Degrees: angles this near a full turn are one; writers round to eight decimals or better. */
const FULL_TURN_SLACK = 1e-7;

function ellipseShape(e: Entity): Shape | Refusal {
  if (!has(e, 10, 20, 11, 21, 40)) return "incomplete";
  const frame = extrusionFrame(e);
  if (frame === undefined) return "not-flat";
  const u = pointOf(e, 11);
  const ratio = number(e, 40, 1);
  if (hypot(u.x, u.y) === 0 || !(Math.abs(ratio) > 0)) return "no-size";
  // Centre and axis are world vectors; the extrusion only says which way the angle runs.
  const way = frame.a < 0 ? -1 : 1;
  const v = { x: -u.y * ratio * way, y: u.x * ratio * way };
  const start = number(e, 41, 0);
  const end = number(e, 42, TAU);
  const turn = (((end - start) % TAU) + TAU) % TAU;
  const full = turn < 1e-8 || turn > TAU - 1e-8;
  const stroke = conic(pointOf(e, 10), u, v, start % TAU, full ? TAU : turn);
  return { strokes: [stroke], closed: full, remarks: [] };
}

interface Vertex {
  readonly at: Point;
  readonly bulge: number;
}

const CLOSED = 1;
const THREE_D = 8;
const MESH = 16 | 64;
/** VERTEX flag: a control point of the spline's frame, not of the curve. */
const FRAME_POINT = 16;

function lightPolyline(e: Entity): Shape | Refusal {
  const frame = extrusionFrame(e);
  if (frame === undefined) return "not-flat";
  const ys = numbers(e, 20);
  const xs: number[] = [];
  const bulges: number[] = [];
  let wide = number(e, 43, 0) > 0;
  for (let i = 0; i < e.codes.length; i++) {
    const value = Number(e.values[i]);
    // Each group 10 begins a vertex; what is not known between two of them belongs to neither.
    if (e.codes[i] === 10) {
      xs.push(value);
      bulges.push(0);
    } else if (e.codes[i] === 42 && bulges.length > 0) {
      bulges[bulges.length - 1] = value;
    } else if ((e.codes[i] === 40 || e.codes[i] === 41) && value > 0) {
      wide = true;
    }
  }
  if (xs.length !== ys.length || xs.length === 0) return "incomplete";
  const vertices = xs.map((x, i) => ({
    at: { x, y: ys[i] as number },
    bulge: bulges[i] as number,
  }));
  const shape = polylineShape(vertices, (number(e, 70, 0) & CLOSED) !== 0, wide);
  return typeof shape === "string"
    ? shape
    : { ...shape, strokes: shape.strokes.map((s) => moveStroke(s, frame)) };
}

function heavyPolyline(e: Entity): Shape | Refusal {
  const flags = number(e, 70, 0);
  if ((flags & MESH) !== 0) return "mesh";
  const space = (flags & THREE_D) !== 0;
  const frame = space ? undefined : extrusionFrame(e);
  if (!space && frame === undefined) return "not-flat";
  const vertices: Vertex[] = [];
  let wide = number(e, 40, 0) > 0 || number(e, 41, 0) > 0;
  for (const v of e.vertices) {
    if ((number(v, 70, 0) & FRAME_POINT) !== 0) continue;
    if (!has(v, 10, 20)) return "incomplete";
    if (number(v, 40, 0) > 0 || number(v, 41, 0) > 0) wide = true;
    vertices.push({ at: pointOf(v, 10), bulge: space ? 0 : number(v, 42, 0) });
  }
  const shape = polylineShape(vertices, (flags & CLOSED) !== 0, wide);
  if (typeof shape === "string" || frame === undefined) return shape;
  return { ...shape, strokes: shape.strokes.map((s) => moveStroke(s, frame)) };
}

function polylineShape(
  vertices: readonly Vertex[],
  flagged: boolean,
  wide: boolean,
): Shape | Refusal {
  if (vertices.length < 2) return vertices.length === 0 ? "incomplete" : "no-size";
  const strokes: Stroke[] = [];
  const remarks: Remark[] = wide ? ["width-ignored"] : [];
  const last = flagged ? vertices.length : vertices.length - 1;
  for (let i = 0; i < last; i++) {
    const a = vertices[i] as Vertex;
    const b = vertices[(i + 1) % vertices.length] as Vertex;
    // A bulge on no chord has no meaning, and the closing stroke of a repeated first vertex has no length.
    if (a.at.x === b.at.x && a.at.y === b.at.y) {
      if (i < vertices.length - 1 && remarks.at(-1) !== "vertex-repeated")
        remarks.push("vertex-repeated");
      continue;
    }
    const bulge = Math.abs(a.bulge) < LEAST_BULGE ? 0 : a.bulge;
    strokes.push(bulged(a.at, b.at, bulge, 4 * atan(bulge)));
  }
  if (strokes.length === 0) return "no-size";
  return { strokes, closed: flagged, remarks };
}

/** A rise of half a millionth of the chord. */
const LEAST_BULGE = 1e-6;

function splineOf(e: Entity): Shape | Refusal {
  const shape = splineShape(e);
  if (shape === undefined) return "incomplete";
  const remarks: Remark[] = [];
  if (shape.fromFitPoints) remarks.push("spline-from-fit-points");
  if (shape.mended) remarks.push("spline-mended");
  return { strokes: shape.strokes, closed: false, remarks };
}
