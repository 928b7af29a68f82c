/**
 * Webs: how much material stays between two contours of a plate, exactly, and where.
 *
 * Two segments that do not cross are nearest at an end of one of them, at the foot of an arc's centre on a line, or
 * on the line through two arcs' centres; all of these are tried. Cost: O(n m) in segments whose boxes are near.
 */
import { boundsOf, boxesTouch } from "../../geometry/contour.ts";
import { meetings } from "../../geometry/intersect.ts";
import { angleOf, boxOf, distance, nearestOn, onCircle, passes } from "../../geometry/segment.ts";
import type { Arc, Box, Contour, Point, Segment } from "../../geometry/shape.ts";
import type { Feature } from "../../plate/plate.ts";

/** The nearest points of two shapes. */
export interface Closest {
  readonly distance: number;
  readonly a: Point;
  readonly b: Point;
}

export interface Gap extends Closest {
  /** Absent: the outline. */
  readonly from: Feature | undefined;
  readonly to: Feature;
}

interface Shape {
  readonly feature: Feature | undefined;
  readonly segments: readonly Segment[];
  readonly box: Box;
}

/** Gaps below `limit`, narrowest first: between openings, and from each opening to the outline. */
export function gapsOf(outer: Contour, openings: readonly Feature[], limit: number): Gap[] {
  const shapes = [undefined, ...openings].map((feature): Shape => {
    const { segments } = feature?.contour ?? outer;
    return { feature, segments, box: boundsOf(segments) };
  });
  const gaps: Gap[] = [];
  shapes.forEach((b, i) => {
    for (const a of shapes.slice(0, i)) {
      if (!boxesTouch(a.box, b.box, limit)) continue;
      const found = closestOf(a.segments, b.segments, limit);
      if (found !== undefined) gaps.push({ ...found, from: a.feature, to: b.feature as Feature });
    }
  });
  return gaps.sort((x, y) => x.distance - y.distance);
}

/** The nearest points of two runs of segments; undefined where they are `limit` or more apart. */
export function closestOf(
  a: readonly Segment[],
  b: readonly Segment[],
  limit: number,
): Closest | undefined {
  let best: Closest | undefined;
  let least = limit;
  const boxes = b.map(boxOf);
  for (const s of a) {
    const box = boxOf(s);
    b.forEach((t, j) => {
      if (!boxesTouch(box, boxes[j] as Box, least)) return;
      const found = closest(s, t);
      if (found.distance >= least) return;
      best = found;
      least = found.distance;
    });
  }
  return best;
}

export function closest(s: Segment, t: Segment): Closest {
  const [meeting] = meetings(s, t);
  if (meeting !== undefined) return { distance: 0, a: meeting.point, b: meeting.point };
  const onS = [...[t.from, t.to].map((p) => nearestOn(s, p).point), ...centreLine(s, t)];
  const tries = [s.from, s.to, ...onS];
  let best: Closest | undefined;
  for (const a of tries) {
    const b = nearestOn(t, a).point;
    const found = { distance: distance(a, b), a, b };
    if (best === undefined || found.distance < best.distance) best = found;
  }
  return best as Closest;
}

/** Points of `s` that may be nearest to `t` though neither has an end there. */
function centreLine(s: Segment, t: Segment): Point[] {
  if (s.kind === "arc") {
    const towards = t.kind === "arc" ? t.centre : nearestOn(t, s.centre).point;
    return distance(s.centre, towards) === 0 ? [] : onArc(s, angleOf(s.centre, towards));
  }
  return t.kind === "arc" ? [nearestOn(s, t.centre).point] : [];
}

function onArc(s: Arc, angle: number): Point[] {
  return [angle, angle + Math.PI]
    .filter((a) => passes(s, a))
    .map((a) => onCircle(s.centre, s.radius, a));
}

export function middle(c: Closest): Point {
  return { x: (c.a.x + c.b.x) / 2, y: (c.a.y + c.b.y) / 2 };
}
