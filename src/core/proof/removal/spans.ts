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

/** A list that is used again and again, and grows where it must. */
export interface Spans {
  /** Span i goes from ends[2 i] to ends[2 i + 1] on row rows[i]. */
  ends: Float64Array;
  rows: Int32Array;
  count: number;
}

/** Two discs and three stretches of a sector at most. */
const MOST_IN_ROW = 5;

export function newSpans(): Spans {
  return { ends: new Float64Array(1024), rows: new Int32Array(512), count: 0 };
}

function makeRoom(list: Spans, more: number): void {
  const wanted = list.count + more;
  if (wanted <= list.rows.length) return;
  const { ends, rows } = list;
  list.ends = new Float64Array(4 * wanted);
  list.rows = new Int32Array(2 * wanted);
  list.ends.set(ends);
  list.rows.set(rows);
}

/** Adds the spans of all rows that a sweep meets. `joint`: the disc at the start may be left out. */
export function addSpans(
  list: Spans,
  c: Curve,
  radius: number,
  lattice: Lattice,
  joint: boolean,
): void {
  const { y, pitch, count } = lattice;
  const first = Math.max(0, Math.ceil((c.low - radius - y) / pitch - 0.5));
  const last = Math.min(count - 1, Math.floor((c.high + radius - y) / pitch - 0.5));
  if (last < first) return;
  makeRoom(list, (last - first + 1) * MOST_IN_ROW);
  const band = { y, pitch, first, last };
  if (c.isArc) alongArc(list, c, radius, band, joint);
  else alongLine(list, c, radius, band, joint);
}

interface Band {
  readonly y: number;
  readonly pitch: number;
  readonly first: number;
  readonly last: number;
}

function put(list: Spans, row: number, from: number, to: number): void {
  const { ends, rows, count } = list;
  ends[2 * count] = from;
  ends[2 * count + 1] = to;
  rows[count] = row;
  list.count = count + 1;
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
function alongLine(list: Spans, c: Curve, radius: number, band: Band, joint: boolean): void {
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
    const start = start2 > 0 ? Math.sqrt(start2) : 0;
    if (start2 > 0) widen(x0 - start, x0 + start);
    if (length > 0) {
      const end2 = r2 - (y - y1) * (y - y1);
      if (end2 > 0) widen(x1 - Math.sqrt(end2), x1 + Math.sqrt(end2));
      widenBySide((y - y0 - ny) / dy, x0 + nx, dx);
      widenBySide((y - y0 + ny) / dy, x0 - nx, dx);
    }
    // The disc at the start may be cut out of the one span that there is, since that holds all of it.
    if (joint && start2 > 0) putRange(list, row, x0 - start, x0 + start);
    else putRange(list, row, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY);
  }
}

/** The range less what lies between `from` and `to`. */
function putRange(list: Spans, row: number, from: number, to: number): void {
  const low = range[0] as number;
  const high = range[1] as number;
  if (!(high > low)) return;
  if (low < from) put(list, row, low, from);
  if (high > to) put(list, row, Math.max(low, to), high);
}

function alongArc(list: Spans, c: Curve, radius: number, band: Band, joint: boolean): void {
  const r2 = radius * radius;
  const closed = c.x1 === c.x0 && c.y1 === c.y0;
  for (let row = band.first; row <= band.last; row++) {
    const y = band.y + (row + 0.5) * band.pitch;
    if (!joint) disc(list, row, c.x0, r2 - (y - c.y0) * (y - c.y0));
    if (!closed) disc(list, row, c.x1, r2 - (y - c.y1) * (y - c.y1));
    sector(list, c, radius, row, y);
  }
}

function disc(list: Spans, row: number, x: number, h2: number): void {
  if (h2 <= 0) return;
  const h = Math.sqrt(h2);
  put(list, row, x - h, x + h);
}

const marks = new Float64Array(6);

/** The ring sector round an arc: cut the row where it may begin or end, judge the middles. */
function sector(list: Spans, c: Curve, radius: number, row: number, y: number): void {
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
      put(list, row, c.cx + from, c.cx + to);
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

/** The points under a sweep: first, last and row of each stretch of them, list[first] to list[end − 1]. May repeat points. */
export interface Swept {
  readonly radius: number;
  readonly joint: boolean;
  readonly list: Int32Array;
  readonly first: number;
  readonly end: number;
  /** No more points than this. */
  readonly most: number;
}

/** What has been swept of some points, by the curves that went over them. */
export interface Sweeps {
  readonly known: Map<Curve, Swept>;
  /** Where the next one goes: they share arrays, since an array of its own costs more than all that is in it. */
  list: Int32Array;
  used: number;
  readonly spans: Spans;
}

const CHUNK = 1 << 15;

export function newSweeps(): Sweeps {
  return { known: new Map(), list: new Int32Array(CHUNK), used: 0, spans: newSpans() };
}

/** `joint`: the disc at the start of the curve may be left out. */
export function sweptBy(
  points: Points,
  sweeps: Sweeps,
  { curve, radius }: { readonly curve: Curve; readonly radius: number },
  joint: boolean,
): Swept {
  const known = sweeps.known.get(curve);
  if (known !== undefined && known.joint === joint && known.radius === radius) return known;
  const { x, pitch, columns } = points;
  const { spans } = sweeps;
  spans.count = 0;
  addSpans(spans, curve, radius, points, joint);
  if (sweeps.used + 3 * spans.count > sweeps.list.length) {
    sweeps.list = new Int32Array(Math.max(CHUNK, 3 * spans.count));
    sweeps.used = 0;
  }
  const { list, used: first } = sweeps;
  let end = first;
  let most = 0;
  for (let i = 0; i < spans.count; i++) {
    const from = Math.ceil(((spans.ends[2 * i] as number) - x) / pitch - 0.5);
    const to = Math.floor(((spans.ends[2 * i + 1] as number) - x) / pitch - 0.5);
    if (to < from || to < 0 || from >= columns) continue;
    const row = spans.rows[i] as number;
    list[end] = row * columns + Math.max(0, from);
    list[end + 1] = row * columns + Math.min(columns - 1, to);
    list[end + 2] = row;
    end += 3;
    most += to - from + 1;
  }
  sweeps.used = end;
  const swept = { radius, joint, list, first, end, most };
  sweeps.known.set(curve, swept);
  return swept;
}
