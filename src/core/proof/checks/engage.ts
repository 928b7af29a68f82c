/**
 * What the cutter meets, stroke by stroke, in the stock as it is at that moment: depth of cut, slope of
 * entries, rapids through material, and whether a stroke cuts at all.
 *
 * Words: the *front* is the half of the cutter's rim that faces the way. Its *bite* at a place across
 * the way is how much taller the material there is than the tip. A station is a place along the stroke
 * where the front is measured: one radius apart.
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

/** The rim is tried this far inside, mm, so that rounded coordinates of passes on one way make no bite. */
const GRAIN = 0.001;

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

/** How far the cutter has gone too deep without a break, mm; −1 while it is not. */
export interface Run {
  length: number;
}

export interface Bounds {
  readonly limits: TargetLimits;
  /** Across the way, mm: what counts as a light cut. */
  readonly light: number;
  /** Deepest bite that is allowed at full width, mm. */
  readonly deepest: number;
  readonly run: Run;
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
  // An even number, so that the middle is one.
  const stations = 2 * Math.max(1, Math.ceil(s.curve.length / s.radius / 2));
  if (s.curve.length > 0) {
    for (let i = 0; i <= stations; i++) {
      const bite = front(stock, s, i / stations, bounds, found);
      noteBite(bite, i === 0 ? 0 : s.curve.length / stations, bounds, found);
      if (found.depth < bite && (bite <= bounds.deepest || bounds.run.length > bounds.light)) {
        found.depth = bite;
        found.x = xAt(s.curve, i / stations);
        found.y = yAt(s.curve, i / stations);
      }
    }
  }
  const fall = s.z0 - s.z1;
  if (fall <= 0) return found;
  const slope = atan2(fall, s.curve.length);
  if (slope <= bounds.limits.rampAngle && !found.cuts) return found;
  if (found.cuts && slope <= bounds.limits.rampAngle) found.entry = slope;
  else enterBelow(stock, s, stations, bounds, found);
  return found;
}

/**
 * A steep fall: is there material under the cutter's face where it arrives? A crescent no thicker than
 * a light cut is cut from the side.
 */
function enterBelow(
  stock: Stock,
  s: Stroke,
  stations: number,
  bounds: Bounds,
  found: Engagement,
): void {
  const n = s.curve.length === 0 ? 1 : stations;
  for (let i = 1; i <= n; i++) {
    const t = i / n;
    if (!faceMeets(stock, s, t, bounds.light)) continue;
    found.cuts = true;
    found.entry = atan2(s.z0 - s.z1, s.curve.length);
    found.x = xAt(s.curve, t);
    found.y = yAt(s.curve, t);
    return;
  }
}

/** Is there material above the tip anywhere under the cutter's face, `inset` inside its rim? */
export function faceMeets(stock: Stock, s: Stroke, t: number, inset: number): boolean {
  const z = zAt(s, t);
  const x = xAt(s.curve, t);
  const y = yAt(s.curve, t);
  const r = s.radius - inset;
  for (const [u, v] of FACE) {
    if (topAt(stock, x + u * r, y + v * r, z + TOUCH) > z + TOUCH) return true;
  }
  return false;
}

/**
 * How much of the cutter's width a light cut takes: its own thickness on a straight way, more along the
 * inside of a bore, where the rim leans on the wall (law of cosines between the two centres).
 */
function lightAcross(s: Stroke, light: number): number {
  const { isArc, r } = s.curve;
  if (!isArc) return light;
  const before = r + s.radius - light;
  const c = (before * before - r * r - s.radius * s.radius) / (2 * r * s.radius);
  return s.radius * (1 - Math.max(-1, Math.min(1, c)));
}

const bites: number[] = [];

/**
 * A bite that is too deep counts once it has gone on for longer than a light cut is wide: a step aside,
 * or the last crescent before a wall, is no thicker than the way that it goes on for.
 */
function noteBite(bite: number, step: number, bounds: Bounds, found: Engagement): void {
  const { run } = bounds;
  if (bite <= bounds.deepest) run.length = -1;
  else run.length = run.length < 0 ? 0 : run.length + step;
  if (bite > 0) found.cuts = true;
}

/**
 * Deepest bite over more than a light cut's width at one station; 0 where nothing there is new. A coarse
 * look decides first whether anything can be too deep: places a light cut apart cannot miss more.
 */
function front(stock: Stock, s: Stroke, t: number, bounds: Bounds, found: Engagement): number {
  const z = zAt(s, t);
  const light = lightAcross(s, bounds.light);
  const coarse = Math.min(ACROSS, Math.ceil((2 * s.radius) / bounds.light));
  const full = !found.cuts || t === 0.5;
  // The first look at a stroke takes its depth; later ones only ask whether it is exceeded.
  const enough = z + (full ? TOUCH : bounds.deepest);
  if (!full && enough >= 0) return 0;
  const roughly = across(stock, s, t, coarse, light, enough);
  if (roughly < 0) return 0;
  found.cuts = true;
  return roughly <= bounds.deepest
    ? roughly
    : Math.max(0, across(stock, s, t, ACROSS, light, enough));
}

/** Measures `n` places; −1 where all find less than `enough`, 0 where too few find more. */
function across(
  stock: Stock,
  s: Stroke,
  t: number,
  n: number,
  light: number,
  enough: number,
): number {
  const z = zAt(s, t);
  const x = xAt(s.curve, t);
  const y = yAt(s.curve, t);
  const [ux, uy] = directionAt(s.curve, t);
  const rim = s.radius - GRAIN;
  const needed = n === ACROSS ? Math.floor((light / (2 * s.radius)) * n) + 1 : 1;
  bites.length = 0;
  for (let i = 0; i < n; i++) {
    const aside = ((2 * i + 1) / n - 1) * rim;
    const ahead = Math.sqrt(rim * rim - aside * aside);
    const top = topAt(stock, x + ahead * ux - aside * uy, y + ahead * uy + aside * ux, enough);
    if (top > enough) bites.push(top - z);
  }
  if (bites.length < needed) return bites.length === 0 ? -1 : 0;
  if (needed > 1) bites.sort((a, b) => b - a);
  return needed > 1 ? (bites[needed - 1] as number) : Math.max(...bites);
}
