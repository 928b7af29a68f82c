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
import { atan2, hypot, sin, TAU } from "../../geometry/trig.ts";
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
  const whole = { from, to, a: curve(from), b: curve(to) };
  fitStretch({ curve, tolerance, origin, out }, whole, 0);
  return out;
}

interface Task {
  readonly curve: Curve;
  readonly tolerance: number;
  readonly origin: Origin | undefined;
  readonly out: Segment[];
}

interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly a: Sample;
  readonly b: Sample;
}

function fitStretch(task: Task, s: Stretch, depth: number): void {
  const middle = (s.from + s.to) / 2;
  const m = task.curve(middle);
  // Halve a whole turn at least twice: a closed or S-shaped stretch can look straight from its ends.
  if (depth >= 1) {
    const points = sampled(task.curve, s.from, s.to);
    const found = asLine(task, s, points) ?? asArc(task, s, m, points) ?? asBiarc(task, s, points);
    if (found !== undefined) {
      task.out.push(...found);
      return;
    }
    if (depth >= DEEPEST) {
      task.out.push(line(s.a.point, s.b.point, task.origin));
      return;
    }
  }
  fitStretch(task, { ...s, to: middle, b: m }, depth + 1);
  fitStretch(task, { ...s, from: middle, a: m }, depth + 1);
}

function sampled(curve: Curve, t0: number, t1: number): Sample[] {
  const points: Sample[] = [];
  for (let i = 1; i < SAMPLES + 1; i++) {
    points.push(curve(t0 + ((t1 - t0) * i) / (SAMPLES + 1)));
  }
  return points;
}

function asLine(
  { tolerance, origin }: Task,
  { a, b }: Stretch,
  points: readonly Sample[],
): Segment[] | undefined {
  const dx = b.point.x - a.point.x;
  const dy = b.point.y - a.point.y;
  const d = hypot(dx, dy);
  // A line replaces only what is straight: a twentieth of the tolerance, else flat arcs turn to facets.
  const flat = tolerance / 20;
  let before = 0;
  for (const { point: p } of points) {
    const px = p.x - a.point.x;
    const py = p.y - a.point.y;
    const off = d === 0 ? hypot(px, py) : Math.abs(px * dy - py * dx) / d;
    if (off > flat) return undefined;
    // A curve that runs past its end and back is straight, too, and no line.
    const along = d === 0 ? 0 : (px * dx + py * dy) / d;
    if (along < before - flat || along > d + flat) return undefined;
    before = Math.max(before, along);
  }
  return d === 0 ? [] : [line(a.point, b.point, origin)];
}

function asArc(
  task: Task,
  s: Stretch,
  m: Sample,
  points: readonly Sample[],
): Segment[] | undefined {
  const c = arcThrough(s.a.point, m.point, s.b.point, task.origin);
  if (c === undefined) return undefined;
  if (!sameWay(c, c.from, s.a.tangent) || !sameWay(c, c.to, s.b.tangent)) return undefined;
  return good(task, s, points, [c]);
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

/** A biarc this many tolerances off is not worth moving its joint for. */
const WORTH_WHILE = 8;

/**
 * The biarcs of two ends differ by where their joint lies. The equal-length one bulges to one side of the curve
 * and the one whose joint is on the curve to the other: between them is the one that keeps the area.
 */
function asBiarc(task: Task, s: Stretch, points: readonly Sample[]): Segment[] | undefined {
  const rough = biarcBy(biarcJoint(s.a, s.b), task, s);
  if (rough === undefined || !allNear(points, rough, WORTH_WHILE * task.tolerance))
    return undefined;
  const joint = jointOnCurve(task.curve, s);
  const fine = biarcBy(joint, task, s);
  if (joint === undefined || fine === undefined) return good(task, s, points, rough);
  const off = areaUnder(rough) - areaOver([s.a, ...points, s.b]);
  const k = off / (areaUnder(rough) - areaUnder(fine));
  const p = rough[0]?.to as Point;
  const even = { x: p.x + k * (joint.x - p.x), y: p.y + k * (joint.y - p.y) };
  return (
    (Math.abs(k) < 3 ? good(task, s, points, biarcBy(even, task, s)) : undefined) ??
    good(task, s, points, fine)
  );
}

/** On average an arc may lie this part of the tolerance on one side of its curve: it is the area that tells. */
const LEAN = 1 / 80;

function good(
  { tolerance }: Task,
  { a, b }: Stretch,
  points: readonly Sample[],
  parts: Segment[] | undefined,
): Segment[] | undefined {
  if (parts === undefined || !allNear(points, parts, tolerance)) return undefined;
  const off = areaUnder(parts) - areaOver([a, ...points, b]);
  const chord = hypot(b.point.x - a.point.x, b.point.y - a.point.y);
  return Math.abs(off) <= LEAN * tolerance * chord ? parts : undefined;
}

/**
 * Area between a curve and its chord, on its left negative: chords of the samples, and for each the bow over it,
 * c²(α + β)/12 of the cubic with the same ends and end directions.
 */
function areaOver(samples: readonly Sample[]): number {
  const o = (samples[0] as Sample).point;
  let twice = 0;
  for (let i = 1; i < samples.length; i++) {
    const { point: p, tangent: u } = samples[i - 1] as Sample;
    const { point: q, tangent: v } = samples[i] as Sample;
    twice += (p.x - o.x) * (q.y - o.y) - (p.y - o.y) * (q.x - o.x);
    const c2 = (q.x - p.x) ** 2 + (q.y - p.y) ** 2;
    twice += (c2 * (u.x * v.y - u.y * v.x)) / 6;
  }
  return twice / 2;
}

function areaUnder(parts: readonly Segment[]): number {
  const o = (parts[0] as Segment).from;
  return parts.reduce((sum, s) => {
    const chord = (s.from.x - o.x) * (s.to.y - o.y) - (s.from.y - o.y) * (s.to.x - o.x);
    const bow = s.kind === "arc" ? s.radius * s.radius * (s.sweep - sin(s.sweep)) : 0;
    return sum + (chord + bow) / 2;
  }, 0);
}

function biarcBy(
  joint: Point | undefined,
  { origin }: Task,
  { a, b }: Stretch,
): Segment[] | undefined {
  if (joint === undefined) return undefined;
  const first = tangentArc(a.point, a.tangent, joint, false, origin);
  const second = tangentArc(b.point, b.tangent, joint, true, origin);
  return first === undefined || second === undefined ? undefined : [first, second];
}

/**
 * Where the curve itself has the joint of one of its biarcs: there the two arcs leave it on different sides, so
 * that areas stay true to a higher order (Z. Šír, R. Feichtinger, B. Jüttler, Computer-Aided Design 38 (2006)
 * 608–618). By bisection; undefined where the two tangents do not cross over.
 */
function jointOnCurve(curve: Curve, { from, to, a, b }: Stretch): Point | undefined {
  const bend = (q: Point): number => {
    const u = mirrored(a.tangent, { x: q.x - a.point.x, y: q.y - a.point.y });
    const v = mirrored(b.tangent, { x: b.point.x - q.x, y: b.point.y - q.y });
    return u.x * v.y - u.y * v.x;
  };
  let lo = from + (to - from) * 0.1;
  let hi = to - (to - from) * 0.1;
  const first = bend(curve(lo).point);
  if (first > 0 === bend(curve(hi).point) > 0) return undefined;
  for (let i = 0; i < BISECTIONS; i++) {
    const middle = (lo + hi) / 2;
    if (bend(curve(middle).point) > 0 === first > 0) lo = middle;
    else hi = middle;
  }
  return curve((lo + hi) / 2).point;
}

/** The joint needs only lie on the curve to a part of a million of the stretch. */
const BISECTIONS = 20;

/** A tangent at one end of a chord, as it is at the other end of the arc over it. */
function mirrored(t: Point, chord: Point): Point {
  const d2 = chord.x * chord.x + chord.y * chord.y;
  if (d2 === 0) return t;
  const k = (2 * (t.x * chord.x + t.y * chord.y)) / d2;
  return { x: k * chord.x - t.x, y: k * chord.y - t.y };
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

function allNear(points: readonly Sample[], parts: readonly Segment[], tolerance: number): boolean {
  return points.every(({ point }) => parts.some((s) => near(s, point, tolerance)));
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
