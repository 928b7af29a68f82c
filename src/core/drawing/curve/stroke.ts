/**
 * Strokes: what drawings are made of, before they are lines and arcs in mm.
 *
 * line: two points. conic: an arc of an ellipse, centre + u·cos t + v·sin t for t from `start` over `sweep`;
 * u and v are conjugate half diameters, so an affine move of the ellipse is that of its three vectors.
 * spline: a rational B-spline over knots [degree … points.length]; Béziers are splines with clamped knots.
 */
import type { Point } from "../../geometry/shape.ts";
import { cos, sin, TAU } from "../../geometry/trig.ts";
import { type Affine, mapPoint, mapVector } from "./affine.ts";

export interface LineStroke {
  readonly kind: "line";
  readonly from: Point;
  readonly to: Point;
}

export interface ConicStroke {
  readonly kind: "conic";
  readonly centre: Point;
  readonly u: Point;
  readonly v: Point;
  readonly start: number;
  readonly sweep: number;
  /** Exact ends, where the drawing has them. */
  readonly from: Point;
  readonly to: Point;
}

export interface SplineStroke {
  readonly kind: "spline";
  readonly degree: number;
  readonly points: readonly Point[];
  readonly weights: readonly number[];
  readonly knots: readonly number[];
}

export type Stroke = LineStroke | ConicStroke | SplineStroke;

export function moveStroke(s: Stroke, m: Affine): Stroke {
  switch (s.kind) {
    case "line":
      return { kind: "line", from: mapPoint(m, s.from), to: mapPoint(m, s.to) };
    case "conic":
      return {
        ...s,
        centre: mapPoint(m, s.centre),
        u: mapVector(m, s.u),
        v: mapVector(m, s.v),
        from: mapPoint(m, s.from),
        to: mapPoint(m, s.to),
      };
    case "spline":
      return { ...s, points: s.points.map((p) => mapPoint(m, p)) };
  }
}

export function conicPoint(c: Pick<ConicStroke, "centre" | "u" | "v">, t: number): Point {
  const x = cos(t);
  const y = sin(t);
  return { x: c.centre.x + c.u.x * x + c.v.x * y, y: c.centre.y + c.u.y * x + c.v.y * y };
}

export function conic(
  centre: Point,
  u: Point,
  v: Point,
  start: number,
  sweep: number,
): ConicStroke {
  const bare = { centre, u, v };
  const from = conicPoint(bare, start);
  const full = Math.abs(sweep) > TAU - 1e-9;
  const to = full ? from : conicPoint(bare, start + sweep);
  return {
    kind: "conic",
    ...bare,
    start,
    sweep: full ? (sweep > 0 ? TAU : -TAU) : sweep,
    from,
    to,
  };
}

/** An arc of a circle; angles in rad, counter-clockwise. */
export function circular(centre: Point, radius: number, start: number, sweep: number): ConicStroke {
  return conic(centre, { x: radius, y: 0 }, { x: 0, y: radius }, start, sweep);
}

/**
 * The stroke of a polyline from one vertex to the next. bulge = tan(sweep / 4), counter-clockwise
 * positive (DXF reference, LWPOLYLINE, group 42).
 */
export function bulged(from: Point, to: Point, bulge: number, sweep: number): Stroke {
  if (bulge === 0) return { kind: "line", from, to };
  const k = (1 - bulge * bulge) / (4 * bulge);
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const centre = { x: (from.x + to.x) / 2 - k * dy, y: (from.y + to.y) / 2 + k * dx };
  const u = { x: from.x - centre.x, y: from.y - centre.y };
  return { kind: "conic", centre, u, v: { x: -u.y, y: u.x }, start: 0, sweep, from, to };
}

/** A Bézier curve of two, three or four points. */
export function bezier(points: readonly Point[]): SplineStroke {
  const degree = points.length - 1;
  const knots = [...points.map(() => 0), ...points.map(() => 1)];
  return { kind: "spline", degree, points, weights: points.map(() => 1), knots };
}

export function strokeStart(s: Stroke): Point {
  return s.kind === "spline" ? splinePoint(s, 0) : s.from;
}

export function strokeEnd(s: Stroke): Point {
  return s.kind === "spline" ? splinePoint(s, s.points.length - 1) : s.to;
}

/** Ends of a clamped spline; others begin elsewhere, and are only needed where they are drawn alone. */
function splinePoint(s: SplineStroke, index: number): Point {
  return s.points[index] as Point;
}
