/**
 * The best tour there is, for few stops: dynamic programming over the sets of stops that can have been made (Held and
 * Karp, J. SIAM 10(1), 1962), which precedence thins out.
 *
 * Cost: one step for each made set, last choice and next choice; up to 2ⁿ·(n·m)²/4 of them.
 */
import { between, costOf, type Ready, type Tour } from "./problem.ts";

/** Sets are bits of an integer, and their tables are in memory: 16 stops and it ends. */
const MOST_STOPS = 16;

/** Steps that it would take, precedence aside. */
export function exactWork(r: Ready): number {
  if (r.count > MOST_STOPS) return Number.POSITIVE_INFINITY;
  const all = r.size - 2;
  return (2 ** r.count * all * all) / 4;
}

export function exactTour(r: Ready): Tour {
  const all = r.size - 2;
  const sets = 2 ** r.count;
  const least = new Float64Array(sets * all).fill(Number.POSITIVE_INFINITY);
  const from = new Int32Array(sets * all).fill(-1);
  const needs = Array.from({ length: r.count }, (_, s) =>
    (r.before[s] as Int32Array).reduce((bits, f) => bits | (1 << f), 0),
  );
  for (let s = 0; s < r.count; s++) {
    if (needs[s] !== 0) continue;
    for (let b = r.first[s] as number; b < (r.first[s + 1] as number); b++) {
      least[(1 << s) * all + b] = between(r, all, b);
    }
  }
  for (let set = 1; set < sets; set++) {
    for (let a = 0; a < all; a++) {
      const so = least[set * all + a] as number;
      if (so < Number.POSITIVE_INFINITY) extend({ r, needs, least, from, all }, set, a, so);
    }
  }
  return traced(r, least, from);
}

interface Tables {
  readonly r: Ready;
  readonly needs: readonly number[];
  readonly least: Float64Array;
  readonly from: Int32Array;
  readonly all: number;
}

function extend({ r, needs, least, from, all }: Tables, set: number, a: number, so: number): void {
  for (let s = 0; s < r.count; s++) {
    const bit = 1 << s;
    if ((set & bit) !== 0 || ((needs[s] as number) & ~set) !== 0) continue;
    const row = (set | bit) * all;
    const end = r.first[s + 1] as number;
    r.work += end - (r.first[s] as number);
    for (let b = r.first[s] as number; b < end; b++) {
      const c = so + between(r, a, b);
      if (c < (least[row + b] as number)) {
        least[row + b] = c;
        from[row + b] = a;
      }
    }
  }
}

function traced(r: Ready, least: Float64Array, from: Int32Array): Tour {
  const all = r.size - 2;
  let set = 2 ** r.count - 1;
  let at = 0;
  let best = Number.POSITIVE_INFINITY;
  for (let a = 0; a < all; a++) {
    const c = (least[set * all + a] as number) + between(r, a, all + 1);
    if (c < best) {
      best = c;
      at = a;
    }
  }
  const choices: number[] = [];
  while (at >= 0) {
    choices.push(at);
    const back = from[set * all + at] as number;
    set ^= 1 << (r.stopOf[at] as number);
    at = back;
  }
  choices.reverse();
  return { stops: choices.map((c) => r.stopOf[c] as number), choices, cost: costOf(r, choices) };
}
