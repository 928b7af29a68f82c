/**
 * The stock as it is when a stroke begins: how deep it has been cut at a point so far.
 *
 * Strokes are entered one after the other in the order of the program, so a question asked between two
 * strokes is answered for that moment. A stroke is entered in the cells along its way; a question looks
 * through one cell, newest first, and may stop as soon as the answer is low enough.
 *
 * Bound: exact for level strokes and straight ramps; along a helix the tip's height at the rim is taken
 * from the arc's chord, which is off by less than a hundredth of the helix's fall over one cutter.
 */
import { type Curve, distanceToPoint, nearestT, xAt, yAt } from "./curve.ts";
import { columnOf, type Grid, newGrid, rowOf } from "./grid.ts";
import type { Stroke } from "./stroke.ts";

export interface Stock {
  readonly grid: Grid;
  readonly strokes: Stroke[];
}

const CELL = 1;

export function newStock(box: readonly [number, number, number, number]): Stock {
  return { grid: newGrid(box, CELL, 0), strokes: [] };
}

export function cut(stock: Stock, stroke: Stroke): void {
  const { grid, strokes } = stock;
  const id = strokes.length;
  strokes.push(stroke);
  const { curve, radius } = stroke;
  const n = Math.max(1, Math.ceil(curve.length / grid.cell));
  let xa = curve.x0;
  let ya = curve.y0;
  for (let i = 1; i <= n; i++) {
    const xb = xAt(curve, i / n);
    const yb = yAt(curve, i / n);
    // An arc bulges from its chord by less than this between two steps.
    const by = curve.isArc ? radius + sagitta(curve, n) : radius;
    enterBox(grid, id, Math.min(xa, xb) - by, Math.min(ya, yb) - by, Math.max(xa, xb) + by, Math.max(ya, yb) + by);
    xa = xb;
    ya = yb;
  }
}

function sagitta(c: Curve, n: number): number {
  const step = c.length / n;
  return (step * step) / (8 * c.r) + 1e-9;
}

function enterBox(grid: Grid, id: number, x0: number, y0: number, x1: number, y1: number): void {
  const i0 = columnOf(grid, x0);
  const i1 = columnOf(grid, x1);
  const j1 = rowOf(grid, y1);
  for (let j = rowOf(grid, y0); j <= j1; j++) {
    for (let i = i0; i <= i1; i++) {
      const at = j * grid.columns + i;
      const list = grid.cells[at];
      if (list === undefined) grid.cells[at] = [id];
      else if (list[list.length - 1] !== id) list.push(id);
    }
  }
}

/**
 * Top of the material at a point: 0 where nothing was cut, else the lowest tip so far. Any answer at or
 * below `enough` may be returned as soon as one is found.
 */
export function topAt(stock: Stock, x: number, y: number, enough: number): number {
  const { grid, strokes } = stock;
  const list = grid.cells[rowOf(grid, y) * grid.columns + columnOf(grid, x)];
  let top = 0;
  if (list === undefined) return top;
  for (let k = list.length - 1; k >= 0; k--) {
    const s = strokes[list[k] as number] as Stroke;
    if (s.z0 >= top && s.z1 >= top) continue;
    const d = distanceToPoint(s.curve, x, y);
    if (d > s.radius) continue;
    const tip = s.z0 === s.z1 ? s.z0 : tipOver(s, x, y, d);
    if (tip < top) {
      top = tip;
      if (top <= enough) return top;
    }
  }
  return top;
}

/** Lowest tip of a sloping stroke while it covers a point at distance `d` from its way. */
function tipOver(s: Stroke, x: number, y: number, d: number): number {
  const { curve, radius } = s;
  if (curve.length === 0) return Math.min(s.z0, s.z1);
  const half = Math.sqrt(Math.max(0, radius * radius - d * d)) / curve.length;
  let t = nearestT(curve, x, y);
  if (!curve.isArc) {
    // Off the ends the half chord is measured from the foot on the endless line.
    const ux = (curve.x1 - curve.x0) / curve.length;
    const uy = (curve.y1 - curve.y0) / curve.length;
    const off = (x - curve.x0) * uy - (y - curve.y0) * ux;
    const along = (x - curve.x0) * ux + (y - curve.y0) * uy;
    const h = Math.sqrt(Math.max(0, radius * radius - off * off));
    t = (s.z1 < s.z0 ? along + h : along - h) / curve.length;
  } else t += s.z1 < s.z0 ? half : -half;
  return s.z0 + (s.z1 - s.z0) * Math.min(1, Math.max(0, t));
}
