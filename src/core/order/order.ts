/**
 * The shortest tour that a number of steps finds.
 *
 * Promise: precedence is kept; never longer than the start that was given, nor than the nearest neighbour's;
 * the very shortest where the stops are so few that all sets of them fit into the steps; the same input gives the same
 * tour. Cost: the steps, each a look at one cost: some tens of millions a second.
 */
import { seeded } from "../geometry/seeded.ts";
import { cheapestInserted, nearestFirst } from "./construct.ts";
import { bestEntries } from "./entries.ts";
import { exactTour, exactWork } from "./exact.ts";
import { pathOf } from "./path.ts";
import { costOf, type OrderProblem, type Ready, ready, type Tour } from "./problem.ts";
import { search } from "./search.ts";

export interface OrderOptions {
  /** How much may be looked at; with none, the nearest neighbour by first choices is the tour. */
  readonly steps: number;
  readonly seed?: number;
  /** 0 … 1, instead of the steps: a clock of the shell. Tours then depend on the machine. */
  readonly spent?: () => number;
  /** Choices in the order of a tour that is to be bettered. Throws a RangeError if that is no tour or breaks precedence. */
  readonly start?: readonly number[];
  /** Stops up to which the shortest tour is worked out; absent: as the steps allow. */
  readonly exactUpTo?: number;
}

/** Rounds of the search in its time: one is best where time is short, some where it gets stuck. */
const ROUNDS = 6;

export function shortTour(problem: OrderProblem, options: OrderOptions): Tour {
  const { start, steps, exactUpTo = Number.POSITIVE_INFINITY } = options;
  const r = ready(problem, steps);
  if (start !== undefined) demandTour(r, start);
  if (r.count === 0) return { stops: [], choices: [], cost: 0 };
  if (!(steps > 0)) return tourOf(r, start ?? nearestFirst(r, true));
  if (r.count <= exactUpTo && exactWork(r) <= steps) return exactTour(r);
  const firsts = [nearestFirst(r, true), nearestFirst(r), cheapestInserted(r)];
  if (start !== undefined) firsts.push(Int32Array.from(start));
  const path = firsts.map((choices) => withBestEntries(r, choices)).reduce(shorter);
  const random = seeded(options.seed ?? 1);
  const spent = options.spent ?? (() => r.work / steps);
  const best = search(path, { spent, random, rounds: ROUNDS });
  return tourOf(r, best.choices.subarray(1, r.count + 1));
}

/** The search mends no tour: with a stop twice in it, it would never end. */
function demandTour(r: Ready, choices: readonly number[]): void {
  const place = new Int32Array(r.count).fill(-1);
  for (const [k, choice] of choices.entries()) {
    const stop = r.stopOf[choice] ?? r.count;
    if (stop >= r.count) throw new RangeError(`choice ${choice} of the start belongs to no stop`);
    if (place[stop] !== -1) throw new RangeError(`the start makes stop ${stop} twice`);
    place[stop] = k;
  }
  const missing = place.indexOf(-1);
  if (missing >= 0) throw new RangeError(`the start leaves out stop ${missing}`);
  for (const [stop, firsts] of r.before.slice(0, r.count).entries()) {
    const early = firsts.find((f) => (place[f] as number) > (place[stop] as number));
    if (early !== undefined) throw new RangeError(`the start makes stop ${stop} before ${early}`);
  }
}

function shorter<T extends { cost: number }>(a: T, b: T): T {
  return b.cost < a.cost ? b : a;
}

function withBestEntries(r: Ready, choices: ArrayLike<number>): ReturnType<typeof pathOf> {
  const path = pathOf(r, choices);
  bestEntries(r, path.stops, path.choices, path.room, [1, r.count]);
  return pathOf(r, path.choices.slice(1, r.count + 1));
}

function tourOf(r: Ready, choices: ArrayLike<number>): Tour {
  const list = Array.from(choices);
  return { stops: list.map((c) => r.stopOf[c] as number), choices: list, cost: costOf(r, list) };
}
