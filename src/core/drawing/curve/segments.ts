/**
 * Strokes in mm to line and arc segments. Circles under a move that keeps shapes stay exact arcs; ellipses
 * and splines become arcs within CURVE.
 */
import { line } from "../../geometry/segment.ts";
import type { Arc, Origin, Point, Segment } from "../../geometry/shape.ts";
import { FIT } from "../../geometry/tolerance.ts";
import { cos, hypot, sin, TAU } from "../../geometry/trig.ts";
import { type Curve, curveToArcs } from "./arcs.ts";
import { type Span, sampleSpline, spansOf } from "./bspline.ts";
import { type ConicStroke, conicPoint, type SplineStroke, type Stroke } from "./stroke.ts";

/** An ellipse whose half diameters differ by less, mm, was meant as a circle: 3D exports round so. */
const ROUND_ENOUGH = 2e-4;
/** A turn sharper than this between two spans is a corner, not a curve: 1 mrad. */
const CORNER = 1e-3;
/** Arcs with a rise below this, mm, are lines. */
const FLAT = 1e-5;

export interface Segmented {
  readonly segments: readonly Segment[];
  /** A spline or an ellipse became arcs. */
  readonly fitted: boolean;
}

export function segmentsOf(stroke: Stroke, origin: Origin | undefined): Segmented {
  switch (stroke.kind) {
    case "line":
      return { segments: [line(stroke.from, stroke.to, origin)], fitted: false };
    case "conic":
      return conicSegments(stroke, origin);
    case "spline":
      return { segments: splineSegments(stroke, origin), fitted: true };
  }
}

function conicSegments(c: ConicStroke, origin: Origin | undefined): Segmented {
  const a = hypot(c.u.x, c.u.y);
  const b = hypot(c.v.x, c.v.y);
  const cross = c.u.x * c.v.y - c.u.y * c.v.x;
  const dot = c.u.x * c.v.x + c.u.y * c.v.y;
  const slack = ROUND_ENOUGH + 1e-9 * a;
  if (Math.abs(a - b) <= slack && Math.abs(dot) <= slack * Math.max(a, b)) {
    return { segments: circleSegments(c, (a + b) / 2, cross < 0, origin), fitted: false };
  }
  if (Math.abs(cross) < 1e-12) {
    return { segments: c.from === c.to ? [] : [line(c.from, c.to, origin)], fitted: false };
  }
  const curve: Curve = (t) => {
    const x = -c.u.x * sin(t) + c.v.x * cos(t);
    const y = -c.u.y * sin(t) + c.v.y * cos(t);
    const way = c.sweep > 0 ? 1 : -1;
    const d = (hypot(x, y) || 1) * way;
    return { point: conicPoint(c, t), tangent: { x: x / d, y: y / d } };
  };
  const quarters = Math.max(1, Math.ceil(Math.abs(c.sweep) / (TAU / 4) - 1e-9));
  const segments: Segment[] = [];
  for (let i = 0; i < quarters; i++) {
    const t0 = c.start + (c.sweep * i) / quarters;
    segments.push(...curveToArcs(curve, t0, c.start + (c.sweep * (i + 1)) / quarters, FIT, origin));
  }
  return { segments: withEnds(segments, c.from, c.to), fitted: true };
}

function circleSegments(
  c: ConicStroke,
  radius: number,
  mirrored: boolean,
  origin: Origin | undefined,
): Segment[] {
  const sweep = mirrored ? -c.sweep : c.sweep;
  if (radius * (1 - cos(Math.min(Math.abs(sweep), Math.PI) / 2)) < FLAT && Math.abs(sweep) < 1)
    return [line(c.from, c.to, origin)];
  const full = Math.abs(sweep) >= TAU - 1e-9;
  const arc: Arc = {
    kind: "arc",
    from: c.from,
    to: full ? c.from : c.to,
    centre: c.centre,
    radius,
    sweep,
    origin,
  };
  return [arc];
}

function splineSegments(s: SplineStroke, origin: Origin | undefined): Segment[] {
  const smooth: Span[][] = [];
  for (const span of spansOf(s)) {
    const last = smooth[smooth.length - 1];
    const before = last?.[last.length - 1];
    if (last !== undefined && before !== undefined && !corner(s, before, span)) last.push(span);
    else smooth.push([span]);
  }
  return smooth.flatMap((spans) => smoothRun(s, spans, origin));
}

function corner(s: SplineStroke, a: Span, b: Span): boolean {
  const u = sampleSpline(s, a, a.to).tangent;
  const v = sampleSpline(s, b, b.from).tangent;
  const cross = u.x * v.y - u.y * v.x;
  return Math.abs(cross) > CORNER || u.x * v.x + u.y * v.y <= 0;
}

/** Spans that join smoothly, as arcs; the joints of spans stay joints of arcs. */
function smoothRun(s: SplineStroke, spans: readonly Span[], origin: Origin | undefined): Segment[] {
  const out: Segment[] = [];
  for (const span of spans) {
    const width = span.to - span.from;
    const curve: Curve = (t) => {
      const sample = sampleSpline(s, span, t);
      if (sample.tangent.x !== 0 || sample.tangent.y !== 0) return sample;
      // Control points fall together here: the direction is that of a step inward.
      const step = t + width * 1e-4 <= span.to ? width * 1e-4 : -width * 1e-4;
      const q = sampleSpline(s, span, t + step).point;
      const dx = (q.x - sample.point.x) * Math.sign(step);
      const dy = (q.y - sample.point.y) * Math.sign(step);
      const d = hypot(dx, dy) || 1;
      return { point: sample.point, tangent: { x: dx / d, y: dy / d } };
    };
    out.push(...curveToArcs(curve, span.from, span.to, FIT, origin));
  }
  return out;
}

function withEnds(segments: Segment[], from: Point, to: Point): Segment[] {
  const first = segments[0];
  if (first !== undefined) segments[0] = { ...first, from };
  const last = segments[segments.length - 1];
  if (last !== undefined) segments[segments.length - 1] = { ...last, to };
  return segments;
}
