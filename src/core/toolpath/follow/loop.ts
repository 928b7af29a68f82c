/**
 * Once round a closed track, to depth: ramping along it in equal passes, rising over tabs, and one
 * finishing pass at full depth.
 *
 * Words. A bridge is the stretch of a track that stays above a tab: its length is the tab's width and
 * one cutter diameter. Its foot is where the cutter comes down again. The kerf is what the roughing
 * passes left open.
 *
 * Promises. No move goes down into uncut sheet more steeply than the ramp. No pass takes more than one
 * pass depth of uncut sheet at full width. Behind a bridge the cutter sinks only in the kerf of the
 * pass before, ramps forward to the new depth and comes back to the foot, so that the bridge keeps its
 * width down to the underside. The finishing pass goes down in the roughing kerf alone, which lies
 * `stock` beside it, and meets the wall on an arc.
 * Cost: O(segments × passes).
 */
import { lengthOf } from "../../geometry/segment.ts";
import type { Segment } from "../../geometry/shape.ts";
import { SAME } from "../same.ts";
import type { Depths } from "./depths.ts";
import type { ArcFeed } from "./feed.ts";
import { leadIn, leadOut, leadsFor } from "./leads.ts";
import { type Pen, run, straight, type Track, trackPoint, vertical } from "./track.ts";

/** A stretch of a track on which the cutter stays up. */
export interface Bridge {
  readonly from: number;
  readonly to: number;
}

export interface LoopFeeds {
  readonly ramp: ArcFeed;
  readonly cut: ArcFeed;
  readonly finish: ArcFeed;
  /** Straight down in air. */
  readonly plunge: number;
}

export interface RoughLoop {
  readonly track: Track;
  /** In order along the track, none across its start. */
  readonly bridges: readonly Bridge[];
  readonly depths: Depths;
  /** Z of the tabs' top. */
  readonly tabTop: number;
  /** Tangent of the ramp angle. */
  readonly slope: number;
  readonly feeds: LoopFeeds;
}

/** Roughs the whole loop, beginning and ending at the track's start; the pen stands there at Z 0. */
export function roughLoop(p: Pen, loop: RoughLoop): void {
  const { levels } = loop.depths;
  const free = loop.bridges.length === 0 ? levels : levels.filter((z) => z >= loop.tabTop - 1e-9);
  if (free.length > 0) {
    if (roomAtStart(loop) >= rampLength(loop) - SAME) for (const z of free) plainPass(p, loop, z);
    else spiralDown(p, loop, free);
  }
  for (const z of levels.slice(free.length)) tabPass(p, loop, z);
}

/** A ramp may be this share steeper than asked, where rounding would else add a turn. */
const HARDLY = 1e-4;

function rampLength({ depths, slope }: RoughLoop): number {
  return depths.step / slope;
}

/**
 * Length free for the ramps of plain passes, mm, the same seen from either side of the start. A plain pass
 * leaves its ramp's slope uncut: over a bridge it would stay for ever.
 */
function roomAtStart({ track, bridges, tabTop, depths }: RoughLoop): number {
  const rise = tabTop - depths.bottom;
  const first = bridges[0]?.from ?? Number.POSITIVE_INFINITY;
  const last = track.length - (bridges.at(-1)?.to ?? Number.NEGATIVE_INFINITY);
  return Math.min(roomAt(track, 0), first - rise, last - rise);
}

/**
 * Length to the nearer end of the segment at s, mm. Ramps either stay within one segment or run over a
 * whole stretch, so that a mirrored plate, on which the same ramp runs the other way, gets as many blocks.
 */
function roomAt(track: Track, s: number): number {
  const place = ((s % track.length) + track.length) % track.length;
  const { segments } = track.contour;
  if (segments.length === 1) return track.length;
  // The start of a track lies within one segment of the plate, which the track holds as its ends.
  const first = lengthOf(segments[0] as Segment);
  const last = lengthOf(segments[segments.length - 1] as Segment);
  if (place < 1e-9 || place > track.length - 1e-9) return Math.min(first, last);
  const i = track.sums.findIndex((sum) => sum > place) - 1;
  return Math.min(place - (track.sums[i] as number), (track.sums[i + 1] as number) - place);
}

/** Evenly down over whole turns, then once round level. */
function spiralDown(p: Pen, loop: RoughLoop, levels: readonly number[]): void {
  const { track, slope, feeds } = loop;
  const z = levels[levels.length - 1] as number;
  const steepest = Math.ceil((p.z - z) / slope / track.length - HARDLY);
  const turns = Math.max(levels.length, steepest);
  run(p, track, [0, turns * track.length], z, feeds.ramp);
  run(p, track, [0, track.length], z, feeds.cut);
}

function plainPass(p: Pen, loop: RoughLoop, z: number): void {
  const { track, depths, feeds } = loop;
  const ramp = rampLength(loop);
  run(p, track, [0, ramp], z, feeds.ramp);
  if (z > depths.bottom) {
    // The ramp's slope stays; the next pass cuts it away from the same start.
    run(p, track, [ramp, track.length], z, feeds.cut);
    return;
  }
  run(p, track, [ramp, 0], z, feeds.cut);
  run(p, track, [0, track.length], z, feeds.cut);
}

function tabPass(p: Pen, loop: RoughLoop, z: number): void {
  const { track, bridges, tabTop, feeds } = loop;
  const before = p.z;
  const rise = tabTop - z;
  const legs = legsFor(loop);
  let foot = 0;
  let at = 0;
  for (let i = 0; i <= bridges.length; i++) {
    const bridge = bridges[i];
    const end = bridge === undefined ? track.length : bridge.from - rise;
    descend(p, loop, { from: at, back: foot, to: end, z, legs });
    if (bridge === undefined) break;
    run(p, track, [end, bridge.from], tabTop, feeds.cut);
    run(p, track, [bridge.from, bridge.to], tabTop, feeds.cut);
    // To the height of the pass before, where everything above is open: down at 45°, or straight up where
    // that pass was still above the tab, so that every stretch sinks by the same ramp.
    foot = bridge.to;
    at = bridge.to + Math.max(0, tabTop - before);
    if (at > foot) run(p, track, [foot, at], before, feeds.cut);
    else vertical(p, before, feeds.plunge);
  }
}

interface Descent {
  readonly from: number;
  /** Cut back to here once at depth. */
  readonly back: number;
  readonly to: number;
  readonly z: number;
  /** How often the whole stretch is gone along on the way down; 0: a short ramp within one segment does. */
  readonly legs: number;
}

/**
 * One answer for all stretches between tabs, and the same seen from either end, so that a mirrored plate,
 * which is cut the other way round, takes the same way: short ramps only where each stretch has a segment's
 * room for one at both ends.
 */
function legsFor(loop: RoughLoop): number {
  const { track, bridges } = loop;
  const ramp = rampLength(loop);
  const rise = loop.tabTop - loop.depths.bottom;
  const ends = bridges.flatMap((b) => [b.from - rise, b.to + rise]);
  const stretches: [number, number][] = [];
  const marks = [0, ...ends, track.length];
  for (let i = 0; i < marks.length; i += 2) {
    stretches.push([marks[i] as number, marks[i + 1] as number]);
  }
  const room = Math.min(
    ...stretches.flatMap(([a, b]) => [roomAt(track, a), roomAt(track, b), b - a]),
  );
  if (room >= ramp - SAME) return 0;
  const shortest = Math.min(...stretches.map(([a, b]) => b - a));
  return oddAtLeast(ramp / Math.max(shortest, 1e-3));
}

/** From the pen's height to z on the stretch, and all of it at z in the end. */
function descend(p: Pen, loop: RoughLoop, d: Descent): void {
  const { track, feeds } = loop;
  let at = d.from;
  if (d.legs === 0) {
    at = d.from + rampLength(loop);
    run(p, track, [d.from, at], d.z, feeds.ramp);
  } else {
    const drop = (p.z - d.z) / d.legs;
    for (let leg = 0; leg < d.legs; leg++) {
      const span: [number, number] = leg % 2 === 0 ? [d.from, d.to] : [d.to, d.from];
      run(p, track, span, leg === d.legs - 1 ? d.z : p.z - drop, feeds.ramp);
    }
    at = d.to;
  }
  run(p, track, [at, d.back], d.z, feeds.cut);
  run(p, track, [d.back, d.to], d.z, feeds.cut);
}

function oddAtLeast(x: number): number {
  const n = Math.max(1, Math.ceil(x - HARDLY));
  return n % 2 === 1 ? n : n + 1;
}

/** As the finishing pass goes over it. */
export interface Rising extends Bridge {
  /** Where the way up to `from` begins. */
  readonly begins: number;
}

export interface FinishLoop {
  readonly track: Track;
  readonly bridges: readonly Rising[];
  /** The roughing track and its bridges, one for one. */
  readonly rough: Track;
  readonly roughBridges: readonly Bridge[];
  readonly tabTop: number;
  readonly bottom: number;
  readonly stock: number;
  readonly wallRight: boolean;
  readonly feeds: LoopFeeds;
}

/** Beyond the foot of a bridge by this before sinking, so that the cutter rubs nothing, mm. */
const BESIDE_FOOT = 0.05;
/** Once round at full depth; the pen stands at the roughing track's start, at the bottom. */
export function finishLoop(p: Pen, loop: FinishLoop): void {
  const leads = leadsFor(loop);
  const { finish, plunge } = loop.feeds;
  leadIn(p, loop, leads);
  let at = leads.reach;
  for (const [i, bridge] of loop.bridges.entries()) {
    run(p, loop.track, [at, bridge.begins], loop.bottom, finish);
    run(p, loop.track, [bridge.begins, bridge.from], loop.tabTop, finish);
    run(p, loop.track, [bridge.from, bridge.to], loop.tabTop, finish);
    const kerf = (loop.roughBridges[i] as Bridge).to + BESIDE_FOOT;
    straight(p, trackPoint(loop.rough, kerf), finish.base);
    vertical(p, loop.bottom, plunge);
    straight(p, trackPoint(loop.track, bridge.to), finish.base);
    at = bridge.to;
  }
  const end = loop.track.length + leads.reach + leads.overlap;
  run(p, loop.track, [at, end], loop.bottom, finish);
  leadOut(p, loop, end, leads);
}
