/**
 * The stock as it is at each moment: how high the material still stands, at points `pitch` apart, the corners of *cells*.
 *
 * Words: a point's *top* is 0 before anything is cut and the lowest tip that has passed over it since. A
 * step's *bite* at a point is how much higher the top was than the tip when the cutter's rim reached it.
 *
 * Bound. At its points the field is exact: whether a step sweeps a point is answered in closed form, and
 * so is the tip over it for level steps and straight ramps. Steps of a helix that fall by no more than
 * GENTLE count as level, and steeper ones as straight; so heights under a helix are right to GENTLE, and
 * to a tenth of the fall of a steep step. Between points nothing is seen, so
 * material thinner than a cell may be missed; widths are counted in points and right to about a cell.
 * Cost: one look for each point that the cutter passes over; 4 bytes a point, touched where cut. Which points a way
 * sweeps is worked out once for all passes on it, 12 bytes for each row of each way.
 */

import type { Curve } from "./curve.ts";
import {
  endOf,
  newSweeps,
  type Points,
  STRETCH,
  STRETCHES,
  type Sweeps,
  sweepOf,
} from "./spans.ts";
import type { Stroke } from "./stroke.ts";

export interface Field extends Points {
  readonly tops: Float32Array;
  readonly sweeps: Sweeps;
  /** Of cutters made a little smaller, for `meets`. */
  readonly insets: Sweeps;
  /** Where the last step left the cutter: the disc there is cut. */
  readonly last: { x: number; y: number; z: number; radius: number };
}

/** Bites below this are rounding and the cusps between passes, mm. */
export const TOUCH = 0.02;

/** Points over the finest cutter's width, and how near and far apart they may be, mm. */
const ACROSS = 16;
const FINEST = 0.02;
const COARSEST = 0.2;
/** 160 MB: a very large sheet gets fewer points a millimetre. */
const MOST_POINTS = 4e7;

/** A piece of a helix that falls by no more than this counts as level at its lowest, mm. */
export const GENTLE = 0.03;

type Box = readonly [number, number, number, number];

export function newField(box: Box, finestDiameter: number): Field {
  const width = box[2] - box[0];
  const height = box[3] - box[1];
  const cell = Math.max(
    FINEST,
    Math.min(COARSEST, finestDiameter / ACROSS),
    Math.sqrt((width * height) / MOST_POINTS),
  );
  const columns = Math.max(1, Math.ceil(width / cell));
  const rows = Math.max(1, Math.ceil(height / cell));
  return {
    pitch: cell,
    x: box[0],
    y: box[1],
    count: rows,
    columns,
    tops: zeros(columns * rows),
    sweeps: newSweeps(),
    insets: newSweeps(),
    last: { x: Number.NaN, y: Number.NaN, z: Number.NaN, radius: Number.NaN },
  };
}

/** Kept for the next field: a proof after every change would leave its garbage to be collected in the next. */
let spare: Float32Array<ArrayBuffer> | undefined;
/** 32 MB: larger fields are rare, and not worth holding on to. */
const MOST_SPARE = 8e6;

function zeros(points: number): Float32Array {
  if (spare === undefined || spare.length < points) return new Float32Array(points);
  const tops = new Float32Array(spare.buffer, 0, points).fill(0);
  spare = undefined;
  return tops;
}

/** The field is done with, and may not be used again. */
export function release({ tops }: Field): void {
  const buffer = tops.buffer as ArrayBuffer;
  if (buffer.byteLength <= MOST_SPARE * Float32Array.BYTES_PER_ELEMENT) {
    spare = new Float32Array(buffer);
  }
}

/** What one step met. */
export interface Met {
  /** Points with a bite above TOUCH, and those with one above the depth that is allowed. */
  points: number;
  deep: number;
  /** Greatest bite that is allowed, and the sum of those that are not, mm. */
  depth: number;
  deepSum: number;
  /** On an arc, the sum of 1/ρ over the points, with ρ their distance from the centre; 1/mm. */
  turns: number;
  /** Where the first bite of the worse kind was. */
  x: number;
  y: number;
}

/**
 * Before the first step. A field that is first written whole is laid out for whole numbers, and when it turns out to hold
 * others, all code that was compiled for it is thrown away: so those that may begin as no number.
 */
export const newMet = (): Met => ({
  points: 0,
  deep: 0,
  depth: Number.NaN,
  deepSum: Number.NaN,
  turns: Number.NaN,
  x: Number.NaN,
  y: Number.NaN,
});

interface Work {
  readonly field: Field;
  readonly stroke: Stroke;
  /** Deepest bite that is allowed, mm. */
  readonly allowed: number;
  readonly met: Met;
  /** Of the field's sweeps. */
  readonly list: Int32Array;
  readonly sweep: number;
  readonly end: number;
}

/** Takes a step out of the stock and says what it met. `met` is written over. */
export function mill(field: Field, stroke: Stroke, allowed: number, met: Met): void {
  met.points = 0;
  met.deep = 0;
  met.depth = 0;
  met.deepSum = 0;
  met.turns = 0;
  const { curve, radius, z0, z1 } = stroke;
  const { last } = field;
  const gentle = curve.isArc && Math.abs(z0 - z1) <= GENTLE;
  const level = z0 === z1 || gentle || curve.length === 0;
  const joint =
    level &&
    curve.length > 0 &&
    last.x === curve.x0 &&
    last.y === curve.y0 &&
    last.radius === radius;
  const { sweeps } = field;
  const sweep = sweepOf(field, sweeps, curve, radius, joint && last.z <= z0);
  const { list } = sweeps;
  const work = { field, stroke, allowed, met, list, sweep, end: endOf(sweeps, sweep) };
  if (level) millLevel(work);
  else millSlope(work);
  last.x = curve.x1;
  last.y = curve.y1;
  last.z = z1;
  last.radius = radius;
}

/**
 * A proof spends most of its time here and in `millSlope`. Mostly one pass, or none, went over a stretch before this one,
 * so what stands equally high goes together. Both keep their sums by themselves, since whatever is handed on for each bite
 * costs more than it; and deep bites are summed like others, since arithmetic that is first met late throws compiled code
 * away.
 */
function millLevel({ field, stroke, allowed, met, list, sweep, end }: Work): void {
  const { tops } = field;
  const { isArc } = stroke.curve;
  // The field holds single precision: the same rounding, or a tip would lie under itself.
  const tip = Math.fround(Math.min(stroke.z0, stroke.z1));
  const level = Math.max(stroke.z0, stroke.z1);
  let points = 0;
  let deep = 0;
  let deepSum = 0;
  let depth = 0;
  let at = 0;
  let turns = 0;
  for (let i = sweep + STRETCHES; i < end; i += STRETCH) {
    const last = list[i + 1] as number;
    for (let k = list[i] as number; k <= last; ) {
      const first = k;
      const top = tops[first] as number;
      k = top > tip ? lower(tops, first, last, tip) : first + 1;
      const bite = top - level;
      if (bite <= TOUCH) continue;
      const isDeep = bite > allowed ? 1 : 0;
      if (isFirst(points, deep, isDeep)) at = first;
      const n = k - first;
      points += n;
      deep += isDeep * n;
      deepSum += isDeep * n * bite;
      depth = Math.max(depth, (1 - isDeep) * bite);
      if (isArc) turns += turnsOf(field, stroke.curve, first, n);
    }
  }
  if (points > 0) setMet(met, field, at, { points, deep, deepSum, depth, turns });
}

/** Lowers the points from `first` on that stand as high as it, `last` at most. Gives the next one. */
function lower(tops: Float32Array, first: number, last: number, tip: number): number {
  const top = tops[first];
  let k = first;
  for (; k <= last && tops[k] === top; k++) tops[k] = tip;
  return k;
}

function millSlope({ field, stroke, allowed, met, list, sweep, end }: Work): void {
  const { tops, x, y, pitch, columns } = field;
  const { curve: c, radius, z0, z1 } = stroke;
  const { isArc } = c;
  const deepest = Math.min(z0, z1);
  const fall = z1 - z0;
  const v = slopeOf(stroke);
  const reach2 = radius * radius * v.per2;
  let points = 0;
  let deep = 0;
  let deepSum = 0;
  let depth = 0;
  let at = 0;
  let turns = 0;
  for (let i = sweep + STRETCHES; i < end; i += STRETCH) {
    const last = list[i + 1] as number;
    const row = list[i + 2] as number;
    const wy = y + (row + 0.5) * pitch - c.y0;
    for (let k = list[i] as number; k <= last; k++) {
      const top = tops[k] as number;
      if (top <= deepest) continue;
      const wx = x + (k - row * columns + 0.5) * pitch - c.x0;
      const along = wx * v.x + wy * v.y;
      const off = wx * v.y - wy * v.x;
      const half = Math.sqrt(Math.max(0, reach2 - off * off));
      const arrival = z0 + fall * share(along - half);
      const leaving = z0 + fall * share(along + half);
      tops[k] = Math.min(top, arrival, leaving);
      const bite = top - arrival;
      if (bite <= TOUCH) continue;
      const isDeep = bite > allowed ? 1 : 0;
      if (isFirst(points, deep, isDeep)) at = k;
      points++;
      deep += isDeep;
      deepSum += isDeep * bite;
      depth = Math.max(depth, (1 - isDeep) * bite);
      if (isArc) turns += turnsOf(field, c, k, 1);
    }
  }
  if (points > 0) setMet(met, field, at, { points, deep, deepSum, depth, turns });
}

/** The first bite stands for the place, and where some are deep the first of those. */
const isFirst = (points: number, deep: number, isDeep: number): boolean =>
  points === 0 || (deep === 0 && isDeep > 0);

/** Of the way, no more than all of it. */
function share(t: number): number {
  if (t < 0) return 0;
  if (t > 1) return 1;
  return t;
}

/** Sum of 1/ρ over neighbours on a row, `n` from the first on. */
function turnsOf(field: Field, { cx, cy }: Curve, first: number, n: number): number {
  const { x, y, pitch, columns } = field;
  const row = Math.floor(first / columns);
  const dx = x + (first - row * columns + 0.5) * pitch - cx;
  const dy = y + (row + 0.5) * pitch - cy;
  let turns = 0;
  for (let i = 0; i < n; i++) turns += perDistance(pitch, dx + i * pitch, dy);
  return turns;
}

/** 1/ρ of a point this far from an arc's centre; a point at the centre counts as half a cell away. */
function perDistance(pitch: number, dx: number, dy: number): number {
  return 1 / Math.max(pitch / 2, Math.sqrt(dx * dx + dy * dy));
}

/** `at`: the point that stands for the place. */
function setMet(met: Met, field: Field, at: number, sums: Omit<Met, "x" | "y">): void {
  const { x, y, pitch, columns } = field;
  const row = Math.floor(at / columns);
  met.points = sums.points;
  met.deep = sums.deep;
  met.depth = sums.depth;
  met.deepSum = sums.deepSum;
  met.turns = sums.turns;
  met.x = x + (at - row * columns + 0.5) * pitch;
  met.y = y + (row + 0.5) * pitch;
}

/** The chord of a sloping step over its squared length, so that products with it count in lengths of the chord. */
function slopeOf({ curve: c }: Stroke): { x: number; y: number; per2: number } {
  const vx = c.x1 - c.x0;
  const vy = c.y1 - c.y0;
  const per2 = 1 / (vx * vx + vy * vy);
  return { x: vx * per2, y: vy * per2, per2 };
}

/** Is there material above a step's lowest tip anywhere under it, `inset` inside the cutter's rim? */
export function meets(field: Field, stroke: Stroke, inset: number): boolean {
  const { curve, radius, z0, z1 } = stroke;
  if (radius <= inset) return false;
  const floor = Math.min(z0, z1) + TOUCH;
  const { insets, tops } = field;
  const sweep = sweepOf(field, insets, curve, radius - inset, false);
  const { list } = insets;
  const end = endOf(insets, sweep);
  for (let i = sweep + STRETCHES; i < end; i += STRETCH) {
    const last = list[i + 1] as number;
    for (let k = list[i] as number; k <= last; k++) {
      if ((tops[k] as number) > floor) return true;
    }
  }
  return false;
}
