/**
 * Where along a track the wall is fair enough for a tab: straight, or so little curved that the stub files
 * flat. A stretch is a run of fair segments that go over into one another without a corner.
 */
import { turnBetween } from "../../geometry/contour.ts";
import { distance } from "../../geometry/segment.ts";
import type { Segment } from "../../geometry/shape.ts";
import { asin } from "../../geometry/trig.ts";
import { type Track, trackPoint } from "../follow/track.ts";

export interface Stretch {
  readonly from: number;
  readonly to: number;
  /** A whole ring without a corner has no ends to keep clear of. */
  readonly endless: boolean;
  /** Its segments, as places on the track; equal turns and mirrored plates get equal candidates from them. */
  readonly parts: readonly { readonly from: number; readonly to: number }[];
}

/** What decides whether a wall is fair. */
export interface Fairness {
  readonly wallRight: boolean;
  readonly radius: number;
  /** Of the tab. */
  readonly width: number;
}

/** A tab keeps off corners by this beyond its own ends, mm; common practice, no source. */
export const CORNER_CLEAR = 1;
/** The wall under a tab may bow by this over its width: it files flat, mm; common practice, no source. */
const FAIR_BOW = 0.5;
/** Segments that meet under less than this have no corner between them, rad. */
const SMOOTH = 0.02;

/** Each straight segment by itself. */
export function straightStretches(track: Track): Stretch[] {
  const { segments } = track.contour;
  return segments.flatMap((s, i) => {
    if (s.kind !== "line") return [];
    const part = partOf(track, i);
    return [{ ...part, endless: false, parts: [part] }];
  });
}

/** All runs of segments that are fair enough for a tab. */
export function fairStretches(track: Track, fairness: Fairness): Stretch[] {
  return smoothStretches(track, (s) => isFair(s, fairness));
}

/** All runs of segments that hold, without a corner between them. */
export function smoothStretches(track: Track, holds: (s: Segment) => boolean): Stretch[] {
  const { segments } = track.contour;
  const n = segments.length;
  const fair = segments.map(holds);
  const joined = segments.map((s, i) => {
    const next = (i + 1) % n;
    const smooth = Math.abs(turnBetween(s, segments[next] as Segment)) < SMOOTH;
    return smooth && fair[i] === true && fair[next] === true;
  });
  const first = joined.indexOf(false);
  if (first < 0) {
    const parts = segments.map((_, i) => partOf(track, i));
    return [{ from: 0, to: track.length, endless: true, parts }];
  }
  const out: Stretch[] = [];
  let parts: Stretch["parts"] = [];
  for (let k = 1; k <= n; k++) {
    const i = (first + k) % n;
    // Parts after the track's own start lie a whole length further on.
    const { from, to } = partOf(track, i);
    const turn = first + k >= n ? track.length : 0;
    if (fair[i] === true) parts = [...parts, { from: from + turn, to: to + turn }];
    if (joined[i] === true || parts.length === 0) continue;
    const ends = { from: parts[0]?.from ?? 0, to: parts.at(-1)?.to ?? 0 };
    out.push({ ...ends, endless: false, parts });
    parts = [];
  }
  return out;
}

function partOf(track: Track, i: number): { from: number; to: number } {
  return { from: track.sums[i] as number, to: track.sums[i + 1] as number };
}

function isFair(s: Segment, { wallRight, radius, width }: Fairness): boolean {
  if (s.kind === "line") return true;
  const concave = s.sweep > 0 === wallRight;
  const wall = concave ? s.radius + radius : s.radius - radius;
  const half = width / 2 + radius;
  // Between the cutter's places at both ends the straight way must stay in the kerf, or the tab has no width.
  return (
    wall >= (width * width) / (8 * FAIR_BOW) &&
    s.radius > half &&
    s.radius - Math.sqrt(s.radius ** 2 - half ** 2) <= radius
  );
}

/** A chord is met this closely, mm: far below what a program's decimals hold. */
const CHORD = 1e-9;

/** Half the stretch on the track, about s, whose chord is the tab's width and one cutter diameter. */
export function halfBridge(track: Track, s: number, width: number, radius: number): number {
  const chord = width + 2 * radius;
  const wrapped = ((s % track.length) + track.length) % track.length;
  const i = Math.max(0, track.sums.findIndex((sum) => sum > wrapped) - 1);
  const segment = track.contour.segments[i] as Segment;
  const half =
    segment.kind === "line"
      ? chord / 2
      : segment.radius * asin(Math.min(1, chord / (2 * segment.radius)));
  const room = Math.min(
    wrapped - (track.sums[i] as number),
    (track.sums[i + 1] as number) - wrapped,
  );
  if (half <= room || track.contour.segments.length === 1) return half;
  return halfAcross(track, s, chord);
}

/** Over several segments: by halving, between the chord itself and what no fair curve exceeds. */
function halfAcross(track: Track, s: number, chord: number): number {
  let low = chord / 2;
  let high = Math.min(chord, track.length / 2);
  while (high - low > CHORD) {
    const half = (low + high) / 2;
    if (distance(trackPoint(track, s - half), trackPoint(track, s + half)) >= chord) high = half;
    else low = half;
  }
  return high;
}
