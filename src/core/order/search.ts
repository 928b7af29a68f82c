/**
 * Iterated local search: a tour at its best is upset in one place, improved there, and kept where it came out not
 * much worse; how much counts as much shrinks to nothing in each of a few rounds (as in simulated annealing), and each
 * round sets out from the best tour so far.
 *
 * All dice are seeded, all time is counted in steps: the same input gives the same tour, unless a clock of the caller
 * ends it. Never worse than what it was given.
 */
import type { Random } from "../geometry/seeded.ts";
import { chooseWithin, improve } from "./local.ts";
import {
  exchange,
  forget,
  type Kept,
  keep,
  keptOf,
  type Path,
  settle,
  takeBack,
  total,
  wake,
} from "./path.ts";

export interface Limits {
  /** 0 … 1 of the time. */
  readonly spent: () => number;
  readonly random: Random;
  readonly rounds: number;
}

/** A tour this much longer than the one before is still kept at the beginning of a round, in mean arcs. */
const WARM = 1.5;
/** Stretches that an upset exchanges are up to this long: a little damage, quickly mended or not. */
const UPSET = 15;
/** Steps that an upset and what is kept of it take besides looking at costs. */
const UPSETTING = 400;
/** An upset that precedence forbids is drawn anew, so often. */
const DRAWS = 20;
/** After so many in a row without one that it allows, there is none. */
const IDLE = 50;

export function search(p: Path, limits: Limits): Kept {
  const over = (): boolean => limits.spent() >= 1;
  for (let k = 1; k <= p.r.count; k++) wake(p, k);
  improve(p, over);
  const best = keptOf(p);
  const now = keptOf(p);
  const begin = limits.spent();
  let round = 0;
  let idle = 0;
  for (let spent = begin; spent < 1; spent = limits.spent()) {
    const through = ((spent - begin) / (1 - begin)) * limits.rounds;
    if (Math.floor(through) > round) {
      round = Math.floor(through);
      takeBack(p, best);
      keep(now, p);
    }
    p.r.work += UPSETTING + 4 * p.r.count;
    const heat = WARM * (1 - (through - Math.floor(through))) ** 2;
    idle = upset(p, limits.random) ? 0 : idle + 1;
    if (idle > IDLE) break;
    improve(p, over);
    forget(p);
    const slack = (heat * limits.random() ** 2 * now.cost) / (p.r.count + 1);
    if (p.cost <= now.cost + slack) keep(now, p);
    else takeBack(p, now);
    if (p.cost < best.cost) keep(best, p);
  }
  return best;
}

/**
 * Once, seldom more often, two short stretches beside each other change places; then either the entries there are the best
 * for the new order, or one stop is made by any of its choices. False where nothing was found that precedence allows.
 */
function upset(p: Path, random: Random): boolean {
  const { count } = p.r;
  const several = p.r.size - 2 > count;
  const settled = random() < 0.5;
  let done = false;
  let least = count;
  let most = 1;
  let near = Math.floor(random() * count);
  for (let draw = 0; draw < DRAWS; draw++) {
    const i = near;
    const j = i + 1 + Math.floor(random() ** 2 * UPSET);
    const k = j + 1 + Math.floor(random() ** 2 * UPSET);
    near = Math.floor(random() * count);
    if (k > count || !exchangeable(p, i, j, k)) continue;
    exchange(p, i, j, k);
    if (several && !settled) chooseAny(p, i + 1, random);
    least = Math.min(least, i);
    most = Math.max(most, k + 1);
    for (const cut of [i, i + k - j, k]) {
      wake(p, cut);
      wake(p, cut + 1);
    }
    done = true;
    if (random() < 0.5) break;
    // The next not far from this one.
    near = Math.max(0, Math.min(count - 1, i + Math.floor((random() - 0.5) * 3 * UPSET)));
  }
  if (several && settled && done) chooseWithin(p, Math.max(1, least), Math.min(count, most));
  p.cost = total(p);
  return done;
}

function chooseAny(p: Path, at: number, random: Random): void {
  const stop = p.stops[at] as number;
  const least = p.r.first[stop] as number;
  const several = (p.r.first[stop + 1] as number) - least;
  if (several < 2) return;
  p.choices[at] = least + Math.floor(random() * several);
  settle(p, at, at);
}

function exchangeable(p: Path, i: number, j: number, k: number): boolean {
  p.r.work += k - i;
  for (let q = j + 1; q <= k; q++) {
    for (const f of p.r.before[p.stops[q] as number] as Int32Array) {
      const at = p.place[f] as number;
      if (at > i && at <= j) return false;
    }
  }
  return true;
}
