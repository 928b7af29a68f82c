/**
 * From the board to the sheets: places rounded, shapes exact, and everything judged once more.
 *
 * Promise: what passes keeps its gap, its margin and its distance to the keep-outs, by the exact contours and
 * not by the polygons of the search.
 */
import { placeContour } from "../../../geometry/contour.ts";
import { radians } from "../../../geometry/trig.ts";
import { apart, type Boxed, boxed, curveDistance, holds, SLACK } from "../../clearance.ts";
import type { Nested } from "../../fixed.ts";
import type { Spot } from "../../pack.ts";
import { fits, type Room } from "../../room.ts";
import type { Form } from "../contact/forms.ts";
import { plateOf, ROUNDING } from "./outlines.ts";
import { type Laid, type Stock, sheetAt } from "./stock.ts";

/** Spots of every sheet, the job's fixed ones not among them. */
export function spotsOf(stock: Stock, laid: readonly Laid[], sheets: number): Spot[][] {
  const out: Spot[][] = Array.from({ length: sheets }, () => []);
  for (const one of laid) {
    const sheet = sheetAt(stock, one);
    const { turn } = stock.contacts.forms.list[one.form] as Form;
    const toSheet = {
      x: rounded(one.x - sheet * stock.pitch),
      y: rounded(one.y),
      angle: radians(turn.deg),
      flipped: turn.flipped,
    };
    const shape = boxed(placeContour(plateOf(one.item).outer, toSheet));
    out[sheet]?.push({ item: one.item, toSheet, shape, fixed: false });
  }
  return out;
}

function rounded(value: number): number {
  return Math.round(value / ROUNDING) * ROUNDING;
}

export interface Judged {
  readonly sound: boolean;
  /** Spots in windows of others. */
  readonly nested: readonly Nested[];
}

/** Judges the spots of one sheet, with the fixed ones on it. */
export function judge(
  room: Room,
  spots: readonly Spot[],
  fixed: readonly Spot[],
  leastGap: number,
): Judged {
  const nested: Nested[] = [];
  if (!spots.every((s) => fits(room, s.shape))) return { sound: false, nested };
  const all = [...spots, ...fixed];
  for (const [i, a] of spots.entries()) {
    for (const b of all.slice(i + 1)) {
      const gap = Math.max(leastGap, a.item.gap, b.item.gap);
      if (apart(a.shape, b.shape, gap)) continue;
      const inWindow = windowOf(a, b, gap) ?? windowOf(b, a, gap);
      if (inWindow === undefined) return { sound: false, nested };
      nested.push(inWindow);
    }
  }
  return { sound: true, nested };
}

function windowOf(host: Spot, guest: Spot, gap: number): Nested | undefined {
  if (!holds(host.shape, guest.shape)) return undefined;
  for (const { feature, wall } of wallsOf(host)) {
    if (!holds(wall, guest.shape)) continue;
    if (curveDistance(wall, guest.shape, gap) < gap - SLACK) return undefined;
    return { spot: guest, host, feature };
  }
  return undefined;
}

function wallsOf(host: Spot): { feature: number; wall: Boxed }[] {
  const features = host.item.members[0]?.order.plate.features ?? [];
  return features
    .filter((f) => f.kind !== "recess")
    .map((f) => ({ feature: f.id, wall: boxed(placeContour(f.contour, host.toSheet)) }));
}
