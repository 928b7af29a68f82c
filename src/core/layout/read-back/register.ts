/**
 * The move that lays points on points: turn and shift of least squares, in closed form (Kabsch, Acta Cryst. A32
 * (1976) 922, which in the plane is one arc tangent).
 */
import type { Point, Rigid } from "../../geometry/shape.ts";
import { atan2, cos, hypot, sin } from "../../geometry/trig.ts";

export interface Pair {
  readonly from: Point;
  readonly to: Point;
}

/** Points no further apart than this are one place, mm. */
const ONE_PLACE = 0.05;

/** Without a flip. Undefined where the points do not tell a turn: fewer than two places. */
export function register(pairs: readonly Pair[]): Rigid | undefined {
  if (pairs.length === 0) return undefined;
  const a = middle(pairs.map((p) => p.from));
  const b = middle(pairs.map((p) => p.to));
  let along = 0;
  let across = 0;
  for (const { from, to } of pairs) {
    const [px, py, qx, qy] = [from.x - a.x, from.y - a.y, to.x - b.x, to.y - b.y];
    along += px * qx + py * qy;
    across += px * qy - py * qx;
  }
  if (hypot(along, across) <= ONE_PLACE * ONE_PLACE * pairs.length) return undefined;
  return shiftFor(a, b, atan2(across, along));
}

/** Turned by `angle`, and shifted so that `a` comes to lie on `b`. */
export function shiftFor(a: Point, b: Point, angle: number): Rigid {
  const [c, s] = [cos(angle), sin(angle)];
  return { x: b.x - (a.x * c - a.y * s), y: b.y - (a.x * s + a.y * c), angle, flipped: false };
}

function middle(points: readonly Point[]): Point {
  const n = points.length;
  return {
    x: points.reduce((sum, p) => sum + p.x, 0) / n,
    y: points.reduce((sum, p) => sum + p.y, 0) / n,
  };
}
