/**
 * Holding tabs: where a plate stays joined to the sheet, or a slug to its plate, until the end.
 *
 * A tab is a bridge of sheet under the cutter's path: for `width` along it the cutter stays `height`
 * above the underside. On the cutter-centre path that stretch spans a chord of width and one cutter
 * diameter, since half a cutter on either side is cut by what comes before and after.
 *
 * Promise: every tab lies on a fair stretch (straight, or so little curved that the stub files flat),
 * within one segment clear of its ends, off mating edges, with wall behind it that outlasts the tab when it is broken, and
 * with sheet before it that is not cut away by a neighbour. What could not be placed comes back as a
 * count, never as a tab somewhere worse.
 * Cost: O(length / STEP) candidates with three rays each.
 */

import { centroid } from "../geometry/contour.ts";
import type { SegmentIndex } from "../geometry/nearest.ts";
import { distance } from "../geometry/segment.ts";
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
const UNEVEN = 0.382;
/** And at least so many on a short stretch. */
const LEAST_PLACES = 9;
/** A tab keeps off corners by this beyond its own ends, mm; common practice, no source. */
const CORNER_CLEAR = 1;
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
  const stretches = fairStretches(ground, wish);
  const wanted = wantedTabs(ground.track, wish);
  const middle = centroid(ground.track.contour);
  const choose = (some: readonly Stretch[]): Spot[] => {
    const spots = some.flatMap((stretch) => spotsOn(ground, wish, stretch, middle));
    spots.sort((a, b) => a.s - b.s);
    return spread(spots, ground.track.length, wanted, wish);
  };
  // Straight stretches alone, unless they hold too few.
  const straight = choose(stretches.filter((stretch) => stretch.straight));
  const chosen = straight.length === wanted ? straight : choose(stretches);
  return chosen.map((spot) => ({
    bridge: { from: spot.s - spot.half, to: spot.s + spot.half },
    at: spot.at,
  }));
}

function spotsOn(ground: TabGround, wish: TabWish, stretch: Stretch, middle: Point): Spot[] {
  return placesIn(stretch).flatMap((s) => {
    const spot = spotFor(ground, wish, stretch, s);
    return spot === undefined ? [] : [{ ...spot, off: distance(spot.at, middle) }];
  });
}

/** One segment of the track on which a tab may stand; a whole circle has no ends to keep clear of. */
interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly straight: boolean;
  readonly endless: boolean;
}

interface Spot {
  readonly s: number;
  readonly half: number;
  /** From the bridge's ends to the nearer end of its fair stretch, mm. */
  readonly room: number;
  /** From the middle of the track's area, mm: tells apart what all lengths along the track leave equal. */
  readonly off: number;
  readonly at: Point;
}

function fairStretches(ground: TabGround, wish: TabWish): Stretch[] {
  const { segments } = ground.track.contour;
  return segments.flatMap((s, i) =>
    isFair(s, ground, wish.width)
      ? [
          {
            from: ground.track.sums[i] as number,
            to: ground.track.sums[i + 1] as number,
            straight: s.kind === "line",
            endless: segments.length === 1,
          },
        ]
      : [],
  );
}

function isFair(s: Segment, ground: TabGround, width: number): boolean {
  if (s.kind === "line") return true;
  const concave = s.sweep > 0 === ground.wallRight;
  const wall = concave ? s.radius + ground.radius : s.radius - ground.radius;
  return wall >= (width * width) / (8 * FAIR_BOW) && s.radius > width / 2 + ground.radius;
}

function placesIn({ from, to }: Stretch): number[] {
  // Drawings love round lengths: the threshold between one count and the next lies where none of them is.
  const n = Math.max(LEAST_PLACES, Math.floor((to - from) / STEP + UNEVEN));
  return Array.from({ length: n }, (_, i) => from + ((i + 0.5) * (to - from)) / n);
}

function spotFor(
  ground: TabGround,
  wish: TabWish,
  stretch: Stretch,
  s: number,
): Omit<Spot, "off"> | undefined {
  const half = halfBridge(ground.track, s, wish.width, ground.radius);
  let room = ground.track.length;
  if (!stretch.endless) {
    // Room for the rise on both sides, though it is needed on one: mirrored plates get mirrored tabs.
    room = Math.min(s - stretch.from, stretch.to - s) - half;
    if (room < wish.rise + CORNER_CLEAR) return undefined;
  }
  const at = wallPoint(ground, s);
  if (ground.mating.some((edge) => nearEdge(edge, at, half + CORNER_CLEAR))) return undefined;
  const carries = (OUTLASTS * wish.width * wish.height) / wish.thickness;
  for (const offset of [0, -wish.width / 2, wish.width / 2]) {
    if (!clearHere(ground, s + offset, carries)) return undefined;
  }
  return { s, half, room, at };
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

/**
 * Lengths are compared in steps of this, mm: what a turned or mirrored drawing changes by rounding must not
 * change a choice, and what ties is decided by what has more room.
 */
const SAME = 1e-4;

/** The most even choice of `wanted` spots; fewer where they do not fit side by side. */
function spread(spots: readonly Spot[], length: number, wanted: number, wish: TabWish): Spot[] {
  for (let n = Math.min(wanted, spots.length); n > 0; n--) {
    let best: Choice | undefined;
    // Even spacings begun at every spot: no choice depends on where the contour happens to start.
    for (const first of spots) {
      const choice = choiceOf(nearestTo(spots, length, n, first.s), length, wish);
      if (choice.gap > 0 && (best === undefined || isBetter(choice, best))) best = choice;
    }
    const fits = best?.spots ?? packed(spots, length, n, wish);
    if (fits !== undefined) return fits;
  }
  return [];
}

interface Choice {
  readonly spots: Spot[];
  readonly gap: number;
  readonly room: number;
  readonly spread: number;
  readonly off: number;
}

function choiceOf(chosen: Spot[], length: number, wish: TabWish): Choice {
  const gaps = gapsOf(chosen, length, wish);
  return {
    spots: chosen,
    gap: Math.min(...gaps),
    room: chosen.reduce((sum, spot) => sum + spot.room, 0),
    spread: gaps.reduce((sum, gap) => sum + gap * gap, 0),
    off: chosen.reduce((sum, spot) => sum + spot.off, 0),
  };
}

/** In steps, not within a tolerance of one another: that would depend on the order of asking. */
function isBetter(a: Choice, b: Choice): boolean {
  for (const key of ["gap", "room", "spread", "off"] as const) {
    const difference = Math.round(a[key] / SAME) - Math.round(b[key] / SAME);
    if (difference !== 0) return difference > 0;
  }
  return false;
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
  const closer = around(after.s - s, length) - around(before.s - s, length);
  if (Math.abs(closer) <= SAME) return after.room >= before.room ? after : before;
  return closer < 0 ? after : before;
}

function around(d: number, length: number): number {
  const a = Math.abs(d) % length;
  return Math.min(a, length - a);
}

/** Free track that neighbouring tabs leave between them; negative where they collide. */
function gapsOf(chosen: readonly Spot[], length: number, wish: TabWish): number[] {
  return chosen.map((a, i) => {
    const b = chosen[(i + 1) % chosen.length] as Spot;
    const to = (i + 1 < chosen.length ? b.s : b.s + length) - b.half - wish.rise;
    return to - (a.s + a.half + wish.rise) - CORNER_CLEAR;
  });
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
      if (Math.min(...gapsOf(trial, length, wish)) > 0) chosen.push(next);
    }
    if (chosen.length === n) return chosen.sort((a, b) => a.s - b.s);
  }
  return undefined;
}
