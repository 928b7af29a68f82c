/**
 * To a tour that no exchange at any awake place makes shorter, and no other choice of entries either.
 */
import { bestEntries } from "./entries.ts";
import {
  type Move,
  scanFirst,
  scanLast,
  scanMiddle,
  scanMove,
  scanTurn,
  scanTurnBack,
} from "./moves.ts";
import { exchange, nextAwake, type Path, settle, total, turn, wake } from "./path.ts";

/** What an exchange must save to count, as a share of the tour: above the rounding of its sums. */
const SAVES = 1e-11;

/** Steps that the scans of one place take besides looking at costs. */
const SCANS = 200;

/** Entries are chosen anew over the whole tour up to this length, else this far about what has changed. */
const WHOLE = 64;
const ABOUT = 6;

/** Returns once nothing awake can be improved; with `over`, as soon as that says so. */
export function improve(p: Path, over: () => boolean): void {
  const several = p.r.size - 2 > p.r.count;
  const best: Move = { kind: "none", i: 0, j: 0, k: 0, delta: 0 };
  const touched = new Set<number>();
  do {
    for (let stop = nextAwake(p); stop >= 0 && !over(); stop = nextAwake(p)) {
      touched.add(stop);
      while (improveAt(p, stop, best));
    }
    if (!several) break;
    chooseEntries(p, touched);
    touched.clear();
  } while (p.length > 0 && !over());
  p.cost = total(p);
}

function improveAt(p: Path, stop: number, best: Move): boolean {
  const at = p.place[stop] as number;
  p.r.work += SCANS;
  best.kind = "none";
  best.delta = -SAVES * p.cost;
  for (let cut = at - 1; cut <= at; cut++) {
    scanFirst(p, cut, best);
    scanLast(p, cut, best);
    scanMiddle(p, cut, best);
    scanTurn(p, cut, best);
    scanTurnBack(p, cut, best);
  }
  scanMove(p, at, best);
  if (best.kind === "none") return false;
  apply(p, best);
  return true;
}

export function apply(p: Path, { kind, i, j, k, delta }: Move): void {
  if (kind === "exchange") {
    exchange(p, i, j, k);
    wakeAbout(p, i, i + k - j, k);
  } else if (kind === "turn") {
    turn(p, i, k);
    wakeAbout(p, i, k);
  } else moveTo(p, i, j, k);
  p.cost += delta;
}

/** The stop at place `at` goes behind place `behind`, made by `choice`. */
function moveTo(p: Path, at: number, behind: number, choice: number): void {
  p.choices[at] = choice;
  settle(p, at, at);
  if (behind > at) exchange(p, at - 1, at, behind);
  else if (behind < at - 1) exchange(p, behind, at - 1, at);
  const to = behind > at ? behind : behind + 1;
  wakeAbout(p, behind < at ? at : at - 1, to - 1, to);
}

/** Both sides of the cuts behind these places. */
function wakeAbout(p: Path, ...cuts: number[]): void {
  for (const cut of cuts) {
    wake(p, cut);
    wake(p, cut + 1);
  }
}

/** The best entries about the touched stops; where one changes, its place is to be looked at again. */
function chooseEntries(p: Path, touched: Set<number>): void {
  const { count } = p.r;
  if (count <= WHOLE) {
    chooseWithin(p, 1, count);
    return;
  }
  const places = [...touched].map((s) => p.place[s] as number).sort((a, b) => a - b);
  let lo = 1;
  let hi = 0;
  for (const at of places) {
    if (at - ABOUT > hi) {
      if (hi > 0) chooseWithin(p, lo, hi);
      lo = Math.max(1, at - ABOUT);
    }
    hi = Math.min(count, at + ABOUT);
  }
  if (hi > 0) chooseWithin(p, lo, hi);
}

export function chooseWithin(p: Path, lo: number, hi: number): void {
  const old = p.choices.slice(lo, hi + 1);
  bestEntries(p.r, p.stops, p.choices, p.room, [lo, hi]);
  for (let k = lo; k <= hi; k++) if (p.choices[k] !== old[k - lo]) wakeAbout(p, k);
  settle(p, lo, hi);
}
