/**
 * The stock as it is when a stroke begins: how deep it has been cut at a point so far.
 *
 * Strokes are entered one after the other in the order of the program, so a question asked between two
 * strokes is answered for that moment. A stroke is entered in the cells along its way; where a level
 * stroke covers a cell whole, the cell's *floor* drops to its tip and everything above it is forgotten.
 * So a question looks at one floor and at the few strokes that went deeper, newest first.
 *
 * Bound: exact for level strokes and straight ramps; along a helix the tip's height at the rim is taken
 * from the arc's chord, which is off by less than a hundredth of the helix's fall over one cutter.
 */
import { type Curve, distanceToPoint, nearestT, xAt, yAt } from "./curve.ts";
import { columnOf, rowOf } from "./grid.ts";
import type { Stroke } from "./stroke.ts";

export interface Stock {
  readonly cell: number;
  readonly x: number;
  readonly y: number;
  readonly columns: number;
  readonly rows: number;
  readonly cells: (Stroke[] | undefined)[];
  readonly floors: Float64Array;
}

const CELL = 0.5;
/** A cell counts as covered whole when its corners are this far inside: an arc's inner rim bulges between them. */
const BULGE = 0.06;

type Box = readonly [number, number, number, number];

export function newStock(box: Box): Stock {
  const columns = Math.max(1, Math.ceil((box[2] - box[0]) / CELL));
  const rows = Math.max(1, Math.ceil((box[3] - box[1]) / CELL));
  return {
    cell: CELL,
    x: box[0],
    y: box[1],
    columns,
    rows,
    cells: new Array<Stroke[] | undefined>(columns * rows),
    floors: new Float64Array(columns * rows),
  };
}

export function cut(stock: Stock, stroke: Stroke): void {
  const { curve, radius } = stroke;
  const n = Math.max(1, Math.ceil(curve.length / (2 * stock.cell)));
  // An arc bulges from its chord by less than this between two steps.
  const by = curve.isArc ? radius + sagitta(curve, n) : radius;
  const covers = stroke.z0 === stroke.z1 && hasNoHole(curve, radius);
  let xa = curve.x0;
  let ya = curve.y0;
  for (let i = 1; i <= n; i++) {
    const xb = xAt(curve, i / n);
    const yb = yAt(curve, i / n);
    enterBox(
      stock,
      stroke,
      [Math.min(xa, xb) - by, Math.min(ya, yb) - by, Math.max(xa, xb) + by, Math.max(ya, yb) + by],
      covers,
    );
    xa = xb;
    ya = yb;
  }
}

function sagitta(c: Curve, n: number): number {
  const step = c.length / n;
  return (step * step) / (8 * c.r) + 1e-9;
}

/** The sweep of a tight arc may leave a hole that is smaller than a cell. */
function hasNoHole(c: Curve, radius: number): boolean {
  return !c.isArc || c.r <= radius || c.r - radius >= CELL * 1.5;
}

function enterBox(stock: Stock, s: Stroke, box: Box, covers: boolean): void {
  const { cells, floors, columns } = stock;
  const tip = Math.min(s.z0, s.z1);
  const i0 = columnOf(stock, box[0]);
  const i1 = columnOf(stock, box[2]);
  const j1 = rowOf(stock, box[3]);
  for (let j = rowOf(stock, box[1]); j <= j1; j++) {
    for (let i = i0; i <= i1; i++) {
      const at = j * columns + i;
      if ((floors[at] as number) <= tip) continue;
      const list = cells[at];
      if (list !== undefined && list[list.length - 1] === s) continue;
      const d = distanceToPoint(s.curve, stock.x + (i + 0.5) * CELL, stock.y + (j + 0.5) * CELL);
      if (d > s.radius + HALF_DIAGONAL) continue;
      if (covers && d <= s.radius - HALF_DIAGONAL - BULGE) lower(stock, at, tip);
      else if (list === undefined) cells[at] = [s];
      else list.push(s);
    }
  }
}

const HALF_DIAGONAL: number = (CELL * Math.SQRT2) / 2;

/** The whole cell is at `tip`: only strokes that went deeper still count. */
function lower(stock: Stock, at: number, tip: number): void {
  stock.floors[at] = tip;
  const list = stock.cells[at];
  if (list === undefined) return;
  const deeper = list.filter((o) => o.z0 < tip || o.z1 < tip);
  stock.cells[at] = deeper.length === 0 ? undefined : deeper;
}

/**
 * Top of the material at a point: 0 where nothing was cut, else the lowest tip so far. Any answer at or
 * below `enough` may be returned as soon as one is found.
 */
export function topAt(stock: Stock, x: number, y: number, enough: number): number {
  const at = rowOf(stock, y) * stock.columns + columnOf(stock, x);
  let top = stock.floors[at] as number;
  const list = stock.cells[at];
  if (top <= enough || list === undefined) return top;
  for (let k = list.length - 1; k >= 0; k--) {
    const s = list[k] as Stroke;
    if (s.z0 >= top && s.z1 >= top) continue;
    const d = distanceToPoint(s.curve, x, y);
    if (d > s.radius) continue;
    const tip = s.z0 === s.z1 ? s.z0 : tipOver(s, x, y, d);
    if (tip >= top) continue;
    top = tip;
    if (top <= enough) return top;
  }
  return top;
}

/** Lowest tip of a sloping stroke while it covers a point at distance `d` from its way. */
function tipOver(s: Stroke, x: number, y: number, d: number): number {
  const { curve, radius } = s;
  if (curve.length === 0) return Math.min(s.z0, s.z1);
  let t: number;
  if (curve.isArc) {
    const half = Math.sqrt(Math.max(0, radius * radius - d * d)) / curve.length;
    t = nearestT(curve, x, y) + (s.z1 < s.z0 ? half : -half);
  } else {
    // Off the ends the half chord is measured from the foot on the endless line.
    const ux = (curve.x1 - curve.x0) / curve.length;
    const uy = (curve.y1 - curve.y0) / curve.length;
    const off = (x - curve.x0) * uy - (y - curve.y0) * ux;
    const along = (x - curve.x0) * ux + (y - curve.y0) * uy;
    const h = Math.sqrt(Math.max(0, radius * radius - off * off));
    t = (s.z1 < s.z0 ? along + h : along - h) / curve.length;
  }
  return s.z0 + (s.z1 - s.z0) * Math.min(1, Math.max(0, t));
}
