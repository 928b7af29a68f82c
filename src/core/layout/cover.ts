/**
 * A polygon of few corners round a contour: it covers all that the contour covers, and goes no further out than is
 * asked for, so that what is kept apart from it is apart from the contour.
 *
 * Material lies on the left, as in all contours: a hole's polygon is covered likewise, that is, lies inside the hole.
 * Round the outside of an arc go tangents, across its inside chords. Then corners are taken out while that only adds
 * material: those that turn inward, and short sides between two that turn outward, whose neighbours are made to meet.
 *
 * Promise: no point of the polygon is further than `within` outside the contour, nor further than `filling` into a
 * bay of it, but in a bay whose mouth is no wider than twice that, which may be filled. It crosses itself nowhere that
 * chords of the contour would not.
 * Cost: O(n²) in the corners, n some dozens.
 */
import { chords } from "../geometry/contour.ts";
import { angleOf, pointAt } from "../geometry/segment.ts";
import type { Contour, Segment } from "../geometry/shape.ts";
import { acos, cos, sin } from "../geometry/trig.ts";

/** Corners x, y, x, y …, in the contour's direction. */
export function coverOf(contour: Contour, within: number, filling: number = within): number[] {
  const loop: Loop = { x: [], y: [], stray: [], before: [], after: [], left: 0 };
  for (const s of contour.segments) addSegment(loop, s, within, filling);
  const n = loop.x.length;
  for (let i = 0; i < n; i++) {
    loop.before.push((i + n - 1) % n);
    loop.after.push((i + 1) % n);
  }
  loop.left = n;
  thin(loop, within, filling);
  const out: number[] = [];
  for (let i = 0; i < n; i++) {
    if (loop.after[i] !== GONE) out.push(loop.x[i] as number, loop.y[i] as number);
  }
  return out;
}

/** Corners in a ring of links; `stray` is how much of what is allowed the side after a corner takes up, 0 … 1. */
interface Loop {
  readonly x: number[];
  readonly y: number[];
  readonly stray: number[];
  readonly before: number[];
  readonly after: number[];
  left: number;
}

const GONE = -1;

function addSegment({ x, y, stray }: Loop, s: Segment, within: number, filling: number): void {
  const add = (px: number, py: number, by: number): void => {
    x.push(px);
    y.push(py);
    stray.push(by);
  };
  if (s.kind === "line") {
    add(s.from.x, s.from.y, 0);
    return;
  }
  const { centre, radius, sweep } = s;
  if (sweep < 0) {
    const n = chords(radius, sweep, filling);
    const by = (radius * (1 - cos(sweep / n / 2))) / filling;
    add(s.from.x, s.from.y, by);
    for (let i = 1; i < n; i++) {
      const p = pointAt(s, i / n);
      add(p.x, p.y, by);
    }
    return;
  }
  const n = Math.ceil(sweep / (2 * acos(radius / (radius + within))));
  const out = radius / cos(sweep / n / 2);
  const start = angleOf(centre, s.from);
  add(s.from.x, s.from.y, (out - radius) / within);
  for (let i = 0; i < n; i++) {
    const a = start + ((i + 0.5) * sweep) / n;
    add(centre.x + out * cos(a), centre.y + out * sin(a), (out - radius) / within);
  }
}

function thin(loop: Loop, within: number, filling: number): void {
  const n = loop.x.length;
  let changed = true;
  while (changed) {
    changed = false;
    for (let i = 0; i < n && loop.left > 3; i++) {
      if (loop.after[i] !== GONE && (dropCorner(loop, i, filling) || dropSide(loop, i, within))) {
        changed = true;
      }
    }
  }
}

/** Twice the area of the triangle of three corners, above 0 where they turn left. */
function turnOf({ x, y }: Loop, a: number, b: number, c: number): number {
  const bx = x[b] as number;
  const by = y[b] as number;
  return (
    (bx - (x[a] as number)) * ((y[c] as number) - by) -
    (by - (y[a] as number)) * ((x[c] as number) - bx)
  );
}

/** Corners this near the line through their neighbours are none, mm. */
const STRAIGHT = 1e-6;

/** Takes out a corner that turns inward, or not at all. */
function dropCorner(loop: Loop, i: number, filling: number): boolean {
  const { x, y, stray, before, after } = loop;
  const a = before[i] as number;
  const c = after[i] as number;
  const turn = turnOf(loop, a, i, c);
  const dx = (x[c] as number) - (x[a] as number);
  const dy = (y[c] as number) - (y[a] as number);
  const length = Math.sqrt(dx * dx + dy * dy);
  if (turn > STRAIGHT * length) return false;
  const off = Math.min(turn < 0 ? -turn / length : 0, length / 2);
  const by = Math.max(stray[a] as number, stray[i] as number) + off / filling;
  if (off > 0 && by > 1) return false;
  const [ix, iy] = [x[i] as number, y[i] as number];
  if (off > STRAIGHT && !isEmpty(loop, [a, c, i], ix, iy)) return false;
  stray[a] = by;
  takeOut(loop, i);
  return true;
}

/** Takes out the side after a corner, where both its ends turn outward: the sides beside it go on until they meet. */
function dropSide(loop: Loop, i: number, within: number): boolean {
  const { x, y, stray, before, after } = loop;
  const a = before[i] as number;
  const j = after[i] as number;
  const d = after[j] as number;
  if (turnOf(loop, a, i, j) <= 0 || turnOf(loop, i, j, d) <= 0) return false;
  const ux = (x[i] as number) - (x[a] as number);
  const uy = (y[i] as number) - (y[a] as number);
  const vx = (x[d] as number) - (x[j] as number);
  const vy = (y[d] as number) - (y[j] as number);
  const sx = (x[j] as number) - (x[i] as number);
  const sy = (y[j] as number) - (y[i] as number);
  const cross = ux * vy - uy * vx;
  if (cross <= 0) return false;
  const t = (sx * vy - sy * vx) / cross;
  const off = (t * Math.abs(ux * sy - uy * sx)) / Math.sqrt(sx * sx + sy * sy);
  const by = Math.max(stray[a] as number, stray[i] as number, stray[j] as number) + off / within;
  if (by > 1) return false;
  const px = (x[i] as number) + t * ux;
  const py = (y[i] as number) + t * uy;
  if (!isEmpty(loop, [i, j, a], px, py)) return false;
  x[i] = px;
  y[i] = py;
  stray[a] = by;
  stray[i] = by;
  takeOut(loop, j);
  return true;
}

function takeOut(loop: Loop, i: number): void {
  const { before, after } = loop;
  const a = before[i] as number;
  const c = after[i] as number;
  after[a] = c;
  before[c] = a;
  after[i] = GONE;
  loop.left--;
}

/** Does no other corner lie in the triangle of corners p, q and a point? Corner `but` is not asked. */
function isEmpty(
  loop: Loop,
  [p, q, but]: readonly [number, number, number],
  tx: number,
  ty: number,
): boolean {
  const { x, y, after } = loop;
  const [px, py, qx, qy] = [x[p], y[p], x[q], y[q]] as [number, number, number, number];
  const ccw = (qx - px) * (ty - py) - (qy - py) * (tx - px) > 0 ? 1 : -1;
  const side = (ax: number, ay: number, bx: number, by: number, k: number): number =>
    ccw * ((bx - ax) * ((y[k] as number) - ay) - (by - ay) * ((x[k] as number) - ax));
  for (let k = 0; k < x.length; k++) {
    if (after[k] === GONE || k === p || k === q || k === but) continue;
    if (side(px, py, qx, qy, k) < 0 || side(qx, qy, tx, ty, k) < 0) continue;
    if (side(tx, ty, px, py, k) >= 0) return false;
  }
  return true;
}
