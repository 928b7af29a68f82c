/**
 * Rounding a region's corners by offsets: out and back in fills inside corners, in and back out rounds
 * outside ones. Gaps and necks narrower than twice the radius close or vanish with it, which is what a
 * cutter or a crash would do to them anyway.
 *
 * Promise: arcs stay arcs; no inside corner is sharper than `inside`, no outside one than `outside`.
 */
import { offsetRings } from "../../geometry/offset.ts";
import type { Contour } from "../../geometry/shape.ts";
import type { Rings } from "./boolean.ts";

/** Inside corners filled to this radius. */
export function filled(rings: Rings, inside: number): Contour[] {
  if (inside <= 0) return [...rings];
  return offsetRings(offsetRings(rings, inside), -inside);
}

/** Outside corners rounded to this radius. */
export function eased(rings: Rings, outside: number): Contour[] {
  if (outside <= 0) return [...rings];
  return offsetRings(offsetRings(rings, -outside), outside);
}

export function smoothed(rings: Rings, inside: number, outside: number): Contour[] {
  return eased(filled(rings, inside), outside);
}
