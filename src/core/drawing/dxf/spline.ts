/**
 * SPLINE entities to splines that can be evaluated.
 *
 * The knots are taken as stored, over [knot[degree], knot[n]]: the flags closed and periodic are hints that
 * writers set at will. Where control points are missing, the fit points are interpolated by a cubic over
 * chord length, with the given end directions or, without them, free ends.
 */
import type { Point } from "../../geometry/shape.ts";
import { hypot } from "../../geometry/trig.ts";
import { bezier, type SplineStroke, type Stroke } from "../curve/stroke.ts";
import { type Entity, number, numbers } from "./document.ts";

export interface SplineShape {
  readonly strokes: readonly Stroke[];
  /** Only fit points were drawn: the curve between them is our reading. */
  readonly fromFitPoints: boolean;
  /** Knots or weights were missing or of the wrong number. */
  readonly mended: boolean;
}

const CLOSED = 1;
const PERIODIC = 2;
/** Deepest degree that is evaluated; drawings have 2 to 5. */
const DEGREE_MOST = 25;
/** Fit points taken from the other side of the seam of a closed curve; their influence falls by 0.27 each. */
const WRAP = 16;

export function splineShape(e: Entity): SplineShape | undefined {
  const points = pairs(e, 10, 20);
  const flags = number(e, 70, 0);
  if (points.length < 2) return fitShape(e, flags);
  let degree = Math.round(number(e, 71, 3));
  if (!(degree >= 1 && degree <= DEGREE_MOST)) return undefined;
  if (points.length <= degree) degree = points.length - 1;
  const given = numbers(e, 41);
  const weighted = given.length === points.length && given.every((w) => w > 0);
  const weights = weighted ? given : points.map(() => 1);
  const raw = numbers(e, 40);
  const knots = usableKnots(raw, points.length, degree);
  const mended =
    knots === undefined || knots.length !== raw.length || (given.length > 0 && !weighted);
  const spline: SplineStroke = {
    kind: "spline",
    degree,
    points,
    weights,
    knots: knots ?? clampedKnots(points.length, degree),
  };
  return { strokes: [wrapped(spline, flags) ?? spline], fromFitPoints: false, mended };
}

function pairs(e: Entity, cx: number, cy: number): Point[] {
  const xs = numbers(e, cx);
  const ys = numbers(e, cy);
  const points: Point[] = [];
  for (let i = 0; i < Math.min(xs.length, ys.length); i++) {
    points.push({ x: xs[i] as number, y: ys[i] as number });
  }
  return points;
}

function usableKnots(
  raw: readonly number[],
  n: number,
  degree: number,
): readonly number[] | undefined {
  const wanted = n + degree + 1;
  let knots = raw;
  // Some writers leave out the first and the last knot, which the curve does not depend on.
  if (raw.length === wanted - 2) knots = [raw[0] as number, ...raw, raw[raw.length - 1] as number];
  if (knots.length !== wanted) return undefined;
  for (let i = 1; i < knots.length; i++) {
    if (!((knots[i] as number) >= (knots[i - 1] as number))) return undefined;
  }
  return (knots[n] as number) > (knots[degree] as number) ? knots : undefined;
}

function clampedKnots(n: number, degree: number): number[] {
  const knots: number[] = [];
  for (let i = 0; i < n + degree + 1; i++) {
    knots.push(Math.min(Math.max(i - degree, 0), n - degree));
  }
  return knots;
}

/**
 * A periodic spline written with each control point once: its own ends do not meet, but do when the first
 * control points follow the last. Undefined where the curve closes by itself or is not evenly knotted.
 */
function wrapped(s: SplineStroke, flags: number): SplineStroke | undefined {
  if ((flags & (CLOSED | PERIODIC)) !== (CLOSED | PERIODIC)) return undefined;
  const { degree, points, knots } = s;
  const step = (knots[1] as number) - (knots[0] as number);
  const even = knots.every(
    (k, i) => i === 0 || Math.abs(k - (knots[i - 1] as number) - step) < 1e-6 * Math.abs(step),
  );
  if (!even || step <= 0 || points.length <= degree) return undefined;
  const n = points.length;
  const closes = points.slice(0, degree).every((p, i) => {
    const q = points[n - degree + i] as Point;
    return hypot(p.x - q.x, p.y - q.y) < 1e-9 * (1 + hypot(p.x, p.y));
  });
  if (closes) return undefined;
  return {
    ...s,
    points: [...points, ...points.slice(0, degree)],
    weights: [...s.weights, ...s.weights.slice(0, degree)],
    knots: Array.from({ length: n + 2 * degree + 1 }, (_, i) => i),
  };
}

function fitShape(e: Entity, flags: number): SplineShape | undefined {
  const points = withoutRepeats(pairs(e, 11, 21));
  if (points.length < 2) return undefined;
  const first = points[0] as Point;
  const last = points[points.length - 1] as Point;
  const meets = hypot(first.x - last.x, first.y - last.y) < 1e-9;
  const closed = (flags & (CLOSED | PERIODIC)) !== 0 && points.length > 2;
  const strokes = closed
    ? closedCubic(meets ? points.slice(0, -1) : points)
    : openCubic(points, pairs(e, 12, 22)[0], pairs(e, 13, 23)[0]);
  return { strokes, fromFitPoints: true, mended: false };
}

function withoutRepeats(points: readonly Point[]): Point[] {
  return points.filter((p, i) => {
    const q = points[i - 1];
    return q === undefined || p.x !== q.x || p.y !== q.y;
  });
}

function closedCubic(points: readonly Point[]): Stroke[] {
  const n = points.length;
  const extra = Math.min(WRAP, 4 * n);
  const around = Array.from({ length: n + 1 + 2 * extra }, (_, i) => {
    return points[(((i - extra) % n) + n) % n] as Point;
  });
  return openCubic(around, undefined, undefined).slice(extra, extra + n);
}

/** Bézier pieces of the interpolating cubic; slopes from the usual tridiagonal system (de Boor 1978, ch. IV). */
function openCubic(
  points: readonly Point[],
  start: Point | undefined,
  end: Point | undefined,
): Stroke[] {
  const h: number[] = [];
  for (let i = 1; i < points.length; i++) {
    const a = points[i - 1] as Point;
    const b = points[i] as Point;
    h.push(hypot(b.x - a.x, b.y - a.y));
  }
  const mx = slopes(
    points.map((p) => p.x),
    h,
    unit(start)?.x,
    unit(end)?.x,
  );
  const my = slopes(
    points.map((p) => p.y),
    h,
    unit(start)?.y,
    unit(end)?.y,
  );
  return h.map((d, i) => {
    const a = points[i] as Point;
    const b = points[i + 1] as Point;
    const t = d / 3;
    return bezier([
      a,
      { x: a.x + t * (mx[i] as number), y: a.y + t * (my[i] as number) },
      { x: b.x - t * (mx[i + 1] as number), y: b.y - t * (my[i + 1] as number) },
      b,
    ]);
  });
}

function unit(v: Point | undefined): Point | undefined {
  const d = v === undefined ? 0 : hypot(v.x, v.y);
  return v === undefined || d < 1e-12 ? undefined : { x: v.x / d, y: v.y / d };
}

/** Slopes of a cubic spline at its knots: given at an end, or with no curvature there. */
function slopes(
  y: readonly number[],
  h: readonly number[],
  start: number | undefined,
  end: number | undefined,
): number[] {
  const n = y.length;
  const diagonal: number[] = [];
  const upper: number[] = [];
  const right: number[] = [];
  const chord = (i: number): number => ((y[i + 1] as number) - (y[i] as number)) / (h[i] as number);
  for (let i = 0; i < n; i++) {
    let lower = 0;
    let d = 1;
    let u = 0;
    let r: number;
    if (i === 0) {
      if (start === undefined) [d, u, r] = [2, 1, 3 * chord(0)];
      else r = start;
    } else if (i === n - 1) {
      if (end === undefined) [lower, d, r] = [1, 2, 3 * chord(n - 2)];
      else r = end;
    } else {
      const a = h[i - 1] as number;
      const b = h[i] as number;
      [lower, d, u] = [b, 2 * (a + b), a];
      r = 3 * (b * chord(i - 1) + a * chord(i));
    }
    if (i > 0) {
      const f = lower / (diagonal[i - 1] as number);
      d -= f * (upper[i - 1] as number);
      r -= f * (right[i - 1] as number);
    }
    diagonal.push(d);
    upper.push(u);
    right.push(r);
  }
  const m = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    const beyond = i + 1 < n ? (upper[i] as number) * (m[i + 1] as number) : 0;
    m[i] = ((right[i] as number) - beyond) / (diagonal[i] as number);
  }
  return m;
}
