/**
 * The ring of the roughing passes. A stock further out than the finished ring, it does not enter a notch or neck that
 * the cutter just enters; there the finishing pass would meet the whole depth at its full width. So roughing is led
 * through every such bay on the finished ring itself, and finds its way back to where it left its own.
 */
import { closeUp } from "../../geometry/contour.ts";
import { type SegmentIndex, segmentIndex } from "../../geometry/nearest.ts";
import { line, pointAt } from "../../geometry/segment.ts";
import type { Contour, Point, Segment } from "../../geometry/shape.ts";
import { placeOn, stretch, type Track, trackOf, trackPoint } from "./track.ts";

/**
 * A finished ring turns away from its roughing ring by the stock along a wall, and by stock / sin(half the angle) in
 * a corner: half as much again in one of 84°. No more is left to a finishing pass, whose cut the proof calls light up to there.
 */
const OFF = 1.5;
/** The place where a bay begins is found this exactly, as a share of the stock. */
const EXACT = 1e-3;
/** Of the way across to the finished ring; what is left ends on it. */
const ACROSS = 0.95;

/** Bays this near to each other on the roughing ring may overlap there, mm: a corner's width, far below a whole turn. */
const ONE_PLACE = 1;

/** A stretch of the finished ring that lies too far from the roughing ring, in lengths along the one and the other. */
interface Bay {
  readonly from: number;
  readonly to: number;
  readonly leaves: number;
  readonly returns: number;
}

/**
 * `ring` itself where it reaches all that the finishing pass goes through; else with its ways through the bays of
 * `finished`, which turns the same way round; undefined where none leads there and back.
 */
export function roughThrough(ring: Contour, finished: Contour, stock: number): Contour | undefined {
  const rough = trackOf(ring);
  const track = trackOf(finished);
  const limit = OFF * stock + 1e-6;
  const near = segmentIndex([ring]);
  const isFar = (s: number): boolean => near.distance(trackPoint(track, s), 2 * limit) > limit;
  const bays: Bay[] = [];
  for (const s of bottoms(track).filter(isFar)) {
    if (bays.some((bay) => isWithin(bay, s, track.length))) continue;
    const from = endOfBay(isFar, s, -stock, track.length);
    const to = endOfBay(isFar, s, stock, track.length);
    if (from === undefined || to === undefined) return undefined;
    const leaves = placeOn(rough, trackPoint(track, from));
    bays.push({ from, to, leaves, returns: placeOn(rough, trackPoint(track, to)) });
  }
  if (bays.length === 0) return ring;
  return ledThrough(rough, track, bays);
}

/** The bottom of what was not entered is a vertex of the finished ring, or the middle of an arc. */
function bottoms({ sums }: Track): number[] {
  return sums.slice(0, -1).flatMap((s, i) => [s, (s + (sums[i + 1] as number)) / 2]);
}

function isWithin({ from, to }: Bay, s: number, length: number): boolean {
  return (((s - from) % length) + length) % length < to - from;
}

/** Where the bay about `s` ends, `step` by step; undefined where it goes all the way round. */
function endOfBay(
  isFar: (s: number) => boolean,
  s: number,
  step: number,
  length: number,
): number | undefined {
  let far = s;
  while (isFar(far + step)) {
    far += step;
    if (Math.abs(far - s) > length) return undefined;
  }
  let close = far + step;
  while (Math.abs(close - far) > EXACT * Math.abs(step)) {
    const middle = (far + close) / 2;
    if (isFar(middle)) far = middle;
    else close = middle;
  }
  return close;
}

function ledThrough(rough: Track, track: Track, found: readonly Bay[]): Contour | undefined {
  const bays = found.toSorted((a, b) => a.from - b.from);
  const walls = segmentIndex([track.contour]);
  const pieces: Segment[] = [];
  const ways = waysBetween(rough, bays);
  if (ways === undefined) return undefined;
  for (const [k, { from, to, leaves, returns }] of bays.entries()) {
    const within = stretch(track, from, to);
    const [first, last] = [within[0], within.at(-1)];
    if (first === undefined || last === undefined) return undefined;
    const into = line(trackPoint(rough, leaves), first.from);
    const out = line(last.to, trackPoint(rough, returns));
    if (!isOpen(walls, into.from, into.to) || !isOpen(walls, out.to, out.from)) return undefined;
    pieces.push(into, ...within, out, ...stretch(rough, returns, returns + (ways[k] as number)));
  }
  return { segments: closeUp(pieces) };
}

/** From the roughing ring straight across, not through the finished one: beyond is the plate. */
function isOpen(walls: SegmentIndex, from: Point, to: Point): boolean {
  return !walls.crosses(from, pointAt(line(from, to), ACROSS));
}

/**
 * Lengths along the roughing ring from each bay to the next, once round in all. Back by a little where it turns on one
 * place while the finished ring goes through a bay or two; undefined where that does not come to one turn.
 */
function waysBetween({ length }: Track, bays: readonly Bay[]): number[] | undefined {
  const forth = (s: number): number => ((s % length) + length) % length;
  const short = (s: number): number => (forth(s) > length / 2 ? forth(s) - length : forth(s));
  const passed = bays.reduce((sum, { leaves, returns }) => sum + short(returns - leaves), 0);
  if (bays.length === 1) return [length - passed];
  const ways = bays.map(({ returns }, k) => {
    const way = (bays[(k + 1) % bays.length] as Bay).leaves - returns;
    return Math.abs(short(way)) < ONE_PLACE ? short(way) : forth(way);
  });
  const turn = ways.reduce((sum, way) => sum + way, passed);
  return Math.abs(turn - length) < 1e-6 ? ways : undefined;
}
