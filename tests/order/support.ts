/** Small random problems, and what is true of a tour, by code of its own: every order, every choice. */

import { seeded } from "../../src/core/geometry/seeded.ts";
import type { OrderProblem, Tour } from "../../src/core/order/problem.ts";

export interface Made extends OrderProblem {
  readonly table: readonly (readonly number[])[];
  readonly inward: readonly number[];
  readonly outward: readonly number[];
}

export interface Shape {
  readonly stops: number;
  /** At most so many choices at each. */
  readonly most: number;
  /** Share of the pairs that are bound. */
  readonly bound: number;
  /** Points in a plane instead of costs without any order. */
  readonly plane?: boolean;
}

export function madeUp(seed: number, { stops, most, bound, plane = false }: Shape): Made {
  const random = seeded(seed);
  const choices = Array.from({ length: stops }, () => 1 + Math.floor(random() * most));
  const all = choices.reduce((sum, n) => sum + n, 0);
  const at = Array.from({ length: all }, () => [100 * random(), 100 * random()] as const);
  const whole = (): number => Math.floor(random() * 100);
  const far = (a: number, b: number): number =>
    Math.hypot((at[a]?.[0] ?? 0) - (at[b]?.[0] ?? 0), (at[a]?.[1] ?? 0) - (at[b]?.[1] ?? 0));
  const table = at.map((_, a) => at.map((_, b) => (plane ? far(a, b) : whole())));
  const inward = at.map(whole);
  const outward = at.map(whole);
  // Along a hidden order, so that there is one at all.
  const rank = choices.map(() => random());
  const after = choices.map((_, s) =>
    choices.flatMap((_, f) => ((rank[f] ?? 0) < (rank[s] ?? 0) && random() < bound ? [f] : [])),
  );
  return {
    choices,
    after,
    table,
    inward,
    outward,
    cost: (a, b) => table[a]?.[b] ?? Number.NaN,
    start: (b) => inward[b] ?? Number.NaN,
    end: (a) => outward[a] ?? Number.NaN,
  };
}

/** First choice of each stop. */
export function firstOf(problem: OrderProblem): number[] {
  let sum = 0;
  return problem.choices.map((n) => {
    sum += n;
    return sum - n;
  });
}

/** What is wrong with a tour. */
export function faultsOf(problem: OrderProblem, tour: Tour): string[] {
  const first = firstOf(problem);
  const faults: string[] = [];
  const place = new Map(tour.stops.map((s, at) => [s, at]));
  if (place.size !== problem.choices.length || tour.stops.length !== place.size) {
    faults.push(`${tour.stops.length} stops, ${place.size} of them different`);
  }
  for (const [at, s] of tour.stops.entries()) {
    const own = (tour.choices[at] ?? -1) - (first[s] ?? 0);
    if (!(own >= 0 && own < (problem.choices[s] ?? 0))) faults.push(`stop ${s} by choice ${own}`);
    for (const f of problem.after[s] ?? []) {
      if ((place.get(f) ?? at) >= at) faults.push(`${s} before ${f}`);
    }
  }
  if (Math.abs(wayOf(problem, tour.choices) - tour.cost) > 1e-9 * (1 + tour.cost)) {
    faults.push(`costs ${wayOf(problem, tour.choices)}, not ${tour.cost}`);
  }
  return faults;
}

export function wayOf(problem: OrderProblem, choices: readonly number[]): number {
  const way = choices.reduce((sum, c, i) => sum + legOf(problem, choices[i - 1], c), 0);
  const last = choices.at(-1);
  return last === undefined ? 0 : way + (problem.end?.(last) ?? 0);
}

/** The least that any order by any choices costs: all of them are tried, but for what is dearer than one already. */
export function leastOf(problem: OrderProblem): number {
  const all = problem.choices.flatMap((n, s) => Array<number>(n).fill(s));
  const done = new Set<number>();
  let least = Number.POSITIVE_INFINITY;
  const go = (at: number | undefined, so: number): void => {
    if (so >= least) return;
    if (done.size === problem.choices.length) {
      least = Math.min(least, so + (at === undefined ? 0 : (problem.end?.(at) ?? 0)));
      return;
    }
    for (const [c, s] of all.entries()) {
      if (done.has(s) || problem.after[s]?.some((f) => !done.has(f))) continue;
      done.add(s);
      go(c, so + legOf(problem, at, c));
      done.delete(s);
    }
  };
  go(undefined, 0);
  return least;
}

function legOf({ start, cost, own }: OrderProblem, at: number | undefined, c: number): number {
  return (at === undefined ? (start?.(c) ?? 0) : cost(at, c)) + (own?.(c) ?? 0);
}

/** The least that this order costs by any choices: all of them are tried. */
export function leastByEntries(problem: OrderProblem, stops: readonly number[]): number {
  const first = firstOf(problem);
  const go = (i: number, at: number | undefined): number => {
    const s = stops[i];
    if (s === undefined) return at === undefined ? 0 : (problem.end?.(at) ?? 0);
    const ways = Array.from({ length: problem.choices[s] ?? 0 }, (_, n) => {
      const c = (first[s] ?? 0) + n;
      return legOf(problem, at, c) + go(i + 1, c);
    });
    return Math.min(...ways);
  };
  return go(0, undefined);
}
