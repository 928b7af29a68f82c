/**
 * Lines and arcs as flat records of numbers, and exact distances between them.
 *
 * The proof asks some ten million distances for a large job, so its curves carry what a distance needs:
 * unit directions to both ends instead of angles. All answers are closed formulas, right to rounding
 * (about 1e-12 mm at a metre); nothing is made of chords.
 *
 * Words: t runs from 0 to 1 along a curve; the *span* of an arc is the set of directions from its
 * centre that it covers.
 */
import type { Segment } from "../../geometry/shape.ts";
import { atan2, cos, hypot, sin, TAU } from "../../geometry/trig.ts";

export interface Curve {
  readonly isArc: boolean;
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  /** Arcs only, else 0: centre, radius, direction of the start (rad) and signed sweep. */
  readonly cx: number;
  readonly cy: number;
  readonly r: number;
  readonly angle: number;
  readonly sweep: number;
  readonly length: number;
  /** The box round it; of an arc a little large. */
  readonly left: number;
  readonly low: number;
  readonly right: number;
  readonly high: number;
}

export function lineCurve(x0: number, y0: number, x1: number, y1: number): Curve {
  return {
    isArc: false,
    x0,
    y0,
    x1,
    y1,
    cx: 0,
    cy: 0,
    r: 0,
    angle: 0,
    sweep: 0,
    length: hypot(x1 - x0, y1 - y0),
    left: Math.min(x0, x1),
    low: Math.min(y0, y1),
    right: Math.max(x0, x1),
    high: Math.max(y0, y1),
  };
}

/** The ends are given too, so that neighbours share them to the bit. */
export function arcCurve(
  ends: readonly [x0: number, y0: number, x1: number, y1: number],
  cx: number,
  cy: number,
  r: number,
  sweep: number,
): Curve {
  return arcFrom(ends, { cx, cy, r }, atan2(ends[1] - cy, ends[0] - cx), sweep);
}

function arcFrom(
  [x0, y0, x1, y1]: readonly [number, number, number, number],
  { cx, cy, r }: Pick<Curve, "cx" | "cy" | "r">,
  angle: number,
  sweep: number,
): Curve {
  const c = {
    isArc: true,
    x0,
    y0,
    x1,
    y1,
    cx,
    cy,
    r,
    angle,
    sweep,
    length: Math.abs(sweep) * r,
    left: Math.min(x0, x1),
    low: Math.min(y0, y1),
    right: Math.max(x0, x1),
    high: Math.max(y0, y1),
  };
  if (inSpan(c, cx - 1, cy)) c.left = cx - r;
  if (inSpan(c, cx, cy - 1)) c.low = cy - r;
  if (inSpan(c, cx + 1, cy)) c.right = cx + r;
  if (inSpan(c, cx, cy + 1)) c.high = cy + r;
  return c;
}

export function curveOf(s: Segment): Curve {
  const { from, to } = s;
  if (s.kind === "line") return lineCurve(from.x, from.y, to.x, to.y);
  const { centre } = s;
  return arcCurve([from.x, from.y, to.x, to.y], centre.x, centre.y, s.radius, s.sweep);
}

export function xAt(c: Curve, t: number): number {
  if (t <= 0) return c.x0;
  if (t >= 1) return c.x1;
  return c.isArc ? c.cx + c.r * cos(c.angle + c.sweep * t) : c.x0 + (c.x1 - c.x0) * t;
}

export function yAt(c: Curve, t: number): number {
  if (t <= 0) return c.y0;
  if (t >= 1) return c.y1;
  return c.isArc ? c.cy + c.r * sin(c.angle + c.sweep * t) : c.y0 + (c.y1 - c.y0) * t;
}

/** Unit direction of travel. */
export function directionAt(c: Curve, t: number): readonly [number, number] {
  if (!c.isArc) {
    const l = c.length === 0 ? 1 : c.length;
    return [(c.x1 - c.x0) / l, (c.y1 - c.y0) / l];
  }
  const a = c.angle + c.sweep * t;
  return c.sweep > 0 ? [-sin(a), cos(a)] : [sin(a), -cos(a)];
}

export function partOf(c: Curve, t0: number, t1: number): Curve {
  if (t0 <= 0 && t1 >= 1) return c;
  const x0 = xAt(c, t0);
  const y0 = yAt(c, t0);
  const x1 = xAt(c, t1);
  const y1 = yAt(c, t1);
  if (!c.isArc) return lineCurve(x0, y0, x1, y1);
  const angle = c.angle + c.sweep * Math.max(0, t0);
  const sweep = c.sweep * (Math.min(1, t1) - Math.max(0, t0));
  return arcFrom([x0, y0, x1, y1], c, angle, sweep);
}

/** A sweep from here on is a whole turn. */
export const FULL: number = TAU - 1e-9;

/** Does the ray from the arc's centre through a point meet the arc? */
export function inSpan(c: Curve, px: number, py: number): boolean {
  const size = Math.abs(c.sweep);
  if (size >= FULL) return true;
  const flip = c.sweep > 0 ? 1 : -1;
  const ax = c.x0 - c.cx;
  const ay = c.y0 - c.cy;
  const bx = c.x1 - c.cx;
  const by = c.y1 - c.cy;
  const dx = px - c.cx;
  const dy = py - c.cy;
  const afterStart = flip * (ax * dy - ay * dx) >= 0;
  const beforeEnd = flip * (dx * by - dy * bx) >= 0;
  if (size > Math.PI) return afterStart || beforeEnd;
  // Two half planes of a thin arc meet on its far side, too.
  return afterStart && beforeEnd && (size > 3 || dx * (ax + bx) + dy * (ay + by) >= 0);
}

function toEnds(c: Curve, px: number, py: number): number {
  const ax = px - c.x0;
  const ay = py - c.y0;
  const bx = px - c.x1;
  const by = py - c.y1;
  return Math.sqrt(Math.min(ax * ax + ay * ay, bx * bx + by * by));
}

export function distanceToPoint(c: Curve, px: number, py: number): number {
  if (c.isArc) {
    if (inSpan(c, px, py)) {
      const dx = px - c.cx;
      const dy = py - c.cy;
      return Math.abs(Math.sqrt(dx * dx + dy * dy) - c.r);
    }
    return toEnds(c, px, py);
  }
  const vx = c.x1 - c.x0;
  const vy = c.y1 - c.y0;
  const l2 = vx * vx + vy * vy;
  const wx = px - c.x0;
  const wy = py - c.y0;
  const t = l2 === 0 ? 0 : Math.min(1, Math.max(0, (wx * vx + wy * vy) / l2));
  const dx = wx - t * vx;
  const dy = wy - t * vy;
  return Math.sqrt(dx * dx + dy * dy);
}

/** Where on the curve the point is nearest, as t. */
export function nearestT(c: Curve, px: number, py: number): number {
  if (!c.isArc) {
    if (c.length === 0) return 0;
    const dot = (px - c.x0) * (c.x1 - c.x0) + (py - c.y0) * (c.y1 - c.y0);
    return Math.min(1, Math.max(0, dot / (c.length * c.length)));
  }
  if (inSpan(c, px, py)) return turnT(c, px, py);
  const start = hypot(px - c.x0, py - c.y0);
  return start <= hypot(px - c.x1, py - c.y1) ? 0 : 1;
}

/** t of the direction from the centre to a point; may lie beyond 1 outside the span. */
export function turnT(c: Curve, px: number, py: number): number {
  const turn = atan2(py - c.cy, px - c.cx) - c.angle;
  const along = (c.sweep > 0 ? turn : -turn) % TAU;
  const t = (along < 0 ? along + TAU : along) / Math.abs(c.sweep);
  // A hair before the start is the start.
  return TAU - t * Math.abs(c.sweep) < 1e-9 && t > 1 ? 0 : t;
}

/** Box of a curve as [x0, y0, x1, y1], grown by `by`. */
export function boxAround(c: Curve, by: number): readonly [number, number, number, number] {
  return [c.left - by, c.low - by, c.right + by, c.high + by];
}

export const middleX = (c: Curve): number => (c.left + c.right) / 2;
export const middleY = (c: Curve): number => (c.low + c.high) / 2;

/** No point of a curve is further from the middle of its box than this. */
export function halfAcross(c: Curve): number {
  return hypot(c.right - c.left, c.high - c.low) / 2;
}
