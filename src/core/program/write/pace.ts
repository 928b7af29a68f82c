/**
 * Feeds that the controller's block rate can follow. One short block among long ones holds up nothing: controllers
 * have some blocks ready. Where as many as those in a row would be over sooner than new ones come, all of them go
 * at the feed at which they last as long.
 *
 * A controller that runs dry stands still in the cut, and a cutter that stands still in carbon rubs itself blunt.
 */
import { hypot } from "../../geometry/trig.ts";
import { type CutMove, levelLength } from "../../toolpath/cut.ts";
import type { Place } from "./merge.ts";

export interface Slowed {
  blocks: number;
  /** The greatest share of its feed that a block lost. */
  most: number;
}

/** Blocks that even the smallest controllers have ready (15–100 are seen; common practice, no source). */
export const READY: number = 15;

export function paced(
  start: Place,
  moves: readonly CutMove[],
  blocksPerSecond: number,
  slowed: Slowed,
): readonly CutMove[] {
  if (moves.length < READY) return moves;
  const caps = capsOf(lengthsOf(start, moves), moves, blocksPerSecond);
  return moves.map((m, i) => {
    const most = Math.max(1, Math.floor(caps[i] as number));
    if (most >= m.feed) return m;
    slowed.blocks++;
    slowed.most = Math.max(slowed.most, 1 - most / m.feed);
    return { ...m, feed: most };
  });
}

function lengthsOf(start: Place, moves: readonly CutMove[]): number[] {
  let at = start;
  return moves.map((m) => {
    const length = hypot(levelLength(at.to, m), m.z - at.z);
    at = m;
    return length;
  });
}

/** mm/min that each block may have: whatever is in a hurried row goes no faster than that row can bear. */
function capsOf(
  lengths: readonly number[],
  moves: readonly CutMove[],
  blocksPerSecond: number,
): Float64Array {
  const caps = new Float64Array(moves.length).fill(Number.POSITIVE_INFINITY);
  const least = READY / blocksPerSecond;
  let long = -1;
  for (let last = 0; last < moves.length; last++) {
    if (((lengths[last] as number) * 60) / (moves[last] as CutMove).feed >= least) long = last;
    // One block that lasts long enough by itself gives the controller time for all of its row.
    if (last < READY - 1 || last - long < READY) continue;
    let length = 0;
    let seconds = 0;
    for (let i = last - READY + 1; i <= last; i++) {
      length += lengths[i] as number;
      seconds += ((lengths[i] as number) * 60) / (moves[i] as CutMove).feed;
    }
    if (seconds >= least) continue;
    const cap = (length * 60) / least;
    for (let i = last - READY + 1; i <= last; i++) caps[i] = Math.min(caps[i] as number, cap);
  }
  return caps;
}
