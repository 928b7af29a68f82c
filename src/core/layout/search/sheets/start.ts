/** Where the search starts: rows and boxes, as they are and as the board has them. */

import type { Nested } from "../../fixed.ts";
import { pack, type Spot } from "../../pack.ts";
import type { Item } from "../../riders.ts";
import type { Room } from "../../room.ts";
import type { Form } from "../contact/forms.ts";
import { COARSE } from "./outlines.ts";
import type { Laid, Stock } from "./stock.ts";

export interface RowsTask {
  readonly room: Room;
  /** Without fixed places. */
  readonly items: readonly Item[];
  /** All on the first sheet. */
  readonly fixed: readonly Spot[];
  readonly leastGap: number;
  /** Sheets of this kind that may be used, 1 or more. */
  readonly copies: number;
}

export interface SheetsFound {
  /** For each sheet used, its spots without the fixed ones. */
  readonly sheets: readonly (readonly Spot[])[];
  readonly nested: readonly Nested[];
  readonly missing: readonly Item[];
  readonly steps: number;
}

/** Rows and boxes, sheet after sheet. */
export function rowsOn({ room, items, fixed, leastGap, copies }: RowsTask): SheetsFound {
  const sheets: Spot[][] = [];
  let left = [...items];
  for (let n = 0; n < copies && left.length > 0; n++) {
    const spots = pack(room, left, n === 0 ? fixed : [], leastGap);
    if (spots.length === 0 && n > 0) break;
    sheets.push(spots);
    const placed = new Set(spots.map((s) => s.item));
    left = left.filter((item) => !placed.has(item));
  }
  return { sheets, nested: [], missing: left, steps: 0 };
}

/** What two polygons of the search may come nearer than the shapes that they cover, mm. */
const LOOSE = 2 * COARSE + 0.02;

/** Rows that keep the polygons apart too, as the board has them; none where they take more sheets or miss a plate. */
export function looseRows(task: RowsTask, stock: Stock, best: SheetsFound): Laid[] | undefined {
  const { room, items, fixed, leastGap } = task;
  const { min, max } = room.clear;
  const roomy: Room = {
    ...room,
    margin: room.margin + LOOSE,
    clear: {
      min: { x: min.x + LOOSE, y: min.y + LOOSE },
      max: { x: max.x - LOOSE, y: max.y - LOOSE },
    },
    toKeepOut: room.toKeepOut + LOOSE,
  };
  const own = new Map(items.map((item) => [{ ...item, gap: item.gap + LOOSE }, item]));
  const apart = fixed.map((s) => ({ ...s, item: { ...s.item, gap: s.item.gap + LOOSE } }));
  const rows = rowsOn({
    room: roomy,
    items: [...own.keys()],
    fixed: apart,
    leastGap: leastGap + LOOSE,
    copies: task.copies,
  });
  if (rows.missing.length > best.missing.length || rows.sheets.length > best.sheets.length) return;
  const original = (s: Spot): Spot => ({ ...s, item: own.get(s.item) as Item });
  return laidAs(
    stock,
    rows.sheets.map((spots) => spots.map(original)),
  );
}

/** What is placed, each in the nearest form, for the board to go on from. */
export function laidAs(stock: Stock, sheets: SheetsFound["sheets"]): Laid[] {
  return sheets.flatMap((spots, n) =>
    spots.map(({ item, toSheet }) => {
      const forms = stock.contacts.forms.ofKind[stock.kindOf.get(item) ?? -1] ?? [];
      const turned = (f: number): number => {
        const { turn } = stock.contacts.forms.list[f] as Form;
        const off = (turn.deg * Math.PI) / 180 - toSheet.angle;
        return Math.abs(off - 2 * Math.PI * Math.round(off / (2 * Math.PI)));
      };
      const form = forms.reduce((a, b) => (turned(b) < turned(a) ? b : a), forms[0] ?? 0);
      return { item, form, x: toSheet.x + n * stock.pitch, y: toSheet.y };
    }),
  );
}
