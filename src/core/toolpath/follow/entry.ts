/**
 * Where a cut round one wall begins.
 *
 * In the middle of the longest straight segment that no tab touches, where there is one long enough: the
 * ramp is straight, the lead has room, and no corner carries the mark. Else in the middle of whatever
 * segment has room for the lead and is furthest from the tabs.
 */
import { centroid } from "../../geometry/contour.ts";
import { distance } from "../../geometry/segment.ts";
import { isBetter } from "../same.ts";
import type { Bridge } from "./loop.ts";
import { type Track, trackPoint } from "./track.ts";

/** Tabs keep this much more than their own ends free of an entry, mm; common practice, no source. */
const ENTRY_CLEAR = 1;
/** Straight for this long is long enough, mm; common practice, no source. */
const ENOUGH = 10;
/** The lead and what is cut twice lie on one segment, so that they are as long on a mirrored plate, mm. */
const LEAD_ROOM = 3;

interface Entry {
  readonly place: number;
  readonly worth: number;
  /** Free track to the nearer tab, mm. */
  readonly clear: number;
  /** From the middle of the track's area, mm. */
  readonly off: number;
}

export function entryOf(track: Track, bridges: readonly Bridge[]): number {
  return entriesOf(track, bridges)[0] as number;
}

/**
 * The best place, and after it those that are as good for the cut itself: straight and long enough, or where none
 * is, with room for the lead. Which of them shortens the way through the air is for the order to say.
 */
export function entriesOf(track: Track, bridges: readonly Bridge[]): readonly number[] {
  const pieces = freePieces(track, bridges);
  const straight = pieces.filter((p) => p.straight && p.worth >= ENOUGH);
  const other = pieces.map((p) => ({ ...p, worth: Math.min(p.worth, LEAD_ROOM) }));
  const first = best(straight) ?? best(other);
  if (first === undefined) return [0];
  const good = straight.length > 0 ? straight : other.filter((p) => p.worth >= LEAD_ROOM);
  return [first, ...good.filter((p) => p !== first)].map((p) => p.place);
}

interface Piece extends Entry {
  readonly straight: boolean;
}

/** Each segment's stretches between tabs. */
function freePieces(track: Track, bridges: readonly Bridge[]): Piece[] {
  const middle = centroid(track.contour);
  return track.contour.segments.flatMap((segment, i) => {
    const whole = { from: track.sums[i] as number, to: track.sums[i + 1] as number };
    return without(whole, bridges, track.length).map(({ from, to }) => {
      const place = (from + to) / 2;
      return {
        place,
        worth: to - from,
        clear: clearOf(place, bridges, track.length),
        off: distance(trackPoint(track, place), middle),
        straight: segment.kind === "line",
      };
    });
  });
}

function best(pieces: readonly Entry[]): Entry | undefined {
  let found: Entry | undefined;
  for (const p of pieces) {
    if (found === undefined || isBetter(p, found, ["worth", "clear", "off"])) found = p;
  }
  return found;
}

function clearOf(place: number, bridges: readonly Bridge[], length: number): number {
  let least = length;
  for (const { from, to } of bridges) {
    const d = Math.abs(place - (from + to) / 2) % length;
    least = Math.min(least, d, length - d);
  }
  return least;
}

/** What of a stretch is clear of all the bridges, which may cross the track's start. */
function without(stretch: Bridge, bridges: readonly Bridge[], length: number): Bridge[] {
  let pieces: Bridge[] = [stretch];
  for (const { from, to } of bridges) {
    for (const turn of [-length, 0, length]) {
      const a = from - ENTRY_CLEAR + turn;
      const b = to + ENTRY_CLEAR + turn;
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
