/**
 * Which plates are placed by themselves, and which ride in a window of another.
 *
 * A rider was drawn inside a window of its host, in the same drawing: it keeps that place, so the two share
 * one transform. It rides only where both cuts leave a web between them, both come from one sheet, and both
 * want their fibres in the same direction. Whoever cannot ride is placed by itself, with a note.
 *
 * An item is what has to find a place: one copy of a plate with all that rides in it.
 */
import type { Finding } from "../finding/finding.ts";
import { reporter } from "../finding/finding.ts";
import { sayLayout } from "../finding/say-layout.ts";
import type { Plate } from "../plate/plate.ts";
import { apart, boxed, curveDistance } from "./clearance.ts";

/** A fixed place: flip, turn, then shift; sheet frame. */
export interface SheetPlace {
  readonly x: number;
  readonly y: number;
  readonly rotationDeg: number;
  readonly flipped: boolean;
}

export interface PlateOrder {
  readonly plate: Plate;
  /** Name of the sheet that it is cut from. */
  readonly sheet: string;
  readonly count: number;
  /** Least distance to the next plate, mm. */
  readonly gap: number;
  /** Direction in the drawing that must lie along the sheet's fibre; absent: free. */
  readonly fibreDeg?: number | undefined;
  /** May be turned over. */
  readonly mayFlip?: boolean | undefined;
  /** May lie across the fibres too, as a balanced weave allows. */
  readonly mayCross?: boolean | undefined;
  /** Fixed places by copy; undefined: anywhere. */
  readonly place?: readonly (SheetPlace | undefined)[] | undefined;
}

export interface Member {
  readonly order: PlateOrder;
  readonly copy: number;
  /** Index among the item's members, and the window there; absent for the first member. */
  readonly inside?: { readonly member: number; readonly feature: number } | undefined;
}

export interface Item {
  /** The first is the one that all others ride in. */
  readonly members: readonly Member[];
  readonly gap: number;
  readonly fibreDeg: number | undefined;
  readonly place: SheetPlace | undefined;
}

interface Ride {
  readonly host: PlateOrder;
  readonly feature: number;
}

const report = reporter(sayLayout);

/** Web that must stay between a rider's cut and its host's: two kerfs and 1 mm (common practice, no source). */
export function riderGap(widestCutter: number): number {
  return 2 * widestCutter + 1;
}

export function itemsOf(
  orders: readonly PlateOrder[],
  widestCutter: number,
): { items: Item[]; findings: Finding[] } {
  const findings: Finding[] = [];
  const rides = new Map<PlateOrder, Ride>();
  for (const order of orders) {
    const ride = rideOf(order, orders, widestCutter, findings);
    if (ride !== undefined && apartFromOthers(order, ride, rides, widestCutter)) {
      rides.set(order, ride);
    }
  }
  const items: Item[] = [];
  for (const order of orders) {
    for (let copy = 1; copy <= order.count; copy++) {
      if (!ridesAt(order, copy, rides)) items.push(itemOf(order, copy, orders, rides));
    }
  }
  return { items, findings };
}

function ridesAt(order: PlateOrder, copy: number, rides: ReadonlyMap<PlateOrder, Ride>): boolean {
  const ride = rides.get(order);
  return ride !== undefined && copy <= ride.host.count;
}

function rideOf(
  order: PlateOrder,
  orders: readonly PlateOrder[],
  widestCutter: number,
  findings: Finding[],
): Ride | undefined {
  const { plate } = order;
  const drawn = plate.drawnInside;
  if (drawn === undefined || isFixed(order)) return undefined;
  const host = orders.find(
    (o) => o !== order && o.plate.name === drawn.plate && o.plate.drawing === plate.drawing,
  );
  const wall = host?.plate.features.find((f) => f.id === drawn.feature);
  if (host === undefined || wall === undefined) return undefined;
  const names = { plate: plate.name, host: host.plate.name };
  const place = { plate: plate.name, sheet: order.sheet };
  const needed = riderGap(widestCutter);
  const distance = curveDistance(boxed(plate.outer), boxed(wall.contour), needed);
  if (host.sheet !== order.sheet) findings.push(report("rider-elsewhere", names, place));
  else if (distance < needed) {
    findings.push(report("rider-too-tight", { ...names, distance, needed }, place));
  } else if (!sameFibre(order.fibreDeg, host.fibreDeg)) {
    findings.push(report("rider-off-fibre", names, place));
  } else return { host, feature: drawn.feature };
  return undefined;
}

function isFixed(order: PlateOrder): boolean {
  return (order.place ?? []).some((place) => place !== undefined);
}

function sameFibre(a: number | undefined, b: number | undefined): boolean {
  if (a === undefined || b === undefined) return true;
  return Math.abs(((((a - b) % 180) + 270) % 180) - 90) < 1e-9;
}

/** Two riders in one window must leave a web between them too; the later one gives way. */
function apartFromOthers(
  order: PlateOrder,
  ride: Ride,
  rides: ReadonlyMap<PlateOrder, Ride>,
  widestCutter: number,
): boolean {
  const shape = boxed(order.plate.outer);
  for (const [other, r] of rides) {
    if (r.host !== ride.host || r.feature !== ride.feature) continue;
    if (!apart(shape, boxed(other.plate.outer), riderGap(widestCutter))) return false;
    // One item has one direction: a free host takes the fibres of its first rider that names any.
    if (!sameFibre(other.fibreDeg, order.fibreDeg)) return false;
  }
  return true;
}

function itemOf(
  order: PlateOrder,
  copy: number,
  orders: readonly PlateOrder[],
  rides: ReadonlyMap<PlateOrder, Ride>,
): Item {
  const members: Member[] = [{ order, copy }];
  for (let i = 0; i < members.length; i++) {
    const host = members[i] as Member;
    for (const rider of orders) {
      const ride = rides.get(rider);
      if (ride?.host !== host.order || copy > rider.count) continue;
      members.push({ order: rider, copy, inside: { member: i, feature: ride.feature } });
    }
  }
  return {
    members,
    gap: order.gap,
    fibreDeg: members.find((m) => m.order.fibreDeg !== undefined)?.order.fibreDeg,
    place: order.place?.[copy - 1],
  };
}
