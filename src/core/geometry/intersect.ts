/**
 * Where two segments meet. Words: a segment's *carrier* is the whole line or circle that it lies on.
 * Parallel lines and concentric circles have no meeting point here, even where they coincide: see
 * `coincide`. mm, exact to rounding; O(1).
 */
import { distance, lengthOf, pointAt, turnTo } from "./segment.ts";
import type { Arc, Line, Point, Segment } from "./shape.ts";
import { atan2, TAU } from "./trig.ts";

export interface Meeting {
  readonly point: Point;
  /** Parameters on the two segments, 0 … 1 on the segment itself. */
  readonly ta: number;
  readonly tb: number;
}

/** Meeting points of the carriers: none, one or two. */
export function carriersMeet(a: Segment, b: Segment): Point[] {
  if (a.kind === "line") return b.kind === "line" ? lineLine(a, b) : lineCircle(a, b);
  return b.kind === "line" ? lineCircle(b, a) : circleCircle(a, b);
}

/** Meeting points that lie on both segments, or at most `slack` mm beyond their ends. */
export function meetings(a: Segment, b: Segment, slack = 0): Meeting[] {
  const found: Meeting[] = [];
  for (const point of carriersMeet(a, b)) {
    const ta = parameterOf(a, point);
    const tb = parameterOf(b, point);
    if (inRange(a, ta, point, slack) && inRange(b, tb, point, slack)) found.push({ point, ta, tb });
  }
  return found;
}

function inRange(s: Segment, t: number, p: Point, slack: number): boolean {
  if (t >= 0 && t <= 1) return true;
  return slack > 0 && distance(t < 0 ? s.from : s.to, p) <= slack;
}

/** Parameter of a point on the carrier; below 0 or above 1 beyond the ends (on a circle, the nearer end). */
export function parameterOf(s: Segment, p: Point): number {
  if (s.kind === "line") {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const d2 = dx * dx + dy * dy;
    return d2 === 0 ? 0 : ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / d2;
  }
  const sweep = Math.abs(s.sweep);
  const turn = turnTo(s, atan2(p.y - s.centre.y, p.x - s.centre.x));
  return (turn > (sweep + TAU) / 2 ? turn - TAU : turn) / sweep;
}

/** Unit direction of travel of the carrier at a point on it. */
export function directionAt(s: Segment, p: Point): Point {
  if (s.kind === "line") {
    const d = distance(s.from, s.to) || 1;
    return { x: (s.to.x - s.from.x) / d, y: (s.to.y - s.from.y) / d };
  }
  const d = distance(s.centre, p) || 1;
  const way = s.sweep > 0 ? 1 : -1;
  return { x: (-way * (p.y - s.centre.y)) / d, y: (way * (p.x - s.centre.x)) / d };
}

/** True where two segments lie on one carrier, within `near`, and share more than `near` of it. */
export function coincide(a: Segment, b: Segment, near: number): boolean {
  if (a.kind === "arc" && b.kind === "arc") {
    if (distance(a.centre, b.centre) > near || Math.abs(a.radius - b.radius) > near) return false;
  } else if (a.kind === "arc" || b.kind === "arc" || !onLine(a, b, near)) {
    return false;
  }
  return reachesInto(a, b, near) || reachesInto(b, a, near);
}

function onLine(a: Line, b: Line, near: number): boolean {
  const u = directionAt(a, a.from);
  const off = (p: Point): number => Math.abs((p.x - a.from.x) * u.y - (p.y - a.from.y) * u.x);
  return off(b.from) <= near && off(b.to) <= near;
}

/** Of two overlapping stretches, one has an end or its middle within the other. */
function reachesInto(a: Segment, b: Segment, near: number): boolean {
  const margin = near / Math.max(lengthOf(b), near);
  return [a.from, a.to, pointAt(a, 0.5)].some((p) => {
    const t = parameterOf(b, p);
    return t > margin && t < 1 - margin;
  });
}

function lineLine(a: Line, b: Line): Point[] {
  const ax = a.to.x - a.from.x;
  const ay = a.to.y - a.from.y;
  const bx = b.to.x - b.from.x;
  const by = b.to.y - b.from.y;
  const cross = ax * by - ay * bx;
  // Below this the angle is under 1e-13 rad: no double holds such a crossing.
  if (cross * cross <= 1e-26 * (ax * ax + ay * ay) * (bx * bx + by * by)) return [];
  const t = ((b.from.x - a.from.x) * by - (b.from.y - a.from.y) * bx) / cross;
  return [{ x: a.from.x + t * ax, y: a.from.y + t * ay }];
}

function lineCircle(l: Line, c: Arc): Point[] {
  const length = distance(l.from, l.to);
  if (length === 0) return [];
  const ux = (l.to.x - l.from.x) / length;
  const uy = (l.to.y - l.from.y) / length;
  const along = (c.centre.x - l.from.x) * ux + (c.centre.y - l.from.y) * uy;
  const off = (c.centre.x - l.from.x) * uy - (c.centre.y - l.from.y) * ux;
  const h2 = (c.radius - off) * (c.radius + off);
  if (h2 < 0) return [];
  const foot = { x: l.from.x + along * ux, y: l.from.y + along * uy };
  return twoPoints(foot, Math.sqrt(h2), ux, uy);
}

function circleCircle(a: Arc, b: Arc): Point[] {
  const dx = b.centre.x - a.centre.x;
  const dy = b.centre.y - a.centre.y;
  const d2 = dx * dx + dy * dy;
  const d = Math.sqrt(d2);
  if (d < 1e-12) return [];
  const along = (d2 + (a.radius - b.radius) * (a.radius + b.radius)) / (2 * d);
  const h2 = (a.radius - along) * (a.radius + along);
  if (h2 < 0) return [];
  const foot = { x: a.centre.x + (along * dx) / d, y: a.centre.y + (along * dy) / d };
  return twoPoints(foot, Math.sqrt(h2), -dy / d, dx / d);
}

function twoPoints(foot: Point, h: number, ux: number, uy: number): Point[] {
  if (h === 0) return [foot];
  return [
    { x: foot.x - h * ux, y: foot.y - h * uy },
    { x: foot.x + h * ux, y: foot.y + h * uy },
  ];
}
