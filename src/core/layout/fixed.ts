/**
 * Fixed places: the job's own, kept as they are and checked. A plate that cannot be cut where it was put is a
 * stop; one that is merely nearer than weftcut would put it is a warning.
 */

import type { Finding } from "../finding/finding.ts";
import { reporter } from "../finding/finding.ts";
import { sayLayout } from "../finding/say-layout.ts";
import { placeContour } from "../geometry/contour.ts";
import type { Rigid } from "../geometry/shape.ts";
import { degrees, radians } from "../geometry/trig.ts";
import { boxed, curveDistance, holds, SLACK } from "./clearance.ts";
import type { Spot } from "./pack.ts";
import { type Item, riderGap, type SheetPlace } from "./riders.ts";
import { edgeDistance, keepOutDistance, type Room } from "./room.ts";

const report = reporter(sayLayout);

/** A fixed item that lies in a window of another one. */
export interface Nested {
  readonly spot: Spot;
  readonly host: Spot;
  readonly feature: number;
}

export interface FixedSpots {
  readonly spots: readonly Spot[];
  readonly nested: readonly Nested[];
  readonly findings: readonly Finding[];
}

export function fixedSpots(room: Room, items: readonly Item[], widestCutter: number): FixedSpots {
  const spots = items.flatMap((item) => spotOf(item));
  const findings = spots.flatMap((spot) => checkAlone(room, spot, widestCutter));
  const nested: Nested[] = [];
  for (const [i, a] of spots.entries()) {
    for (const b of spots.slice(i + 1)) {
      const inWindow = windowHolding(a, b) ?? windowHolding(b, a);
      if (inWindow !== undefined) nested.push(inWindow);
      findings.push(...checkPair(room, [a, b], inWindow, widestCutter));
    }
  }
  return { spots, nested, findings };
}

/** What stands against one plate where it lies: what `fixedSpots` would say of it among the others. */
export function findingsAt(
  room: Room,
  spot: Spot,
  others: readonly Spot[],
  widestCutter: number,
): Finding[] {
  return [
    ...checkAlone(room, spot, widestCutter),
    ...others.flatMap((other) => {
      const inWindow = windowHolding(spot, other) ?? windowHolding(other, spot);
      return checkPair(room, [spot, other], inWindow, widestCutter);
    }),
  ];
}

function spotOf(item: Item): Spot[] {
  const { place } = item;
  const plate = item.members[0]?.order.plate;
  if (place === undefined || plate === undefined) return [];
  const toSheet = rigidOf(place);
  return [{ item, toSheet, shape: boxed(placeContour(plate.outer, toSheet)), fixed: true }];
}

export function rigidOf({ x, y, rotationDeg, flipped }: SheetPlace): Rigid {
  return { x, y, angle: radians(rotationDeg), flipped };
}

export function nameOf(spot: Spot): string {
  const member = spot.item.members[0];
  if (member === undefined) return "";
  const { plate, count } = member.order;
  return count > 1 ? `${plate.name} ${member.copy}` : plate.name;
}

function checkAlone(room: Room, spot: Spot, widestCutter: number): Finding[] {
  const findings: Finding[] = [];
  const plate = nameOf(spot);
  const sheet = room.sheet.name;
  const place = { plate: spot.item.members[0]?.order.plate.name, sheet };
  const distance = edgeDistance(room, spot.shape, room.margin);
  if (distance < 0) findings.push(report("place-outside", { plate, sheet }, place));
  else if (distance < room.margin - SLACK) {
    const data = { plate, sheet, distance, needed: room.margin };
    findings.push(report("place-near-edge", data, place));
  }
  for (const [i, keepOut] of room.sheet.keepOuts.entries()) {
    const d = keepOutDistance(spot.shape, keepOut);
    // Half a kerf of the room that the layout itself would leave: here the cutter just passes.
    if (d >= widestCutter - SLACK) continue;
    const data = { plate, sheet, keepOut: i + 1, distance: d, needed: widestCutter };
    findings.push(report("place-on-keep-out", data, place));
  }
  const off = offFibre(spot.item, spot.toSheet, room.sheet.fibreDeg);
  if (off > 0.1) findings.push(report("place-off-fibre", { plate, sheet, offDeg: off }, place));
  return findings;
}

/** Degrees between the plate's fibre direction as it lies and the sheet's, 0 … 90. */
export function offFibre(
  { fibreDeg }: { readonly fibreDeg?: number | undefined },
  toSheet: Rigid,
  sheetFibreDeg: number,
): number {
  if (fibreDeg === undefined) return 0;
  const drawn = toSheet.flipped ? 180 - fibreDeg : fibreDeg;
  const off = drawn + degrees(toSheet.angle) - sheetFibreDeg;
  return Math.abs(((((off + 90) % 180) + 180) % 180) - 90);
}

function windowHolding(host: Spot, guest: Spot): Nested | undefined {
  if (!holds(host.shape, guest.shape)) return undefined;
  for (const feature of host.item.members[0]?.order.plate.features ?? []) {
    if (feature.kind === "recess") continue;
    const wall = boxed(placeContour(feature.contour, host.toSheet));
    if (!holds(wall, guest.shape)) continue;
    if (curveDistance(wall, guest.shape, 1) > 0) return { spot: guest, host, feature: feature.id };
  }
  return undefined;
}

function checkPair(
  room: Room,
  [a, b]: readonly [Spot, Spot],
  inWindow: Nested | undefined,
  widestCutter: number,
): Finding[] {
  const needed = inWindow === undefined ? widestCutter + 1 : riderGap(widestCutter);
  const distance = inWindow === undefined ? shapeDistance(a, b, needed) : wallDistance(inWindow);
  if (distance >= needed - SLACK) return [];
  const sheet = room.sheet.name;
  const place = { plate: a.item.members[0]?.order.plate.name, sheet };
  const data = { plate: nameOf(a), other: nameOf(b), sheet, distance };
  return distance < widestCutter - SLACK
    ? [report("place-overlap", { ...data, needed: widestCutter }, place)]
    : [report("place-near", { ...data, needed }, place)];
}

function shapeDistance(a: Spot, b: Spot, enough: number): number {
  if (holds(a.shape, b.shape) || holds(b.shape, a.shape)) return 0;
  return curveDistance(a.shape, b.shape, enough);
}

function wallDistance(nested: Nested): number {
  const feature = nested.host.item.members[0]?.order.plate.features.find(
    (f) => f.id === nested.feature,
  );
  if (feature === undefined) return 0;
  const wall = boxed(placeContour(feature.contour, nested.host.toSheet));
  return curveDistance(wall, nested.spot.shape, Number.POSITIVE_INFINITY);
}
