/**
 * A track: the closed path of the cutter's centre round one contour, in the direction of travel, and
 * the pen that writes moves along it.
 *
 * Places on a track are lengths from its start, mm; they may run past the end (another turn) or
 * backwards. Z changes evenly along the length of a run, so ramps on arcs come out as helices.
 */
import { runningLengths, spotAt } from "../../geometry/contour.ts";
import { distance, lengthOf, nearestOn, part, reversed } from "../../geometry/segment.ts";
import type { Contour, Point, Segment } from "../../geometry/shape.ts";
import type { CutMove } from "../cut.ts";
import { type ArcFeed, feedDown, feedOn } from "./feed.ts";

export interface Track {
  readonly contour: Contour;
  readonly sums: readonly number[];
  readonly length: number;
}

export function trackOf(contour: Contour): Track {
  const sums = runningLengths(contour);
  return { contour, sums, length: sums[sums.length - 1] as number };
}

export function trackPoint(track: Track, s: number): Point {
  return spotAt(track.contour, track.sums, s).point;
}

export function trackTangent(track: Track, s: number): Point {
  return spotAt(track.contour, track.sums, s).tangent;
}

/** Length along a track to its place nearest to p. */
export function placeOn({ contour, sums }: Track, p: Point): number {
  let best = Number.POSITIVE_INFINITY;
  let place = 0;
  for (let i = 0; i < contour.segments.length; i++) {
    const near = nearestOn(contour.segments[i] as Segment, p);
    if (near.distance >= best - 1e-9) continue;
    best = near.distance;
    const begin = sums[i] as number;
    place = begin + near.t * ((sums[i + 1] as number) - begin);
  }
  return place;
}

/**
 * Pieces shorter than this are rounding, not geometry, mm: a program of four decimals could write them or
 * not, as the wind blows. The next piece begins that much off its own start, a tenth of what arcs allow.
 */
const NOTHING = 2e-4;

/** The segments from s0 to s1; s1 < s0 runs backwards. */
export function stretch(track: Track, s0: number, s1: number): Segment[] {
  if (s1 < s0) return stretch(track, s1, s0).map(reversed).reverse();
  const out: Segment[] = [];
  const turns = Math.floor(s0 / track.length + 1e-12);
  let base = turns * track.length;
  let at = s0;
  while (at < s1 - NOTHING) {
    for (let i = 0; i < track.contour.segments.length && at < s1 - NOTHING; i++) {
      const begin = base + (track.sums[i] as number);
      const end = base + (track.sums[i + 1] as number);
      if (end <= at + NOTHING) continue;
      const segment = track.contour.segments[i] as Segment;
      const length = end - begin;
      const t1 = s1 >= end - NOTHING ? 1 : (s1 - begin) / length;
      const t0 = at <= begin + NOTHING ? 0 : (at - begin) / length;
      out.push(part(segment, t0, t1));
      at = end;
    }
    base += track.length;
  }
  return out;
}

/** Where the cutter is, and what it has done. */
export interface Pen {
  readonly moves: CutMove[];
  at: Point;
  z: number;
}

export function pen(start: Point, z: number): Pen {
  return { moves: [], at: start, z };
}

/** Straight up or down. */
export function vertical(p: Pen, z: number, feed: number): void {
  if (Math.abs(z - p.z) < NOTHING) return;
  p.moves.push({ to: p.at, z, arc: undefined, feed, origin: undefined });
  p.z = z;
}

/** A straight line to a point, at the pen's height. */
export function straight(p: Pen, to: Point, feed: number): void {
  if (distance(p.at, to) < NOTHING) return;
  p.moves.push({ to, z: p.z, arc: undefined, feed, origin: undefined });
  p.at = to;
}

/** One segment from where the pen is, reaching z at its end. */
export function draw(p: Pen, s: Segment, z: number, feed: number): void {
  const arc = s.kind === "arc" ? { centre: s.centre, sweep: s.sweep } : undefined;
  p.moves.push({ to: s.to, z, arc, feed, origin: s.origin });
  p.at = s.to;
  p.z = z;
}

/** Along the track from s0 (where the pen is) to s1, reaching z at the end. */
export function run(
  p: Pen,
  track: Track,
  span: readonly [from: number, to: number],
  z: number,
  feed: ArcFeed,
): void {
  const [s0, s1] = span;
  const pieces = stretch(track, s0, s1);
  const z0 = p.z;
  const whole = Math.abs(s1 - s0);
  const back = s1 < s0;
  const last = pieces.length - 1;
  let done = 0;
  for (let i = 0; i <= last; i++) {
    const piece = pieces[i] as Segment;
    const length = lengthOf(piece);
    done += length;
    // By index: whole turns hold the very same segment more than once.
    const end = i === last ? z : z0 + ((z - z0) * done) / whole;
    draw(p, piece, end, feedDown(feedOn(piece, feed, back), length, end - p.z, feed.mostZ));
  }
  p.z = z;
}
