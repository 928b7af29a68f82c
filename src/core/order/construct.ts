/**
 * First tours: the nearest that may come next, and each stop where it lengthens the way least.
 *
 * Cost: O(n²·m) and O(n²·m) for n stops of m choices.
 */
import { between, type Ready } from "./problem.ts";

/**
 * Always the nearest choice of the stops that may come next; of equally near ones the first. With `only`, a stop is
 * made by its first choice alone.
 */
export function nearestFirst(r: Ready, only = false): Int32Array {
  const open = Int32Array.from(r.before, (list) => list.length);
  const done = new Uint8Array(r.count);
  const choices = new Int32Array(r.count);
  let at = r.size - 2;
  for (let p = 0; p < r.count; p++) {
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    for (let s = 0; s < r.count; s++) {
      if (done[s] === 1 || (open[s] as number) > 0) continue;
      const b0 = r.first[s] as number;
      const b1 = only ? b0 + 1 : (r.first[s + 1] as number);
      r.work += b1 - b0;
      for (let b = b0; b < b1; b++) {
        const c = between(r, at, b);
        if (c < least) {
          least = c;
          best = b;
        }
      }
    }
    at = best;
    choices[p] = best;
    const stop = r.stopOf[best] as number;
    done[stop] = 1;
    for (const s of r.behind[stop] as Int32Array) open[s] = (open[s] as number) - 1;
  }
  return choices;
}

/**
 * Stops in an order that keeps precedence, each put where it lengthens the way least, behind all that must come
 * before it and before all that must come after.
 */
export function cheapestInserted(r: Ready): Int32Array {
  let tour: number[] = [r.size - 2, r.size - 1];
  for (const stop of inPrecedence(r)) {
    const firsts = new Set(r.before[stop] as Int32Array);
    let lo = 0;
    for (let p = 0; p < tour.length; p++) {
      if (firsts.has(r.stopOf[tour[p] as number] as number)) lo = p;
    }
    let place = lo;
    let choice = r.first[stop] as number;
    let least = Number.POSITIVE_INFINITY;
    // What comes after it is inserted later, so nothing bounds the place from above.
    for (let p = lo; p < tour.length - 1; p++) {
      const a = tour[p] as number;
      const b = tour[p + 1] as number;
      const gap = between(r, a, b);
      for (let c = r.first[stop] as number; c < (r.first[stop + 1] as number); c++) {
        const more = between(r, a, c) + between(r, c, b) - gap;
        r.work++;
        if (more < least) {
          least = more;
          place = p;
          choice = c;
        }
      }
    }
    tour = tour.toSpliced(place + 1, 0, choice);
  }
  return Int32Array.from(tour.slice(1, -1));
}

/** Stops, each after those that must come before it; otherwise as they are numbered. */
function inPrecedence(r: Ready): number[] {
  const open = Int32Array.from(r.before, (list) => list.length);
  const order: number[] = [];
  for (let s = 0; s < r.count; s++) if (open[s] === 0) order.push(s);
  for (let k = 0; k < order.length; k++) {
    for (const s of r.behind[order[k] as number] as Int32Array) {
      open[s] = (open[s] as number) - 1;
      if (open[s] === 0) order.push(s);
    }
  }
  return order;
}
