/**
 * Where a row (a line of equal y) lies in the sweep of a curve by a disc, in closed form.
 *
 * Words: a *span* is a stretch of the row, given as two numbers: from, to. The spans of one sweep may
 * overlap, since an arc's is put together from the discs at its ends and the ring sector between them; a
 * straight sweep is convex and gives one span. Exact to rounding.
 */
import { type Curve, FULL, inSpan } from "./curve.ts";

/** A list that is used again and again: emptying an array gives its room away. */
export interface Spans {
  readonly values: Float64Array;
  /** Numbers in it, two a span. */
  count: number;
}

/** Two discs and three stretches of a sector at most. */
export function newSpans(): Spans {
  return { values: new Float64Array(16), count: 0 };
}

/** Sets the list to the spans of the row at `y`. `joint`: the disc at the start may be left out. */
export function setSpans(list: Spans, c: Curve, radius: number, y: number, joint: boolean): void {
  list.count = 0;
  if (!c.isArc) {
    capsule(list, c, radius, y);
    if (joint && list.count > 0) withoutStart(list, c, radius * radius - (y - c.y0) * (y - c.y0));
    return;
  }
  const r2 = radius * radius;
  if (!joint) disc(list, c.x0, r2 - (y - c.y0) * (y - c.y0));
  if (c.x1 !== c.x0 || c.y1 !== c.y0) disc(list, c.x1, r2 - (y - c.y1) * (y - c.y1));
  sector(list, c, radius, y);
}

function put({ values }: Spans, at: number, from: number, to: number): number {
  values[at] = from;
  values[at + 1] = to;
  return at + 2;
}

function disc(list: Spans, x: number, h2: number): void {
  if (h2 <= 0) return;
  const h = Math.sqrt(h2);
  list.count = put(list, list.count, x - h, x + h);
}

/** The discs at both ends and the two long sides between them: convex, so the outermost meetings are all. */
function capsule(list: Spans, c: Curve, radius: number, y: number): void {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const r2 = radius * radius;
  const a2 = r2 - (y - c.y0) * (y - c.y0);
  if (a2 > 0) {
    const h = Math.sqrt(a2);
    low = c.x0 - h;
    high = c.x0 + h;
  }
  if (c.length > 0) {
    const b2 = r2 - (y - c.y1) * (y - c.y1);
    if (b2 > 0) {
      const h = Math.sqrt(b2);
      low = Math.min(low, c.x1 - h);
      high = Math.max(high, c.x1 + h);
    }
    const dx = c.x1 - c.x0;
    const dy = c.y1 - c.y0;
    const nx = (-dy / c.length) * radius;
    const ny = (dx / c.length) * radius;
    const left = (y - c.y0 - ny) / dy;
    if (left >= 0 && left <= 1) {
      low = Math.min(low, c.x0 + nx + left * dx);
      high = Math.max(high, c.x0 + nx + left * dx);
    }
    const right = (y - c.y0 + ny) / dy;
    if (right >= 0 && right <= 1) {
      low = Math.min(low, c.x0 - nx + right * dx);
      high = Math.max(high, c.x0 - nx + right * dx);
    }
  }
  if (high > low) list.count = put(list, 0, low, high);
}

/** Cuts the disc at the start out of the one span that there is, which holds all of it. */
function withoutStart(list: Spans, c: Curve, h2: number): void {
  if (h2 <= 0) return;
  const h = Math.sqrt(h2);
  const low = list.values[0] as number;
  const high = list.values[1] as number;
  list.count = 0;
  if (low < c.x0 - h) list.count = put(list, list.count, low, c.x0 - h);
  if (high > c.x0 + h) list.count = put(list, list.count, c.x0 + h, high);
}

const marks = new Float64Array(6);

/** The ring sector round an arc: cut the row where it may begin or end, judge the middles. */
function sector(list: Spans, c: Curve, radius: number, y: number): void {
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
    marks[n++] = -Math.sqrt(i2);
    marks[n++] = Math.sqrt(i2);
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
      list.count = put(list, list.count, c.cx + from, c.cx + to);
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
