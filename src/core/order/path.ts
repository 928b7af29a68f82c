/**
 * A tour being worked on: stops and choices by place, with the two outside at both ends, and what is kept beside
 * them so that an exchange is judged without walking the tour.
 */
import { type EntryRoom, entryRoom } from "./entries.ts";
import { between, type Ready } from "./problem.ts";

export interface Path {
  readonly r: Ready;
  /** Place 0 is the way in, place `count + 1` the way out. */
  readonly stops: Int32Array;
  readonly choices: Int32Array;
  /** By stop: where it stands. */
  readonly place: Int32Array;
  /** By place: cost from there to the next. */
  readonly arc: Float64Array;
  /** By stop: the run of the last scan that marked it. */
  readonly mark: Int32Array;
  readonly room: EntryRoom;
  run: number;
  cost: number;
  /** Stops whose surroundings have changed and are to be looked at, first in first out. */
  readonly awake: Int32Array;
  readonly waiting: Uint8Array;
  head: number;
  length: number;
}

export function pathOf(r: Ready, choices: ArrayLike<number>): Path {
  const { count } = r;
  const p: Path = {
    r,
    stops: new Int32Array(count + 2),
    choices: new Int32Array(count + 2),
    place: new Int32Array(count + 2),
    arc: new Float64Array(count + 2),
    mark: new Int32Array(count + 2),
    room: entryRoom(r),
    run: 0,
    cost: 0,
    awake: new Int32Array(count),
    waiting: new Uint8Array(count),
    head: 0,
    length: 0,
  };
  p.choices[0] = r.size - 2;
  p.choices.set(choices as Int32Array, 1);
  p.choices[count + 1] = r.size - 1;
  for (let k = 0; k < count + 2; k++) p.stops[k] = r.stopOf[p.choices[k] as number] as number;
  settle(p, 0, count + 1);
  p.cost = total(p);
  return p;
}

export interface Kept {
  readonly stops: Int32Array;
  readonly choices: Int32Array;
  cost: number;
}

export function keptOf({ stops, choices, cost }: Path): Kept {
  return { stops: stops.slice(), choices: choices.slice(), cost };
}

export function keep(into: Kept, { stops, choices, cost }: Path): void {
  into.stops.set(stops);
  into.choices.set(choices);
  into.cost = cost;
}

export function takeBack(p: Path, { stops, choices }: Kept): void {
  p.stops.set(stops);
  p.choices.set(choices);
  settle(p, 0, p.r.count + 1);
  p.cost = total(p);
}

/** Places and arcs anew, from `lo` to `hi`, with the arcs that lead there and away. */
export function settle(p: Path, lo: number, hi: number): void {
  const { stops, choices, place, arc, r } = p;
  for (let k = lo; k <= hi; k++) place[stops[k] as number] = k;
  const end = Math.min(hi, r.count);
  for (let k = Math.max(lo - 1, 0); k <= end; k++) {
    arc[k] = between(r, choices[k] as number, choices[k + 1] as number);
  }
  r.work += hi - lo;
}

/** Summed anew each time, so that the tour's cost does not drift. */
export function total({ arc, r }: Path): number {
  let sum = 0;
  for (let k = 0; k <= r.count; k++) sum += arc[k] as number;
  return sum;
}

/** What stands at this place is to be looked at; outside is not. */
export function wake(p: Path, place: number): void {
  if (place < 1 || place > p.r.count) return;
  const stop = p.stops[place] as number;
  if (p.waiting[stop] === 1) return;
  p.waiting[stop] = 1;
  let tail = p.head + p.length;
  if (tail >= p.awake.length) tail -= p.awake.length;
  p.awake[tail] = stop;
  p.length++;
}

/** The next stop to be looked at; none: −1. */
export function nextAwake(p: Path): number {
  if (p.length === 0) return -1;
  const stop = p.awake[p.head] as number;
  p.head = p.head + 1 === p.awake.length ? 0 : p.head + 1;
  p.length--;
  p.waiting[stop] = 0;
  return stop;
}

export function forget(p: Path): void {
  while (nextAwake(p) >= 0);
}

/** The stretches i+1…j and j+1…k change places; each keeps its direction. */
export function exchange(p: Path, i: number, j: number, k: number): void {
  rotate(p.stops, i + 1, j + 1, k + 1);
  rotate(p.choices, i + 1, j + 1, k + 1);
  settle(p, i + 1, k);
}

function rotate(row: Int32Array, from: number, middle: number, to: number): void {
  const front = row.slice(from, middle);
  row.copyWithin(from, middle, to);
  row.set(front, from + to - middle);
}

/** The stretch i+1…k is made the other way round. */
export function turn(p: Path, i: number, k: number): void {
  p.stops.subarray(i + 1, k + 1).reverse();
  p.choices.subarray(i + 1, k + 1).reverse();
  settle(p, i + 1, k);
}
