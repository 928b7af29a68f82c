/**
 * Is a point inside a closed ring of curves? Even-odd rule, closed form, nothing allocated.
 *
 * The ring is its polygon of chords, with the caps between chords and arcs added or taken away: a point
 * is inside when it is in an odd number of these. Points on the ring itself may answer either way.
 * Cost: a few operations a curve.
 */
import type { Curve } from "./curve.ts";

export function insideRing(curves: readonly Curve[], x: number, y: number): boolean {
  let inside = false;
  for (const c of curves) {
    if (c.y0 > y !== c.y1 > y && x < c.x0 + ((y - c.y0) / (c.y1 - c.y0)) * (c.x1 - c.x0)) {
      inside = !inside;
    }
    if (c.isArc && inCap(c, x, y)) inside = !inside;
  }
  return inside;
}

/** Between an arc and its chord: in the circle, on the chord's side on which the arc lies. */
function inCap(c: Curve, x: number, y: number): boolean {
  const dx = x - c.cx;
  const dy = y - c.cy;
  if (dx * dx + dy * dy >= c.r * c.r) return false;
  const side = (c.x1 - c.x0) * (y - c.y0) - (c.y1 - c.y0) * (x - c.x0);
  // A full circle has no chord.
  if (c.x0 === c.x1 && c.y0 === c.y1) return true;
  return c.sweep > 0 ? side <= 0 : side > 0;
}
