/**
 * Where the rows of a lattice (lines of equal y) lie in the sweep of a curve by a disc, in closed form.
 *
 * Words: a *span* is a stretch of a row. The spans of one sweep may overlap, since an arc's is put together
 * from the discs at its ends and the ring sector between them; a straight sweep is convex and gives one
 * span a row. Exact to rounding.
 */
import { type Curve, FULL, inSpan } from "./curve.ts";

/** Row j is at y + (j + ½) × pitch. */
export interface Lattice {
  readonly y: number;
  readonly pitch: number;
  readonly count: number;
}

/** Points along the rows, the same way apart: point k is number k − row × columns of its row, from x on. */
export interface Points extends Lattice {
  readonly x: number;
  readonly columns: number;
}

/** Span i goes from ends[2 i] to ends[2 i + 1] on row rows[i]. */
export interface Spans {
  ends: Float64Array;
  rows: Int32Array;
  count: number;
}

/** One list for all, used again and again: a second one would be another thing to the engine, and double its work. */
const spans: Spans = { ends: new Float64Array(1024), rows: new Int32Array(512), count: 0 };

/** Two discs and three stretches of a sector at most. */
const MOST_IN_ROW = 5;

/**
 * The spans of all rows that a sweep meets, in a list that the next call writes over. `joint`: the disc at the start may
 * be left out.
 */
export function spansOf(
  c: Curve,
  radius: number,
  { y, pitch, count }: Lattice,
  joint: boolean,
): Spans {
  spans.count = 0;
  const first = Math.max(0, Math.ceil((c.low - radius - y) / pitch - 0.5));
  const last = Math.min(count - 1, Math.floor((c.high + radius - y) / pitch - 0.5));
  if (last < first) return spans;
  const most = (last - first + 1) * MOST_IN_ROW;
  if (most > spans.rows.length) {
    spans.ends = new Float64Array(4 * most);
    spans.rows = new Int32Array(2 * most);
  }
  const band = { y, pitch, first, last };
  if (c.isArc) alongArc(c, radius, band, joint);
  else alongLine(c, radius, band, joint);
  return spans;
}

interface Band {
  readonly y: number;
  readonly pitch: number;
  readonly first: number;
  readonly last: number;
}

function put(row: number, from: number, to: number): void {
  const { ends, rows, count } = spans;
  ends[2 * count] = from;
  ends[2 * count + 1] = to;
  rows[count] = row;
  spans.count = count + 1;
}

/** From where to where a row has been found to be swept so far. */
const range = new Float64Array(2);

function widen(from: number, to: number): void {
  if (from < (range[0] as number)) range[0] = from;
  if (to > (range[1] as number)) range[1] = to;
}

/** Where the row meets a long side, at t of its length. */
function widenBySide(t: number, x: number, dx: number): void {
  if (t >= 0 && t <= 1) widen(x + t * dx, x + t * dx);
}

/** The discs at both ends and the two long sides between them: convex, so the outermost meetings are all. */
function alongLine(c: Curve, radius: number, band: Band, joint: boolean): void {
  const { x0, y0, x1, y1, length } = c;
  const r2 = radius * radius;
  const dx = x1 - x0;
  const dy = y1 - y0;
  // From the curve to its side.
  const nx = (-dy / length) * radius;
  const ny = (dx / length) * radius;
  for (let row = band.first; row <= band.last; row++) {
    const y = band.y + (row + 0.5) * band.pitch;
    range[0] = Number.POSITIVE_INFINITY;
    range[1] = Number.NEGATIVE_INFINITY;
    const start2 = r2 - (y - y0) * (y - y0);
    const start = Math.sqrt(Math.max(0, start2));
    const meets = start2 > 0;
    if (meets) widen(x0 - start, x0 + start);
    if (length > 0) {
      const end2 = r2 - (y - y1) * (y - y1);
      if (end2 > 0) widen(x1 - Math.sqrt(end2), x1 + Math.sqrt(end2));
      widenBySide((y - y0 - ny) / dy, x0 + nx, dx);
      widenBySide((y - y0 + ny) / dy, x0 - nx, dx);
    }
    // The disc at the start may be cut out of the one span that there is, since that holds all of it.
    if (joint && meets) putRange(row, x0 - start, x0 + start);
    else putRange(row, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY);
  }
}

/** The range less what lies between `from` and `to`. */
function putRange(row: number, from: number, to: number): void {
  const low = range[0] as number;
  const high = range[1] as number;
  if (!(high > low)) return;
  if (low < from) put(row, low, from);
  if (high > to) put(row, Math.max(low, to), high);
}

function alongArc(c: Curve, radius: number, band: Band, joint: boolean): void {
  const r2 = radius * radius;
  const closed = c.x1 === c.x0 && c.y1 === c.y0;
  for (let row = band.first; row <= band.last; row++) {
    const y = band.y + (row + 0.5) * band.pitch;
    if (!joint) disc(row, c.x0, r2 - (y - c.y0) * (y - c.y0));
    if (!closed) disc(row, c.x1, r2 - (y - c.y1) * (y - c.y1));
    sector(c, radius, row, y);
  }
}

function disc(row: number, x: number, h2: number): void {
  if (h2 <= 0) return;
  const h = Math.sqrt(h2);
  put(row, x - h, x + h);
}

const marks = new Float64Array(6);

/** The ring sector round an arc: cut the row where it may begin or end, judge the middles. */
function sector(c: Curve, radius: number, row: number, y: number): void {
  const outer = c.r + radius;
  const inner = Math.max(0, c.r - radius);
  const dy = y - c.cy;
  const h2 = outer * outer - dy * dy;
  if (h2 <= 0) return;
  const h = Math.sqrt(h2);
  marks[0] = -h;
  marks[1] = h;
  let n = 2;
  const i2 = inner * inner - dy * dy;
  if (i2 > 0) {
    const i = Math.sqrt(i2);
    marks[n++] = -i;
    marks[n++] = i;
  }
  if (Math.abs(c.sweep) < FULL) {
    // Where the row meets the rays from the centre through both ends.
    const k0 = dy / (c.y0 - c.cy);
    const k1 = dy / (c.y1 - c.cy);
    if (Number.isFinite(k0)) marks[n++] = k0 * (c.x0 - c.cx);
    if (Number.isFinite(k1)) marks[n++] = k1 * (c.x1 - c.cx);
  }
  sortMarks(n);
  for (let i = 1; i < n; i++) {
    const from = marks[i - 1] as number;
    const to = marks[i] as number;
    const dx = (from + to) / 2;
    const d2 = dx * dx + dy * dy;
    if (d2 <= outer * outer && d2 >= inner * inner && inSpan(c, c.cx + dx, y)) {
      put(row, c.cx + from, c.cx + to);
    }
  }
}

/** Six at most: sorted by insertion, since a general sort costs more than all the rest here. */
function sortMarks(n: number): void {
  for (let i = 1; i < n; i++) {
    const mark = marks[i] as number;
    let j = i - 1;
    for (; j >= 0 && (marks[j] as number) > mark; j--) marks[j + 1] = marks[j] as number;
    marks[j + 1] = mark;
  }
}

/**
 * The points under sweeps. A sweep is a number: at it, `list` has where its stretches end and whether its joint was left
 * out, and then for each stretch the first point, the last one and the row. In numbers alone, since there are some ten
 * thousand, and an object for each costs more than all that is in it.
 */
export interface Sweeps {
  list: Int32Array;
  used: number;
  /** By the curves that went over the points, with this radius. */
  readonly known: Map<Curve, number>;
  radius: number;
}

/** Where the stretches of a sweep begin, and how many numbers each has. */
export const STRETCHES = 2;
export const STRETCH = 3;
const NOT_YET = -1;
/** 64 MB: a program of a million different moves gains nothing by what is kept of them. */
const MOST_KEPT = 1.6e7;

export function newSweeps(): Sweeps {
  return {
    list: new Int32Array(0),
    used: 0,
    known: new Map(),
    radius: Number.NaN,
  };
}

export const endOf = ({ list }: Sweeps, sweep: number): number => list[sweep] as number;

/** The sweep of a curve. May repeat points. `joint`: the disc at the start of the curve may be left out. */
export function sweepOf(
  points: Points,
  sweeps: Sweeps,
  curve: Curve,
  radius: number,
  joint: boolean,
): number {
  if (sweeps.radius !== radius || sweeps.used > MOST_KEPT) {
    sweeps.known.clear();
    sweeps.used = 0;
    sweeps.radius = radius;
  }
  const known = sweeps.known.get(curve) ?? NOT_YET;
  if (known !== NOT_YET && sweeps.list[known + 1] === (joint ? 1 : 0)) return known;
  const { count } = spansOf(curve, radius, points, joint);
  const sweep = sweeps.used;
  makeListRoom(sweeps, STRETCHES + STRETCH * count);
  addStretches(points, sweeps);
  sweeps.list[sweep + 1] = joint ? 1 : 0;
  sweeps.known.set(curve, sweep);
  return sweep;
}

function makeListRoom(sweeps: Sweeps, more: number): void {
  const { list, used } = sweeps;
  if (used + more <= list.length) return;
  sweeps.list = new Int32Array(2 * (used + more) + 4096);
  sweeps.list.set(list);
}

function addStretches({ x, pitch, columns }: Points, sweeps: Sweeps): void {
  const { list, used } = sweeps;
  const { ends, rows, count } = spans;
  let at = used + STRETCHES;
  for (let i = 0; i < count; i++) {
    const from = Math.ceil(((ends[2 * i] as number) - x) / pitch - 0.5);
    const to = Math.floor(((ends[2 * i + 1] as number) - x) / pitch - 0.5);
    if (to < from || to < 0 || from >= columns) continue;
    const row = rows[i] as number;
    list[at] = row * columns + Math.max(0, from);
    list[at + 1] = row * columns + Math.min(columns - 1, to);
    list[at + 2] = row;
    at += STRETCH;
  }
  list[used] = at;
  sweeps.used = at;
}
