/**
 * The largest upright rectangle inside a polygon of straight edges: no larger than the true one, and smaller by a
 * `PART`th of the polygon a side at most, that only where a slanted edge is in its way.
 *
 * Lines through all corners, and through points along slanted edges, cut the polygon's box into cells. Cells that an
 * edge passes through count as outside. Then the largest rectangle of free cells, row by row over the heights of free
 * columns; its sides are then moved out until they meet the polygon.
 * Cost: O(cells + rows × edges).
 * Source: largest rectangle under a histogram with a stack, Morgan, Programming from Specifications, 1990.
 */
import { bounds } from "../../geometry/contour.ts";
import type { Box, Contour } from "../../geometry/shape.ts";

/** Slanted edges are cut into pieces of this part of the longer side. */
const PART = 64;

export function largestRectangle(outline: Contour): Box {
  const xs = linesOf(outline, "x");
  const ys = linesOf(outline, "y");
  const columns = xs.length - 1;
  const row = new Uint8Array(columns);
  /** Lower end of what is free above one another in each column, up to the row. */
  const from = new Float64Array(columns).fill(ys[0] ?? 0);
  const best = { area: 0, x0: xs[0] ?? 0, y0: ys[0] ?? 0, x1: xs[0] ?? 0, y1: ys[0] ?? 0 };
  for (let r = 0; r + 1 < ys.length; r++) {
    const low = ys[r] as number;
    const high = ys[r + 1] as number;
    freeCells(outline, xs, { low, high }, row);
    for (let c = 0; c < columns; c++) if (row[c] === 0) from[c] = high;
    widestOver(from, xs, high, best);
  }
  const found = { x0: best.x0, y0: best.y0, x1: best.x1, y1: best.y1 };
  if (best.area > 0) {
    found.x0 += ALIKE;
    found.y0 += ALIKE;
    found.x1 -= ALIKE;
    found.y1 -= ALIKE;
    found.x1 = wayOut(outline, found, "x", 1);
    found.x0 = wayOut(outline, found, "x", -1);
    found.y1 = wayOut(outline, found, "y", 1);
    found.y0 = wayOut(outline, found, "y", -1);
  }
  return { min: { x: found.x0, y: found.y0 }, max: { x: found.x1, y: found.y1 } };
}

/** Where lines across an axis run, ascending. */
function linesOf({ segments }: Contour, axis: "x" | "y"): number[] {
  const { min, max } = bounds({ segments });
  const long = Math.max(max.x - min.x, max.y - min.y);
  const at: number[] = [];
  for (const { from, to } of segments) {
    const n = Math.ceil((PART * Math.min(Math.abs(to.x - from.x), Math.abs(to.y - from.y))) / long);
    at.push(from[axis]);
    for (let i = 1; i < n; i++) at.push(from[axis] + ((to[axis] - from[axis]) * i) / n);
  }
  at.sort((a, b) => a - b);
  const lines: number[] = [];
  for (const v of at) if (lines.length === 0 || v - (lines.at(-1) as number) > ALIKE) lines.push(v);
  return lines;
}

interface Row {
  readonly low: number;
  readonly high: number;
}

/** 1 for every cell of a row that lies inside and that no edge passes through. */
function freeCells(
  { segments }: Contour,
  xs: readonly number[],
  { low, high }: Row,
  row: Uint8Array,
): void {
  const middle = (low + high) / 2;
  const crossings: number[] = [];
  row.fill(1);
  for (const { from, to } of segments) {
    const [a, b] = from.y < to.y ? [from, to] : [to, from];
    if (a.y >= high - ALIKE || b.y <= low + ALIKE) continue;
    const slope = a.y === b.y ? 0 : (b.x - a.x) / (b.y - a.y);
    const enters = a.y < low ? a.x + slope * (low - a.y) : a.x;
    const leaves = b.y > high ? a.x + slope * (high - a.y) : b.x;
    block(row, xs, Math.min(enters, leaves) + ALIKE, Math.max(enters, leaves) - ALIKE);
    if (a.y > middle !== b.y > middle) crossings.push(a.x + slope * (middle - a.y));
  }
  crossings.sort((a, b) => a - b);
  let passed = 0;
  for (let c = 0; c < row.length; c++) {
    const x = ((xs[c] as number) + (xs[c + 1] as number)) / 2;
    while (passed < crossings.length && (crossings[passed] as number) < x) passed++;
    if (passed % 2 === 0) row[c] = 0;
  }
}

/** Takes out the cells that reach into the open stretch from x0 to x1, or hold it. */
function block(row: Uint8Array, xs: readonly number[], x0: number, x1: number): void {
  let c = firstAbove(xs, x0) - 1;
  for (; c < row.length && (c < 0 || (xs[c] as number) < x1); c++) if (c >= 0) row[c] = 0;
}

/** The first line beyond a place. */
function firstAbove(xs: readonly number[], x: number): number {
  let low = 0;
  let high = xs.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((xs[middle] as number) > x) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Edges are upright or level, and on a line, that stray from it no further: clipping leaves their ends on a grid, mm. */
const ALIKE = 1e-4;
/** Against the last digits, mm. */
const MARGIN = 1e-9;

interface Best extends Sides {
  area: number;
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}

/** Best rectangle whose upper side is at `y1`, over columns that are free down to `from`. */
function widestOver(from: Float64Array, xs: readonly number[], y1: number, best: Best): void {
  const stack: number[] = [];
  for (let c = 0; c <= from.length; c++) {
    const here = c === from.length ? y1 : (from[c] as number);
    while (stack.length > 0 && (from[stack.at(-1) as number] as number) <= here) {
      const y0 = from[stack.pop() as number] as number;
      const x0 = xs[stack.length === 0 ? 0 : (stack.at(-1) as number) + 1] as number;
      const x1 = xs[c] as number;
      const area = (x1 - x0) * (y1 - y0);
      if (area > best.area) Object.assign(best, { area, x0, y0, x1, y1 });
    }
    stack.push(c);
  }
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
