/**
 * Down to the take-up through air: back along the way that the cutter has just cut, down it again on a
 * ramp.
 *
 * Promise: at every place of the entry the tip is no lower than it was when the program passed there
 * before. So it meets nothing but what the earlier cutter left by being narrower. It is no steeper than the
 * wanted ramp but where the program itself was, and where its way is too short it begins where its run began.
 */
import { angleOf, onCircle } from "../geometry/segment.ts";
import type { Point } from "../geometry/shape.ts";
import { hypot } from "../geometry/trig.ts";
import type { TraceMove } from "../program/read/trace.ts";
import { type CutMove, levelLength } from "../toolpath/cut.ts";
import { feedDown } from "../toolpath/follow/feed.ts";

/** Heights and lengths that are rounding, mm. */
const TINY = 1e-6;

export interface Entry {
  /** Where the cutter goes down from above, and how far before it feeds along. */
  readonly start: Point;
  readonly startZ: number;
  /** Program frame, to where the take-up begins. */
  readonly moves: readonly CutMove[];
}

/** Height on the entry: `low` at the end of the way, rising backwards. */
interface Ramp {
  height: number;
  readonly top: number;
  readonly slope: number;
}

export interface EntryLimits {
  /** The sheet's top, and down to where the cutter may come at rapid; program frame. */
  readonly top: number;
  readonly approach: number;
  /** mm of Z a mm. */
  readonly slope: number;
  /** What Z may be asked for, mm/min: the way was fed level where the entry falls. */
  readonly mostZ: number;
}

/** Before `next`, the move that is taken up; `way` is what its run did before it. */
export function entryTo(
  next: TraceMove,
  way: readonly TraceMove[],
  { top, approach, slope, mostZ }: EntryLimits,
): Entry {
  const end = { x: next.x0, y: next.y0, z: next.z0 };
  const ramp: Ramp = { height: end.z, top, slope };
  const moves: CutMove[] = [];
  let start: Point = { x: end.x, y: end.y };
  let startZ = end.z;
  for (let i = way.length - 1; i >= 0 && ramp.height < top - TINY; i--) {
    const m = way[i] as TraceMove;
    const pieces = piecesOf(m, ramp);
    moves.unshift(...pieces.moves);
    start = pieces.from;
    startZ = pieces.fromZ;
  }
  if (startZ < approach) {
    moves.unshift({ to: start, z: startZ, feed: (way[0] ?? next).feed });
    startZ = approach;
  }
  return { start, startZ, moves: keptUpWith(moves, start, startZ, mostZ) };
}

/** The way was fed at its own slope, and the entry falls at another. */
function keptUpWith(
  moves: readonly CutMove[],
  start: Point,
  startZ: number,
  mostZ: number,
): CutMove[] {
  let at = start;
  let z0 = startZ;
  return moves.map((move) => {
    const feed = feedDown(move.feed, levelLength(at, move), move.z - z0, mostZ);
    at = move.to;
    z0 = move.z;
    return { ...move, feed };
  });
}

interface Pieces {
  readonly from: Point;
  readonly fromZ: number;
  readonly moves: readonly CutMove[];
}

function piecesOf(m: TraceMove, ramp: Ramp): Pieces {
  const length = flatLength(m);
  if (length < TINY) {
    const z = Math.max(ramp.height, m.z1);
    const fromZ = Math.max(ramp.height, m.z0);
    const moves = Math.abs(z - fromZ) < TINY ? [] : [{ to: { x: m.x1, y: m.y1 }, z, feed: m.feed }];
    return { from: { x: m.x0, y: m.y0 }, fromZ, moves };
  }
  const rise = ramp.slope * length;
  const t0 = Math.max(0, 1 - (ramp.top - ramp.height) / rise);
  const low = ramp.height;
  const line = (t: number): number => low + rise * (1 - t);
  const path = (t: number): number => m.z0 + (m.z1 - m.z0) * t;
  const z = (t: number): number => Math.max(line(t), path(t));
  ramp.height = line(t0);
  const cuts = [t0, ...crossing(path(t0) - line(t0), path(1) - line(1), t0), 1];
  const moves = cuts.slice(1).map((t, i) => pieceOf(m, cuts[i] as number, t, z(t)));
  return { from: placeAt(m, t0), fromZ: z(t0), moves };
}

/** Where the ramp and the old way change places as the higher one. */
function crossing(d0: number, d1: number, t0: number): number[] {
  if (Math.abs(d0) < TINY || Math.abs(d1) < TINY || d0 > 0 === d1 > 0) return [];
  return [t0 + ((1 - t0) * d0) / (d0 - d1)];
}

function pieceOf(m: TraceMove, t0: number, t1: number, z: number): CutMove {
  const to = placeAt(m, t1);
  if (m.arc === undefined) return { to, z, feed: m.feed };
  const { cx, cy, sweep } = m.arc;
  return { to, z, feed: m.feed, arc: { centre: { x: cx, y: cy }, sweep: sweep * (t1 - t0) } };
}

function placeAt(m: TraceMove, t: number): Point {
  if (t === 1) return { x: m.x1, y: m.y1 };
  if (t === 0) return { x: m.x0, y: m.y0 };
  if (m.arc === undefined) return { x: m.x0 + (m.x1 - m.x0) * t, y: m.y0 + (m.y1 - m.y0) * t };
  const centre = { x: m.arc.cx, y: m.arc.cy };
  const angle = angleOf(centre, { x: m.x0, y: m.y0 }) + m.arc.sweep * t;
  return onCircle(centre, m.arc.radius, angle);
}

export function flatLength(m: TraceMove): number {
  return m.arc === undefined
    ? hypot(m.x1 - m.x0, m.y1 - m.y0)
    : Math.abs(m.arc.sweep) * m.arc.radius;
}
