/**
 * Holding tabs: where a plate stays joined to the sheet, or a slug to its plate, until the end.
 *
 * A tab is a bridge of sheet under the cutter's path: for `width` along it the cutter stays `height`
 * above the underside. On the cutter-centre path that stretch spans a chord of width and one cutter
 * diameter, since half a cutter on either side is cut by what comes before and after.
 *
 * Promise: every tab lies on a fair stretch (straight, or so little curved that the stub files flat),
 * clear of corners and mating edges, with wall behind it that outlasts the tab when it is broken, and
 * with sheet before it that is not cut away by a neighbour. What could not be placed comes back as a
 * count, never as a tab somewhere worse.
 * Cost: O(length / STEP) candidates with three rays each.
 */

import { turnBetween } from "../geometry/contour.ts";
import type { SegmentIndex } from "../geometry/nearest.ts";
import { distance, lengthOf } from "../geometry/segment.ts";
import type { Point, Segment } from "../geometry/shape.ts";
import { asin } from "../geometry/trig.ts";
import type { Bridge } from "./follow/loop.ts";
import { type Track, trackPoint, trackTangent } from "./follow/track.ts";

export interface TabGround {
  /** The finished path of the cutter's centre, in the direction of travel. */
  readonly track: Track;
  readonly wallRight: boolean;
  readonly radius: number;
  /** Everything that bounds the plate: outline and features. */
  readonly plate: SegmentIndex;
  /** Walls whose own kerf takes sheet away: other plates, the other side of a bay or slug. */
  readonly neighbours: SegmentIndex;
  /** Where the sheet ends without a kerf: its edge, keep-outs. */
  readonly edges: SegmentIndex;
  /** Stretches of wall that sit in another plate. */
  readonly mating: readonly { readonly from: Point; readonly to: Point }[];
}

export interface TabWish {
  readonly width: number;
  readonly height: number;
  readonly spacing: number;
  readonly least: number;
  /** Of the sheet. */
  readonly thickness: number;
  /** Length along the track that the rise before a bridge takes at the bottom. */
  readonly rise: number;
}

export interface PlacedTab {
  readonly bridge: Bridge;
  /** On the plate's contour. */
  readonly at: Point;
}

/** A candidate every so often, mm: finer than any feature that would decide. */
const STEP = 0.5;
/** And at least so many on a short stretch. */
const LEAST_PLACES = 9;
/** A tab keeps off corners by this beyond its own ends, mm; common practice, no source. */
const CORNER_CLEAR = 1;
/** Bends up to this are no corner, rad (5°). */
const FAIR_TURN = 0.09;
/** The wall under a tab may bow by this over its width: it files flat, mm; common practice, no source. */
const FAIR_BOW = 0.5;
/** Sheet that must stay before a tab between two kerfs, mm; common practice, no source. */
const WEB = 1;
/** The wall behind must carry this many times what the tab carries. */
const OUTLASTS = 2;
/** Rays start this far off the wall, so as not to meet it. */
const OFF_WALL = 0.02;

export function wantedTabs(track: Track, wish: TabWish): number {
  return Math.max(wish.least, Math.ceil(track.length / wish.spacing - 1e-9));
}

/** At most the wanted number of tabs, spread as evenly as the ground allows. */
export function placeTabs(ground: TabGround, wish: TabWish): PlacedTab[] {
  const fair = fairStretches(ground, wish);
  const spots: Spot[] = [];
  for (const stretch of fair) {
    for (const s of placesIn(stretch, ground.track.length)) {
      const spot = spotFor(ground, wish, stretch, s);
      if (spot !== undefined) spots.push(spot);
    }
  }
  spots.sort((a, b) => a.s - b.s);
  const wanted = wantedTabs(ground.track, wish);
  const level = spread(
    spots.filter((spot) => segmentAt(ground.track, spot.s).kind === "line"),
    ground.track.length,
    wanted,
    wish,
  );
  // Straight stretches alone, unless they hold too few.
  const chosen = level.length === wanted ? level : spread(spots, ground.track.length, wanted, wish);
  return chosen.map((spot) => ({
    bridge: { from: spot.s - spot.half, to: spot.s + spot.half },
    at: spot.at,
  }));
}

interface Stretch {
  readonly from: number;
  readonly to: number;
  /** The whole track, without a corner anywhere. */
  readonly endless: boolean;
}

interface Spot {
  readonly s: number;
  readonly half: number;
  readonly at: Point;
}

/** Runs of the track without corners or tight curves; `to` may lie past the track's end. */
export function fairStretches(
  ground: Pick<TabGround, "track" | "wallRight" | "radius">,
  wish: Pick<TabWish, "width">,
): Stretch[] {
  const { segments } = ground.track.contour;
  const n = segments.length;
  const good = segments.map((s) => isFair(s, ground, wish.width));
  const joint = segments.map((s, i) => {
    const next = segments[(i + 1) % n] as Segment;
    return n === 1 || Math.abs(turnBetween(s, next)) < FAIR_TURN;
  });
  const breakAfter = (i: number): boolean =>
    !(joint[i] as boolean) || !good[i] || !good[(i + 1) % n];
  const first = segments.findIndex((_, i) => breakAfter(i));
  if (first < 0) return [{ from: 0, to: ground.track.length, endless: true }];
  const out: Stretch[] = [];
  let from = 0;
  let length = 0;
  let at = ground.track.sums[first + 1] as number;
  for (let k = 1; k <= n; k++) {
    const i = (first + k) % n;
    const own = lengthOf(segments[i] as Segment);
    if (good[i]) {
      if (length === 0) from = at;
      length += own;
    }
    at += own;
    if (breakAfter(i)) {
      if (length > 0) out.push({ from, to: from + length, endless: false });
      length = 0;
    }
  }
  return out;
}

function isFair(
  s: Segment,
  ground: Pick<TabGround, "wallRight" | "radius">,
  width: number,
): boolean {
  if (s.kind === "line") return true;
  const concave = s.sweep > 0 === ground.wallRight;
  const wall = concave ? s.radius + ground.radius : s.radius - ground.radius;
  return wall >= (width * width) / (8 * FAIR_BOW) && s.radius > width / 2 + ground.radius;
}

function placesIn(stretch: Stretch, length: number): number[] {
  const n = Math.max(LEAST_PLACES, Math.floor((stretch.to - stretch.from) / STEP));
  const step = (stretch.to - stretch.from) / n;
  const out: number[] = [];
  for (let i = 0; i < n; i++) out.push((stretch.from + (i + 0.5) * step) % length);
  return out;
}

function spotFor(ground: TabGround, wish: TabWish, stretch: Stretch, s: number): Spot | undefined {
  const half = halfBridge(ground.track, s, wish.width, ground.radius);
  // In the stretch's own count, which may run past the track's end.
  const own = s < stretch.from ? s + ground.track.length : s;
  if (!stretch.endless) {
    // Room for the rise on both sides, though it is needed on one: mirrored plates get mirrored tabs.
    const reach = half + wish.rise + CORNER_CLEAR;
    if (own - reach < stretch.from || own + reach > stretch.to) return undefined;
  }
  const at = wallPoint(ground, s);
  if (ground.mating.some((edge) => nearEdge(edge, at, half + CORNER_CLEAR))) return undefined;
  const carries = (OUTLASTS * wish.width * wish.height) / wish.thickness;
  for (const offset of [0, -wish.width / 2, wish.width / 2]) {
    if (!clearHere(ground, s + offset, carries)) return undefined;
  }
  return { s, half, at };
}

/** Half the stretch on the track whose chord is the tab's width and one cutter diameter. */
export function halfBridge(track: Track, s: number, width: number, radius: number): number {
  const chord = width + 2 * radius;
  const segment = segmentAt(track, s);
  if (segment.kind === "line") return chord / 2;
  return segment.radius * asin(Math.min(1, chord / (2 * segment.radius)));
}

function segmentAt(track: Track, s: number): Segment {
  const wrapped = ((s % track.length) + track.length) % track.length;
  const i = track.sums.findIndex((sum) => sum > wrapped) - 1;
  return track.contour.segments[Math.max(0, i)] as Segment;
}

/** Unit vector from the track to the wall. */
function toWall(ground: TabGround, s: number): Point {
  const t = trackTangent(ground.track, s);
  return ground.wallRight ? { x: t.y, y: -t.x } : { x: -t.y, y: t.x };
}

function wallPoint(ground: TabGround, s: number): Point {
  return along(trackPoint(ground.track, s), toWall(ground, s), ground.radius);
}

function along(p: Point, n: Point, d: number): Point {
  return { x: p.x + n.x * d, y: p.y + n.y * d };
}

function clearHere(ground: TabGround, s: number, carries: number): boolean {
  const n = toWall(ground, s);
  const wall = wallPoint(ground, s);
  const reach = (index: SegmentIndex, from: number, to: number): boolean =>
    index.hits(along(wall, n, from), along(wall, n, to)).length > 0;
  const kerf = 2 * ground.radius;
  return (
    !reach(ground.plate, OFF_WALL, carries) &&
    !reach(ground.neighbours, -OFF_WALL, -(2 * kerf + WEB)) &&
    !reach(ground.edges, -OFF_WALL, -(kerf + WEB))
  );
}

function nearEdge(edge: { from: Point; to: Point }, p: Point, reach: number): boolean {
  const dx = edge.to.x - edge.from.x;
  const dy = edge.to.y - edge.from.y;
  const d2 = dx * dx + dy * dy;
  const t = d2 === 0 ? 0 : ((p.x - edge.from.x) * dx + (p.y - edge.from.y) * dy) / d2;
  const k = Math.min(1, Math.max(0, t));
  return distance(p, { x: edge.from.x + k * dx, y: edge.from.y + k * dy }) < reach;
}

/** The most even choice of `wanted` spots; fewer where they do not fit side by side. */
function spread(spots: readonly Spot[], length: number, wanted: number, wish: TabWish): Spot[] {
  for (let n = Math.min(wanted, spots.length); n > 0; n--) {
    let best: Spot[] | undefined;
    let bestGap = 0;
    // Even spacings begun at every spot: no choice depends on where the contour happens to start.
    for (const first of spots) {
      const chosen = nearestTo(spots, length, n, first.s);
      const gap = leastGap(chosen, length, wish);
      // A new best must be better by more than noise, or a turned drawing could choose otherwise.
      if (gap > bestGap + 1e-6) {
        bestGap = gap;
        best = chosen;
      }
    }
    const fits = best ?? packed(spots, length, n, wish);
    if (fits !== undefined) return fits;
  }
  return [];
}

function nearestTo(spots: readonly Spot[], length: number, n: number, start: number): Spot[] {
  const chosen: Spot[] = [];
  for (let k = 0; k < n; k++) {
    chosen.push(nearestSpot(spots, length, (start + (k * length) / n) % length));
  }
  return chosen.sort((a, b) => a.s - b.s);
}

function nearestSpot(spots: readonly Spot[], length: number, s: number): Spot {
  let lo = 0;
  let hi = spots.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if ((spots[mid] as Spot).s < s) lo = mid + 1;
    else hi = mid;
  }
  const after = spots[lo % spots.length] as Spot;
  const before = spots[(lo + spots.length - 1) % spots.length] as Spot;
  return around(after.s - s, length) <= around(before.s - s, length) ? after : before;
}

function around(d: number, length: number): number {
  const a = Math.abs(d) % length;
  return Math.min(a, length - a);
}

/** Free track that two tabs leave between them; negative where they collide. */
function leastGap(chosen: readonly Spot[], length: number, wish: TabWish): number {
  let least = Number.POSITIVE_INFINITY;
  for (const [i, a] of chosen.entries()) {
    const b = chosen[(i + 1) % chosen.length] as Spot;
    const to = (i + 1 < chosen.length ? b.s : b.s + length) - b.half - wish.rise;
    least = Math.min(least, to - (a.s + a.half + wish.rise) - CORNER_CLEAR);
  }
  return least;
}

/** Tight plates: greedily, as close as tabs may stand, from at most this many starts. */
const PACKINGS = 64;

function packed(
  spots: readonly Spot[],
  length: number,
  n: number,
  wish: TabWish,
): Spot[] | undefined {
  const stride = Math.ceil(spots.length / PACKINGS);
  for (let i = 0; i < spots.length; i += stride) {
    const chosen = [spots[i] as Spot];
    for (let k = 1; k < spots.length && chosen.length < n; k++) {
      const next = spots[(i + k) % spots.length] as Spot;
      const trial = [...chosen, next].sort((a, b) => a.s - b.s);
      if (leastGap(trial, length, wish) > 0) chosen.push(next);
    }
    if (chosen.length === n) return chosen.sort((a, b) => a.s - b.s);
  }
  return undefined;
}
