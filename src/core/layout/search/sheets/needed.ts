/**
 * The smallest sheet that would take what found no place: as high as the one at hand, if the plates can lie in
 * that height at all, and as short as the search can make it.
 */
import { rectangle } from "../../../geometry/contour.ts";
import { seeded } from "../../../geometry/seeded.ts";
import type { Item } from "../../riders.ts";
import { type Room, roomOf, sizeOf } from "../../room.ts";
import type { Form } from "../contact/forms.ts";
import { stepsOf } from "../separate/board.ts";
import { separate } from "../separate/separate.ts";
import { EXPLORING, shorten } from "../strip/shorten.ts";
import { boardWith, bySize, roomAt, type Stock, stockOf } from "./stock.ts";

export interface SheetSize {
  readonly width: number;
  readonly height: number;
}

export interface Need {
  readonly room: Room;
  readonly items: readonly Item[];
  readonly leastGap: number;
  readonly widestCutter: number;
  readonly seed: number;
  readonly steps: number;
}

/** Quarter turns are enough to tell a size. */
const TURNING = 90;
const CELLS = 16;

/** A rectangle with its margin, rounded up to whole millimetres. */
export function sheetNeeded(need: Need): SheetSize | undefined {
  const { room, items, leastGap, widestCutter } = need;
  const sides = items.map((item) => longSide(item) + item.gap);
  const roomy = sides.reduce((a, b) => a + b, 0) + leastGap * items.length;
  const at = (height: number): Stock | undefined => {
    const outline = rectangle(0, 0, roomy + 2 * room.margin, height);
    const sheet = { ...room.sheet, outline, keepOuts: [] };
    return stockOf({
      room: roomOf(sheet, widestCutter),
      items,
      fixed: [],
      leastGap,
      widestCutter,
      turning: TURNING,
      cells: CELLS,
    });
  };
  const height = sizeOf(room.outline.box).height;
  const stock = at(height);
  if (stock === undefined) return undefined;
  const across = leastHeight(stock, items);
  const high = Math.max(height, Math.ceil(across + 2 * room.margin + 0.01));
  const fitting = high === height ? stock : at(high);
  const length = fitting === undefined ? undefined : lengthFor(need, fitting);
  if (length === undefined) return undefined;
  return { width: Math.ceil(length + 2 * room.margin), height: high };
}

function longSide(item: Item): number {
  const b = item.members[0]?.order.plate.bounds;
  return b === undefined ? 0 : Math.max(b.max.x - b.min.x, b.max.y - b.min.y);
}

/** The height below which some item fits in no turn. */
function leastHeight({ contacts, kindOf }: Stock, items: readonly Item[]): number {
  return Math.max(
    ...items.map((item) =>
      Math.min(
        ...(contacts.forms.ofKind[kindOf.get(item) ?? -1] ?? []).map((f) => {
          const { box } = contacts.forms.list[f] as Form;
          return box.y1 - box.y0;
        }),
      ),
    ),
  );
}

/** The sheet is long enough for all to lie in one row, so that they come apart. */
function lengthFor({ items, seed, steps }: Need, stock: Stock): number | undefined {
  const random = seeded(seed);
  const room = roomAt(stock, 0);
  const laid = bySize(items).map((item) => ({
    item,
    form: stock.contacts.forms.ofKind[stock.kindOf.get(item) ?? -1]?.[0] ?? 0,
    x: room.x0 + (room.x1 - room.x0) * random(),
    y: room.y0 + (room.y1 - room.y0) * random(),
  }));
  const board = boardWith(stock, laid, { first: 0, last: 0 }, random);
  const over = (): boolean => stepsOf(board) >= steps / 2;
  if (!separate(board, { looks: EXPLORING, sweeps: 100, over }).free) return undefined;
  const start = stepsOf(board);
  return shorten({
    board,
    axis: "x",
    room,
    spent: () => (stepsOf(board) - start) / Math.max(1, steps - start),
  });
}
