/**
 * The area that strokes sweep, exactly: what no other stroke covers of each stroke's rim is the rim of all
 * of them, and the area inside it is a line integral over lines and arcs.
 */
import { covered, uncovered } from "../../../src/core/proof/removal/coverage.ts";
import {
  arcCurve,
  boxAround,
  type Curve,
  lineCurve,
  partOf,
} from "../../../src/core/proof/removal/curve.ts";
import { gridOf, visit } from "../../../src/core/proof/removal/grid.ts";
import type { Stroke } from "../../../src/core/proof/removal/stroke.ts";

/** Rims on one another count for the first of their strokes: wide above rounding, narrow below any wall. */
const TIE = 1e-7;

/** The rim of one stroke, counter-clockwise. Of an arc tighter than its cutter, the inner side is inside. */
function rimOf({ curve: c, radius }: Stroke): Curve[] {
  const full = Math.abs(c.sweep) > 2 * Math.PI - 1e-9;
  if (c.length === 0) return [circle(c.x0, c.y0, radius, 1)];
  if (!c.isArc) {
    const nx = (-(c.y1 - c.y0) / c.length) * radius;
    const ny = ((c.x1 - c.x0) / c.length) * radius;
    return [
      lineCurve(c.x0 - nx, c.y0 - ny, c.x1 - nx, c.y1 - ny),
      arcCurve([c.x1 - nx, c.y1 - ny, c.x1 + nx, c.y1 + ny], c.x1, c.y1, radius, Math.PI),
      lineCurve(c.x1 + nx, c.y1 + ny, c.x0 + nx, c.y0 + ny),
      arcCurve([c.x0 + nx, c.y0 + ny, c.x0 - nx, c.y0 - ny], c.x0, c.y0, radius, Math.PI),
    ];
  }
  const outer = c.r + radius;
  const inner = c.r - radius;
  if (full) {
    return [circle(c.cx, c.cy, outer, 1), ...(inner > 0 ? [circle(c.cx, c.cy, inner, -1)] : [])];
  }
  // From here on counter-clockwise along the way.
  const forward = c.sweep > 0;
  const [ax, ay, bx, by] = forward ? [c.x0, c.y0, c.x1, c.y1] : [c.x1, c.y1, c.x0, c.y0];
  const sweep = Math.abs(c.sweep);
  const at = (x: number, y: number, r: number): [number, number] => [
    c.cx + ((x - c.cx) * r) / c.r,
    c.cy + ((y - c.cy) * r) / c.r,
  ];
  const [a1, b1, a0, b0] = [
    at(ax, ay, outer),
    at(bx, by, outer),
    at(ax, ay, inner),
    at(bx, by, inner),
  ];
  return [
    arcCurve([...a1, ...b1], c.cx, c.cy, outer, sweep),
    arcCurve([...b1, ...b0], bx, by, radius, Math.PI),
    ...(inner > 0 ? [arcCurve([...b0, ...a0], c.cx, c.cy, inner, -sweep)] : []),
    arcCurve([...a0, ...a1], ax, ay, radius, Math.PI),
  ];
}

function circle(x: number, y: number, r: number, turn: 1 | -1): Curve {
  return arcCurve([x + r, y, x + r, y], x, y, r, turn * 2 * Math.PI);
}

/** ½ ∮ (x dy − y dx) along a piece. */
function integral(c: Curve): number {
  const chord = (c.x0 * c.y1 - c.x1 * c.y0) / 2;
  return c.isArc ? chord + (c.r * c.r * (c.sweep - Math.sin(c.sweep))) / 2 : chord;
}

/** The ends of a program's arc miss its circle by rounding; a rim wants them on it. */
function rounded(s: Stroke): Stroke {
  const { curve: c } = s;
  if (!c.isArc) return s;
  const at = (a: number): [number, number] => [c.cx + c.r * Math.cos(a), c.cy + c.r * Math.sin(a)];
  const full = Math.abs(c.sweep) > 2 * Math.PI - 1e-9;
  const [from, to] = [at(c.angle), at(full ? c.angle : c.angle + c.sweep)];
  return { ...s, curve: arcCurve([...from, ...to], c.cx, c.cy, c.r, c.sweep) };
}

export function exactArea(given: readonly Stroke[]): number {
  const strokes = given.map(rounded);
  const grid = gridOf(
    strokes.map((s) => boxAround(s.curve, s.radius)),
    3,
  );
  let area = 0;
  strokes.forEach((s, i) => {
    for (const rim of rimOf(s)) {
      const before: Stroke[] = [];
      const after: Stroke[] = [];
      visit(grid, boxAround(rim, TIE), (k) => {
        if (k < i) before.push(strokes[k] as Stroke);
        else if (k > i) after.push(strokes[k] as Stroke);
      });
      // The ends of a tight or long arc reach over its own rim.
      const own = s.curve.isArc ? [s] : [];
      const hidden = [
        ...covered(rim, before, TIE),
        ...covered(rim, after, -TIE),
        ...covered(rim, own, -TIE),
      ].sort((a, b) => a.from - b.from);
      for (const gap of uncovered(joined(hidden))) area += integral(partOf(rim, gap.from, gap.to));
    }
  });
  return area;
}

function joined(list: readonly { from: number; to: number }[]): { from: number; to: number }[] {
  const out: { from: number; to: number }[] = [];
  for (const s of list) {
    const last = out[out.length - 1];
    if (last !== undefined && s.from <= last.to) last.to = Math.max(last.to, s.to);
    else out.push({ ...s });
  }
  return out;
}
