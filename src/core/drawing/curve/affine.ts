/**
 * Affine moves of the plane: what blocks, extrusions, SVG transforms and units do to a drawing.
 * x' = a·x + c·y + e, y' = b·x + d·y + f (the order of SVG's matrix).
 */
import type { Point } from "../../geometry/shape.ts";
import { cos, sin } from "../../geometry/trig.ts";

export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const IDENTITY: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** First `inner`, then `outer`. */
export function compose(outer: Affine, inner: Affine): Affine {
  return {
    a: outer.a * inner.a + outer.c * inner.b,
    b: outer.b * inner.a + outer.d * inner.b,
    c: outer.a * inner.c + outer.c * inner.d,
    d: outer.b * inner.c + outer.d * inner.d,
    e: outer.a * inner.e + outer.c * inner.f + outer.e,
    f: outer.b * inner.e + outer.d * inner.f + outer.f,
  };
}

export function mapPoint(m: Affine, p: Point): Point {
  return { x: m.a * p.x + m.c * p.y + m.e, y: m.b * p.x + m.d * p.y + m.f };
}

/** A direction: the shift does not apply. */
export function mapVector(m: Affine, v: Point): Point {
  return { x: m.a * v.x + m.c * v.y, y: m.b * v.x + m.d * v.y };
}

export function shift(x: number, y: number): Affine {
  return { ...IDENTITY, e: x, f: y };
}

export function scaling(x: number, y: number): Affine {
  return { ...IDENTITY, a: x, d: y };
}

export function rotation(angle: number): Affine {
  // Quarter turns are exact: a turned rectangle keeps its round coordinates.
  const c = tidy(cos(angle));
  const s = tidy(sin(angle));
  return { a: c, b: s, c: -s, d: c, e: 0, f: 0 };
}

/** cos and sin miss 0 and ±1 by the rounding of π; below 1e-15 that is all there is. */
function tidy(v: number): number {
  if (Math.abs(v) < 1e-15) return 0;
  if (Math.abs(Math.abs(v) - 1) < 1e-15) return v > 0 ? 1 : -1;
  return v;
}

export function determinant(m: Affine): number {
  return m.a * m.d - m.b * m.c;
}

export function isFinite6(m: Affine): boolean {
  return [m.a, m.b, m.c, m.d, m.e, m.f].every(Number.isFinite);
}
