/**
 * What hangs together at one level: the remaining material as runs on rows, joined from row to row.
 *
 * Rows lie `pitch` apart. Along a row the ends of the runs are exact for straight strokes and for full
 * and part circles alike (an arc's sweep is cut by the row in closed form); between rows nothing is
 * seen. So a bridge or a crumb thinner than the pitch across the rows may be missed, anything thicker is
 * found; no kerf is narrower than a cutter, which is many rows. Bound: `pitch` in Y, rounding in X.
 *
 * Cost: (stroke heights ÷ pitch) runs, sorted row by row.
 */

import { TAU } from "../../geometry/trig.ts";
import type { Reach } from "./coverage.ts";
import type { Curve } from "./curve.ts";
import { boxAround, inSpan } from "./curve.ts";

export interface Run {
  readonly from: number;
  readonly to: number;
  /** Number of the piece that it belongs to, set by `joinRows`. */
  piece: number;
}

export interface Rows {
  readonly x0: number;
  readonly x1: number;
  readonly y: number;
  readonly pitch: number;
  readonly rows: readonly (readonly Run[])[];
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
  const count = Math.max(1, Math.ceil((box[3] - box[1]) / pitch));
  const cuts: number[][] = Array.from({ length: count }, () => []);
  let before: Reach | undefined;
  for (const s of strokes) {
    addStroke(cuts, box[1], pitch, s, before);
    before = s;
  }
  return {
    x0: box[0],
    x1: box[2],
    y: box[1],
    pitch,
    rows: cuts.map((row) => remaining(row, box[0], box[2])),
  };
}

/** The disc at a joint of two strokes is entered once. */
function addStroke(
  cuts: number[][],
  y: number,
  pitch: number,
  s: Reach,
  before: Reach | undefined,
): void {
  const { curve: c, radius } = s;
  const joint =
    before !== undefined &&
    before.radius === radius &&
    before.curve.x1 === c.x0 &&
    before.curve.y1 === c.y0;
  const [, low, , high] = boxAround(c, radius);
  const first = Math.max(0, Math.ceil((low - y) / pitch - 0.5));
  const last = Math.min(cuts.length - 1, Math.floor((high - y) / pitch - 0.5));
  for (let j = first; j <= last; j++) {
    const row = cuts[j] as number[];
    const at = y + (j + 0.5) * pitch;
    if (!joint) disc(row, c.x0, c.y0, radius, at);
    if (c.x1 !== c.x0 || c.y1 !== c.y0) disc(row, c.x1, c.y1, radius, at);
    if (c.isArc) sector(row, c, radius, at);
    else if (c.length > 0) band(row, c, radius, at);
  }
}

function disc(row: number[], x: number, y: number, radius: number, at: number): void {
  const h2 = radius * radius - (at - y) * (at - y);
  if (h2 <= 0) return;
  const h = Math.sqrt(h2);
  row.push(x - h, x + h);
}

/** The rectangle round a straight stroke, which is convex: one span. */
function band(row: number[], c: Curve, radius: number, y: number): void {
  const nx = (-(c.y1 - c.y0) / c.length) * radius;
  const ny = ((c.x1 - c.x0) / c.length) * radius;
  low = Number.POSITIVE_INFINITY;
  high = Number.NEGATIVE_INFINITY;
  side(c.x0 + nx, c.y0 + ny, c.x1 + nx, c.y1 + ny, y);
  side(c.x1 + nx, c.y1 + ny, c.x1 - nx, c.y1 - ny, y);
  side(c.x1 - nx, c.y1 - ny, c.x0 - nx, c.y0 - ny, y);
  side(c.x0 - nx, c.y0 - ny, c.x0 + nx, c.y0 + ny, y);
  if (high > low) row.push(low, high);
}

// Where a row meets the rectangle at hand.
let low = 0;
let high = 0;

function side(xa: number, ya: number, xb: number, yb: number, y: number): void {
  if (ya > y === yb > y) return;
  const x = xa + ((y - ya) / (yb - ya)) * (xb - xa);
  if (x < low) low = x;
  if (x > high) high = x;
}

const marks: number[] = [];

/** The ring sector round an arc: cut the row where it may begin or end, judge the middles. */
function sector(row: number[], c: Curve, radius: number, y: number): void {
  marks.length = 0;
  const outer = c.r + radius;
  const inner = Math.max(0, c.r - radius);
  const dy = y - c.cy;
  const h2 = outer * outer - dy * dy;
  if (h2 <= 0) return;
  const h = Math.sqrt(h2);
  marks.push(c.cx - h, c.cx + h);
  const i2 = inner * inner - dy * dy;
  if (i2 > 0) marks.push(c.cx - Math.sqrt(i2), c.cx + Math.sqrt(i2));
  if (Math.abs(c.sweep) < FULL_TURN) {
    ray(c, c.x0, c.y0, dy);
    ray(c, c.x1, c.y1, dy);
  }
  marks.sort((a, b) => a - b);
  for (let i = 1; i < marks.length; i++) {
    const from = marks[i - 1] as number;
    const to = marks[i] as number;
    const x = (from + to) / 2;
    const d2 = (x - c.cx) * (x - c.cx) + dy * dy;
    if (d2 <= outer * outer && d2 >= inner * inner && inSpan(c, x, y)) row.push(from, to);
  }
}

const FULL_TURN: number = TAU - 1e-9;

/** Where the row meets the ray from the centre through an end. */
function ray(c: Curve, ex: number, ey: number, dy: number): void {
  const k = dy / (ey - c.cy);
  if (Number.isFinite(k)) marks.push(c.cx + k * (ex - c.cx));
}

/** The runs between the spans, which come in pairs. Sorted apart, starts and ends still count the depth. */
function remaining(cuts: readonly number[], x0: number, x1: number): Run[] {
  const n = cuts.length / 2;
  const starts = new Float64Array(n);
  const ends = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    starts[i] = cuts[2 * i] as number;
    ends[i] = cuts[2 * i + 1] as number;
  }
  starts.sort();
  ends.sort();
  const runs: Run[] = [];
  let at = x0;
  let e = 0;
  for (let i = 0; i < n; i++) {
    const from = starts[i] as number;
    // All that had begun has ended: a gap.
    if (i === e && from > at) {
      if (at >= x1) return runs;
      runs.push({ from: at, to: Math.min(from, x1), piece: -1 });
    }
    while (e < n && (ends[e] as number) < (starts[i + 1] ?? Number.POSITIVE_INFINITY)) e++;
    if (e === i + 1) at = Math.max(at, ends[i] as number);
  }
  if (at < x1) runs.push({ from: at, to: x1, piece: -1 });
  return runs;
}

/** Numbers the runs by the piece of material that they are part of. */
export function joinRows(rows: Rows): Piece[] {
  const parent: number[] = [];
  const find = (i: number): number => {
    let root = i;
    while (parent[root] !== root) root = parent[root] as number;
    while (parent[i] !== root) {
      const next = parent[i] as number;
      parent[i] = root;
      // biome-ignore lint/style/noParameterAssign: path halving.
      i = next;
    }
    return root;
  };
  rows.rows.forEach((row, j) => {
    const before = j > 0 ? (rows.rows[j - 1] as readonly Run[]) : [];
    let k = 0;
    for (const run of row) {
      run.piece = parent.length;
      parent.push(run.piece);
      while (k < before.length && (before[k] as Run).to <= run.from) k++;
      for (let m = k; m < before.length && (before[m] as Run).from < run.to; m++) {
        parent[find((before[m] as Run).piece)] = find(run.piece);
      }
    }
  });
  return collect(rows, find);
}

function collect(rows: Rows, find: (i: number) => number): Piece[] {
  const numbers = new Map<number, number>();
  const pieces: Piece[] = [];
  const last = rows.rows.length - 1;
  rows.rows.forEach((row, j) => {
    for (const run of row) {
      const root = find(run.piece);
      let n = numbers.get(root);
      if (n === undefined) {
        n = pieces.length;
        numbers.set(root, n);
        pieces.push({ area: 0, x: 0, y: 0, longest: 0, rows: 0, outer: false });
      }
      run.piece = n;
      const piece = pieces[n] as Piece;
      const length = run.to - run.from;
      piece.area += length * rows.pitch;
      piece.rows++;
      if (length > piece.longest) {
        piece.longest = length;
        piece.x = (run.from + run.to) / 2;
        piece.y = rows.y + (j + 0.5) * rows.pitch;
      }
      if (j === 0 || j === last || run.from <= rows.x0 || run.to >= rows.x1) piece.outer = true;
    }
  });
  return pieces;
}

/** The piece at a point, or −1 where the material is gone. */
export function pieceAt(rows: Rows, x: number, y: number): number {
  const row = rows.rows[Math.floor((y - rows.y) / rows.pitch)];
  if (row === undefined) return -1;
  for (const run of row) if (run.from <= x && x <= run.to) return run.piece;
  return -1;
}
