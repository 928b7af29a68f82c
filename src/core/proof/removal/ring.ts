/**
 * A ring against a level: which stretches of a contour the sweep has not reached, in mm along it.
 *
 * Words: *open* stretches are those that the sweep came no nearer to than `extra`. Along a ring, s runs
 * from 0 to its length in the direction that has solid on the left; a stretch over the start has
 * `to` beyond the length.
 */
import type { Ring } from "../target.ts";
import { covered, merged, type Stretch, uncovered, whollyCovered } from "./coverage.ts";
import { type Curve, directionAt, distanceToPoint, nearestT, xAt, yAt } from "./curve.ts";
import { type Level, near } from "./level.ts";

/** The length of a ring, and s at the beginning of each of its curves and at its end. */
export interface Measured {
  readonly length: number;
  readonly sums: readonly number[];
}

export function measure(curves: readonly Curve[]): Measured {
  const sums = [0];
  for (const c of curves) sums.push((sums[sums.length - 1] as number) + c.length);
  return { length: sums[sums.length - 1] as number, sums };
}

export interface RingPoint {
  readonly x: number;
  readonly y: number;
  /** Unit normal away from the solid. */
  readonly nx: number;
  readonly ny: number;
  readonly index: number;
}

export function ringPoint({ curves, length, sums }: Ring, s: number): RingPoint {
  const at = ((s % length) + length) % length;
  const index = curveAt(sums, at);
  const c = curves[index] as Curve;
  const t = c.length === 0 ? 0 : (at - (sums[index] as number)) / c.length;
  const [dx, dy] = directionAt(c, t);
  return { x: xAt(c, t), y: yAt(c, t), nx: dy, ny: -dx, index };
}

/** The last curve that begins at or before s. */
function curveAt(sums: readonly number[], s: number): number {
  let low = 0;
  let high = sums.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((sums[middle] as number) <= s) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Where along the ring a point is nearest. */
export function ringFoot({ curves, sums }: Ring, x: number, y: number): number {
  let best = Number.POSITIVE_INFINITY;
  let s = 0;
  curves.forEach((c, i) => {
    const d = distanceToPoint(c, x, y);
    if (d >= best) return;
    best = d;
    s = (sums[i] as number) + nearestT(c, x, y) * c.length;
  });
  return s;
}

/** Open stretches shorter than this are rounding between neighbouring strokes, mm. */
const GRAIN = 0.002;

const WHOLE: readonly Stretch[] = [{ from: 0, to: 1 }];

export interface OpenRing {
  readonly open: readonly Stretch[];
  /** Least radius of the cutters that touched the ring; undefined where none did. */
  readonly radius: number | undefined;
}

export function openOf(ring: Ring, level: Level, extra: number): OpenRing {
  const gaps: Stretch[] = [];
  let radius: number | undefined;
  ring.curves.forEach((c, i) => {
    const base = ring.sums[i] as number;
    const strokes = near(level, c, extra);
    const whole = strokes.some((s) => whollyCovered(c, s, extra));
    const done = whole ? WHOLE : covered(c, strokes, extra);
    if (done.length > 0) {
      for (const s of strokes) radius = Math.min(radius ?? s.radius, s.radius);
    }
    for (const g of uncovered(done)) {
      gaps.push({ from: base + g.from * c.length, to: base + g.to * c.length });
    }
  });
  return { open: wrapped(merged(gaps, GRAIN / 2), ring.length), radius };
}

function wrapped(list: readonly Stretch[], length: number): Stretch[] {
  const first = list[0];
  const last = list[list.length - 1];
  const joins =
    first !== undefined &&
    last !== undefined &&
    first !== last &&
    first.from <= GRAIN / 2 &&
    last.to >= length - GRAIN / 2;
  const out = joins
    ? [...list.slice(1, -1), { from: last.from, to: length + first.to }]
    : [...list];
  return out.filter((g) => g.to - g.from > GRAIN);
}
