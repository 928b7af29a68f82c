/**
 * Feeds that the controller's block rate can follow. One short block among long ones holds up nothing: controllers
 * have some blocks ready. Where as many as those in a row would be over sooner than new ones come, each that is
 * too short goes at the rate at which they come.
 *
 * A controller that runs dry stands still in the cut, and a cutter that stands still in carbon rubs itself blunt.
 */
import { distance } from "../../geometry/segment.ts";
import { hypot } from "../../geometry/trig.ts";
import type { CutMove } from "../../toolpath/cut.ts";
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
  const lengths = lengthsOf(start, moves);
  const seconds = moves.map((m, i) => ((lengths[i] as number) * 60) / m.feed);
  const hurried = hurriedOf(seconds, READY / blocksPerSecond);
  if (hurried === undefined) return moves;
  return moves.map((m, i) => {
    const feed = Math.floor((lengths[i] as number) * blocksPerSecond * 60);
    if (!hurried[i] || feed >= m.feed) return m;
    return { ...m, feed: lowered(m.feed, feed, slowed) };
  });
}

/** The lower feed, counted. */
export function lowered(feed: number, most: number, slowed: Slowed): number {
  const kept = Math.max(1, most);
  slowed.blocks++;
  slowed.most = Math.max(slowed.most, 1 - kept / feed);
  return kept;
}

function lengthsOf(start: Place, moves: readonly CutMove[]): number[] {
  let at = start;
  return moves.map((m) => {
    const flat =
      m.arc === undefined
        ? distance(at.to, m.to)
        : Math.abs(m.arc.sweep) * distance(m.arc.centre, m.to);
    const length = hypot(flat, m.z - at.z);
    at = m;
    return length;
  });
}

/** Which blocks belong to some READY in a row that are over too soon. */
function hurriedOf(seconds: readonly number[], least: number): boolean[] | undefined {
  const hurried = seconds.map(() => false);
  let sum = 0;
  let any = false;
  let marked = 0;
  for (const [i, s] of seconds.entries()) {
    sum += s;
    if (i >= READY) sum -= seconds[i - READY] as number;
    if (i < READY - 1 || sum >= least) continue;
    any = true;
    for (let k = Math.max(marked, i - READY + 1); k <= i; k++) hurried[k] = true;
    marked = i + 1;
  }
  return any ? hurried : undefined;
}
