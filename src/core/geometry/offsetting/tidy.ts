/**
 * Rings made fit for exact work: no empty segments, arcs whose centre, radius and sweep agree to the
 * last digits, ends shared. Coordinates that were snapped to a grid leave arcs a little out of true.
 */
import { parameterOf } from "../intersect.ts";
import { angleOf, between, distance, isFullCircle, startingAt, sweepBetween } from "../segment.ts";
import type { Arc, Contour, Origin, Point, Segment } from "../shape.ts";
import { WELD } from "../tolerance.ts";
import { cos, sin, TAU } from "../trig.ts";

/** None where fewer than two segments (or one circle) remain, or a number is not finite. */
export function tidyRing(ring: Contour): Contour | undefined {
  const whole = ring.segments.filter((s) => isFullCircle(s) || distance(s.from, s.to) > WELD);
  if (!whole.every(isFiniteSegment)) return undefined;
  const circle = whole.find(isFullCircle);
  if (circle !== undefined)
    return whole.length === 1 ? { segments: [trueCircle(circle)] } : undefined;
  if (whole.length < 2) return undefined;
  let previous = (whole[whole.length - 1] as Segment).to;
  const segments = whole.map((s) => {
    const from = previous;
    previous = s.to;
    if (s.kind === "line") return startingAt(s, from);
    return isTrue(s) && from === s.from ? s : arcOfSweep(from, s.to, s.sweep, s.origin);
  });
  return { segments };
}

function isFiniteSegment(s: Segment): boolean {
  const sum = s.from.x + s.from.y + s.to.x + s.to.y;
  return Number.isFinite(
    s.kind === "line" ? sum : sum + s.centre.x + s.centre.y + s.radius * s.sweep,
  );
}

function isTrue(s: Arc): boolean {
  return (
    Math.abs(distance(s.from, s.centre) - s.radius) < 1e-10 &&
    Math.abs(distance(s.to, s.centre) - s.radius) < 1e-10
  );
}

function trueCircle(s: Arc): Arc {
  return { ...s, to: s.from, radius: distance(s.from, s.centre), sweep: s.sweep > 0 ? TAU : -TAU };
}

/** The arc from one point to another that turns by `sweep`. */
export function arcOfSweep(from: Point, to: Point, sweep: number, origin?: Origin): Arc {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const half = sweep / 2;
  // The centre lies left of the chord for a left turn under π: chord/2 · cot(half) off its middle.
  const k = cos(half) / (2 * sin(half));
  const centre = { x: (from.x + to.x) / 2 - dy * k, y: (from.y + to.y) / 2 + dx * k };
  return { kind: "arc", from, to, centre, radius: distance(from, centre), sweep, origin };
}

/**
 * The carrier of `s` between two of its points, in its direction. Points may lie somewhat beyond the
 * ends of `s`; on a full circle the shorter way round from `from` is taken as it stands.
 */
export function withEnds(s: Segment, from: Point, to: Point): Segment {
  if (from === s.from && to === s.to) return s;
  if (s.kind === "line") return between(s, from, to, 0);
  if (from === to) return between(s, from, to, s.sweep > 0 ? TAU : -TAU);
  // Not by isFullCircle: its type guard would leave no arc behind it.
  if (Math.abs(s.sweep) > TAU - WELD) {
    const sweep = sweepBetween(angleOf(s.centre, from), angleOf(s.centre, to), s.sweep > 0);
    return between(s, from, to, sweep);
  }
  return between(s, from, to, s.sweep * (parameterOf(s, to) - parameterOf(s, from)));
}
