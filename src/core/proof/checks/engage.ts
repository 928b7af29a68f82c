/**
 * What the cutter meets, stroke by stroke, in the stock as it is at that moment: depth of cut, slope of
 * entries, rapids through material, and whether a stroke cuts at all.
 *
 * Words: the *front* is the half of the cutter's rim that faces the way. Its *bite* at a place across
 * the way is how much taller the material there is than the tip. A station is a place along the stroke
 * where the front is measured, at least twice a radius.
 *
 * Depth of cut: the deepest bite that reaches over more than the light share of the cutter's width; a
 * finishing pass takes the full depth, but only with its light share. Entry: a stroke that falls more
 * steeply than the ramp angle must find air under the whole cutter.
 * Bound: ACROSS places over the front, so widths are right to D/ACROSS; depths as in stock.
 */
import { atan2, cos, sin, TAU } from "../../geometry/trig.ts";
import type { TargetLimits } from "../proof.ts";
import { directionAt, xAt, yAt } from "../removal/curve.ts";
import { type Stock, topAt } from "../removal/stock.ts";
import { portion, type Stroke, zAt } from "../removal/stroke.ts";

export const ACROSS = 32;

/** Bites below this are rounding and the cusps between passes, mm. */
export const TOUCH = 0.02;

/** Directions and radii at which the face of the cutter is tried, as shares of its radius. */
const RIM: readonly (readonly [number, number, number])[] = [
  [1, 16, 0],
  [0.66, 8, 0.3],
  [0.33, 6, 0.1],
  [0, 1, 0],
];
const FACE: readonly (readonly [number, number])[] = RIM.flatMap(([r, n, a]) =>
  Array.from({ length: n }, (_, i): readonly [number, number] => {
    const angle = a + (TAU * i) / n;
    return [r * cos(angle), r * sin(angle)];
  }),
);

export interface Engagement {
  /** Meets material anywhere along its way. */
  cuts: boolean;
  /** mm; 0 where nothing is cut. */
  depth: number;
  /** Where the depth was found. */
  x: number;
  y: number;
  /** rad below the level; 0 where the stroke does not fall into material. */
  entry: number;
}

export interface Bounds {
  readonly limits: TargetLimits;
  /** Across the way, mm: what counts as a light cut. */
  readonly light: number;
}

/** Longest turn of an arc that is measured as one stroke, rad: the cutter passes over its own way in small bores. */
const TURN: number = Math.PI / 4;

/** The pieces in which a stroke is measured and taken out of the stock. */
export function steps(s: Stroke): Stroke[] {
  const n = s.curve.isArc ? Math.ceil(Math.abs(s.curve.sweep) / TURN - 1e-9) : 1;
  if (n <= 1) return [s];
  return Array.from({ length: n }, (_, i) => portion(s, i / n, (i + 1) / n));
}

export function engage(stock: Stock, s: Stroke, bounds: Bounds): Engagement {
  const found: Engagement = { cuts: false, depth: 0, x: s.curve.x1, y: s.curve.y1, entry: 0 };
  const stations = Math.max(1, Math.ceil(s.curve.length / (s.radius / 2)));
  if (s.curve.length > 0) {
    for (let i = 0; i <= stations; i++) front(stock, s, i / stations, bounds, found);
  }
  const fall = s.z0 - s.z1;
  if (fall <= 0) return found;
  const slope = atan2(fall, s.curve.length);
  if (slope <= bounds.limits.rampAngle && !found.cuts) return found;
  if (found.cuts && slope <= bounds.limits.rampAngle) found.entry = slope;
  else enterBelow(stock, s, stations, slope, found);
  return found;
}

/** A steep fall: is there material under the cutter's face where it arrives? */
function enterBelow(
  stock: Stock,
  s: Stroke,
  stations: number,
  slope: number,
  found: Engagement,
): void {
  const n = s.curve.length === 0 ? 1 : stations;
  for (let i = 1; i <= n; i++) {
    const t = i / n;
    if (!faceMeets(stock, s, t)) continue;
    found.cuts = true;
    found.entry = slope;
    found.x = xAt(s.curve, t);
    found.y = yAt(s.curve, t);
    return;
  }
}

/** Is there material above the tip anywhere under the cutter's face? */
export function faceMeets(stock: Stock, s: Stroke, t: number): boolean {
  const z = zAt(s, t);
  const x = xAt(s.curve, t);
  const y = yAt(s.curve, t);
  const r = s.radius - TOUCH;
  for (const [u, v] of FACE) {
    if (topAt(stock, x + u * r, y + v * r, z + TOUCH) > z + TOUCH) return true;
  }
  return false;
}

const bites: number[] = [];

/** Measures the front at one station. */
function front(stock: Stock, s: Stroke, t: number, bounds: Bounds, found: Engagement): void {
  const z = zAt(s, t);
  const x = xAt(s.curve, t);
  const y = yAt(s.curve, t);
  const [ux, uy] = directionAt(s.curve, t);
  const needed = Math.floor((bounds.light / (2 * s.radius)) * ACROSS) + 1;
  // Shallower than what was found is of no interest.
  const enough = z + Math.max(TOUCH, found.depth);
  bites.length = 0;
  for (let i = 0; i < ACROSS; i++) {
    const across = ((2 * i + 1) / ACROSS - 1) * s.radius;
    const ahead = Math.sqrt(s.radius * s.radius - across * across);
    const top = topAt(stock, x + ahead * ux - across * uy, y + ahead * uy + across * ux, enough);
    if (top <= enough) continue;
    found.cuts = true;
    bites.push(top - z);
  }
  if (bites.length < needed) return;
  bites.sort((a, b) => b - a);
  const depth = bites[needed - 1] as number;
  if (depth <= found.depth) return;
  found.depth = depth;
  found.x = x;
  found.y = y;
}
