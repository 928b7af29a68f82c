/**
 * Which of the possible places get the tabs: as evenly spread as they can be, and the same choice for a
 * drawing that is turned, mirrored or shifted.
 * Cost: O(spots × wanted × log spots).
 */
import type { Point } from "../../geometry/shape.ts";
import { isBetter, SAME } from "../same.ts";
import { CORNER_CLEAR } from "./stretch.ts";

export interface Spot {
  /** Along the track round what the tab holds, mm. */
  readonly s: number;
  /** Along the whole track, mm. */
  readonly place: number;
  readonly half: number;
  /** From the bridge's ends to the nearer end of its fair stretch, mm. */
  readonly room: number;
  /** From the middle of the track's area, mm: tells apart what all lengths along the track leave equal. */
  readonly off: number;
  readonly at: Point;
}

export interface Need {
  /** Length along the track that the rise before a bridge takes at the bottom. */
  readonly rise: number;
}

/** The most even choice of `wanted` spots; fewer where they do not fit side by side. */
export function spread(spots: readonly Spot[], length: number, wanted: number, need: Need): Spot[] {
  for (let n = Math.min(wanted, spots.length); n > 0; n--) {
    let best: Choice | undefined;
    // Even spacings begun at every spot: no choice depends on where the contour happens to start.
    for (const first of spots) {
      const choice = choiceOf(nearestTo(spots, length, n, first.s), length, need);
      if (
        choice.gap > 0 &&
        (best === undefined || isBetter(choice, best, ["gap", "room", "spread", "off"]))
      )
        best = choice;
    }
    const fits = best?.spots ?? packed(spots, length, n, need);
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

function choiceOf(chosen: Spot[], length: number, need: Need): Choice {
  const gaps = gapsOf(chosen, length, need);
  return {
    spots: chosen,
    gap: Math.min(...gaps),
    room: chosen.reduce((sum, spot) => sum + spot.room, 0),
    spread: gaps.reduce((sum, gap) => sum + gap * gap, 0),
    off: chosen.reduce((sum, spot) => sum + spot.off, 0),
  };
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
  if (Math.abs(closer) <= SAME) return isBetter(before, after, ["room", "off"]) ? before : after;
  return closer < 0 ? after : before;
}

function around(d: number, length: number): number {
  const a = Math.abs(d) % length;
  return Math.min(a, length - a);
}

/** Free track that neighbouring tabs leave between them; negative where they collide. */
function gapsOf(chosen: readonly Spot[], length: number, need: Need): number[] {
  return chosen.map((a, i) => {
    const b = chosen[(i + 1) % chosen.length] as Spot;
    const to = (i + 1 < chosen.length ? b.s : b.s + length) - b.half - need.rise;
    return to - (a.s + a.half + need.rise) - CORNER_CLEAR;
  });
}

/** Tight plates: greedily, as close as tabs may stand, from at most this many starts. */
const PACKINGS = 64;

function packed(spots: readonly Spot[], length: number, n: number, need: Need): Spot[] | undefined {
  const stride = Math.ceil(spots.length / PACKINGS);
  for (let i = 0; i < spots.length; i += stride) {
    const chosen = [spots[i] as Spot];
    for (let k = 1; k < spots.length && chosen.length < n; k++) {
      const next = spots[(i + k) % spots.length] as Spot;
      const trial = [...chosen, next].sort((a, b) => a.s - b.s);
      if (Math.min(...gapsOf(trial, length, need)) > 0) chosen.push(next);
    }
    if (chosen.length === n) return chosen.sort((a, b) => a.s - b.s);
  }
  return undefined;
}
