/**
 * Relief: what is cut away beyond a sharp inside corner so that a square thing seats in it.
 *
 * Words: two walls meet in a corner C at an angle θ measured in the void; the relief's circle of radius R goes through C.
 * *Along a wall* it is tangent to that wall at C and bites past the other by R(1 + cos θ): the whole radius at 90°.
 * *On the bisector* it bites past both by R(1 − sin θ/2): 0.29 R at 90°. Known among makers as T-bone and dog-bone.
 * A cutter of radius ≤ R reaches C either way. Contours run with the void on their left.
 */
import { arc, distance } from "../../geometry/segment.ts";
import type { Arc, Line, Point } from "../../geometry/shape.ts";

export type CornerRelief = "along-first" | "along-second" | "bisector";

/** What replaces a corner: the first wall ends early, an arc, the second begins late. */
export interface Relieved {
  readonly firstEnds: Point;
  readonly bow: Arc;
  readonly secondBegins: Point;
  readonly bite: number;
}

/** Undefined where a wall is too short, or the corner is none: straight, or turned away from the void. */
export function relieve(
  first: Line,
  second: Line,
  way: CornerRelief,
  radius: number,
): Relieved | undefined {
  const c = first.to;
  const a = unit(first.to, first.from);
  const b = unit(second.from, second.to);
  // Both point away from the corner; with the void on the left, it opens from b round to a.
  const sine = b.x * a.y - b.y * a.x;
  const cosine = a.x * b.x + a.y * b.y;
  if (sine < 1e-3) return undefined;
  const centre = along(c, radius, direction(a, b, way));
  const onFirst = way === "along-first" ? 0 : 2 * dot(centre, c, a);
  const onSecond = way === "along-second" ? 0 : 2 * dot(centre, c, b);
  if (onFirst > distance(first.from, first.to) || onSecond > distance(second.from, second.to)) {
    return undefined;
  }
  const firstEnds = along(c, onFirst, a);
  const secondBegins = along(c, onSecond, b);
  const bow = arc(firstEnds, secondBegins, centre, true, first.origin);
  return { firstEnds, bow, secondBegins, bite: biteOf(cosine, way, radius) };
}

/** Past the wall that is bitten into, mm; `cosine` of the angle in the void. */
export function biteOf(cosine: number, way: CornerRelief, radius: number): number {
  if (way !== "bisector") return radius * (1 + cosine);
  return radius * (1 - Math.sqrt((1 - cosine) / 2));
}

function direction(a: Point, b: Point, way: CornerRelief): Point {
  // The void lies to the right of a and to the left of b, both seen from the corner.
  if (way === "along-first") return { x: a.y, y: -a.x };
  if (way === "along-second") return { x: -b.y, y: b.x };
  return unit({ x: 0, y: 0 }, { x: a.x + b.x, y: a.y + b.y });
}

function along(p: Point, by: number, u: Point): Point {
  return { x: p.x + by * u.x, y: p.y + by * u.y };
}

function dot(p: Point, from: Point, u: Point): number {
  return (p.x - from.x) * u.x + (p.y - from.y) * u.y;
}

function unit(from: Point, to: Point): Point {
  const d = distance(from, to) || 1;
  return { x: (to.x - from.x) / d, y: (to.y - from.y) / d };
}
