/**
 * Shapes to draw plates with: discs, slots, rounded boxes, hulls of discs. Counter-clockwise, exact; lines
 * and arcs meet in the very same point and, where they are tangent, without a corner.
 */
import { closeUp, polygon, reversedContour } from "../../geometry/contour.ts";
import { arc, circle, distance, line, onCircle } from "../../geometry/segment.ts";
import type { Contour, Point, Segment } from "../../geometry/shape.ts";
import { atan2, cos, hypot, sin } from "../../geometry/trig.ts";

export interface Disc {
  readonly at: Point;
  readonly radius: number;
}

export function disc(at: Point, radius: number): Contour {
  return { segments: [circle(at, radius, true)] };
}

/** A hole: clockwise. */
export function hole(at: Point, diameter: number): Contour {
  return { segments: [circle(at, diameter / 2, false)] };
}

export interface SlotShape {
  readonly at: Point;
  /** Across. */
  readonly width: number;
  /** Over all, round ends included. */
  readonly length: number;
  /** Direction of the long side, rad. */
  readonly angle: number;
}

/** Two parallel sides and two half circles, clockwise. */
export function slotHole({ at, width, length, angle }: SlotShape): Contour {
  const r = width / 2;
  const half = length / 2 - r;
  if (half <= 1e-9) return hole(at, width);
  const u = { x: cos(angle), y: sin(angle) };
  const n = { x: -u.y, y: u.x };
  const spot = (along: number, across: number): Point => ({
    x: at.x + along * u.x + across * n.x,
    y: at.y + along * u.y + across * n.y,
  });
  const [a, b, c, d] = [spot(-half, -r), spot(half, -r), spot(half, r), spot(-half, r)];
  return reversedContour({
    segments: [
      line(a, b),
      arc(b, c, spot(half, 0), true),
      line(c, d),
      arc(d, a, spot(-half, 0), true),
    ],
  });
}

/** A slot bent round `centre`: middle line of this radius from angle to angle, half-circle ends; clockwise. */
export function bentSlot(
  centre: Point,
  radius: number,
  width: number,
  [from, to]: readonly [number, number],
): Contour {
  const r = width / 2;
  const at = (angle: number, k: number): Point => onCircle(centre, radius + k * r, angle);
  const [a, b, c, d] = [at(from, 1), at(to, 1), at(to, -1), at(from, -1)];
  return reversedContour({
    segments: closeUp([
      arc(a, b, centre, true),
      arc(b, c, onCircle(centre, radius, to), true),
      arc(c, d, centre, false),
      arc(d, a, onCircle(centre, radius, from), true),
    ]),
  });
}

/** A box with rounded corners, counter-clockwise; a radius too large for it is made as large as fits. */
export function roundedBox(min: Point, max: Point, radius: number): Contour {
  const r = Math.min(radius, (max.x - min.x) / 2, (max.y - min.y) / 2);
  return rounded(
    [min, { x: max.x, y: min.y }, max, { x: min.x, y: max.y }].map((at) => ({ at, radius: r })),
  );
}

/** A corner and the radius that it is rounded by. */
export interface Corner {
  readonly at: Point;
  readonly radius: number;
}

/** Straight sides between rounded corners. The caller sees to it that roundings have room. */
export function rounded(corners: readonly Corner[]): Contour {
  const segments: Segment[] = [];
  let last: Point | undefined;
  const push = (to: Point): void => {
    if (last !== undefined && distance(last, to) > 1e-9) segments.push(line(last, to));
    last = to;
  };
  for (const [i, { at, radius }] of corners.entries()) {
    const before = (corners[(i + corners.length - 1) % corners.length] as Corner).at;
    const after = (corners[(i + 1) % corners.length] as Corner).at;
    if (radius <= 0) {
      push(at);
      continue;
    }
    const { enter, leave, centre, ccw } = filletAt(before, at, after, radius);
    push(enter);
    segments.push(arc(enter, leave, centre, ccw));
    last = leave;
  }
  const first = segments[0]?.from;
  if (first !== undefined) push(first);
  return { segments: closeUp(segments) };
}

function filletAt(
  a: Point,
  b: Point,
  c: Point,
  r: number,
): { enter: Point; leave: Point; centre: Point; ccw: boolean } {
  const u = unit(a, b);
  const v = unit(b, c);
  const cross = u.x * v.y - u.y * v.x;
  const turn = atan2(cross, u.x * v.x + u.y * v.y);
  const half = Math.abs(turn) / 2;
  const cut = r * (sin(half) / cos(half));
  const ccw = cross > 0;
  const enter = { x: b.x - u.x * cut, y: b.y - u.y * cut };
  const leave = { x: b.x + v.x * cut, y: b.y + v.y * cut };
  const side = ccw ? 1 : -1;
  return {
    enter,
    leave,
    ccw,
    centre: { x: enter.x - u.y * r * side, y: enter.y + u.x * r * side },
  };
}

export function unit(a: Point, b: Point): Point {
  const d = hypot(b.x - a.x, b.y - a.y) || 1;
  return { x: (b.x - a.x) / d, y: (b.y - a.y) / d };
}

/**
 * The convex hull of discs of one radius: the hull of their middles, moved out by the radius.
 * One disc gives a circle, discs in a row a slot's outline.
 */
export function hullOf(middles: readonly Point[], radius: number): Contour {
  const hull = convexHull(middles);
  const only = hull[0];
  if (only === undefined) return { segments: [] };
  if (hull.length === 1) return disc(only, radius);
  const segments: Segment[] = [];
  for (const [i, p] of hull.entries()) {
    const before = hull[(i + hull.length - 1) % hull.length] as Point;
    const after = hull[(i + 1) % hull.length] as Point;
    const out = outward(before, p, radius);
    const next = outward(p, after, radius);
    const enter = { x: p.x + out.x, y: p.y + out.y };
    const leave = { x: p.x + next.x, y: p.y + next.y };
    segments.push(arc(enter, leave, p, true));
    segments.push(line(leave, { x: after.x + next.x, y: after.y + next.y }));
  }
  return { segments: closeUp(segments) };
}

/** To the right of the way from a to b. */
function outward(a: Point, b: Point, r: number): Point {
  const u = unit(a, b);
  return { x: u.y * r, y: -u.x * r };
}

/** Counter-clockwise, without points on its sides (Andrew's monotone chain, 1979). */
export function convexHull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((p, q) => p.x - q.x || p.y - q.y);
  const distinct = sorted.filter((p, i) => i === 0 || distance(p, sorted[i - 1] as Point) > 1e-6);
  if (distinct.length < 3) return distinct;
  const half = (list: readonly Point[]): Point[] => {
    const chain: Point[] = [];
    for (const p of list) {
      while (chain.length > 1 && bend(chain.at(-2) as Point, chain.at(-1) as Point, p) <= 1e-6) {
        chain.pop();
      }
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return [...half(distinct), ...half([...distinct].reverse())];
}

function bend(a: Point, b: Point, c: Point): number {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/** A strip along the way from a to b, this wide to each side at either end; square ends. */
export function strip(a: Point, b: Point, halfA: number, halfB: number): Contour {
  const u = unit(a, b);
  const spot = (p: Point, side: number): Point => ({ x: p.x - u.y * side, y: p.y + u.x * side });
  return polygon([spot(a, -halfA), spot(b, -halfB), spot(b, halfB), spot(a, halfA)]);
}
