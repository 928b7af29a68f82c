/**
 * Is a point inside a closed ring of curves? Even-odd rule, closed form, nothing allocated.
 *
 * The ring is its polygon of chords, with the caps between chords and arcs added or taken away: a point
 * is inside when it is in an odd number of these. Points on the ring itself may answer either way.
 * Cost: a few operations a curve; by number, since an iterator costs more than they do until the engine has seen it often.
 */
import type { Curve } from "./curve.ts";

export function insideRing(curves: readonly Curve[], x: number, y: number): boolean {
  let inside = false;
  for (let i = 0; i < curves.length; i++) {
    const c = curves[i] as Curve;
    const side = sideOf(c, x, y);
    if (c.y0 > y !== c.y1 > y && (c.y1 > c.y0 ? side > 0 : side < 0)) inside = !inside;
    if (c.isArc && inCap(c, x, y, side)) inside = !inside;
  }
  return inside;
}

/** Positive to the left of the chord. */
function sideOf(c: Curve, x: number, y: number): number {
  return (c.x1 - c.x0) * (y - c.y0) - (c.y1 - c.y0) * (x - c.x0);
}

/**
 * Within the circle, on the chord's side on which the arc lies. A point on the chord is taken a hair to the
 * right, and up, as the crossings take it: else it would lie neither under the chord nor over it.
 */
function inCap(c: Curve, x: number, y: number, side: number): boolean {
  const dx = x - c.cx;
  const dy = y - c.cy;
  if (dx * dx + dy * dy >= c.r * c.r) return false;
  // A full circle has no chord.
  if (c.x0 === c.x1 && c.y0 === c.y1) return true;
  const beside = side !== 0 ? side : c.y1 !== c.y0 ? c.y0 - c.y1 : c.x1 - c.x0;
  return c.sweep > 0 ? beside < 0 : beside > 0;
}
