/**
 * Where loops cross or touch themselves and each other.
 *
 * A meeting point is a crossing where the arms of the two passes alternate round it, a touch where they do
 * not: so a bow tie through a drawn vertex is a crossing, and two corners that meet are a touch.
 * Cost: a sweep over boxes; its bound is told as `complete: false`.
 */
import { runningLengths, spotAt } from "../../geometry/contour.ts";
import { meetings } from "../../geometry/intersect.ts";
import { distance, isFullCircle, lengthOf } from "../../geometry/segment.ts";
import type { Box, Contour, Point, Segment } from "../../geometry/shape.ts";
import { JOIN, SPECK } from "../../geometry/tolerance.ts";
import { atan2, TAU } from "../../geometry/trig.ts";
import { segmentBox } from "./double/boxes.ts";
import { overlappingPairs } from "./double/sweep.ts";

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

export interface Conflicts {
  readonly found: readonly Conflict[];
  readonly complete: boolean;
}

export function conflicts(loops: readonly Contour[]): Conflicts {
  const passes = loops.flatMap(passesOf);
  const found: Conflict[] = [];
  const places = new Set<string>();
  const boxes: Box[] = passes.map((p) => segmentBox(p.segment));
  const complete = overlappingPairs(boxes, 0, (i, j) => {
    if (found.length >= KEPT) return;
    for (const conflict of between(passes[i] as Pass, passes[j] as Pass)) {
      const { x, y } = conflict.at;
      const key = `${Math.round(x / JOIN)},${Math.round(y / JOIN)},${conflict.loops}`;
      if (places.has(key)) continue;
      places.add(key);
      found.push(conflict);
    }
  });
  return { found, complete };
}

/** One segment of a loop, and where it lies along it. */
interface Pass {
  readonly segment: Segment;
  readonly loop: number;
  readonly index: number;
  readonly contour: Contour;
  /** Running lengths of the contour; only meetings ask for them. */
  readonly sums: () => readonly number[];
}

function passesOf(contour: Contour, loop: number): Pass[] {
  let known: readonly number[] | undefined;
  const sums = (): readonly number[] => {
    known ??= runningLengths(contour);
    return known;
  };
  return contour.segments.map((segment, index) => ({ segment, loop, index, contour, sums }));
}

function between(one: Pass, other: Pass): Conflict[] {
  const same = one.loop === other.loop;
  const step = Math.abs(one.index - other.index);
  const neighbours = same && (step === 1 || step === one.contour.segments.length - 1);
  // Two lines that meet at an end meet nowhere else, unless one runs back along the other.
  if (neighbours && apart(one.segment, other.segment)) return [];
  return meetings(one.segment, other.segment, SPECK).flatMap((m): Conflict[] => {
    if (neighbours && atSharedEnd(one.segment, other.segment, m.point)) return [];
    const crosses = alternate(armsOf(one, m.ta), armsOf(other, m.tb), m.point);
    const kind = crosses ? "crossing" : "touching";
    const loops = [one.loop, other.loop] as const;
    return [{ kind: same ? `self-${kind}` : kind, at: m.point, loops }];
  });
}

/** Two lines at an angle that is far from 0 and π. */
function apart(a: Segment, b: Segment): boolean {
  if (a.kind !== "line" || b.kind !== "line") return false;
  const ax = a.to.x - a.from.x;
  const ay = a.to.y - a.from.y;
  const bx = b.to.x - b.from.x;
  const by = b.to.y - b.from.y;
  const cross = ax * by - ay * bx;
  return cross * cross > 0.01 * (ax * ax + ay * ay) * (bx * bx + by * by);
}

function armsOf({ segment, index, contour, sums }: Pass, t: number): readonly [Point, Point] {
  const lengths = sums();
  return arms(contour, lengths, (lengths[index] ?? 0) + clamp(t) * lengthOf(segment));
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
