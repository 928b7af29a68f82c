/**
 * Smooth curves to arcs: tangents meet at every joint, and nothing strays further than the tolerance.
 *
 * A stretch is tried as one line, then as one arc through its ends and middle, then as a biarc (K. M. Bolton,
 * "Biarc curves", Computer-Aided Design 7 (1975) 89–92; equal-length choice of D. S. Meek, D. J. Walton,
 * J. Comput. Appl. Math. 40 (1992)); where none fits it is halved.
 *
 * Promise: ends are the curve's own; every sampled point lies within `tolerance` of the result.
 * Cost: O(pieces × samples), pieces bounded by 2^depth.
 */
import { line } from "../../geometry/segment.ts";
import type { Arc, Origin, Point, Segment } from "../../geometry/shape.ts";
import { atan2, hypot, TAU } from "../../geometry/trig.ts";
import type { Sample } from "./bspline.ts";

export type Curve = (t: number) => Sample;

/** Points at which a stretch is compared with its curve; ends and middle are exact for one arc anyhow. */
const SAMPLES = 9;
const DEEPEST = 12;
/** Directions at a joint that differ by less are one direction: 0.3 mrad turns 0.3 µm over a millimetre. */
const SAME_DIRECTION = 3e-4;

export function curveToArcs(
  curve: Curve,
  from: number,
  to: number,
  tolerance: number,
  origin?: Origin,
): Segment[] {
  const out: Segment[] = [];
  stretch(curve, from, to, curve(from), curve(to), tolerance, 0, origin, out);
  return out;
}

// biome-ignore lint/complexity/useMaxParams: a recursion that carries both ends along.
function stretch(
  curve: Curve,
  t0: number,
  t1: number,
  a: Sample,
  b: Sample,
  tolerance: number,
  depth: number,
  origin: Origin | undefined,
  out: Segment[],
): void {
  const middle = (t0 + t1) / 2;
  const m = curve(middle);
  // Halve a whole turn at least twice: a closed or S-shaped stretch can look straight from its ends.
  if (depth >= 1) {
    const points = sampled(curve, t0, t1);
    const fit =
      asLine(a, b, points, tolerance, origin) ??
      asArc(a, m, b, points, tolerance, origin) ??
      asBiarc(a, b, points, tolerance, origin);
    if (fit !== undefined) {
      out.push(...fit);
      return;
    }
    if (depth >= DEEPEST) {
      out.push(line(a.point, b.point, origin));
      return;
    }
  }
  stretch(curve, t0, middle, a, m, tolerance, depth + 1, origin, out);
  stretch(curve, middle, t1, m, b, tolerance, depth + 1, origin, out);
}

function sampled(curve: Curve, t0: number, t1: number): Point[] {
  const points: Point[] = [];
  for (let i = 1; i < SAMPLES + 1; i++) {
    points.push(curve(t0 + ((t1 - t0) * i) / (SAMPLES + 1)).point);
  }
  return points;
}

function asLine(
  a: Sample,
  b: Sample,
  points: readonly Point[],
  tolerance: number,
  origin: Origin | undefined,
): Segment[] | undefined {
  const dx = b.point.x - a.point.x;
  const dy = b.point.y - a.point.y;
  const d = hypot(dx, dy);
  // A line replaces only what is straight: a twentieth of the tolerance, else flat arcs turn to facets.
  const flat = tolerance / 20;
  for (const p of points) {
    const px = p.x - a.point.x;
    const py = p.y - a.point.y;
    const off = d === 0 ? hypot(px, py) : Math.abs(px * dy - py * dx) / d;
    if (off > flat) return undefined;
  }
  return d === 0 ? [] : [line(a.point, b.point, origin)];
}

function asArc(
  a: Sample,
  m: Sample,
  b: Sample,
  points: readonly Point[],
  tolerance: number,
  origin: Origin | undefined,
): Segment[] | undefined {
  const c = arcThrough(a.point, m.point, b.point, origin);
  if (c === undefined || !allNear(points, [c], tolerance)) return undefined;
  if (!sameWay(c, c.from, a.tangent) || !sameWay(c, c.to, b.tangent)) return undefined;
  return [c];
}

function sameWay(c: Arc, p: Point, tangent: Point): boolean {
  const way = c.sweep > 0 ? 1 : -1;
  const x = (-way * (p.y - c.centre.y)) / c.radius;
  const y = (way * (p.x - c.centre.x)) / c.radius;
  return (
    Math.abs(x * tangent.y - y * tangent.x) < SAME_DIRECTION && x * tangent.x + y * tangent.y > 0
  );
}

/** The arc from a to b by way of m. */
export function arcThrough(a: Point, m: Point, b: Point, origin?: Origin): Arc | undefined {
  const ux = m.x - a.x;
  const uy = m.y - a.y;
  const vx = b.x - a.x;
  const vy = b.y - a.y;
  const cross = 2 * (ux * vy - uy * vx);
  const u2 = ux * ux + uy * uy;
  const v2 = vx * vx + vy * vy;
  // Below this the radius is a million times the chord: nothing that a plate has.
  if (Math.abs(cross) < 1e-7 * v2) return undefined;
  const cx = (vy * u2 - uy * v2) / cross;
  const cy = (ux * v2 - vx * u2) / cross;
  const centre = { x: a.x + cx, y: a.y + cy };
  return arcBetween(a, b, centre, hypot(cx, cy), cross > 0, origin);
}

// biome-ignore lint/complexity/useMaxParams: an arc has this many parts.
function arcBetween(
  from: Point,
  to: Point,
  centre: Point,
  radius: number,
  ccw: boolean,
  origin?: Origin,
): Arc {
  const a0 = atan2(from.y - centre.y, from.x - centre.x);
  const a1 = atan2(to.y - centre.y, to.x - centre.x);
  let sweep = (a1 - a0) % TAU;
  if (ccw && sweep <= 0) sweep += TAU;
  if (!ccw && sweep >= 0) sweep -= TAU;
  return { kind: "arc", from, to, centre, radius, sweep, origin };
}

function asBiarc(
  a: Sample,
  b: Sample,
  points: readonly Point[],
  tolerance: number,
  origin: Origin | undefined,
): Segment[] | undefined {
  const joint = biarcJoint(a, b);
  if (joint === undefined) return undefined;
  const first = tangentArc(a.point, a.tangent, joint, false, origin);
  const second = tangentArc(b.point, b.tangent, joint, true, origin);
  if (first === undefined || second === undefined) return undefined;
  return allNear(points, [first, second], tolerance) ? [first, second] : undefined;
}

function biarcJoint(a: Sample, b: Sample): Point | undefined {
  const { tangent: s } = a;
  const { tangent: e } = b;
  if ((s.x === 0 && s.y === 0) || (e.x === 0 && e.y === 0)) return undefined;
  const vx = b.point.x - a.point.x;
  const vy = b.point.y - a.point.y;
  const v2 = vx * vx + vy * vy;
  const vt = vx * (s.x + e.x) + vy * (s.y + e.y);
  const denominator = 2 * (1 - (s.x * e.x + s.y * e.y));
  let d: number;
  if (denominator < 1e-9) {
    const along = 4 * (vx * e.x + vy * e.y);
    if (along <= 0) return undefined;
    d = v2 / along;
  } else {
    d = (Math.sqrt(vt * vt + denominator * v2) - vt) / denominator;
  }
  if (!(d > 0)) return undefined;
  return {
    x: (a.point.x + b.point.x + d * (s.x - e.x)) / 2,
    y: (a.point.y + b.point.y + d * (s.y - e.y)) / 2,
  };
}

/** The arc that leaves (or, `ending`, reaches) `p` along `t` and has its other end at `q`. */
function tangentArc(
  p: Point,
  t: Point,
  q: Point,
  ending: boolean,
  origin: Origin | undefined,
): Segment | undefined {
  const dx = q.x - p.x;
  const dy = q.y - p.y;
  const d2 = dx * dx + dy * dy;
  if (d2 < 1e-18) return undefined;
  // Signed offset of q from the tangent line: positive on its left.
  const left = t.x * dy - t.y * dx;
  const [from, to] = ending ? [q, p] : [p, q];
  if (Math.abs(left) * 1e7 < d2) return line(from, to, origin);
  const r = d2 / (2 * left);
  const centre = { x: p.x - t.y * r, y: p.y + t.x * r };
  return arcBetween(from, to, centre, Math.abs(r), left > 0, origin);
}

function allNear(points: readonly Point[], parts: readonly Segment[], tolerance: number): boolean {
  return points.every((p) => parts.some((s) => near(s, p, tolerance)));
}

function near(s: Segment, p: Point, tolerance: number): boolean {
  if (s.kind === "arc") {
    const off = Math.abs(hypot(p.x - s.centre.x, p.y - s.centre.y) - s.radius);
    if (off > tolerance) return false;
    const a0 = atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
    const turn = ((atan2(p.y - s.centre.y, p.x - s.centre.x) - a0) * (s.sweep > 0 ? 1 : -1)) % TAU;
    const within = turn < 0 ? turn + TAU : turn;
    const slack = tolerance / s.radius;
    return within <= Math.abs(s.sweep) + slack || within >= TAU - slack;
  }
  const dx = s.to.x - s.from.x;
  const dy = s.to.y - s.from.y;
  const d2 = dx * dx + dy * dy;
  const t = d2 === 0 ? 0 : ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / d2;
  const c = Math.min(1, Math.max(0, t));
  return hypot(p.x - s.from.x - c * dx, p.y - s.from.y - c * dy) <= tolerance;
}
