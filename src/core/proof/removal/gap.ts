/**
 * The least distance between two curves and the places where it is: ends against curves, then the
 * closed formula for each pair of kinds. Right to rounding.
 */
import { hypot } from "../../geometry/trig.ts";
import { type Curve, distanceToPoint, FULL, inSpan, nearestT, xAt, yAt } from "./curve.ts";

export interface Gap {
  distance: number;
  /** The nearest pair: on the first curve and on the second. */
  ax: number;
  ay: number;
  bx: number;
  by: number;
}

/** Least distance between two curves and where it is; 0 where they cross or touch. */
export function gapBetween(a: Curve, b: Curve): Gap {
  const gap: Gap = { distance: Number.POSITIVE_INFINITY, ax: a.x0, ay: a.y0, bx: b.x0, by: b.y0 };
  offerPoint(gap, a, b.x0, b.y0);
  offerPoint(gap, a, b.x1, b.y1);
  offerBack(gap, b, a.x0, a.y0);
  offerBack(gap, b, a.x1, a.y1);
  if (a.isArc || b.isArc) {
    if (!b.isArc) lineArc(gap, b, a, true);
    else if (!a.isArc) lineArc(gap, a, b, false);
    else arcArc(gap, a, b);
  } else lineLine(gap, a, b);
  return gap;
}

function offer(gap: Gap, ax: number, ay: number, bx: number, by: number): void {
  const d = hypot(ax - bx, ay - by);
  if (d >= gap.distance) return;
  gap.distance = d;
  gap.ax = ax;
  gap.ay = ay;
  gap.bx = bx;
  gap.by = by;
}

/** The point is on the second curve. */
function offerPoint(gap: Gap, c: Curve, px: number, py: number): void {
  if (distanceToPoint(c, px, py) >= gap.distance) return;
  const t = nearestT(c, px, py);
  offer(gap, xAt(c, t), yAt(c, t), px, py);
}

/** The point is on the first curve. */
function offerBack(gap: Gap, c: Curve, px: number, py: number): void {
  if (distanceToPoint(c, px, py) >= gap.distance) return;
  const t = nearestT(c, px, py);
  offer(gap, px, py, xAt(c, t), yAt(c, t));
}

function lineLine(gap: Gap, a: Curve, b: Curve): void {
  const ux = a.x1 - a.x0;
  const uy = a.y1 - a.y0;
  const vx = b.x1 - b.x0;
  const vy = b.y1 - b.y0;
  const det = ux * vy - uy * vx;
  if (det === 0) return;
  const wx = b.x0 - a.x0;
  const wy = b.y0 - a.y0;
  const s = (wx * vy - wy * vx) / det;
  const t = (wx * uy - wy * ux) / det;
  if (s < 0 || s > 1 || t < 0 || t > 1) return;
  const x = a.x0 + s * ux;
  const y = a.y0 + s * uy;
  offer(gap, x, y, x, y);
}

/** `swapped`: the line is the second curve of the gap. */
function lineArc(gap: Gap, line: Curve, arc: Curve, swapped: boolean): void {
  if (line.length === 0) return;
  const ux = (line.x1 - line.x0) / line.length;
  const uy = (line.y1 - line.y0) / line.length;
  const wx = arc.cx - line.x0;
  const wy = arc.cy - line.y0;
  const along = wx * ux + wy * uy;
  const off = Math.abs(wx * uy - wy * ux);
  if (off < arc.r) {
    const half = Math.sqrt(arc.r * arc.r - off * off);
    for (const s of [along - half, along + half]) {
      if (s < 0 || s > line.length) continue;
      const x = line.x0 + s * ux;
      const y = line.y0 + s * uy;
      if (inSpan(arc, x, y)) offer(gap, x, y, x, y);
    }
  } else if (along > 0 && along < line.length) {
    const fx = line.x0 + along * ux;
    const fy = line.y0 + along * uy;
    if (off > 0 && inSpan(arc, fx, fy)) {
      const k = arc.r / off;
      const x = arc.cx + (fx - arc.cx) * k;
      const y = arc.cy + (fy - arc.cy) * k;
      if (swapped) offer(gap, x, y, fx, fy);
      else offer(gap, fx, fy, x, y);
    }
  }
}

/** Centres this near are one, mm: what divides by their distance would be noise. */
const CONCENTRIC = 1e-9;

function arcArc(gap: Gap, a: Curve, b: Curve): void {
  const dx = b.cx - a.cx;
  const dy = b.cy - a.cy;
  const d = hypot(dx, dy);
  // Concentric: where the spans overlap, an end of one lies in the span of the other, unless both are full.
  if (d < CONCENTRIC) {
    if (Math.abs(a.sweep) < FULL) return;
    offer(gap, a.x0, a.y0, a.cx + ((a.x0 - a.cx) * b.r) / a.r, a.cy + ((a.y0 - a.cy) * b.r) / a.r);
    return;
  }
  const ux = dx / d;
  const uy = dy / d;
  const along = (d * d + a.r * a.r - b.r * b.r) / (2 * d);
  const h2 = a.r * a.r - along * along;
  if (h2 >= 0) {
    const h = Math.sqrt(h2);
    for (const side of [h, -h]) {
      const x = a.cx + along * ux - side * uy;
      const y = a.cy + along * uy + side * ux;
      if (inSpan(a, x, y) && inSpan(b, x, y)) offer(gap, x, y, x, y);
    }
  }
  for (const i of [a.r, -a.r]) {
    const px = a.cx + i * ux;
    const py = a.cy + i * uy;
    if (!inSpan(a, px, py)) continue;
    for (const j of [b.r, -b.r]) {
      const qx = b.cx + j * ux;
      const qy = b.cy + j * uy;
      if (inSpan(b, qx, qy)) offer(gap, px, py, qx, qy);
    }
  }
}
