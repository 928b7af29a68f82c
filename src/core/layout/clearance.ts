/**
 * How far contours are from each other, exactly: lines and arcs, no chords.
 *
 * Two segments that do not cross are nearest at an end of one of them, at the foot of an arc's centre on a
 * line, or on the line through two arcs' centres. All of these are tried.
 *
 * Cost: O(n m) in the segments whose boxes are near enough to matter, with an early end once the answer is
 * known to be below what was asked for.
 */
import { boundsOf, boxesTouch, contains } from "../geometry/contour.ts";
import { meetings } from "../geometry/intersect.ts";
import { boxDistance } from "../geometry/nearest.ts";
import { angleOf, boxOf, distance, nearestOn, onCircle, passes } from "../geometry/segment.ts";
import type { Arc, Box, Contour, Line, Point, Segment } from "../geometry/shape.ts";

/** A contour with the boxes of its segments, so that they are worked out once. */
export interface Boxed {
  readonly contour: Contour;
  readonly box: Box;
  readonly boxes: readonly Box[];
}

export function boxed(contour: Contour): Boxed {
  return { contour, box: boundsOf(contour.segments), boxes: contour.segments.map(boxOf) };
}

export function shifted(b: Boxed, x: number, y: number): Boxed {
  const move = (box: Box): Box => ({ min: moved(box.min, x, y), max: moved(box.max, x, y) });
  const segments = b.contour.segments.map((s) => movedSegment(s, x, y));
  return { contour: { segments }, box: move(b.box), boxes: b.boxes.map(move) };
}

function movedSegment(s: Segment, x: number, y: number): Segment {
  const from = moved(s.from, x, y);
  const to = moved(s.to, x, y);
  const { origin } = s;
  if (s.kind === "line") return { kind: "line", from, to, origin };
  const { radius, sweep } = s;
  return { kind: "arc", from, to, centre: moved(s.centre, x, y), radius, sweep, origin };
}

function moved(p: Point, x: number, y: number): Point {
  return { x: p.x + x, y: p.y + y };
}

/**
 * Distance between two contours as curves; `enough` or more where they are at least that far apart. Below
 * `tooNear` the search ends, so that the answer is then only known to be below it.
 */
export function curveDistance(a: Boxed, b: Boxed, enough: number, tooNear = 0): number {
  let best = enough;
  if (!boxesTouch(a.box, b.box, best)) return best;
  const near = b.contour.segments.flatMap((segment, j) => {
    const box = b.boxes[j] as Box;
    return boxesTouch(a.box, box, best) ? [{ segment, box }] : [];
  });
  for (const [i, s] of a.contour.segments.entries()) {
    const box = a.boxes[i] as Box;
    if (!boxesTouch(box, b.box, best)) continue;
    for (const other of near) {
      if (!boxesTouch(box, other.box, best)) continue;
      best = Math.min(best, segmentDistance(s, other.segment));
      if (best < tooNear || best === 0) return best;
    }
  }
  return best;
}

/** True where both filled shapes are at least `gap` apart: neither crosses, nears or holds the other. */
export function apart(a: Boxed, b: Boxed, gap: number): boolean {
  if (!boxesTouch(a.box, b.box, gap - SLACK)) return true;
  if (curveDistance(a, b, gap, gap - SLACK) < gap - SLACK) return false;
  return !holds(a, b) && !holds(b, a);
}

/** True where `inner` lies inside `outer`, given that their curves do not cross. */
export function holds(outer: Boxed, inner: Boxed): boolean {
  const p = inner.contour.segments[0]?.from;
  return p !== undefined && boxesTouch(outer.box, inner.box) && contains(outer.contour, p);
}

/** Distances that should be equal differ in their last digits, mm. */
export const SLACK: number = 1e-6;

export function segmentDistance(a: Segment, b: Segment): number {
  if (meetings(a, b).length > 0) return 0;
  let best = Math.min(
    nearestOn(b, a.from).distance,
    nearestOn(b, a.to).distance,
    nearestOn(a, b.from).distance,
    nearestOn(a, b.to).distance,
  );
  if (a.kind === "arc" && b.kind === "arc") best = Math.min(best, betweenArcs(a, b));
  else if (a.kind === "arc" && b.kind === "line") best = Math.min(best, lineToArc(b, a));
  else if (a.kind === "line" && b.kind === "arc") best = Math.min(best, lineToArc(a, b));
  return best;
}

/** From the foot of the arc's centre on the line to the arc. */
function lineToArc(l: Line, a: Arc): number {
  return nearestOn(a, nearestOn(l, a.centre).point).distance;
}

/** On the line through the centres, on either side of each. */
function betweenArcs(a: Arc, b: Arc): number {
  if (distance(a.centre, b.centre) === 0) return Number.POSITIVE_INFINITY;
  const direction = angleOf(a.centre, b.centre);
  let best = Number.POSITIVE_INFINITY;
  for (const angle of [direction, direction + Math.PI]) {
    if (!passes(a, angle)) continue;
    best = Math.min(best, nearestOn(b, onCircle(a.centre, a.radius, angle)).distance);
  }
  return best;
}

/** Distance from a filled shape to a filled disc; 0 where they meet. */
export function discDistance(b: Boxed, centre: Point, radius: number): number {
  if (contains(b.contour, centre)) return 0;
  let best = Number.POSITIVE_INFINITY;
  for (const [i, s] of b.contour.segments.entries()) {
    if (boxDistance(b.boxes[i] as Box, centre) < best)
      best = Math.min(best, nearestOn(s, centre).distance);
  }
  return Math.max(0, best - radius);
}
