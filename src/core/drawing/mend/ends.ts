/**
 * Small moves of a segment's ends, and how two segments meet that nearly do. An arc keeps its shape: its
 * centre and radius follow its ends, so that both ends lie on the circle to rounding.
 */
import { distance } from "../../geometry/segment.ts";
import type { Arc, Point, Segment } from "../../geometry/shape.ts";
import { asin, hypot, sin, TAU } from "../../geometry/trig.ts";

/** The segment from `from` to `to`; for moves that are small against it. */
export function withEnds(s: Segment, from: Point, to: Point): Segment {
  if (s.kind === "line") return { ...s, from, to };
  if (Math.abs(s.sweep) >= TAU - 1e-9) {
    const x = s.centre.x + from.x - s.from.x;
    return { ...s, from, to: from, centre: { x, y: s.centre.y + from.y - s.from.y } };
  }
  return arcOnEnds(s, from, to);
}

/** Up to this sweep an arc keeps its angle and scales; beyond, where that would blow up, it keeps its radius. */
const SCALES_TO = 0.75 * TAU;

function arcOnEnds(s: Arc, from: Point, to: Point): Segment {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const chord = hypot(dx, dy);
  if (chord < 1e-9) return { kind: "line", from, to, origin: s.origin };
  const half = Math.abs(s.sweep) / 2;
  const way = s.sweep > 0 ? 1 : -1;
  let radius: number;
  let sweep: number;
  // Distance of the centre from the chord's middle, to the left of an arc that runs counter-clockwise.
  let rise: number;
  if (half * 2 <= SCALES_TO) {
    radius = chord / (2 * sin(half));
    sweep = s.sweep;
    rise =
      Math.sqrt(Math.max(0, radius * radius - (chord * chord) / 4)) * (half <= TAU / 4 ? 1 : -1);
  } else {
    radius = Math.max(s.radius, chord / 2);
    sweep = way * (TAU - 2 * asin(chord / (2 * radius)));
    rise = -Math.sqrt(Math.max(0, radius * radius - (chord * chord) / 4));
  }
  const k = (way * rise) / chord;
  const centre = { x: (from.x + to.x) / 2 - dy * k, y: (from.y + to.y) / 2 + dx * k };
  return { ...s, from, to, centre, radius, sweep };
}

/**
 * Makes `a` end where `b` begins. Lines are lengthened or cut to their meeting point where that lies near;
 * a line follows an arc; two arcs meet half-way.
 */
export function met(a: Segment, b: Segment): readonly [Segment, Segment] {
  const gap = distance(a.to, b.from);
  if (gap === 0) return [a, withEnds(b, a.to, b.to)];
  const p = meetingPoint(a, b, gap);
  return [withEnds(a, a.from, p), withEnds(b, p, b.to)];
}

function meetingPoint(a: Segment, b: Segment, gap: number): Point {
  if (a.kind === "arc" && b.kind === "line") return a.to;
  if (a.kind === "line" && b.kind === "arc") return b.from;
  const middle = { x: (a.to.x + b.from.x) / 2, y: (a.to.y + b.from.y) / 2 };
  if (a.kind === "arc" || b.kind === "arc") return middle;
  const ax = a.to.x - a.from.x;
  const ay = a.to.y - a.from.y;
  const bx = b.to.x - b.from.x;
  const by = b.to.y - b.from.y;
  const cross = ax * by - ay * bx;
  if (Math.abs(cross) < 1e-9 * hypot(ax, ay) * hypot(bx, by)) return middle;
  const t = ((b.from.x - a.to.x) * by - (b.from.y - a.to.y) * bx) / cross;
  const p = { x: a.to.x + t * ax, y: a.to.y + t * ay };
  return distance(p, a.to) <= 2 * gap && distance(p, b.from) <= 2 * gap ? p : middle;
}
