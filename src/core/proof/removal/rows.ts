/**
 * What hangs together at one level: the remaining material as runs on rows, joined from row to row.
 *
 * Rows lie `pitch` apart. Along a row the ends of the runs are exact for straight strokes and for full
 * and part circles alike (spans.ts); between rows nothing is seen. So a bridge or a crumb thinner than
 * the pitch across the rows may be missed, anything thicker is found; no kerf is narrower than a cutter,
 * which is many rows. Bound: `pitch` in Y, rounding in X.
 *
 * Cost: (stroke heights ÷ pitch) spans, sorted row by row.
 */
import type { Reach } from "./coverage.ts";
import { addSpans, newSpans } from "./spans.ts";

export interface Rows {
  readonly x0: number;
  readonly x1: number;
  readonly y: number;
  readonly pitch: number;
  /** Row j has the runs first[j] … first[j + 1] − 1, from left to right and apart. */
  readonly first: Int32Array;
  readonly from: readonly number[];
  readonly to: readonly number[];
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

/** Runs of what the strokes leave of the box. */
export function remainingRows(box: Box, pitch: number, strokes: readonly Reach[]): Rows {
  const [x0, y, x1] = box;
  const count = Math.max(1, Math.ceil((box[3] - y) / pitch));
  const swept = sweptSpans(y, pitch, count, strokes);
  const first = new Int32Array(count + 1);
  const from: number[] = [];
  const to: number[] = [];
  for (let j = 0; j < count; j++) {
    const a = swept.first[j] as number;
    const b = swept.first[j + 1] as number;
    // Sorted apart: before start i there is a gap where the first i spans have all ended.
    sortPart(swept.starts, a, b);
    sortPart(swept.ends, a, b);
    for (let i = a; i <= b; i++) {
      const left = i === a ? x0 : Math.max(x0, swept.ends[i - 1] as number);
      const right = i === b ? x1 : Math.min(x1, swept.starts[i] as number);
      if (right <= left) continue;
      from.push(left);
      to.push(right);
    }
    first[j + 1] = from.length;
  }
  return { x0, x1, y, pitch, first, from, to, piece: new Int32Array(from.length) };
}

/** Few numbers are sorted sooner than the engine's sort is called. */
const FEW = 40;

function sortPart(values: Float64Array, first: number, end: number): void {
  if (end - first > FEW) {
    values.subarray(first, end).sort();
    return;
  }
  for (let i = first + 1; i < end; i++) {
    const value = values[i] as number;
    let j = i - 1;
    for (; j >= first && (values[j] as number) > value; j--) values[j + 1] = values[j] as number;
    values[j + 1] = value;
  }
}

interface Swept {
  readonly first: Int32Array;
  readonly starts: Float64Array;
  readonly ends: Float64Array;
}

/** All spans of all strokes, row by row. */
function sweptSpans(y: number, pitch: number, count: number, strokes: readonly Reach[]): Swept {
  const spans = newSpans();
  const lattice = { y, pitch, count };
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
    addSpans(spans, curve, radius, lattice, joint);
  }
  const first = new Int32Array(count + 1);
  for (let i = 0; i < spans.count; i++) {
    const row = spans.rows[i] as number;
    first[row + 1] = (first[row + 1] as number) + 1;
  }
  for (let j = 0; j < count; j++) first[j + 1] = (first[j + 1] as number) + (first[j] as number);
  const starts = new Float64Array(spans.count);
  const ends = new Float64Array(spans.count);
  const next = first.slice();
  for (let i = 0; i < spans.count; i++) {
    const row = spans.rows[i] as number;
    const at = next[row] as number;
    next[row] = at + 1;
    starts[at] = spans.ends[2 * i] as number;
    ends[at] = spans.ends[2 * i + 1] as number;
  }
  return { first, starts, ends };
}

/** Numbers the runs by the piece of material that they are part of. */
export function joinRows(rows: Rows): Piece[] {
  const { first, from, to } = rows;
  const parent = new Int32Array(from.length);
  const find = (i: number): number => {
    let at = i;
    while (parent[at] !== at) {
      // Halving the path keeps it short.
      parent[at] = parent[parent[at] as number] as number;
      at = parent[at] as number;
    }
    return at;
  };
  for (let j = 0; j + 1 < first.length; j++) {
    let k = first[Math.max(0, j - 1)] as number;
    const end = first[j] as number;
    for (let run = end; run < (first[j + 1] as number); run++) {
      parent[run] = run;
      while (k < end && (to[k] as number) <= (from[run] as number)) k++;
      for (let m = k; m < end && (from[m] as number) < (to[run] as number); m++) {
        parent[find(m)] = find(run);
      }
    }
  }
  return collect(rows, find);
}

function collect(rows: Rows, find: (i: number) => number): Piece[] {
  const { first, from, to, piece } = rows;
  const numbers = new Int32Array(from.length).fill(-1);
  const pieces: Piece[] = [];
  const last = first.length - 2;
  for (let j = 0; j <= last; j++) {
    for (let run = first[j] as number; run < (first[j + 1] as number); run++) {
      const root = find(run);
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
