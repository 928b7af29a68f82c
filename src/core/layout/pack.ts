/**
 * Rows and boxes: every plate goes as low as it can, then as far left as it can, where its box touches what
 * already lies there.
 *
 * Promise: what is placed keeps its gap to every other plate, its margin to the sheet's edge and its distance
 * to the keep-outs, and lies along the fibre; the same input gives the same places. Whoever searches longer
 * can do better; nobody can do it with fewer surprises.
 * Cost: for n plates O(n²) positions a plate, each on the boxes of its row alone.
 */
import { bounds, placeContour } from "../geometry/contour.ts";
import type { Box, Rigid } from "../geometry/shape.ts";
import { radians } from "../geometry/trig.ts";
import { apart, type Boxed, boxed, SLACK, shifted } from "./clearance.ts";
import type { Item } from "./riders.ts";
import { fits, keepOutBox, outlineCorners, type Room, turnsOf } from "./room.ts";

/** An item in its place. `shape` is its first member's outline in the sheet frame. */
export interface Spot {
  readonly item: Item;
  readonly toSheet: Rigid;
  readonly shape: Boxed;
  /** Fixed by the job: others come as near as their shapes allow, not their boxes. */
  readonly fixed: boolean;
}

/** Places are multiples of this, so that they read well and survive being typed in, mm. */
const PLACE_STEP = 1e-3;

/** One way to turn an item, and its outline so turned about the drawing's zero. */
interface Turned {
  readonly angle: number;
  readonly shape: Boxed;
}

export function turnedOutlines(item: Item, room: Room): Turned[] {
  const outer = item.members[0]?.order.plate.outer ?? { segments: [] };
  return turnsOf(item.fibreDeg, room.sheet).map((deg) => {
    const angle = radians(deg);
    return { angle, shape: boxed(placeContour(outer, { x: 0, y: 0, angle, flipped: false })) };
  });
}

/** Largest first; equals in the job's order. */
export function byBoxArea(items: readonly Item[]): Item[] {
  const area = (item: Item): number => {
    const b = bounds(item.members[0]?.order.plate.outer ?? { segments: [] });
    return (b.max.x - b.min.x) * (b.max.y - b.min.y);
  };
  return items
    .map((item, i) => ({ item, i, area: area(item) }))
    .sort((a, b) => b.area - a.area || a.i - b.i)
    .map((entry) => entry.item);
}

/** Places what it can; what found no place is missing from the answer. */
export function pack(
  room: Room,
  items: readonly Item[],
  fixed: readonly Spot[],
  leastGap: number,
): Spot[] {
  const spots: Spot[] = [...fixed];
  // Equal plates that failed once fail again: nothing has left the sheet since.
  const hopeless = new Set<unknown>();
  for (const item of byBoxArea(items)) {
    const order = item.members[0]?.order;
    if (hopeless.has(order)) continue;
    const spot = lowest(room, item, spots, leastGap);
    if (spot === undefined) hopeless.add(order);
    else spots.push(spot);
  }
  return spots.slice(fixed.length);
}

function lowest(
  room: Room,
  item: Item,
  spots: readonly Spot[],
  leastGap: number,
): Spot | undefined {
  let best: Spot | undefined;
  for (const turned of turnedOutlines(item, room)) {
    const found = firstPlace(room, turned.shape, neighboursOf(item, spots, leastGap));
    if (found === undefined || (best !== undefined && !lower(found.shape.box, best.shape.box))) {
      continue;
    }
    const toSheet = { x: found.x, y: found.y, angle: turned.angle, flipped: false };
    best = { item, toSheet, shape: found.shape, fixed: false };
  }
  return best;
}

function lower(a: Box, b: Box): boolean {
  const dy = a.max.y - b.max.y;
  return dy < -SLACK || (dy < SLACK && a.max.x < b.max.x - SLACK);
}

interface Neighbour {
  readonly spot: Spot;
  readonly gap: number;
}

function neighboursOf(item: Item, spots: readonly Spot[], leastGap: number): Neighbour[] {
  return spots.map((spot) => ({ spot, gap: Math.max(leastGap, item.gap, spot.item.gap) }));
}

interface Found {
  readonly x: number;
  readonly y: number;
  readonly shape: Boxed;
}

function firstPlace(room: Room, shape: Boxed, neighbours: readonly Neighbour[]): Found | undefined {
  const packed = neighbours.filter((n) => !n.spot.fixed);
  const fixed = neighbours.filter((n) => n.spot.fixed);
  const rowAt = (bottom: number): TryAt => {
    const y = snapUp(bottom - shape.box.min.y);
    const beside = packed.filter((n) => !apartAlong("y", shape.box, y, n));
    return (left) => {
      const x = snapUp(left - shape.box.min.x);
      const blocking = beside.find((n) => !apartAlong("x", shape.box, x, n));
      // Every place further right is blocked by it too, until its far side is passed.
      if (blocking !== undefined) return blocking.spot.shape.box.max.x + blocking.gap - SLACK;
      const there = shifted(shape, x, y);
      if (!fixed.every((n) => apart(there, n.spot.shape, n.gap))) return undefined;
      return fits(room, there) ? { x, y, shape: there } : undefined;
    };
  };
  const xs = stops(room, shape.box, neighbours, "x");
  const ys = stops(room, shape.box, neighbours, "y");
  return firstOf(xs, ys, rowAt) ?? (room.rectangular ? undefined : scan(room, shape.box, rowAt));
}

/** True where the box, shifted by `by` along the axis, keeps its gap to the neighbour's along that axis. */
function apartAlong(axis: "x" | "y", box: Box, by: number, { spot, gap }: Neighbour): boolean {
  const there = spot.shape.box;
  return (
    box.min[axis] + by >= there.max[axis] + gap - SLACK ||
    there.min[axis] >= box.max[axis] + by + gap - SLACK
  );
}

/** A place in a row, or how far left the next that is worth a try may lie, or neither. */
type TryAt = (left: number) => Found | number | undefined;

function firstOf(
  xs: readonly number[],
  ys: readonly number[],
  rowAt: (bottom: number) => TryAt,
): Found | undefined {
  for (const y of ys) {
    const at = rowAt(y);
    let from = Number.NEGATIVE_INFINITY;
    for (const x of xs) {
      if (x < from) continue;
      const found = at(x);
      if (typeof found === "number") from = found;
      else if (found !== undefined) return found;
    }
  }
  return undefined;
}

/** Steps over an odd sheet that has no corner to lie against, in either direction. */
const SCAN_STEPS = 64;

function scan(room: Room, box: Box, rowAt: (bottom: number) => TryAt): Found | undefined {
  const steps = (axis: "x" | "y"): number[] => {
    const from = room.clear.min[axis];
    const way = room.clear.max[axis] - (box.max[axis] - box.min[axis]) - from;
    if (way < 0) return [];
    return Array.from({ length: SCAN_STEPS + 1 }, (_, i) => from + (way * i) / SCAN_STEPS);
  };
  return firstOf(steps("x"), steps("y"), rowAt);
}

/** Where a box's lower-left corner may stop along one axis, ascending. */
function stops(room: Room, box: Box, neighbours: readonly Neighbour[], axis: "x" | "y"): number[] {
  const size = box.max[axis] - box.min[axis];
  const last = room.clear.max[axis] - size;
  // A step short of the far end, so that snapping does not push past it.
  const values = [room.clear.min[axis], last - PLACE_STEP];
  const besides = (b: Box, gap: number): void => {
    values.push(b.max[axis] + gap, b.min[axis], b.min[axis] - gap - size);
  };
  for (const { spot, gap } of neighbours) besides(spot.shape.box, gap);
  for (const keepOut of room.sheet.keepOuts) besides(keepOutBox(keepOut), room.toKeepOut);
  for (const corner of outlineCorners(room)) values.push(corner[axis] + room.margin);
  const inside = values.filter((v) => v >= room.clear.min[axis] - SLACK && v <= last + SLACK);
  return [...new Set(inside)].sort((a, b) => a - b);
}

/** Up to the next step, but never up by a whole step for the sake of the last digits. */
function snapUp(value: number): number {
  return Math.ceil(value / PLACE_STEP - SLACK) * PLACE_STEP;
}
