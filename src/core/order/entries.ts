/**
 * The best choice of every stop while their order stays: exact, by dynamic programming along the order.
 *
 * Cost: O(n·m²) for n stops of m choices.
 */
import { between, type Ready } from "./problem.ts";

/** Room for the tables of one problem, so that a search does not ask for it anew each time. */
export interface EntryRoom {
  readonly least: Float64Array;
  readonly from: Int32Array;
}

export function entryRoom(r: Ready): EntryRoom {
  return { least: new Float64Array(r.size), from: new Int32Array(r.size) };
}

/**
 * Sets `choices` (by place, `lo` to `hi`) to the best for `stops`, between the choices at `lo − 1` and `hi + 1`,
 * which stay. Returns the cost from the one to the other.
 */
export function bestEntries(
  r: Ready,
  stops: Int32Array,
  choices: Int32Array,
  room: EntryRoom,
  [lo, hi]: readonly [number, number],
): number {
  const { first } = r;
  const { least, from } = room;
  const opening = choices[lo - 1] as number;
  const closing = choices[hi + 1] as number;
  let a0 = opening;
  let a1 = opening + 1;
  least[opening] = 0;
  for (let p = lo; p <= hi + 1; p++) {
    const stop = stops[p] as number;
    const b0 = p > hi ? closing : (first[stop] as number);
    const b1 = p > hi ? closing + 1 : (first[stop + 1] as number);
    for (let b = b0; b < b1; b++) {
      let best = Number.POSITIVE_INFINITY;
      let way = a0;
      for (let a = a0; a < a1; a++) {
        const c = (least[a] as number) + between(r, a, b);
        if (c < best) {
          best = c;
          way = a;
        }
      }
      least[b] = best;
      from[b] = way;
    }
    r.work += (a1 - a0) * (b1 - b0);
    a0 = b0;
    a1 = b1;
  }
  let at = closing;
  for (let p = hi; p >= lo; p--) {
    at = from[at] as number;
    choices[p] = at;
  }
  return least[closing] as number;
}
