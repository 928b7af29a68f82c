/**
 * Iterated local search: a tour at its best is upset in one place, improved there, and kept where it came out not
 * much worse; how much counts as much shrinks to nothing in each of a few rounds (as in simulated annealing), and each
 * round sets out from the best tour so far.
 *
 * All dice are seeded, all time is counted in steps: the same input gives the same tour, unless a clock of the caller
 * ends it. Never worse than what it was given.
 */
import type { Random } from "../geometry/seeded.ts";
import { improve } from "./local.ts";
import {
  exchange,
  forget,
  type Kept,
  keep,
  keptOf,
  type Path,
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
const WARM = 0.6;
/** Stretches that an upset exchanges are up to this long: a little damage, quickly mended or not. */
const UPSET = 12;
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

/** One or two short stretches beside each other change places. False where none was found that precedence allows. */
function upset(p: Path, random: Random): boolean {
  const times = random() < 0.5 ? 1 : 2;
  let done = false;
  let near = 1 + Math.floor(random() * p.r.count);
  for (let t = 0; t < times; t++) {
    for (let draw = 0; draw < DRAWS; draw++) {
      const i = near - 1;
      const j = i + 1 + Math.floor(random() ** 2 * UPSET);
      const k = j + 1 + Math.floor(random() ** 2 * UPSET);
      near = 1 + Math.floor(random() * p.r.count);
      if (k > p.r.count || !exchangeable(p, i, j, k)) continue;
      exchange(p, i, j, k);
      for (const cut of [i, i + k - j, k]) {
        wake(p, cut);
        wake(p, cut + 1);
      }
      // The second not far from the first.
      near = Math.max(1, Math.min(p.r.count, i + Math.floor((random() - 0.5) * 3 * UPSET)));
      done = true;
      break;
    }
  }
  p.cost = total(p);
  return done;
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
