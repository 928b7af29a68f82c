/**
 * What hangs together at one level: the remaining material as runs on rows, joined from row to row.
 *
 * Rows lie `pitch` apart. Along a row the ends of the runs are exact for straight strokes and for full
 * and part circles alike (spans.ts); between rows nothing is seen. So a bridge or a crumb thinner than
 * the pitch across the rows may be missed, anything thicker is found; no kerf is narrower than a cutter,
 * which is many rows. Bound: `pitch` in Y, rounding in X.
 *
 * Cost: (stroke heights ÷ pitch) spans, sorted row by row; what strokes leave of rows costs those strokes alone.
 */
import type { Reach } from "./coverage.ts";
import { type Lattice, type Spans, spansOf } from "./spans.ts";

export interface Rows {
  readonly x0: number;
  readonly x1: number;
  readonly y: number;
  readonly pitch: number;
  /** Row j has the runs first[j] … first[j + 1] − 1, from left to right and apart. */
  readonly first: Int32Array;
  readonly from: Float64Array;
  readonly to: Float64Array;
  /** Number of the piece that a run belongs to, set by `joinRows`. */
  readonly piece: Int32Array;
}

export interface Piece {
  area: number;
  /** A point in it: in the middle of its longest run. */
  x: number;
  y: number;
  longest: number;
  rows: number;
  /** Touches the border of the box. */
  outer: boolean;
}

type Box = readonly [number, number, number, number];

/** Before anything is cut: one run a row. */
export function wholeRows([x0, y, x1, y1]: Box, pitch: number): Rows {
  const count = Math.max(1, Math.ceil((y1 - y) / pitch));
  left.count = 0;
  const first = new Int32Array(count + 1);
  for (let row = 0; row < count; row++) {
    addRun(x0, x1);
    first[row + 1] = left.count;
  }
  return rowsLeft({ x0, x1, y, pitch }, first);
}

/** What strokes leave of what has been left before. */
export function remainingRows(before: Rows, strokes: readonly Reach[]): Rows {
  const count = before.first.length - 1;
  hangAll({ y: before.y, pitch: before.pitch, count }, strokes);
  left.count = 0;
  const first = new Int32Array(count + 1);
  for (let row = 0; row < count; row++) {
    leaveOfRow(before, row);
    first[row + 1] = left.count;
  }
  return rowsLeft(before, first);
}

/** The runs that are left so far; used again and again. */
const left = { from: new Float64Array(4096), to: new Float64Array(4096), count: 0 };

function addRun(from: number, to: number): void {
  if (left.count === left.from.length) {
    left.from = doubled(left.from);
    left.to = doubled(left.to);
  }
  left.from[left.count] = from;
  left.to[left.count++] = to;
}

function rowsLeft(
  { x0, x1, y, pitch }: Pick<Rows, "x0" | "x1" | "y" | "pitch">,
  first: Int32Array,
): Rows {
  const { count } = left;
  const from = left.from.slice(0, count);
  const to = left.to.slice(0, count);
  return { x0, x1, y, pitch, first, from, to, piece: new Int32Array(count) };
}

function leaveOfRow(before: Rows, row: number): void {
  const spans = sortRow(row);
  const end = before.first[row + 1] as number;
  for (let run = before.first[row] as number; run < end; run++) {
    leave(before.from[run] as number, before.to[run] as number, spans);
  }
}

/** What the first `count` sorted spans leave between two places: before start i there is a gap where i spans have all ended. */
function leave(a: number, b: number, count: number): void {
  const { starts, ends } = sorted;
  for (let i = 0; i <= count; i++) {
    const from = i === 0 ? a : Math.max(a, ends[i - 1] as number);
    const to = i === count ? b : Math.min(b, starts[i] as number);
    if (to > from) addRun(from, to);
    if (from >= b) return;
  }
}

/**
 * The spans of all strokes, each hung on its row: on row j hangs span head[j], and by span i hangs span next[i]; −1 is none.
 * Used again and again, as are the spans of one row, starts and ends sorted apart.
 */
const hung = {
  head: new Int32Array(0),
  next: new Int32Array(0),
  ends: new Float64Array(0),
  count: 0,
};
const sorted = { starts: new Float64Array(64), ends: new Float64Array(64) };

function hangAll(lattice: Lattice, strokes: readonly Reach[]): void {
  if (hung.head.length < lattice.count) hung.head = new Int32Array(lattice.count);
  hung.head.fill(-1);
  hung.count = 0;
  let before: Reach | undefined;
  for (const s of strokes) {
    const { curve, radius } = s;
    // The disc at a joint of two strokes is entered once.
    const joint =
      curve.isArc &&
      before?.radius === radius &&
      before.curve.x1 === curve.x0 &&
      before.curve.y1 === curve.y0;
    before = s;
    hang(spansOf(curve, radius, lattice, joint));
  }
}

function hang({ rows, ends, count }: Spans): void {
  if (hung.count + count > hung.next.length) {
    const { next, ends: old } = hung;
    hung.next = new Int32Array(2 * (hung.count + count) + 4096);
    hung.ends = new Float64Array(2 * hung.next.length);
    hung.next.set(next);
    hung.ends.set(old);
  }
  const { head, next, ends: all } = hung;
  let at = hung.count;
  for (let i = 0; i < count; i++) {
    const row = rows[i] as number;
    all[2 * at] = ends[2 * i] as number;
    all[2 * at + 1] = ends[2 * i + 1] as number;
    next[at] = head[row] as number;
    head[row] = at++;
  }
  hung.count = at;
}

/** How many spans hang on a row, once they are sorted. */
function sortRow(row: number): number {
  const { head, next, ends } = hung;
  let n = 0;
  for (let at = head[row] as number; at >= 0; at = next[at] as number) {
    if (n === sorted.starts.length) {
      sorted.starts = doubled(sorted.starts);
      sorted.ends = doubled(sorted.ends);
    }
    sorted.starts[n] = ends[2 * at] as number;
    sorted.ends[n++] = ends[2 * at + 1] as number;
  }
  sortFirst(sorted.starts, n);
  sortFirst(sorted.ends, n);
  return n;
}

function doubled(list: Float64Array): Float64Array<ArrayBuffer> {
  const out = new Float64Array(2 * list.length);
  out.set(list);
  return out;
}

/** Few numbers are sorted sooner than the engine's sort is called. */
const FEW = 40;

function sortFirst(values: Float64Array, n: number): void {
  if (n > FEW) {
    values.subarray(0, n).sort();
    return;
  }
  for (let i = 1; i < n; i++) {
    const value = values[i] as number;
    let j = i - 1;
    for (; j >= 0 && (values[j] as number) > value; j--) values[j + 1] = values[j] as number;
    values[j + 1] = value;
  }
}

/** Numbers the runs by the piece of material that they are part of. */
export function joinRows(rows: Rows): Piece[] {
  const parent = new Int32Array(rows.from.length);
  for (let j = 0; j + 1 < rows.first.length; j++) joinRow(rows, parent, j);
  return collect(rows, parent);
}

/** Joins the runs of a row to those of the row before that they touch. */
function joinRow({ first, from, to }: Rows, parent: Int32Array, j: number): void {
  let k = first[Math.max(0, j - 1)] as number;
  const end = first[j] as number;
  const last = first[j + 1] as number;
  for (let run = end; run < last; run++) {
    parent[run] = run;
    while (k < end && (to[k] as number) <= (from[run] as number)) k++;
    for (let m = k; m < end && (from[m] as number) < (to[run] as number); m++) {
      parent[rootOf(parent, m)] = rootOf(parent, run);
    }
  }
}

function rootOf(parent: Int32Array, i: number): number {
  let at = i;
  while (parent[at] !== at) {
    // Halving the path keeps it short.
    parent[at] = parent[parent[at] as number] as number;
    at = parent[at] as number;
  }
  return at;
}

function collect(rows: Rows, parent: Int32Array): Piece[] {
  const { first, from, to, piece } = rows;
  const numbers = new Int32Array(from.length).fill(-1);
  const pieces: Piece[] = [];
  const last = first.length - 2;
  for (let j = 0; j <= last; j++) {
    for (let run = first[j] as number; run < (first[j + 1] as number); run++) {
      const root = rootOf(parent, run);
      let n = numbers[root] as number;
      if (n < 0) {
        n = pieces.length;
        numbers[root] = n;
        pieces.push({ area: 0, x: 0, y: 0, longest: 0, rows: 0, outer: false });
      }
      piece[run] = n;
      const a = from[run] as number;
      const b = to[run] as number;
      grow(pieces[n] as Piece, a, b, rows, j);
      if (j === 0 || j === last || a <= rows.x0 || b >= rows.x1) (pieces[n] as Piece).outer = true;
    }
  }
  return pieces;
}

function grow(piece: Piece, from: number, to: number, rows: Rows, row: number): void {
  const length = to - from;
  piece.area += length * rows.pitch;
  piece.rows++;
  if (length <= piece.longest) return;
  piece.longest = length;
  piece.x = (from + to) / 2;
  piece.y = rows.y + (row + 0.5) * rows.pitch;
}

/** The piece at a point, or −1 where the material is gone. */
export function pieceAt(rows: Rows, x: number, y: number): number {
  const row = Math.floor((y - rows.y) / rows.pitch);
  if (row < 0 || row + 1 >= rows.first.length) return -1;
  for (let i = rows.first[row] as number; i < (rows.first[row + 1] as number); i++) {
    if ((rows.from[i] as number) <= x && x <= (rows.to[i] as number)) {
      return rows.piece[i] as number;
    }
  }
  return -1;
}
