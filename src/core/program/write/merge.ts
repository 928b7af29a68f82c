/**
 * Moves in a row that are one move: straight pieces of one line, arcs of one circle. A controller takes only so
 * many blocks a second, and each is a chance to stutter.
 *
 * Promise: the merged way strays from the one that was given by no more than MERGE, in Z too; feeds are kept;
 * nothing turns back on itself within a move, and no merged arc is more than half a turn, so that rounding can never
 * make it a whole one. What is merged depends on shape alone, not on where it lies.
 */
import { angleOf, distance, onCircle, sweepBetween } from "../../geometry/segment.ts";
import type { Point } from "../../geometry/shape.ts";
import { MERGE } from "../../geometry/tolerance.ts";
import { hypot } from "../../geometry/trig.ts";
import type { CutMove } from "../../toolpath/cut.ts";

export interface Place {
  readonly to: Point;
  readonly z: number;
}

/** Longer runs are cut up, so that the cost stays in proportion to the moves. */
const LONGEST_RUN = 64;
/** Two ways to reckon one angle agree within this, rad. */
const ANGLE = 1e-6;

export function merged(start: Place, moves: readonly CutMove[]): CutMove[] {
  const out: CutMove[] = [];
  let from = start;
  let run: CutMove[] = [];
  for (const m of moves) {
    const one = run.length === 0 || run.length >= LONGEST_RUN ? undefined : oneOf(from, run, m);
    if (one !== undefined) {
      out[out.length - 1] = one;
      run.push(m);
      continue;
    }
    from = run.at(-1) ?? start;
    run = [m];
    out.push(m);
  }
  return out;
}

function oneOf(from: Place, run: readonly CutMove[], next: CutMove): CutMove | undefined {
  const first = run[0] as CutMove;
  if (first.feed !== next.feed || (first.arc === undefined) !== (next.arc === undefined)) {
    return undefined;
  }
  const all = [...run, next];
  return first.arc === undefined ? oneLine(from, all) : oneArc(from, all);
}

function oneLine(from: Place, run: readonly CutMove[]): CutMove | undefined {
  const last = run.at(-1) as CutMove;
  const way = fromTo(from, last);
  const length = hypot(hypot(way[0], way[1]), way[2]);
  if (length <= MERGE) return undefined;
  let before = 0;
  for (const m of run) {
    const v = fromTo(from, m);
    const along = (v[0] * way[0] + v[1] * way[1] + v[2] * way[2]) / length;
    const aside = hypot(
      hypot(v[0] - (way[0] * along) / length, v[1] - (way[1] * along) / length),
      v[2] - (way[2] * along) / length,
    );
    if (along <= before || aside > MERGE) return undefined;
    before = along;
  }
  return { ...(run[0] as CutMove), to: last.to, z: last.z };
}

type Vector = readonly [number, number, number];

function fromTo(a: Place, b: Place): Vector {
  return [b.to.x - a.to.x, b.to.y - a.to.y, b.z - a.z];
}

function oneArc(from: Place, run: readonly CutMove[]): CutMove | undefined {
  const last = run.at(-1) as CutMove;
  const sweeps = run.map((m) => m.arc?.sweep ?? 0);
  const total = sweeps.reduce((sum, s) => sum + s, 0);
  const one = sweeps.every((s) => s * total > 0);
  if (!one || Math.abs(total) > Math.PI + ANGLE) return undefined;
  const centre = centreBetween(from.to, last.to, longest(run));
  if (centre === undefined) return undefined;
  const radius = distance(centre, from.to);
  const sweep = sweepBetween(angleOf(centre, from.to), angleOf(centre, last.to), total > 0);
  if (Math.abs(sweep - total) * radius > MERGE) return undefined;
  let done = 0;
  let at = from;
  for (const [i, m] of run.entries()) {
    done += sweeps[i] as number;
    const level = from.z + ((last.z - from.z) * done) / total;
    const off = [m.to, middleOf(at.to, m)].map((p) => Math.abs(distance(centre, p) - radius));
    if (Math.max(...off, Math.abs(m.z - level)) > MERGE) return undefined;
    at = m;
  }
  return { ...(run[0] as CutMove), to: last.to, z: last.z, arc: { centre, sweep } };
}

/** Its centre is the best known. */
function longest(run: readonly CutMove[]): Point {
  const size = (m: CutMove): number => Math.abs(m.arc?.sweep ?? 0);
  const best = run.reduce((a, b) => (size(b) > size(a) ? b : a));
  return best.arc?.centre ?? best.to;
}

/** The place nearest to `near` that is as far from a as from b. */
function centreBetween(a: Point, b: Point, near: Point): Point | undefined {
  const chord = distance(a, b);
  if (chord <= MERGE) return undefined;
  const normal = { x: -(b.y - a.y) / chord, y: (b.x - a.x) / chord };
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  const t = (near.x - middle.x) * normal.x + (near.y - middle.y) * normal.y;
  return { x: middle.x + normal.x * t, y: middle.y + normal.y * t };
}

function middleOf(from: Point, { to, arc }: CutMove): Point {
  const { centre, sweep } = arc ?? { centre: to, sweep: 0 };
  return onCircle(centre, distance(centre, to), angleOf(centre, from) + sweep / 2);
}
