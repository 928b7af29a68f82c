/**
 * A job's sheets of one kind, ready for the search: the plates' kinds, and the sheets side by side on one
 * board, each with its edge, its keep-outs and, on the first, the plates that the job has fixed.
 *
 * Board frame: sheet frame of the first; sheet n lies n pitches to the right.
 */
import type { Random } from "../../../geometry/seeded.ts";
import type { Spot } from "../../pack.ts";
import { type Item, riderGap } from "../../riders.ts";
import { type Room, turnsOf } from "../../room.ts";
import { type Contacts, contactsOf } from "../contact/contacts.ts";
import { ringArea } from "../contact/convex.ts";
import {
  type Extent,
  type Form,
  formsOf,
  type Kind,
  type Outline,
  type Turn,
} from "../contact/forms.ts";
import { type Board, boardOf, type Piece } from "../separate/board.ts";
import { bareOutline, grownOutline, insideOf, keepOutOutline, ROUNDING } from "./outlines.ts";

export interface StockTask {
  readonly room: Room;
  /** Without fixed places. */
  readonly items: readonly Item[];
  readonly fixed: readonly Spot[];
  readonly leastGap: number;
  readonly widestCutter: number;
  /** Steps of free turning, degrees. */
  readonly turning: number;
}

export interface Stock {
  readonly task: StockTask;
  readonly contacts: Contacts;
  /** Kind of each item. */
  readonly kindOf: ReadonlyMap<Item, number>;
  readonly inside: Extent;
  readonly pitch: number;
  /** Of every sheet, then of the first alone, at the first sheet. */
  readonly obstacles: readonly Piece[];
  readonly fixed: readonly Piece[];
}

/** An item in a form at a place of the board. */
export interface Laid {
  readonly item: Item;
  readonly form: number;
  readonly x: number;
  readonly y: number;
}

export function stockOf(task: StockTask): Stock | undefined {
  const { room } = task;
  const inside = insideOf(room);
  if (inside === undefined) return undefined;
  const gapOf = (item: Item): number => Math.max(item.gap, task.leastGap);
  const everyone = [...task.items, ...task.fixed.map((s) => s.item)];
  const gaps = [...new Set(everyone.map(gapOf))].sort((a, b) => a - b);
  const least = leastAcross(task, gaps[0] ?? 0);
  const kinds: Kind[] = [];
  const known = new Map<string, number>();
  const orders = [...new Set(everyone.map((i) => i.members[0]?.order))];
  const add = (item: Item, turns: readonly Turn[]): number => {
    const place = turns.map((t) => `${t.deg} ${t.flipped}`).join();
    const key = `${orders.indexOf(item.members[0]?.order)} ${item.members.length} ${place}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    known.set(key, kinds.length);
    kinds.push(kindFor(item, turns, { gaps, own: gapOf(item), least }));
    return kinds.length - 1;
  };
  const kindOf = new Map(task.items.map((item) => [item, add(item, turnsFor(item, task))]));
  const fixedKinds = task.fixed.map((spot) => add(spot.item, [turnOf(spot)]));
  const solid = obstacleKinds(task, inside.frame);
  const contacts = contactsOf(formsOf([...kinds, ...solid]));
  const firstForm = (kind: number): number => contacts.forms.ofKind[kind]?.[0] ?? 0;
  const { min, max } = inside.box;
  return {
    task,
    contacts,
    kindOf,
    inside: { x0: min.x, y0: min.y, x1: max.x, y1: max.y },
    pitch: max.x - min.x + SHEETS_APART + (gaps.at(-1) ?? 0),
    obstacles: solid.map((_, i) => ({ form: firstForm(kinds.length + i), x: 0, y: 0 })),
    fixed: task.fixed.map((s, i) => ({
      form: firstForm(fixedKinds[i] as number),
      x: s.toSheet.x,
      y: s.toSheet.y,
    })),
  };
}

/** More than a frame reaches beyond its sheet, mm. */
const SHEETS_APART = 100;

function turnOf({ item, toSheet }: Spot): Turn {
  return { deg: item.place?.rotationDeg ?? 0, flipped: toSheet.flipped };
}

/** What a window must leave free across it to take the smallest plate, grown; windows stay shut below a rider's gap. */
function leastAcross({ items, widestCutter }: StockTask, gap: number): number {
  if (gap < riderGap(widestCutter) - ROUNDING) return Number.POSITIVE_INFINITY;
  const across = items.map((item) => {
    const { x0, y0, x1, y1 } = extentOfItem(item);
    return Math.min(x1 - x0, y1 - y0);
  });
  return Math.min(...across) / 2 + gap / 2;
}

function extentOfItem(item: Item): Extent {
  const { min, max } = item.members[0]?.order.plate.bounds ?? { min: ZERO, max: ZERO };
  return { x0: min.x, y0: min.y, x1: max.x, y1: max.y };
}

const ZERO = { x: 0, y: 0 };

/** With a fibre direction as `turnsOf` has it; without, at every step of free turning. */
function turnsFor(item: Item, { room, turning }: StockTask): Turn[] {
  const order = item.members[0]?.order;
  const turns = (fibreDeg: number | undefined, flipped: boolean): Turn[] => {
    if (fibreDeg === undefined) {
      const steps = Math.max(1, Math.round(360 / turning));
      return Array.from({ length: steps }, (_, i) => ({ deg: (i * 360) / steps, flipped }));
    }
    const along = turnsOf(fibreDeg, room.sheet);
    const across = order?.mayCross === true ? along.map((deg) => (deg + 90) % 360) : [];
    return [...along, ...across].map((deg) => ({ deg, flipped }));
  };
  const { fibreDeg } = item;
  if (order?.mayFlip !== true) return turns(fibreDeg, false);
  const flipped = fibreDeg === undefined ? undefined : 180 - fibreDeg;
  return [...turns(fibreDeg, false), ...turns(flipped, true)];
}

interface Gaps {
  readonly gaps: readonly number[];
  readonly own: number;
  readonly least: number;
}

/** Level 0 is the plate as it is, level n the n-th gap. */
function kindFor(item: Item, turns: readonly Turn[], { gaps, own, least }: Gaps): Kind {
  const grown = new Map<number, Outline>([[0, grownOutline(item, 0, Number.POSITIVE_INFINITY)]]);
  const level = gaps.indexOf(own) + 1;
  for (const [i, gap] of gaps.entries()) {
    if (i + 1 >= level) grown.set(i + 1, grownOutline(item, gap / 2, least));
  }
  return { outline: bareOutline(item), grown, level, turns };
}

function obstacleKinds({ room }: StockTask, frame: Outline | undefined): Kind[] {
  const keepOuts = room.sheet.keepOuts.map((k) => keepOutOutline(k, room.toKeepOut));
  const outlines = frame === undefined ? keepOuts : [frame, ...keepOuts];
  return outlines.map((outline) => ({
    outline,
    grown: new Map([[0, outline]]),
    level: 0,
    turns: [{ deg: 0, flipped: false }],
    obstacle: true,
  }));
}

/** Largest first; equals in the order given. */
export function bySize(items: readonly Item[]): Item[] {
  const size = (item: Item): number => {
    const { x0, y0, x1, y1 } = extentOfItem(item);
    return (x1 - x0) * (y1 - y0);
  };
  return [...items].sort((a, b) => size(b) - size(a));
}

/** The sheets from the first to the last of `sheets`, and what is laid on them. */
export function boardWith(
  stock: Stock,
  laid: readonly Laid[],
  sheets: { readonly first: number; readonly last: number },
  random: Random,
): Board {
  const rooms: Extent[] = [];
  const solid: Piece[] = [];
  for (let n = sheets.first; n <= sheets.last; n++) {
    rooms.push(roomAt(stock, n));
    const here = n === 0 ? [...stock.obstacles, ...stock.fixed] : stock.obstacles;
    solid.push(...here.map((p) => ({ ...p, x: p.x + n * stock.pitch })));
  }
  return boardOf(stock.contacts, [...laid, ...solid], laid.length, random, rooms);
}

export function roomAt({ inside, pitch }: Stock, n: number): Extent {
  return { ...inside, x0: inside.x0 + n * pitch, x1: inside.x1 + n * pitch };
}

/** Which sheet a place of the board is on. */
export function sheetAt(stock: Stock, laid: Laid): number {
  const { box } = stock.contacts.forms.list[laid.form] as Form;
  const middle = laid.x + (box.x0 + box.x1) / 2 - (stock.inside.x0 + stock.inside.x1) / 2;
  return Math.round(middle / stock.pitch);
}

/** Does the item fit the sheet at all, were it empty of keep-outs? */
export function fitsAlone(stock: Stock, item: Item): boolean {
  const { inside, contacts } = stock;
  return (contacts.forms.ofKind[stock.kindOf.get(item) ?? -1] ?? []).some((f) => {
    const { box } = contacts.forms.list[f] as Form;
    return box.x1 - box.x0 <= inside.x1 - inside.x0 && box.y1 - box.y0 <= inside.y1 - inside.y0;
  });
}

/** Area that an item takes up with half its gap round it. */
export function grownArea({ contacts, kindOf }: Stock, item: Item): number {
  const kind = contacts.forms.kinds[kindOf.get(item) ?? -1];
  const outline = kind?.grown.get(kind.level);
  return outline === undefined ? 0 : ringArea(outline.outer);
}
