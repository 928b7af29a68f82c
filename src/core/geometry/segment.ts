/**
 * One segment, a line or an arc: length, points, tangents, parts, nearest point. mm, rad.
 * The parameter t runs 0 … 1 evenly along the length.
 * Contours hold segments with their fields in the order of `line` and `arc`: what has one layout is read several times faster.
 */
import type { Arc, Box, Line, Origin, Point, Rigid, Segment } from "./shape.ts";
import { atan2, cos, hypot, sin, TAU } from "./trig.ts";

export function distance(a: Point, b: Point): number {
  return hypot(a.x - b.x, a.y - b.y);
}

export function line(from: Point, to: Point, origin?: Origin): Line {
  return { kind: "line", from, to, origin };
}

/** An arc about `centre`; equal ends make a full circle. The radius is that of `from`. */
export function arc(from: Point, to: Point, centre: Point, ccw: boolean, origin?: Origin): Arc {
  const sweep = sweepBetween(angleOf(centre, from), angleOf(centre, to), ccw);
  return { kind: "arc", from, to, centre, radius: distance(centre, from), sweep, origin };
}

/** A full circle that begins at `angle` as seen from its centre. */
export function circle(
  centre: Point,
  radius: number,
  ccw: boolean,
  angle = 0,
  origin?: Origin,
): Arc {
  const from = onCircle(centre, radius, angle);
  return { kind: "arc", from, to: from, centre, radius, sweep: ccw ? TAU : -TAU, origin };
}

export function onCircle(centre: Point, radius: number, angle: number): Point {
  return { x: centre.x + radius * cos(angle), y: centre.y + radius * sin(angle) };
}

export function angleOf(centre: Point, p: Point): number {
  return atan2(p.y - centre.y, p.x - centre.x);
}

/** Signed turn from one angle to another in the wanted direction, never 0: equal angles are a full turn. */
export function sweepBetween(a0: number, a1: number, ccw: boolean): number {
  let sweep = (a1 - a0) % TAU;
  if (ccw && sweep <= 0) sweep += TAU;
  if (!ccw && sweep >= 0) sweep -= TAU;
  return sweep;
}

export function lengthOf(s: Segment): number {
  return s.kind === "line" ? distance(s.from, s.to) : s.radius * Math.abs(s.sweep);
}

export function isFullCircle(s: Segment): s is Arc {
  return s.kind === "arc" && Math.abs(s.sweep) > TAU - 1e-9;
}

export function pointAt(s: Segment, t: number): Point {
  if (t <= 0) return s.from;
  if (t >= 1) return s.to;
  if (s.kind === "line") {
    return { x: s.from.x + (s.to.x - s.from.x) * t, y: s.from.y + (s.to.y - s.from.y) * t };
  }
  return onCircle(s.centre, s.radius, angleOf(s.centre, s.from) + s.sweep * t);
}

/** Unit vector along the direction of travel. */
export function tangentAt(s: Segment, t: number): Point {
  if (s.kind === "line") {
    const d = distance(s.from, s.to) || 1;
    return { x: (s.to.x - s.from.x) / d, y: (s.to.y - s.from.y) / d };
  }
  const a = angleOf(s.centre, s.from) + s.sweep * t;
  return s.sweep > 0 ? { x: -sin(a), y: cos(a) } : { x: sin(a), y: -cos(a) };
}

/** The same line, or an arc of the same circle that turns by `sweep`, between other ends. */
export function between(s: Segment, from: Point, to: Point, sweep: number): Segment {
  if (s.kind === "line") return { kind: "line", from, to, origin: s.origin };
  const { centre, radius, origin } = s;
  return { kind: "arc", from, to, centre, radius, sweep, origin };
}

/** The same from another point to the same end. */
export function startingAt(s: Segment, from: Point): Segment {
  return between(s, from, s.to, s.kind === "arc" ? s.sweep : 0);
}

export function reversed(s: Segment): Segment {
  return between(s, s.to, s.from, s.kind === "arc" ? -s.sweep : 0);
}

/** The stretch between two parameters, 0 ≤ t0 < t1 ≤ 1; the ends are shared to the bit with neighbours. */
export function part(s: Segment, t0: number, t1: number): Segment {
  if (t0 <= 0 && t1 >= 1) return s;
  const from = pointAt(s, t0);
  const to = pointAt(s, t1);
  return between(s, from, to, s.kind === "arc" ? s.sweep * (t1 - t0) : 0);
}

export function boxOf(s: Segment): Box {
  let x0 = Math.min(s.from.x, s.to.x);
  let y0 = Math.min(s.from.y, s.to.y);
  let x1 = Math.max(s.from.x, s.to.x);
  let y1 = Math.max(s.from.y, s.to.y);
  if (s.kind === "arc" && !isInOneQuarter(s)) {
    const { x, y } = s.centre;
    const start = angleOf(s.centre, s.from);
    if (passesFrom(start, s.sweep, 0)) x1 = Math.max(x1, x + s.radius);
    if (passesFrom(start, s.sweep, TAU / 4)) y1 = Math.max(y1, y + s.radius);
    if (passesFrom(start, s.sweep, TAU / 2)) x0 = Math.min(x0, x - s.radius);
    if (passesFrom(start, s.sweep, -TAU / 4)) y0 = Math.min(y0, y - s.radius);
  }
  return { min: { x: x0, y: y0 }, max: { x: x1, y: y1 } };
}

/** True where the arc passes the direction `angle` as seen from its centre, ends included. */
export function passes(s: Arc, angle: number): boolean {
  return passesFrom(angleOf(s.centre, s.from), s.sweep, angle);
}

function passesFrom(start: number, sweep: number, angle: number): boolean {
  const turn = turnFrom(start, sweep, angle);
  return turn <= Math.abs(sweep) + 1e-12 || turn > TAU - 1e-12;
}

/** Less than half a turn between two places that the same two axes bound: so it passes neither. */
function isInOneQuarter({ from, to, centre, sweep }: Arc): boolean {
  return (
    Math.abs(sweep) < TAU / 2 &&
    (from.x - centre.x) * (to.x - centre.x) > 0 &&
    (from.y - centre.y) * (to.y - centre.y) > 0
  );
}

/** Turn in the arc's own direction from its start to `angle`, 0 … 2π. */
export function turnTo(s: Arc, angle: number): number {
  return turnFrom(angleOf(s.centre, s.from), s.sweep, angle);
}

function turnFrom(start: number, sweep: number, angle: number): number {
  const d = (sweep > 0 ? 1 : -1) * (angle - start);
  const turn = d % TAU;
  return turn < 0 ? turn + TAU : turn;
}

export interface Nearest {
  readonly t: number;
  readonly point: Point;
  readonly distance: number;
}

export function nearestOn(s: Segment, p: Point): Nearest {
  const t = s.kind === "line" ? footOnLine(s, p) : footOnArc(s, p);
  const point = pointAt(s, t);
  return { t, point, distance: distance(point, p) };
}

function footOnLine(s: Line, p: Point): number {
  const dx = s.to.x - s.from.x;
  const dy = s.to.y - s.from.y;
  const d2 = dx * dx + dy * dy;
  if (d2 === 0) return 0;
  return Math.min(1, Math.max(0, ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / d2));
}

function footOnArc(s: Arc, p: Point): number {
  const sweep = Math.abs(s.sweep);
  const turn = turnTo(s, angleOf(s.centre, p));
  if (turn <= sweep) return turn / sweep;
  return distance(p, s.from) <= distance(p, s.to) ? 0 : 1;
}

export function placePoint(p: Point, m: Rigid): Point {
  return placing(m)(p);
}

/** The same for many points: sine and cosine are worked out once. */
export function placing({ x, y, angle, flipped }: Rigid): (p: Point) => Point {
  const c = cos(angle);
  const s = sin(angle);
  return (p) => {
    const px = flipped ? -p.x : p.x;
    return { x: px * c - p.y * s + x, y: px * s + p.y * c + y };
  };
}

/** The way back: `placePoint(unplacePoint(p, m), m)` is p. */
export function unplacePoint(p: Point, m: Rigid): Point {
  const c = cos(m.angle);
  const s = sin(m.angle);
  const x = (p.x - m.x) * c + (p.y - m.y) * s;
  const y = -(p.x - m.x) * s + (p.y - m.y) * c;
  return { x: m.flipped ? -x : x, y };
}
