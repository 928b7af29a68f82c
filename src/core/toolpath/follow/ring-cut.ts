/**
 * One cut round one wall: where it starts, the roughing passes, the finishing pass.
 *
 * Where the start lies is chosen in entry.ts.
 */
import { startedAt } from "../../geometry/contour.ts";
import type { Contour } from "../../geometry/shape.ts";
import { type Cut, feedLength, type Ways } from "../cut.ts";
import type { PlacedTab } from "../tab/place.ts";
import { halfBridge } from "../tab/stretch.ts";
import type { Depths } from "./depths.ts";
import { entriesOf, entryOf } from "./entry.ts";
import { type Bridge, finishLoop, type Rising, roughLoop } from "./loop.ts";
import { type Setup, travel } from "./setup.ts";
import { type Pen, pen, placeOn, type Track, trackOf, trackPoint, vertical } from "./track.ts";

export interface RingJob {
  readonly label: string;
  readonly side: "inside" | "outside";
  /** The finished track, in the direction of travel. */
  readonly track: Track;
  /** Ring of the roughing passes, counter-clockwise, a stock further from the wall; absent: none is left for finishing. */
  readonly roughRing?: Contour | undefined;
  readonly tabs: readonly PlacedTab[];
  readonly depths: Depths;
}

/** The cut from its best entry, and from others where it is as long and has as many moves. */
export function ringCuts(job: RingJob, setup: Setup): Ways {
  const bridges = job.tabs.map((tab) => tab.bridge);
  const [best = 0, ...more] = entriesOf(job.track, bridges);
  const first = ringCut(job, setup, best);
  const length = feedLength(first);
  const others = more
    .slice(0, MOST_OTHERS)
    .map((start) => ringCut(job, setup, start))
    .filter((cut) => cut.moves.length === first.moves.length)
    .filter((cut) => Math.abs(feedLength(cut) - length) < AS_LONG);
  return [[first], ...others.map((cut) => [cut])];
}

/** Each is tried as a whole cut: more of them cost more time than they save. */
const MOST_OTHERS = 7;
/** Cuts that differ by less are equal, mm: rounding, and the grid of drawings, over all their passes. */
const AS_LONG = 1e-4;

function ringCut(job: RingJob, setup: Setup, start: number): Cut {
  const track = trackOf(startedAt(job.track.contour, start));
  const bridges = job.tabs
    .map((tab) => ({ ...shifted(tab.bridge, start, track.length), width: tab.width }))
    .sort((a, b) => a.from - b.from);
  const rough = job.roughRing === undefined ? track : beside(track, job.roughRing, job.side, setup);
  const roughBridges =
    rough === track ? bridges : bridges.map((b) => carriedOver(b, track, rough, setup));
  const p = pen(trackPoint(rough, 0), setup.startZ);
  vertical(p, 0, setup.feeds.plunge);
  const shared = { tabTop: setup.tabTop, feeds: setup.feeds };
  roughLoop(p, {
    ...shared,
    track: rough,
    bridges: roughBridges,
    depths: job.depths,
    slope: setup.slope,
  });
  if (rough !== track) {
    const rise = setup.tabTop - job.depths.bottom;
    const rising = bridges.map((b, i) => {
      return risingBeside(b, track, roughBridges[i] as Bridge, rough, rise);
    });
    finish(p, { track, bridges: rising, rough, roughBridges }, job, setup);
  }
  return { label: job.label, start: trackPoint(rough, 0), startZ: setup.startZ, moves: p.moves };
}

/** The finishing pass alone, for openings that are cleared first: down in the open, beside the wall. */
export function finishCut(job: RingJob, setup: Setup): Cut {
  const start = entryOf(job.track, []);
  const track = trackOf(startedAt(job.track.contour, start));
  const rough = beside(track, job.roughRing as Contour, job.side, setup);
  const p = pen(trackPoint(rough, 0), setup.startZ);
  vertical(p, job.depths.bottom, setup.feeds.plunge);
  finish(p, { track, bridges: [], rough, roughBridges: [] }, job, setup);
  return {
    label: `${job.label} finish`,
    start: trackPoint(rough, 0),
    startZ: setup.startZ,
    moves: p.moves,
  };
}

interface Pair {
  readonly track: Track;
  readonly bridges: readonly Rising[];
  readonly rough: Track;
  readonly roughBridges: readonly Bridge[];
}

function finish(p: Pen, pair: Pair, job: RingJob, setup: Setup): void {
  finishLoop(p, {
    ...pair,
    tabTop: setup.tabTop,
    bottom: job.depths.bottom,
    stock: setup.options.finish.stock,
    wallRight: setup.wallRight,
    feeds: {
      ...setup.feeds,
      finish: { ...setup.feeds.finish, faster: job.side === "outside" },
    },
  });
}

function beside(track: Track, ring: Contour, side: "inside" | "outside", setup: Setup): Track {
  const way = travel(ring, side, setup);
  return trackOf(startedAt(way, placeOn(trackOf(way), trackPoint(track, 0))));
}

/**
 * A bridge of the finished track on the roughing track: beside its ends, and where the roughing track is
 * the tighter one, as far apart as the tab's width needs there too.
 */
function carriedOver(
  bridge: Bridge & { readonly width: number },
  track: Track,
  rough: Track,
  setup: Setup,
): Bridge {
  const beside = (s: number): number => placeOn(rough, trackPoint(track, s));
  const middle = beside((bridge.from + bridge.to) / 2);
  const half = halfBridge(rough, middle, bridge.width, setup.radius);
  const back = lengthOver(beside(bridge.from), middle, rough.length);
  const on = lengthOver(middle, beside(bridge.to), rough.length);
  return { from: middle - Math.max(half, back), to: middle + Math.max(half, on) };
}

/**
 * The bridge as wide as roughing left it, and its slope no further on than the one there: where the finished track bends
 * more gently, a slope of its own would lie in what roughing left, and be cut at the cutter's full width.
 */
function risingBeside(
  bridge: Bridge,
  track: Track,
  left: Bridge,
  rough: Track,
  rise: number,
): Rising {
  const middle = (bridge.from + bridge.to) / 2;
  const half = (bridge.to - bridge.from) / 2;
  const beside = (s: number): number => placeOn(track, trackPoint(rough, s));
  // What lies further off is another part of the track, which turns back there.
  const wider = (own: number, found: number): number =>
    found > own + SAME && found < own + half + rise ? found : own;
  const back = wider(half, lengthOver(beside(left.from), middle, track.length));
  const on = wider(half, lengthOver(middle, beside(left.to), track.length));
  const begins = wider(back + rise, lengthOver(beside(left.from - rise), middle, track.length));
  return { begins: middle - begins, from: middle - back, to: middle + on };
}

/** Rounding of a place that is looked for, mm. */
const SAME = 1e-6;

/** From a on to b, forwards. */
function lengthOver(a: number, b: number, length: number): number {
  return (b - a + length) % length;
}

function shifted(bridge: Bridge, start: number, length: number): Bridge {
  const half = (bridge.to - bridge.from) / 2;
  const middle = (bridge.from + bridge.to) / 2 - start;
  const wrapped = ((middle % length) + length) % length;
  return { from: wrapped - half, to: wrapped + half };
}
