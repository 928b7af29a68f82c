/**
 * The stock as it is at each moment: how high the material still stands, at points `cell` apart.
 *
 * Words: a point's *top* is 0 before anything is cut and the lowest tip that has passed over it since. A
 * step's *bite* at a point is how much higher the top was than the tip when the cutter's rim reached it.
 *
 * Bound. At its points the field is exact: whether a step sweeps a point is answered in closed form, and
 * so is the tip over it for level steps and straight ramps. Steps of a helix that fall by no more than
 * GENTLE count as level, and steeper ones as straight; so heights under a helix are right to GENTLE, and
 * to a tenth of the fall of a steep step. Between points nothing is seen, so
 * material thinner than `cell` may be missed; widths are counted in points and right to about a cell.
 * Cost: one look for each point that the cutter passes over; 4 bytes a point, touched where cut.
 */
import { boxAround, type Curve } from "./curve.ts";
import { newSpans, setSpans } from "./spans.ts";
import type { Stroke } from "./stroke.ts";

export interface Field {
  readonly cell: number;
  readonly x: number;
  readonly y: number;
  readonly columns: number;
  readonly rows: number;
  readonly tops: Float32Array;
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
    cell,
    x: box[0],
    y: box[1],
    columns,
    rows,
    tops: zeros(columns * rows),
    last: { x: 0, y: 0, z: 1, radius: 0 },
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

export const newMet = (): Met => ({
  points: 0,
  deep: 0,
  depth: 0,
  deepSum: 0,
  turns: 0,
  x: 0,
  y: 0,
});

const spans = newSpans();

type Take = (k0: number, k1: number, row: number) => void;

/**
 * Every stretch of points that a sweep covers: first and last index, and the row. May repeat points.
 * `joint`: the disc at the start of an arc may be left out.
 */
function sweep(field: Field, c: Curve, radius: number, joint: boolean, take: Take): void {
  const { cell, columns } = field;
  const [, low, , high] = boxAround(c, radius);
  const first = Math.max(0, Math.ceil((low - field.y) / cell - 0.5));
  const last = Math.min(field.rows - 1, Math.floor((high - field.y) / cell - 0.5));
  for (let row = first; row <= last; row++) {
    setSpans(spans, c, radius, field.y + (row + 0.5) * cell, joint);
    for (let k = 0; k < spans.count; k += 2) {
      const from = Math.ceil(((spans.values[k] as number) - field.x) / cell - 0.5);
      const to = Math.floor(((spans.values[k + 1] as number) - field.x) / cell - 0.5);
      const base = row * columns;
      if (to >= from) take(base + Math.max(0, from), base + Math.min(columns - 1, to), row);
    }
  }
}

interface Work {
  readonly field: Field;
  readonly stroke: Stroke;
  /** Deepest bite that is allowed, mm. */
  readonly allowed: number;
  readonly met: Met;
}

/** Takes a step out of the stock and says what it met. `met` is written over. */
export function mill(field: Field, stroke: Stroke, allowed: number, met: Met): void {
  met.points = 0;
  met.deep = 0;
  met.depth = 0;
  met.deepSum = 0;
  met.turns = 0;
  const work: Work = { field, stroke, allowed, met };
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
  sweep(field, curve, radius, joint && last.z <= z0, (k0, k1, row) => {
    if (level) millLevel(work, k0, k1, row);
    else millSlope(work, k0, k1, row);
  });
  last.x = curve.x1;
  last.y = curve.y1;
  last.z = z1;
  last.radius = radius;
}

/** A proof spends most of its time here, so what is met is counted in locals and handed over once a row. */
function millLevel(
  { field, stroke, allowed, met }: Work,
  k0: number,
  k1: number,
  row: number,
): void {
  const { tops } = field;
  const { z0, z1, curve } = stroke;
  // The field holds single precision: the same rounding, or a tip would lie under itself.
  const tip = Math.fround(Math.min(z0, z1));
  const level = Math.max(z0, z1);
  const { isArc } = curve;
  const dx0 = field.x + (0.5 - row * field.columns) * field.cell - curve.cx;
  const dy = field.y + (row + 0.5) * field.cell - curve.cy;
  let points = 0;
  let deep = 0;
  let deepSum = 0;
  let depth = 0;
  let turns = 0;
  let first = 0;
  let firstDeep = 0;
  for (let k = k0; k <= k1; k++) {
    const top = tops[k] as number;
    if (top <= tip) continue;
    tops[k] = tip;
    const bite = top - level;
    if (bite <= TOUCH) continue;
    if (points++ === 0) first = k;
    if (bite > allowed) {
      if (deep++ === 0) firstDeep = k;
      deepSum += bite;
    } else if (bite > depth) depth = bite;
    if (isArc) turns += perDistance(field, dx0 + k * field.cell, dy);
  }
  if (points === 0) return;
  placeMet(field, met, deep > 0 ? firstDeep : first, row, deep > 0);
  met.points += points;
  met.deep += deep;
  met.deepSum += deepSum;
  met.turns += turns;
  met.depth = Math.max(met.depth, depth);
}

function millSlope(work: Work, k0: number, k1: number, row: number): void {
  const { field, stroke } = work;
  const { tops, cell, columns } = field;
  const { curve: c, radius, z0, z1 } = stroke;
  const deepest = Math.min(z0, z1);
  const v = slopeOf(stroke);
  const wy = field.y + (row + 0.5) * cell - c.y0;
  const reach2 = radius * radius * v.per2;
  for (let k = k0; k <= k1; k++) {
    const top = tops[k] as number;
    if (top <= deepest) continue;
    const wx = field.x + (k - row * columns + 0.5) * cell - c.x0;
    const along = wx * v.x + wy * v.y;
    const off = wx * v.y - wy * v.x;
    const half = Math.sqrt(Math.max(0, reach2 - off * off));
    const arrival = z0 + (z1 - z0) * Math.min(1, Math.max(0, along - half));
    const leaving = z0 + (z1 - z0) * Math.min(1, Math.max(0, along + half));
    if (top - arrival > TOUCH) note(work, k, row, top - arrival);
    const lowest = Math.min(arrival, leaving);
    if (lowest < top) tops[k] = lowest;
  }
}

/** The chord of a sloping step over its squared length, so that products with it count in lengths of the chord. */
function slopeOf({ curve: c }: Stroke): { x: number; y: number; per2: number } {
  const vx = c.x1 - c.x0;
  const vy = c.y1 - c.y0;
  const per2 = 1 / (vx * vx + vy * vy);
  return { x: vx * per2, y: vy * per2, per2 };
}

function note({ field, stroke, allowed, met }: Work, k: number, row: number, bite: number): void {
  const deep = bite > allowed;
  placeMet(field, met, k, row, deep);
  met.points++;
  if (deep) {
    met.deep++;
    met.deepSum += bite;
  } else if (bite > met.depth) met.depth = bite;
  if (!stroke.curve.isArc) return;
  const dx = field.x + (k - row * field.columns + 0.5) * field.cell - stroke.curve.cx;
  const dy = field.y + (row + 0.5) * field.cell - stroke.curve.cy;
  met.turns += perDistance(field, dx, dy);
}

/** The first bite's place, or the first of those that are too deep. */
function placeMet(
  { x, y, cell, columns }: Field,
  met: Met,
  k: number,
  row: number,
  deep: boolean,
): void {
  if (met.points > 0 && !(deep && met.deep === 0)) return;
  met.x = x + (k - row * columns + 0.5) * cell;
  met.y = y + (row + 0.5) * cell;
}

/** 1/ρ of a point this far from an arc's centre; a point at the centre counts as half a cell away. */
function perDistance({ cell }: Field, dx: number, dy: number): number {
  return 1 / Math.max(cell / 2, Math.sqrt(dx * dx + dy * dy));
}

/** Is there material above a step's lowest tip anywhere under it, `inset` inside the cutter's rim? */
export function meets(field: Field, stroke: Stroke, inset: number): boolean {
  const { curve, radius, z0, z1 } = stroke;
  if (radius <= inset) return false;
  const floor = Math.min(z0, z1) + TOUCH;
  let found = false;
  sweep(field, curve, radius - inset, false, (k0, k1) => {
    for (let k = k0; k <= k1 && !found; k++) found = (field.tops[k] as number) > floor;
  });
  return found;
}
