/**
 * The largest upright rectangle inside a polygon of straight edges: no larger than the true one, and smaller by
 * two cells of a grid a side at most.
 *
 * Cells that an edge may pass through count as outside. Then the largest rectangle of free cells, row by row
 * over the heights of free columns; its sides are then moved out until they meet the polygon.
 * Cost: O(cells + edges × cells along them).
 * Source: largest rectangle under a histogram with a stack, Morgan, Programming from Specifications, 1990.
 */
import { bounds, contains } from "../../geometry/contour.ts";
import type { Box, Contour } from "../../geometry/shape.ts";

/** Cells along the longer side. */
const CELLS = 400;

interface Cells {
  readonly x0: number;
  readonly y0: number;
  readonly size: number;
  readonly columns: number;
  readonly rows: number;
  /** 1: free. */
  readonly free: Uint8Array;
}

export function largestRectangle(outline: Contour): Box {
  const cells = cellsOf(outline);
  const { columns, rows, size, x0, y0 } = cells;
  const heights = new Int32Array(columns + 1);
  const best = { area: 0, column: 0, row: 0, wide: 0, high: 0 };
  for (let row = 0; row < rows; row++) {
    for (let c = 0; c < columns; c++) {
      heights[c] = cells.free[row * columns + c] === 1 ? (heights[c] as number) + 1 : 0;
    }
    widestOver(heights, row, best);
  }
  const left = x0 + best.column * size;
  const low = y0 + (best.row - best.high + 1) * size;
  const found = { x0: left, y0: low, x1: left + best.wide * size, y1: low + best.high * size };
  if (best.area === 0) return { min: { x: left, y: low }, max: { x: left, y: low } };
  found.x1 = wayOut(outline, found, "x", 1);
  found.x0 = wayOut(outline, found, "x", -1);
  found.y1 = wayOut(outline, found, "y", 1);
  found.y0 = wayOut(outline, found, "y", -1);
  return { min: { x: found.x0, y: found.y0 }, max: { x: found.x1, y: found.y1 } };
}

interface Sides {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Where the side of a rectangle that lies inside meets the polygon when it is moved out along an axis. */
function wayOut(outline: Contour, r: Sides, axis: "x" | "y", sign: 1 | -1): number {
  const across = axis === "x" ? "y" : "x";
  const [low, high] = axis === "x" ? [r.y0, r.y1] : [r.x0, r.x1];
  const start = sign * (axis === "x" ? (sign > 0 ? r.x1 : r.x0) : sign > 0 ? r.y1 : r.y0);
  let nearest = Number.POSITIVE_INFINITY;
  for (const { from, to } of outline.segments) {
    const a = from[across];
    const b = to[across];
    if (Math.max(a, b) <= low || Math.min(a, b) >= high) continue;
    const at = (v: number): number => {
      const t = (Math.min(Math.max(v, low), high) - a) / (b - a);
      return sign * (from[axis] + t * (to[axis] - from[axis]));
    };
    const [p, q] = a === b ? [sign * from[axis], sign * to[axis]] : [at(a), at(b)];
    // What does not end behind the side lies before it: no edge goes through the rectangle.
    if (Math.max(p, q) > start - MARGIN)
      nearest = Math.min(nearest, Math.max(start, Math.min(p, q)));
  }
  return sign * (nearest === Number.POSITIVE_INFINITY ? start : nearest);
}

interface Best {
  area: number;
  column: number;
  row: number;
  wide: number;
  high: number;
}

/** Best rectangle that ends on this row. */
function widestOver(heights: Int32Array, row: number, best: Best): void {
  const stack: number[] = [];
  for (let c = 0; c < heights.length; c++) {
    while (
      stack.length > 0 &&
      (heights[stack.at(-1) as number] as number) >= (heights[c] as number)
    ) {
      const high = heights[stack.pop() as number] as number;
      const column = stack.length === 0 ? 0 : (stack.at(-1) as number) + 1;
      const area = high * (c - column);
      if (area > best.area) Object.assign(best, { area, column, row, wide: c - column, high });
    }
    stack.push(c);
  }
}

function cellsOf(outline: Contour): Cells {
  const { min, max } = bounds(outline);
  const size = Math.max(max.x - min.x, max.y - min.y, 1e-6) / CELLS;
  const columns = Math.max(1, Math.ceil((max.x - min.x) / size));
  const rows = Math.max(1, Math.ceil((max.y - min.y) / size));
  const cells: Cells = {
    x0: min.x,
    y0: min.y,
    size,
    columns,
    rows,
    free: new Uint8Array(columns * rows),
  };
  const crossed = new Uint8Array(columns * rows);
  for (const { from, to } of outline.segments) {
    // Pieces of a cell's length: each lies in the box of its ends, and marks the cells of that box.
    const length = Math.max(Math.abs(to.x - from.x), Math.abs(to.y - from.y));
    const n = Math.max(1, Math.ceil(length / size));
    for (let i = 0; i < n; i++) {
      const a = { x: from.x + ((to.x - from.x) * i) / n, y: from.y + ((to.y - from.y) * i) / n };
      const j = (i + 1) / n;
      const b = { x: from.x + (to.x - from.x) * j, y: from.y + (to.y - from.y) * j };
      mark(cells, crossed, a, b);
    }
  }
  fill(cells, crossed, outline);
  return cells;
}

type Spot = { readonly x: number; readonly y: number };

function mark(cells: Cells, crossed: Uint8Array, a: Spot, b: Spot): void {
  const { x0, y0, size, columns, rows } = cells;
  const at = (v: number, start: number, last: number): number =>
    Math.min(last, Math.max(0, Math.floor((v - start) / size)));
  const c1 = at(Math.max(a.x, b.x) + MARGIN, x0, columns - 1);
  const r1 = at(Math.max(a.y, b.y) + MARGIN, y0, rows - 1);
  for (let r = at(Math.min(a.y, b.y) - MARGIN, y0, rows - 1); r <= r1; r++) {
    for (let c = at(Math.min(a.x, b.x) - MARGIN, x0, columns - 1); c <= c1; c++) {
      crossed[r * columns + c] = 1;
    }
  }
}

/** Against the last digits, mm. */
const MARGIN = 1e-9;

/** Between two crossed cells of a row all are inside or all outside: one is asked for all. */
function fill(cells: Cells, crossed: Uint8Array, outline: Contour): void {
  const { x0, y0, size, columns, rows, free } = cells;
  for (let r = 0; r < rows; r++) {
    let known = -1;
    for (let c = 0; c < columns; c++) {
      const k = r * columns + c;
      if (crossed[k] === 1) {
        known = -1;
        continue;
      }
      if (known < 0) {
        const middle = { x: x0 + (c + 0.5) * size, y: y0 + (r + 0.5) * size };
        known = contains(outline, middle) ? 1 : 0;
      }
      free[k] = known;
    }
  }
}
