/**
 * Plates on sheets: fixed places first, then the rest in rows.
 *
 * Words: margin is from a plate to the sheet's edge; gap is between two plates; a keep-out is where a clamp
 * or screw is. All are measured to a plate's contour, so each must hold at least the cutter's kerf.
 *
 * Promise: every copy is placed once or named in a `stop` finding; same input, same layout.
 */

import type { Finding, Outcome } from "../finding/finding.ts";
import { reporter } from "../finding/finding.ts";
import { sayLayout } from "../finding/say-layout.ts";
import { placeContour, signedArea } from "../geometry/contour.ts";
import { placePoint } from "../geometry/segment.ts";
import type { Feature } from "../plate/plate.ts";
import { fixedSpots, type Nested } from "./fixed.ts";
import type { Placement, Sheet, SheetLayout } from "./layout.ts";
import { pack, type Spot, turnedOutlines } from "./pack.ts";
import { type Item, itemsOf, type PlateOrder } from "./riders.ts";
import { type Room, roomOf, sizeOf } from "./room.ts";

export interface LayInput {
  readonly sheets: readonly Sheet[];
  readonly plates: readonly PlateOrder[];
  /** Effective diameter of the widest cutter of the job, mm. */
  readonly widestCutter: number;
}

const report = reporter(sayLayout);

/** Two kerfs and a web of 1.5 mm that does not break loose (services ask 1.5–2 mm: common practice, no source). */
export function webGap(widestCutter: number): number {
  return 2 * widestCutter + 1.5;
}

/** One kerf and 1 mm: no sound web stays, but no cut reaches the neighbour. */
export function leastGap(widestCutter: number): number {
  return widestCutter + 1;
}

export function layPlates(input: LayInput): Outcome<SheetLayout[]> {
  const names = new Set(input.sheets.map((s) => s.name));
  const findings: Finding[] = input.plates
    .filter((order) => !names.has(order.sheet))
    .map((o) =>
      report("sheet-unknown", { plate: o.plate.name, sheet: o.sheet }, { plate: o.plate.name }),
    );
  const { items, findings: riding } = itemsOf(input.plates, input.widestCutter);
  findings.push(...riding);
  const value = input.sheets.map((sheet) => {
    const mine = items.filter((item) => item.members[0]?.order.sheet === sheet.name);
    const laid = laySheet(roomOf(sheet, input.widestCutter), mine, input);
    findings.push(...laid.findings);
    return laid.value;
  });
  return { value, findings };
}

function laySheet(room: Room, items: readonly Item[], input: LayInput): Outcome<SheetLayout> {
  const fixed = fixedSpots(room, items, input.widestCutter);
  const free = items.filter((item) => item.place === undefined);
  const packed = packWithWebs(room, free, fixed.spots, input.widestCutter);
  const spots = [...fixed.spots, ...packed.spots];
  return {
    value: assemble(room.sheet, spots, fixed.nested, input.plates),
    findings: [...fixed.findings, ...packed.findings, ...missing(room, free, packed.spots)],
  };
}

/** With sound webs between all plates if they fit so, else with the gaps that were asked for. */
function packWithWebs(
  room: Room,
  free: readonly Item[],
  fixed: readonly Spot[],
  widestCutter: number,
): { spots: Spot[]; findings: Finding[] } {
  const wanted = webGap(widestCutter);
  const spots = pack(room, free, fixed, wanted);
  const raised = free.filter((item) => item.gap < wanted - 1e-9);
  if (spots.length === free.length || raised.length === 0) {
    return { spots, findings: spots.length > 1 ? raisedGaps(room, raised, wanted) : [] };
  }
  const least = leastGap(widestCutter);
  const tighter = pack(room, free, fixed, least);
  if (tighter.length <= spots.length) return { spots, findings: raisedGaps(room, raised, wanted) };
  const used = Math.max(least, Math.min(...raised.map((item) => item.gap)));
  const data = { sheet: room.sheet.name, used, wanted };
  return { spots: tighter, findings: [report("gap-narrow", data, { sheet: room.sheet.name })] };
}

function raisedGaps(room: Room, items: readonly Item[], used: number): Finding[] {
  const orders = new Set(items.flatMap((item) => item.members.slice(0, 1).map((m) => m.order)));
  return [...orders].map((order) => {
    const place = { plate: order.plate.name, sheet: room.sheet.name };
    return report("gap-raised", { ...place, asked: order.gap, used }, place);
  });
}

function missing(room: Room, items: readonly Item[], spots: readonly Spot[]): Finding[] {
  const placed = new Set(spots.map((spot) => spot.item));
  const lost = new Map<PlateOrder, Item[]>();
  for (const item of items) {
    const order = item.members[0]?.order;
    if (order === undefined || placed.has(item)) continue;
    lost.set(order, [...(lost.get(order) ?? []), item]);
  }
  return [...lost].map(([order, left]) => {
    const item = left[0] as Item;
    const lying = turnedOutlines(item, room)[0]?.shape.box ?? order.plate.bounds;
    const { width, height } = sizeOf(lying);
    const clear = sizeOf(room.clear);
    const place = { plate: order.plate.name, sheet: room.sheet.name };
    const data = {
      ...place,
      width,
      height,
      clearWidth: Math.max(0, clear.width),
      clearHeight: Math.max(0, clear.height),
      margin: room.margin,
    };
    const alone = pack(room, [item], [], 0).length === 1;
    return alone
      ? report("sheet-full", { ...data, missing: left.length, count: order.count }, place)
      : report("plate-larger-than-sheet", data, place);
  });
}

interface Draft {
  readonly placement: Placement;
  readonly rank: number;
  readonly host: { readonly placement: Placement; readonly feature: number } | undefined;
}

/** Placements in the job's order of plates and copies, whatever order they found their places in. */
function assemble(
  sheet: Sheet,
  spots: readonly Spot[],
  nested: readonly Nested[],
  orders: readonly PlateOrder[],
): SheetLayout {
  const drafts: Draft[] = [];
  const firstOf = new Map<Spot, Placement>();
  for (const spot of spots) {
    const placed = spot.item.members.map((m) => placementOf(spot, m.order, m.copy));
    firstOf.set(spot, placed[0] as Placement);
    for (const [i, member] of spot.item.members.entries()) {
      const host = member.inside;
      drafts.push({
        placement: placed[i] as Placement,
        rank: orders.indexOf(member.order),
        host:
          host === undefined
            ? undefined
            : { placement: placed[host.member] as Placement, feature: host.feature },
      });
    }
  }
  const hosts = new Map(drafts.map((d) => [d.placement, d.host]));
  for (const n of nested) {
    const guest = firstOf.get(n.spot);
    const host = firstOf.get(n.host);
    if (guest && host) hosts.set(guest, { placement: host, feature: n.feature });
  }
  const sorted = drafts
    .sort((a, b) => a.rank - b.rank || a.placement.copy - b.placement.copy)
    .map((d) => d.placement);
  const placements = sorted.map((placement) => {
    const host = hosts.get(placement);
    if (host === undefined) return placement;
    const inside = { placement: sorted.indexOf(host.placement), feature: host.feature };
    return { ...placement, inside };
  });
  const area = placements.reduce((sum, p) => sum + p.plate.area, 0);
  return { sheet, placements, utilisation: area / Math.abs(signedArea(sheet.outline)) };
}

function placementOf(spot: Spot, order: PlateOrder, copy: number): Placement {
  const { plate } = order;
  return {
    plate,
    copy,
    plateToSheet: spot.toSheet,
    outer: placeContour(plate.outer, spot.toSheet),
    features: plate.features.map((f) => placedFeature(f, spot)),
  };
}

function placedFeature(feature: Feature, spot: Spot): Feature {
  const { toSheet } = spot;
  const contour = placeContour(feature.contour, toSheet);
  const at = placePoint(feature.at, toSheet);
  if (feature.angle === undefined) return { ...feature, contour, at };
  const drawn = toSheet.flipped ? Math.PI - feature.angle : feature.angle;
  const turned = (drawn + toSheet.angle) % Math.PI;
  return { ...feature, contour, at, angle: turned < 0 ? turned + Math.PI : turned };
}
