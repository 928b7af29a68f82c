/**
 * Exchanges that keep precedence, and the scans that find the best of them at one place of a tour.
 *
 * Two stretches side by side change places without being turned: the 3-exchange that keeps the path's direction, of
 * which moving a stop or a stretch elsewhere is a case. The scan is lexicographic, and marks what must come after the
 * growing first stretch (or before the growing second), so that one look tells whether the next stop may still join
 * the other: Gambardella and Dorigo, INFORMS J. Computing 12(3), 2000, sec. 3. Here it starts from any of the three
 * cuts. A sum of gains that is positive is so from one of its terms on all the way round (Lin and Kernighan,
 * Operations Research 21(2), 1973, sec. 1), so a scan goes on only while what it has won is more than nothing.
 *
 * Beside it stand 2-exchanges, which turn a stretch round where nothing in it must come before anything else in it, with
 * the cost of the turned arcs carried along; and a stop moved elsewhere by another of its choices.
 *
 * Cost of a scan: O(n²) at worst for tours up to `WHOLE` stops; beyond, stretches are bounded and it is O(n).
 */
import type { Path } from "./path.ts";
import { between } from "./problem.ts";

export type Kind = "none" | "exchange" | "turn" | "move";

export interface Move {
  kind: Kind;
  /** Cuts behind these places; of a move: from, to behind, and the choice. */
  i: number;
  j: number;
  k: number;
  delta: number;
}

/** Tours up to this length are searched with stretches of any length. */
const WHOLE = 90;
/** In longer ones: two stretches of this length, or a short one past a stretch of any length. */
const LONG = 40;
const SHORT = 3;

/** How long the second stretch may be beside a first one of `length`. */
function reach(p: Path, length: number): number {
  if (p.r.count <= WHOLE || length <= SHORT) return p.r.count;
  return length <= LONG ? LONG : SHORT;
}

/** From the cut behind place `i`, before the first stretch. */
export function scanFirst(p: Path, i: number, best: Move): void {
  const { r, stops, choices, arc, mark } = p;
  const { count, behind } = r;
  if (i < 0 || i >= count) return;
  const run = ++p.run;
  const a = choices[i] as number;
  const a1 = choices[i + 1] as number;
  for (let j = i + 1; j < count; j++) {
    const later = behind[stops[j] as number] as Int32Array;
    for (let q = 0; q < later.length; q++) mark[later[q] as number] = run;
    const won = (arc[i] as number) - between(r, a, choices[j + 1] as number);
    if (won <= 0) continue;
    const b = choices[j] as number;
    const base = won + (arc[j] as number);
    const end = Math.min(count, j + reach(p, j - i));
    let k = j + 1;
    for (; k <= end && mark[stops[k] as number] !== run; k++) {
      const more = base - between(r, b, choices[k + 1] as number);
      if (more <= 0) continue;
      const delta = between(r, choices[k] as number, a1) - more - (arc[k] as number);
      if (delta < best.delta) noted(best, "exchange", i, j, k, delta);
    }
    r.work += k - j;
  }
  r.work += count - i;
}

/** From the cut behind place `j`, between the stretches. */
export function scanMiddle(p: Path, j: number, best: Move): void {
  const { r, stops, choices, arc, mark } = p;
  const { before, count } = r;
  if (j < 1 || j >= count) return;
  const run = ++p.run;
  const b = choices[j] as number;
  const b1 = choices[j + 1] as number;
  for (let k = j + 1; k <= count; k++) {
    const earlier = before[stops[k] as number] as Int32Array;
    for (let q = 0; q < earlier.length; q++) mark[earlier[q] as number] = run;
    // What must come before the second stretch stands right before it, and so it does for any longer one.
    if (mark[stops[j] as number] === run) return;
    const won = (arc[j] as number) - between(r, b, choices[k + 1] as number);
    if (won <= 0) continue;
    const c = choices[k] as number;
    const base = won + (arc[k] as number);
    const end = Math.max(0, j - reach(p, k - j));
    let i = j - 1;
    for (; i >= end && mark[stops[i + 1] as number] !== run; i--) {
      const more = base - between(r, c, choices[i + 1] as number);
      if (more <= 0) continue;
      const delta = between(r, choices[i] as number, b1) - more - (arc[i] as number);
      if (delta < best.delta) noted(best, "exchange", i, j, k, delta);
    }
    r.work += j - i + 1;
  }
}

/** From the cut behind place `k`, behind the second stretch. */
export function scanLast(p: Path, k: number, best: Move): void {
  const { r, choices, arc } = p;
  if (k < 2 || k > r.count) return;
  const c = choices[k] as number;
  for (let i = k - 2; i >= 0; i--) {
    const won = (arc[k] as number) - between(r, c, choices[i + 1] as number);
    if (won > 0) closeWithin(p, i, k, won + (arc[i] as number), best);
  }
  r.work += k;
}

/** The best cut between the stretches of i+1…k, where its outer ends have won `base` already. */
function closeWithin(p: Path, i: number, k: number, base: number, best: Move): void {
  const { r, choices, arc } = p;
  const a = choices[i] as number;
  const c1 = choices[k + 1] as number;
  // Where the first stretch ends, nothing of it may have its followers in the second.
  let bound = i;
  const whole = r.count <= WHOLE || k - i <= LONG;
  const end = whole ? k : Math.min(k, i + 1 + SHORT);
  for (let j = i + 1; j < end; j++) {
    bound = Math.max(bound, lastBehind(p, j, k));
    if (bound > j) continue;
    const more = base - between(r, a, choices[j + 1] as number);
    if (more <= 0) continue;
    const delta = between(r, choices[j] as number, c1) - more - (arc[j] as number);
    if (delta < best.delta) noted(best, "exchange", i, j, k, delta);
  }
  r.work += end - i;
}

/** The last place up to `k` of what must come after the stop at `j`. */
function lastBehind({ r, stops, place }: Path, j: number, k: number): number {
  const later = r.behind[stops[j] as number] as Int32Array;
  let last = 0;
  for (let q = 0; q < later.length; q++) {
    const at = place[later[q] as number] as number;
    if (at <= k && at > last) last = at;
  }
  return last;
}

/** The stretch behind place `i` turned round, as far as nothing in it must come after another. */
export function scanTurn(p: Path, i: number, best: Move): void {
  const { r, stops, choices, arc, mark } = p;
  if (i < 0 || i >= r.count) return;
  const run = ++p.run;
  const a = choices[i] as number;
  const a1 = choices[i + 1] as number;
  let more = 0;
  const end = r.count <= WHOLE ? r.count : Math.min(r.count, i + 1 + LONG);
  let k = i + 2;
  for (; k <= end; k++) {
    const later = r.behind[stops[k - 1] as number] as Int32Array;
    for (let q = 0; q < later.length; q++) mark[later[q] as number] = run;
    if (mark[stops[k] as number] === run) break;
    const c = choices[k] as number;
    more += between(r, c, choices[k - 1] as number) - (arc[k - 1] as number);
    const ends = between(r, a, c) + between(r, a1, choices[k + 1] as number);
    const delta = more + ends - (arc[i] as number) - (arc[k] as number);
    if (delta < best.delta) noted(best, "turn", i, 0, k, delta);
  }
  r.work += 2 * (k - i);
}

/** The same with its end fixed at place `k`. */
export function scanTurnBack(p: Path, k: number, best: Move): void {
  const { r, stops, choices, arc, mark } = p;
  if (k < 2 || k > r.count) return;
  const run = ++p.run;
  const c = choices[k] as number;
  const c1 = choices[k + 1] as number;
  let more = 0;
  const end = r.count <= WHOLE ? 0 : Math.max(0, k - 1 - LONG);
  let i = k - 2;
  for (; i >= end; i--) {
    const earlier = r.before[stops[i + 2] as number] as Int32Array;
    for (let q = 0; q < earlier.length; q++) mark[earlier[q] as number] = run;
    if (mark[stops[i + 1] as number] === run) break;
    const b = choices[i + 1] as number;
    more += between(r, choices[i + 2] as number, b) - (arc[i + 1] as number);
    const ends = between(r, choices[i] as number, c) + between(r, b, c1);
    const delta = more + ends - (arc[i] as number) - (arc[k] as number);
    if (delta < best.delta) noted(best, "turn", i, 0, k, delta);
  }
  r.work += 2 * (k - i);
}

/** The stop at place `p0` elsewhere, or where it is, by whichever of its choices. */
export function scanMove(p: Path, at: number, best: Move): void {
  const { r, stops, choices, arc, place } = p;
  const stop = stops[at] as number;
  const c0 = r.first[stop] as number;
  const c1 = r.first[stop + 1] as number;
  if (c1 - c0 < 2) return;
  let lo = 0;
  let hi = r.count;
  for (const f of r.before[stop] as Int32Array) lo = Math.max(lo, place[f] as number);
  for (const f of r.behind[stop] as Int32Array) hi = Math.min(hi, (place[f] as number) - 1);
  const left = choices[at - 1] as number;
  const right = choices[at + 1] as number;
  const gone = (arc[at - 1] as number) + (arc[at] as number);
  const closed = between(r, left, right) - gone;
  for (let k = lo; k <= hi; k++) {
    if (k === at) continue;
    // Behind its own neighbour it stays where it is.
    const stays = k === at - 1;
    const a = choices[k] as number;
    const b = stays ? right : (choices[k + 1] as number);
    const base = stays ? -gone : closed - (arc[k] as number);
    for (let c = c0; c < c1; c++) {
      const delta = base + between(r, a, c) + between(r, c, b);
      if (delta < best.delta) noted(best, "move", at, k, c, delta);
    }
  }
  r.work += (hi - lo + 1) * (c1 - c0);
}

// biome-ignore lint/complexity/useMaxParams: called in the innermost loop, where an object would be made each time.
function noted(best: Move, kind: Kind, i: number, j: number, k: number, delta: number): void {
  best.kind = kind;
  best.i = i;
  best.j = j;
  best.k = k;
  best.delta = delta;
}
