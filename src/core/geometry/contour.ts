/**
 * Closed contours of lines and arcs: area, length, containment, flattening, frames. Everything here is
 * exact for arcs but `flatten`, which says how far it strays.
 */
import {
  boxOf,
  isFullCircle,
  lengthOf,
  line,
  nearestOn,
  part,
  placing,
  pointAt,
  reversed,
  startingAt,
  tangentAt,
} from "./segment.ts";
import type { Arc, Box, Contour, Point, Rigid, Segment } from "./shape.ts";
import { acos, atan2, power, sin } from "./trig.ts";

/** Signed: positive where the contour runs counter-clockwise, mm². */
export function signedArea(contour: Contour): number {
  const o = contour.segments[0]?.from;
  if (o === undefined) return 0;
  let twice = 0;
  // Relative to the first point, so that a plate far from zero keeps its digits.
  for (const s of contour.segments) {
    twice += (s.from.x - o.x) * (s.to.y - o.y) - (s.to.x - o.x) * (s.from.y - o.y);
    // A full circle must not lose its area to sin(2π) ≠ 0 in the last bit; the difference is 1e-16.
    if (s.kind === "arc") twice += s.radius * s.radius * (s.sweep - sin(s.sweep));
  }
  return twice / 2;
}

export function perimeter(contour: Contour): number {
  let sum = 0;
  for (const s of contour.segments) sum += lengthOf(s);
  return sum;
}

/**
 * Does a circle of this radius lie within the contour, told from its area and length alone? False may be either way.
 * A ≤ ρ L for the largest such radius ρ (Osserman, Bonnesen-style isoperimetric inequalities, 1979; from memory).
 */
export function isWider(contour: Contour, radius: number): boolean {
  return Math.abs(signedArea(contour)) > radius * perimeter(contour);
}

/** Does a counter-clockwise contour bend inward nowhere, but at corners by less than `slack`, rad? */
export function isConvex({ segments }: Contour, slack = 0): boolean {
  return segments.every((s, i) => {
    if (s.kind === "arc" && s.sweep < 0) return false;
    const next = segments[(i + 1) % segments.length] as Segment;
    return next === s || turnBetween(s, next) >= -slack;
  });
}

export function bounds(contour: Contour): Box {
  return boundsOf(contour.segments);
}

/** Box of any segments; an empty list gives an empty box (min > max). */
export function boundsOf(segments: readonly Segment[]): Box {
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = Number.NEGATIVE_INFINITY;
  for (const s of segments) {
    const b = boxOf(s);
    x0 = Math.min(x0, b.min.x);
    y0 = Math.min(y0, b.min.y);
    x1 = Math.max(x1, b.max.x);
    y1 = Math.max(y1, b.max.y);
  }
  return { min: { x: x0, y: y0 }, max: { x: x1, y: y1 } };
}

/** The box round both. */
export function joinBoxes(a: Box, b: Box | undefined): Box {
  if (b === undefined) return a;
  return {
    min: { x: Math.min(a.min.x, b.min.x), y: Math.min(a.min.y, b.min.y) },
    max: { x: Math.max(a.max.x, b.max.x), y: Math.max(a.max.y, b.max.y) },
  };
}

export function boundsOfAll(contours: readonly Contour[]): Box {
  return boundsOf(contours.flatMap((c) => c.segments));
}

export function reversedContour(contour: Contour): Contour {
  return { segments: contour.segments.map(reversed).reverse() };
}

/** The same contour in the wanted direction. */
export function oriented(contour: Contour, ccw: boolean): Contour {
  return signedArea(contour) > 0 === ccw ? contour : reversedContour(contour);
}

/** A flip turns the direction of travel round; `placeContour` keeps counter-clockwise counter-clockwise. */
export function placeContour(contour: Contour, m: Rigid): Contour {
  const place = placing(m);
  const last = contour.segments.at(-1);
  if (last === undefined) return contour;
  let from = place(last.to);
  const segments = contour.segments.map((s): Segment => {
    const start = from;
    const { origin } = s;
    const to = place(s.to);
    from = to;
    if (s.kind === "line") return { kind: "line", from: start, to, origin };
    const { radius } = s;
    const sweep = m.flipped ? -s.sweep : s.sweep;
    const whole: boolean = isFullCircle(s);
    const centre = place(s.centre);
    return { kind: "arc", from: whole ? to : start, to, centre, radius, sweep, origin };
  });
  return m.flipped ? reversedContour({ segments }) : { segments };
}

/** Makes every `from` the very same point as the `to` before it. */
export function closeUp(segments: readonly Segment[]): Segment[] {
  const last = segments[segments.length - 1];
  if (last === undefined) return [];
  let previous = last.to;
  return segments.map((s) => {
    const from = previous;
    previous = s.to;
    return startingAt(s, isFullCircle(s) ? s.to : from);
  });
}

/** A full circle as one arc. */
export function isCircle(contour: Contour): boolean {
  const s = contour.segments[0];
  return contour.segments.length === 1 && s !== undefined && isFullCircle(s);
}

/** Inside by the even-odd rule; points on the contour may answer either way. Exact for arcs. */
export function contains(contour: Contour, p: Point): boolean {
  return windingRound(contour.segments, p) % 2 !== 0;
}

/** How often a closed chain of segments winds round a point that is not on it. */
export function windingRound(chain: readonly Segment[], p: Point): number {
  let winding = 0;
  for (const s of chain) {
    const below = s.from.y <= p.y;
    const crosses = below !== s.to.y <= p.y;
    const within = s.kind === "arc" && isWithin(s, p);
    if (!crosses && !within) continue;
    const side = sideOf(s.from, s.to, p);
    if (crosses && (below ? side > 0 : side < 0)) winding += below ? 1 : -1;
    if (within && isBeyondChord(s, side)) winding += s.sweep > 0 ? 1 : -1;
  }
  return winding;
}

/** Between chord and arc: right of the chord of a left turn, however far it turns. */
function isBeyondChord(s: Arc, side: number): boolean {
  const whole: boolean = isFullCircle(s);
  return whole || (s.sweep > 0 ? side < 0 : side > 0);
}

/** Nearer to an arc's centre than its radius. */
function isWithin({ centre, radius }: Arc, p: Point): boolean {
  const dx = p.x - centre.x;
  const dy = p.y - centre.y;
  return dx * dx + dy * dy < radius * radius;
}

/** Left (1) or right (−1) of a–b; a point on the line counts as moved up, then right, by next to nothing. */
function sideOf(a: Point, b: Point, p: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  return Math.sign(dx * (p.y - a.y) - dy * (p.x - a.x)) || Math.sign(dx) || -Math.sign(dy);
}

/** Points along the contour, first not repeated, no chord further than `tolerance` from its arc. */
export function flatten(contour: Contour, tolerance: number): Point[] {
  const points: Point[] = [];
  for (const s of contour.segments) {
    points.push(s.from);
    const n = s.kind === "arc" ? chords(s.radius, s.sweep, tolerance) : 1;
    for (let i = 1; i < n; i++) points.push(pointAt(s, i / n));
  }
  return points;
}

/** How many chords keep within `tolerance` of an arc (sagitta r(1 − cos(step/2))). */
export function chords(radius: number, sweep: number, tolerance: number): number {
  if (radius <= tolerance) return Math.max(2, Math.ceil(Math.abs(sweep) / 2));
  const step = 2 * acos(1 - tolerance / radius);
  return Math.max(1, Math.ceil(Math.abs(sweep) / step));
}

/** Centre of area. */
export function centroid(contour: Contour): Point {
  const o = contour.segments[0]?.from ?? { x: 0, y: 0 };
  let area = 0;
  let mx = 0;
  let my = 0;
  const add = (a: number, x: number, y: number): void => {
    area += a;
    mx += a * x;
    my += a * y;
  };
  for (const s of contour.segments) {
    const ax = s.from.x - o.x;
    const ay = s.from.y - o.y;
    const bx = s.to.x - o.x;
    const by = s.to.y - o.y;
    add((ax * by - bx * ay) / 2, (ax + bx) / 3, (ay + by) / 3);
    if (s.kind === "arc") {
      const a = (s.radius * s.radius * (s.sweep - sin(s.sweep))) / 2;
      if (a === 0) continue;
      const mid = pointAt(s, 0.5);
      const half = Math.abs(s.sweep) / 2;
      const reach = (4 * power(sin(half), 3)) / (3 * (2 * half - sin(2 * half)));
      add(
        a,
        s.centre.x + (mid.x - s.centre.x) * reach - o.x,
        s.centre.y + (mid.y - s.centre.y) * reach - o.y,
      );
    }
  }
  return area === 0 ? o : { x: o.x + mx / area, y: o.y + my / area };
}

/** Where along a contour: segment and parameter, and the direction of travel. */
export interface Spot {
  readonly index: number;
  readonly t: number;
  readonly point: Point;
  readonly tangent: Point;
}

/** Lengths from the contour's start to the start of each segment, and the whole at the end. */
export function runningLengths(contour: Contour): number[] {
  const sums = [0];
  for (const s of contour.segments) sums.push((sums[sums.length - 1] as number) + lengthOf(s));
  return sums;
}

/** The spot `s` mm along the contour, wrapped; `sums` from `runningLengths`. */
export function spotAt(contour: Contour, sums: readonly number[], s: number): Spot {
  const total = sums[sums.length - 1] as number;
  const wrapped = ((s % total) + total) % total;
  let lo = 0;
  let hi = contour.segments.length - 1;
  while (lo < hi) {
    const mid = (lo + hi + 1) >> 1;
    if ((sums[mid] as number) <= wrapped) lo = mid;
    else hi = mid - 1;
  }
  const segment = contour.segments[lo] as Segment;
  const length = (sums[lo + 1] as number) - (sums[lo] as number);
  const t = length === 0 ? 0 : (wrapped - (sums[lo] as number)) / length;
  return { index: lo, t, point: pointAt(segment, t), tangent: tangentAt(segment, t) };
}

/** The same contour begun `s` mm further along. */
export function startedAt(contour: Contour, s: number): Contour {
  const sums = runningLengths(contour);
  const { index, t } = spotAt(contour, sums, s);
  const first = contour.segments[index] as Segment;
  const rest = [...contour.segments.slice(index + 1), ...contour.segments.slice(0, index)];
  const length = lengthOf(first);
  if (t * length < 1e-9) return { segments: [first, ...rest] };
  if ((1 - t) * length < 1e-9) return { segments: [...rest, first] };
  if (isCircle(contour)) {
    const turned = pointAt(first, t);
    return { segments: [{ ...first, from: turned, to: turned }] };
  }
  const head = part(first, t, 1);
  const tail = { ...part(first, 0, t), to: head.from };
  return { segments: [head, ...rest, tail] };
}

/** Change of direction where one segment meets the next, rad in (−π, π]; left turns are positive. */
export function turnBetween(a: Segment, b: Segment): number {
  const u = tangentAt(a, 1);
  const v = tangentAt(b, 0);
  return atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y);
}

/** Distance from a point to the contour itself. */
export function distanceTo(contour: Contour, p: Point): number {
  let best = Number.POSITIVE_INFINITY;
  for (const s of contour.segments) best = Math.min(best, nearestOn(s, p).distance);
  return best;
}

/** A contour from corner points, for boxes and tests. */
export function polygon(points: readonly Point[]): Contour {
  return {
    segments: points.map((from, i) => line(from, points[(i + 1) % points.length] as Point)),
  };
}

/** An upright box, counter-clockwise from its lower-left corner. */
export function rectangle(x0: number, y0: number, x1: number, y1: number): Contour {
  return polygon([
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ]);
}

export function boxesTouch(a: Box, b: Box, margin = 0): boolean {
  return (
    a.min.x <= b.max.x + margin &&
    b.min.x <= a.max.x + margin &&
    a.min.y <= b.max.y + margin &&
    b.min.y <= a.max.y + margin
  );
}
