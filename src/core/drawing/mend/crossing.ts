/**
 * Where loops cross or touch themselves and each other.
 *
 * A meeting point is a crossing where the arms of the two passes alternate round it, a touch where they do
 * not: so a bow tie through a drawn vertex is a crossing, and two corners that meet are a touch.
 * Cost: a sweep over boxes; its bound is told as `complete: false`.
 */
import { runningLengths, spotAt } from "../../geometry/contour.ts";
import { meetings } from "../../geometry/intersect.ts";
import { boxOf, distance, isFullCircle, lengthOf } from "../../geometry/segment.ts";
import type { Box, Contour, Point, Segment } from "../../geometry/shape.ts";
import { JOIN, SPECK } from "../../geometry/tolerance.ts";
import { atan2, TAU } from "../../geometry/trig.ts";
import { overlappingPairs } from "./sweep.ts";

export interface Conflict {
  readonly kind: "self-crossing" | "self-touching" | "crossing" | "touching";
  readonly at: Point;
  readonly loops: readonly [number, number];
}

/** How far from a meeting point its arms are looked at, mm. */
const ARM = 0.05;
/** Arms that differ by less run along each other, rad. */
const ALIKE = 0.02;
/** Conflicts that are kept; a drawing with more is a tangle. */
const KEPT = 200;

export function conflicts(loops: readonly Contour[]): {
  found: readonly Conflict[];
  complete: boolean;
} {
  const owner: number[] = [];
  const index: number[] = [];
  const segments: Segment[] = [];
  loops.forEach((c, l) => {
    c.segments.forEach((s, i) => {
      owner.push(l);
      index.push(i);
      segments.push(s);
    });
  });
  const sums = loops.map(runningLengths);
  const found: Conflict[] = [];
  const places = new Set<string>();
  const boxes: Box[] = segments.map(boxOf);
  const complete = overlappingPairs(boxes, 0, (i, j) => {
    if (found.length >= KEPT) return;
    const a = owner[i] as number;
    const b = owner[j] as number;
    const one = segments[i] as Segment;
    const other = segments[j] as Segment;
    const count = (loops[a] as Contour).segments.length;
    const step = Math.abs((index[i] as number) - (index[j] as number));
    const neighbours = a === b && (step === 1 || step === count - 1);
    for (const m of meetings(one, other, SPECK)) {
      if (neighbours && atSharedEnd(one, other, m.point)) continue;
      const sa = (sums[a]?.[index[i] as number] ?? 0) + clamp(m.ta) * lengthOf(one);
      const sb = (sums[b]?.[index[j] as number] ?? 0) + clamp(m.tb) * lengthOf(other);
      const crosses = alternate(
        arms(loops[a] as Contour, sums[a] as number[], sa),
        arms(loops[b] as Contour, sums[b] as number[], sb),
        m.point,
      );
      const kind =
        `${a === b ? "self-" : ""}${crosses ? "crossing" : "touching"}` as Conflict["kind"];
      const key = `${Math.round(m.point.x / JOIN)},${Math.round(m.point.y / JOIN)},${a},${b}`;
      if (places.has(key)) continue;
      places.add(key);
      found.push({ kind, at: m.point, loops: [a, b] });
    }
  });
  return { found, complete };
}

function clamp(t: number): number {
  return Math.min(1, Math.max(0, t));
}

/** Neighbours meet at their common end by nature; two that meet at both ends have two of them. */
function atSharedEnd(a: Segment, b: Segment, p: Point): boolean {
  if (isFullCircle(a) || isFullCircle(b)) return true;
  return (
    (distance(a.to, b.from) < JOIN && distance(p, a.to) < JOIN) ||
    (distance(b.to, a.from) < JOIN && distance(p, b.to) < JOIN)
  );
}

function arms(c: Contour, sums: readonly number[], s: number): readonly [Point, Point] {
  const total = sums[sums.length - 1] as number;
  const arm = Math.min(ARM, total / 8);
  return [spotAt(c, sums, s - arm).point, spotAt(c, sums, s + arm).point];
}

/** Does exactly one arm of `b` lie between the arms of `a`? Arms that run along each other do not cross. */
function alternate(a: readonly [Point, Point], b: readonly [Point, Point], p: Point): boolean {
  const angle = (q: Point): number => atan2(q.y - p.y, q.x - p.x);
  const start = angle(a[0]);
  const turn = (q: number): number => {
    const t = (q - start) % TAU;
    return t < 0 ? t + TAU : t;
  };
  const end = turn(angle(a[1]));
  let between = 0;
  for (const q of b) {
    const t = turn(angle(q));
    if (t < ALIKE || t > TAU - ALIKE || Math.abs(t - end) < ALIKE) return false;
    if (t < end) between++;
  }
  return between === 1;
}
