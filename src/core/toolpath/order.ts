/**
 * Which cut comes next: short ways through the air that keep what must come first first.
 *
 * Nearest neighbour among what may come next, then 2-opt reversals that keep every precedence. The way
 * counted is the straight line in X and Y from where one item ends to where the next begins.
 * Cost: O(n²) for the start and for each sweep; n is the plates of a sheet or the features of a plate.
 */
import { distance } from "../geometry/segment.ts";
import type { Point } from "../geometry/shape.ts";
import { SAME } from "./same.ts";

export interface Item {
  readonly start: Point;
  readonly end: Point;
  /** Indices of items that must come before this one. */
  readonly after: readonly number[];
}

/** Sweeps over all pairs; each must shorten the way, and plates need a handful. */
const MOST_SWEEPS = 20;

/** Indices of the items in the order in which they are cut, beginning near `from`. */
export function shortOrder(items: readonly Item[], from: Point): number[] {
  return improved(items, nearestFirst(items, from), from);
}

function nearestFirst(items: readonly Item[], from: Point): number[] {
  const order: number[] = [];
  const done = new Set<number>();
  let at = from;
  while (order.length < items.length) {
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    for (const [i, item] of items.entries()) {
      if (done.has(i) || item.after.some((k) => !done.has(k))) continue;
      const d = distance(at, item.start);
      if (d < least - SAME) {
        least = d;
        best = i;
      }
    }
    // A ring of precedence cannot come from nested plates; the rest in their own order if it does.
    if (best < 0) best = items.findIndex((_, i) => !done.has(i));
    order.push(best);
    done.add(best);
    at = (items[best] as Item).end;
  }
  return order;
}

function improved(items: readonly Item[], start: number[], from: Point): number[] {
  let order = start;
  let length = wayOf(items, order, from);
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let better = false;
    for (let i = 0; i < order.length - 1; i++) {
      for (let k = i + 1; k < order.length; k++) {
        if (gain(items, order, i, k, from) < SAME) continue;
        const trial = [
          ...order.slice(0, i),
          ...order.slice(i, k + 1).reverse(),
          ...order.slice(k + 1),
        ];
        const way = wayOf(items, trial, from);
        if (way < length - SAME && keepsOrder(items, trial)) {
          order = trial;
          length = way;
          better = true;
        }
      }
    }
    if (!better) break;
  }
  return order;
}

/** What turning i…k round saves at its two ends; inside it nothing changes where items end as they begin. */
function gain(
  items: readonly Item[],
  order: readonly number[],
  i: number,
  k: number,
  from: Point,
): number {
  const item = (n: number): Item => items[order[n] as number] as Item;
  const before = i === 0 ? from : item(i - 1).end;
  const old = distance(before, item(i).start);
  const fresh = distance(before, item(k).start);
  if (k === order.length - 1) return old - fresh;
  const next = item(k + 1).start;
  return old + distance(item(k).end, next) - fresh - distance(item(i).end, next);
}

function wayOf(items: readonly Item[], order: readonly number[], from: Point): number {
  let at = from;
  let sum = 0;
  for (const i of order) {
    const item = items[i] as Item;
    sum += distance(at, item.start);
    at = item.end;
  }
  return sum;
}

function keepsOrder(items: readonly Item[], order: readonly number[]): boolean {
  const place = new Map(order.map((i, k) => [i, k]));
  return items.every((item, i) =>
    item.after.every((k) => (place.get(k) as number) < (place.get(i) as number)),
  );
}
