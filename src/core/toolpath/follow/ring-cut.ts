/**
 * One cut round one wall: where it starts, the roughing passes, the finishing pass.
 *
 * The start lies in the middle of the longest single segment that no tab touches: the ramp is straight,
 * the lead has room, and no corner carries the mark.
 */
import { centroid, startedAt } from "../../geometry/contour.ts";
import { distance } from "../../geometry/segment.ts";
import type { Contour, Segment } from "../../geometry/shape.ts";
import type { Cut } from "../cut.ts";
import { placeOn } from "../open/clear.ts";
import type { PlacedTab } from "../tab/place.ts";
import { halfBridge } from "../tab/stretch.ts";
import type { Depths } from "./depths.ts";
import { type Bridge, finishLoop, roughLoop } from "./loop.ts";
import { type Setup, travel } from "./setup.ts";
import { type Pen, pen, type Track, trackOf, trackPoint, vertical } from "./track.ts";

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

export function ringCut(job: RingJob, setup: Setup): Cut {
  const start = entryOf(job.track, job.tabs);
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
  if (rough !== track) finish(p, { track, bridges, rough, roughBridges }, job, setup);
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
  readonly bridges: readonly Bridge[];
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
  return trackOf(startedAt(way, placeOn(way, trackPoint(track, 0))));
}

/** A bridge of the finished track on the roughing track: the same middle, its own chord. */
function carriedOver(
  bridge: Bridge & { width: number },
  track: Track,
  rough: Track,
  setup: Setup,
): Bridge {
  const middle = placeOn(rough.contour, trackPoint(track, (bridge.from + bridge.to) / 2));
  const half = halfBridge(rough, middle, bridge.width, setup.radius);
  return { from: middle - half, to: middle + half };
}

function shifted(bridge: Bridge, start: number, length: number): Bridge {
  const half = (bridge.to - bridge.from) / 2;
  const middle = (bridge.from + bridge.to) / 2 - start;
  const wrapped = ((middle % length) + length) % length;
  return { from: wrapped - half, to: wrapped + half };
}

/** Tabs keep this much more than their own ends free of an entry, mm; common practice, no source. */
const ENTRY_CLEAR = 1;
/** Starts on arcs count this much of their length: a straight start is better. */
const ARC_SHARE = 0.5;

interface Entry {
  readonly place: number;
  readonly worth: number;
  /** Free track to the nearer tab, mm. */
  readonly clear: number;
  /** From the middle of the track's area, mm. */
  readonly off: number;
}

/** Lengths are compared in steps of this, mm, so that rounding decides nothing; see tabs.ts. */
const SAME = 1e-4;

function entryOf(track: Track, tabs: readonly PlacedTab[]): number {
  const taken = tabs.map(({ bridge }) => ({
    from: bridge.from - ENTRY_CLEAR,
    to: bridge.to + ENTRY_CLEAR,
  }));
  const middle = centroid(track.contour);
  let best: Entry = { place: 0, worth: -1, clear: 0, off: 0 };
  for (const [i, segment] of track.contour.segments.entries()) {
    const from = track.sums[i] as number;
    const to = track.sums[i + 1] as number;
    for (const piece of without(from, to, taken, track.length)) {
      const place = (piece.from + piece.to) / 2;
      const entry = {
        place,
        worth: (piece.to - piece.from) * share(segment),
        clear: clearOf(place, tabs, track.length),
        off: distance(trackPoint(track, place), middle),
      };
      if (isBetter(entry, best)) best = entry;
    }
  }
  return best.place;
}

function isBetter(a: Entry, b: Entry): boolean {
  for (const key of ["worth", "clear", "off"] as const) {
    const difference = Math.round(a[key] / SAME) - Math.round(b[key] / SAME);
    if (difference !== 0) return difference > 0;
  }
  return false;
}

function clearOf(place: number, tabs: readonly PlacedTab[], length: number): number {
  let least = length;
  for (const { bridge } of tabs) {
    const d = Math.abs(place - (bridge.from + bridge.to) / 2) % length;
    least = Math.min(least, d, length - d);
  }
  return least;
}

function share(s: Segment): number {
  return s.kind === "line" ? 1 : ARC_SHARE;
}

/** What of from–to is outside all the taken stretches, which may cross the track's start. */
function without(from: number, to: number, taken: readonly Bridge[], length: number): Bridge[] {
  let pieces: Bridge[] = [{ from, to }];
  for (const t of taken) {
    for (const turn of [-length, 0, length]) {
      const a = t.from + turn;
      const b = t.to + turn;
      pieces = pieces.flatMap((p) =>
        b <= p.from || a >= p.to
          ? [p]
          : [
              { from: p.from, to: a },
              { from: b, to: p.to },
            ].filter((q) => q.to > q.from),
      );
    }
  }
  return pieces;
}
