/**
 * Which stretches of a curve lie within reach of some strokes: what the cutter swept of it.
 *
 * The reach of a stroke is bounded by two circles about its ends and by its two parallels (lines, or
 * circles about an arc's centre, with the rays to its ends). The curve is cut where it meets these, and
 * each piece is judged by the exact distance of its middle. So the ends of the stretches are exact to
 * rounding; there are no chords, and a stroke that only touches adds nothing.
 *
 * Words: a *stretch* is an interval of t, 0 ≤ from < to ≤ 1. Stretches come sorted and apart.
 */
import { TAU } from "../../geometry/trig.ts";
import { type Curve, distanceToPoint, FULL, inSpan, turnT, xAt, yAt } from "./curve.ts";

export interface Stretch {
  readonly from: number;
  readonly to: number;
}

export interface Reach {
  readonly curve: Curve;
  readonly radius: number;
}

/** Stretches nearer than this, mm, are one: rounding at shared ends. */
const SEAM = 1e-7;

/** Rounding of a square of a distance, mm². */
const TOUCHES = 1e-9;

/** The stretches of `c` within `reach.radius + extra` of any of the strokes. */
export function covered(c: Curve, strokes: readonly Reach[], extra: number): Stretch[] {
  const found: Stretch[] = [];
  for (const s of strokes) coveredBy(c, s.curve, s.radius + extra, found);
  return merged(found, SEAM / Math.max(c.length, SEAM));
}

export function merged(list: readonly Stretch[], seam: number): Stretch[] {
  const sorted = [...list].sort((a, b) => a.from - b.from);
  const out: Stretch[] = [];
  let from = -1;
  let to = Number.NEGATIVE_INFINITY;
  for (const s of sorted) {
    if (s.from > to + seam) {
      if (to >= 0) out.push({ from, to });
      from = s.from;
      to = s.to;
    } else if (s.to > to) to = s.to;
  }
  if (to >= 0) out.push({ from, to });
  return out;
}

/** What is left of 0 … 1. */
export function uncovered(stretches: readonly Stretch[]): Stretch[] {
  const out: Stretch[] = [];
  let at = 0;
  for (const s of stretches) {
    if (s.from > at) out.push({ from: at, to: s.from });
    at = s.to;
  }
  if (at < 1) out.push({ from: at, to: 1 });
  return out;
}

const roots: number[] = [];

function coveredBy(c: Curve, s: Curve, reach: number, found: Stretch[]): void {
  if (s.left - reach > c.right || s.right + reach < c.left) return;
  if (s.low - reach > c.high || s.high + reach < c.low) return;
  roots.length = 0;
  roots.push(0, 1);
  meetCircle(c, s.x0, s.y0, reach);
  if (s.x1 !== s.x0 || s.y1 !== s.y0) meetCircle(c, s.x1, s.y1, reach);
  if (s.isArc) {
    meetCircle(c, s.cx, s.cy, s.r + reach);
    meetCircle(c, s.cx, s.cy, Math.abs(s.r - reach));
    // The ends of a program's arc miss its circle by rounding, so that the reach has a step at their rays.
    meetLine(c, s.x0, s.y0, s.x0 - s.cx, s.y0 - s.cy);
    meetLine(c, s.x1, s.y1, s.x1 - s.cx, s.y1 - s.cy);
  } else if (s.length > 0) {
    const vx = s.x1 - s.x0;
    const vy = s.y1 - s.y0;
    const nx = (-vy / s.length) * reach;
    const ny = (vx / s.length) * reach;
    meetLine(c, s.x0 + nx, s.y0 + ny, vx, vy);
    meetLine(c, s.x0 - nx, s.y0 - ny, vx, vy);
  }
  sortRoots();
  for (let i = 1; i < roots.length; i++) {
    const from = roots[i - 1] as number;
    const to = roots[i] as number;
    if (to <= from) continue;
    const middle = (from + to) / 2;
    if (distanceToPoint(s, xAt(c, middle), yAt(c, middle)) <= reach) found.push({ from, to });
  }
}

/** A dozen at most: sorted by insertion, since a general sort costs more than all the rest here. */
function sortRoots(): void {
  for (let i = 1; i < roots.length; i++) {
    const root = roots[i] as number;
    let j = i - 1;
    for (; j >= 0 && (roots[j] as number) > root; j--) roots[j + 1] = roots[j] as number;
    roots[j + 1] = root;
  }
}

function keep(t: number): void {
  if (t > 0 && t < 1) roots.push(t);
}

/** Where the curve meets a circle. */
function meetCircle(c: Curve, x: number, y: number, r: number): void {
  if (!c.isArc) {
    if (c.length === 0) return;
    const ux = (c.x1 - c.x0) / c.length;
    const uy = (c.y1 - c.y0) / c.length;
    const wx = x - c.x0;
    const wy = y - c.y0;
    const along = wx * ux + wy * uy;
    const off = wx * uy - wy * ux;
    const h2 = r * r - off * off;
    if (h2 <= 0) {
      // A stroke beside the curve at its very reach touches it from one end's foot to the other's, and no further.
      if (h2 > -TOUCHES) keep(along / c.length);
      return;
    }
    const h = Math.sqrt(h2);
    keep((along - h) / c.length);
    keep((along + h) / c.length);
    return;
  }
  const dx = x - c.cx;
  const dy = y - c.cy;
  const d2 = dx * dx + dy * dy;
  if (d2 === 0) return;
  const d = Math.sqrt(d2);
  const along = (d2 + c.r * c.r - r * r) / (2 * d);
  const h2 = c.r * c.r - along * along;
  if (h2 <= 0) return;
  const h = Math.sqrt(h2);
  const mx = c.cx + (dx / d) * along;
  const my = c.cy + (dy / d) * along;
  keepTurn(c, mx - (dy / d) * h, my + (dx / d) * h);
  keepTurn(c, mx + (dy / d) * h, my - (dx / d) * h);
}

/** Where the curve meets the endless line through a point along a direction. */
function meetLine(c: Curve, px: number, py: number, vx: number, vy: number): void {
  const size = Math.sqrt(vx * vx + vy * vy);
  if (size === 0) return;
  const ux = vx / size;
  const uy = vy / size;
  if (!c.isArc) {
    const det = (c.x1 - c.x0) * uy - (c.y1 - c.y0) * ux;
    if (det !== 0) keep(((px - c.x0) * uy - (py - c.y0) * ux) / det);
    return;
  }
  const wx = c.cx - px;
  const wy = c.cy - py;
  const along = wx * ux + wy * uy;
  const off = wx * uy - wy * ux;
  const h2 = c.r * c.r - off * off;
  if (h2 <= 0) return;
  const h = Math.sqrt(h2);
  for (const k of [along - h, along + h]) keepTurn(c, px + k * ux, py + k * uy);
}

function keepTurn(c: Curve, x: number, y: number): void {
  const t = turnT(c, x, y);
  if (t * Math.abs(c.sweep) < TAU) keep(t);
}

/** What the quick look leaves to the exact one, mm: above rounding, and above what an arc's end misses its circle by. */
const SURE = 2e-3;
/** Arcs whose centres are nearer than this go side by side, mm; not where they are as small as this is large. */
const ONE_CENTRE = 1e-3;
const SMALL_ARC = 0.05;
/** An end this near to a ray is on it, mm. */
const ON_RAY = 5e-4;
/** A whole turn, less more than a centre that near can turn the view of an arc, rad. */
const ALL_BUT_SURE = 6;

/**
 * Does the whole curve lie within reach of one stroke, and not just so? A quick look that settles nearly all of a
 * contour, since its cut runs beside it piece by piece. No means that it must be looked at exactly.
 */
export function whollyCovered(c: Curve, { curve: s, radius }: Reach, extra: number): boolean {
  const reach = radius + extra - SURE;
  if (s.isArc) return c.isArc && besideArc(c, s, reach);
  // The sweep of a line is convex: what holds the corners round an arc holds the arc.
  if (distanceToPoint(s, c.x0, c.y0) > reach || distanceToPoint(s, c.x1, c.y1) > reach)
    return false;
  if (!c.isArc) return true;
  if (Math.abs(c.sweep) > 2) return false;
  const mx = (c.x0 + c.x1) / 2 - c.cx;
  const my = (c.y0 + c.y1) / 2 - c.cy;
  const k = (c.r * c.r) / (mx * mx + my * my);
  return distanceToPoint(s, c.cx + k * mx, c.cy + k * my) <= reach;
}

/** Of two arcs about nearly one centre no point is further from the other's circle than their radii differ, and a hair. */
function besideArc(c: Curve, s: Curve, reach: number): boolean {
  const dx = c.cx - s.cx;
  const dy = c.cy - s.cy;
  const apart = Math.sqrt(dx * dx + dy * dy);
  if (apart > ONE_CENTRE || c.r < SMALL_ARC || Math.abs(c.r - s.r) + apart > reach) return false;
  if (Math.abs(s.sweep) >= FULL) return true;
  // Too short to pass all that the other leaves free: it lies in the other's span if its ends do.
  if (Math.abs(c.sweep) + Math.abs(s.sweep) > ALL_BUT_SURE) return false;
  return endBeside(s, c.x0, c.y0) && endBeside(s, c.x1, c.y1);
}

/** In the arc's span, or on the ray to one of its ends, whose disc then reaches what is beyond. */
function endBeside(s: Curve, x: number, y: number): boolean {
  return inSpan(s, x, y) || onRay(s, s.x0, s.y0, x, y) || onRay(s, s.x1, s.y1, x, y);
}

function onRay({ cx, cy, r }: Curve, endX: number, endY: number, x: number, y: number): boolean {
  const ax = endX - cx;
  const ay = endY - cy;
  const across = ax * (y - cy) - ay * (x - cx);
  return Math.abs(across) <= ON_RAY * r && ax * (x - cx) + ay * (y - cy) > 0;
}
