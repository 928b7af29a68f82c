/**
 * A job's sheets of one kind, ready for the search: the plates' kinds, and the sheets side by side on one
 * board, each with its edge, its keep-outs and, on the first, the plates that the job has fixed.
 *
 * Board frame: sheet frame of the first; sheet n lies n pitches to the right.
 */
import { bounds, signedArea } from "../../../geometry/contour.ts";
import type { Random } from "../../../geometry/seeded.ts";
import type { Contour } from "../../../geometry/shape.ts";
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
import {
  bareOutline,
  frameOutline,
  grownOutline,
  insideOf,
  keepOutOutline,
  ROUNDING,
  standing,
} from "./outlines.ts";

export interface StockTask {
  readonly room: Room;
  /** Without fixed places. */
  readonly items: readonly Item[];
  readonly fixed: readonly Spot[];
  readonly leastGap: number;
  readonly widestCutter: number;
  /** Steps of free turning, degrees. */
  readonly turning: number;
  /** Cells of a no-fit region along its longer side, at most. */
  readonly cells: number;
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
  const inside = insideOf(task.room);
  if (inside === undefined) return undefined;
  const everyone = [...task.items, ...task.fixed.map((s) => s.item)];
  const gaps = gapsOf(task, everyone);
  const open = windowsThatTake(task.items, task.widestCutter, gaps[0] ?? 0);
  const kinds: Kind[] = [];
  const known = new Map<string, number>();
  const orders = [...new Set(everyone.map((i) => i.members[0]?.order))];
  const add = (item: Item, turns: readonly Turn[]): number => {
    const place = turns.map((t) => `${t.deg} ${t.flipped}`).join();
    const key = `${orders.indexOf(item.members[0]?.order)} ${item.members.length} ${place}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    known.set(key, kinds.length);
    kinds.push(kindFor(item, turns, gaps, { own: gapOf(task, item), open }));
    return kinds.length - 1;
  };
  const kindOf = new Map(task.items.map((item) => [item, add(item, turnsFor(item, task))]));
  const fixedKinds = task.fixed.map((spot) => add(spot.item, [turnOf(spot)]));
  const solid = obstaclesOf(task.room, gaps);
  const contacts = contactsOf(formsOf([...kinds, ...solid.kinds]), task.cells);
  const firstForm = (kind: number): number => contacts.forms.ofKind[kind]?.[0] ?? 0;
  return {
    task,
    contacts,
    kindOf,
    inside,
    pitch: inside.x1 - inside.x0 + SHEETS_APART + (gaps.at(-1) ?? 0),
    obstacles: solid.places.map(({ kind, x, y }) => ({
      form: firstForm(kinds.length + kind),
      x,
      y,
    })),
    fixed: task.fixed.map((s, i) => ({
      form: firstForm(fixedKinds[i] as number),
      x: s.toSheet.x,
      y: s.toSheet.y,
    })),
  };
}

function gapOf(task: StockTask, item: Item): number {
  return Math.max(item.gap, task.leastGap);
}

/** All gaps that are kept, the least first: level n is the n-th of them. */
function gapsOf(task: StockTask, items: readonly Item[]): number[] {
  return [...new Set(items.map((item) => gapOf(task, item)))].sort((a, b) => a - b);
}

/** More than a frame reaches beyond its sheet, mm. */
const SHEETS_APART = 100;

function turnOf({ item, toSheet }: Spot): Turn {
  return { deg: item.place?.rotationDeg ?? 0, flipped: toSheet.flipped };
}

/** Is there room in a window for any of the items, as far as area and length tell? All are shut below a rider's gap. */
function windowsThatTake(
  items: readonly Item[],
  widestCutter: number,
  gap: number,
): (window: Contour) => boolean {
  if (gap < riderGap(widestCutter) - ROUNDING) return () => false;
  const outers = [...new Set(items.map((item) => item.members[0]?.order.plate.outer))];
  const sizes = outers.flatMap((outer) => (outer === undefined ? [] : [sizeOf(outer)]));
  return (window) => {
    const free = sizeOf(window);
    return sizes.some(
      ({ area, width, height }) =>
        area <= free.area &&
        Math.max(width, height) ** 2 <= free.width ** 2 + free.height ** 2 &&
        Math.min(width, height) <= 2 * Math.min(free.width, free.height),
    );
  };
}

function sizeOf(contour: Contour): { area: number; width: number; height: number } {
  const { min, max } = bounds(contour);
  const area = Math.abs(signedArea(contour));
  return { area, width: max.x - min.x, height: max.y - min.y };
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

interface KindTask {
  readonly own: number;
  readonly open: (window: Contour) => boolean;
}

function kindFor(
  item: Item,
  turns: readonly Turn[],
  gaps: readonly number[],
  { own, open }: KindTask,
): Kind {
  const level = gaps.indexOf(own) + 1;
  const grown = new Map<number, Outline>();
  for (const [i, gap] of gaps.entries()) {
    if (i + 1 >= level) grown.set(i + 1, grownOutline(item, gap / 2, open));
  }
  return { outline: bareOutline(item), grown, level, turns };
}

interface Obstacles {
  readonly kinds: readonly Kind[];
  readonly places: readonly { readonly kind: number; readonly x: number; readonly y: number }[];
}

/** The sheet's edge and its keep-outs: at each level grown by what the plates' own growth leaves of the distance. */
function obstaclesOf(room: Room, gaps: readonly number[]): Obstacles {
  const kinds: Kind[] = [];
  const turns = [{ deg: 0, flipped: false }];
  const add = (outlineAt: (grown: number) => Outline, round = false): number => {
    const grown = new Map(gaps.map((gap, i) => [i + 1, outlineAt(gap / 2)]));
    const outline = grown.get(1) as Outline;
    return kinds.push({ outline, grown, level: 1, turns, round }) - 1;
  };
  const edge = room.rectangular
    ? []
    : [{ kind: add((g) => frameOutline(room, Math.max(0, room.margin - g))), x: 0, y: 0 }];
  const known = new Map<string, number>();
  const places = room.sheet.keepOuts.map((k) => {
    const { keepOut, x, y } = standing(k);
    const key = JSON.stringify(keepOut);
    const round = keepOut.kind === "disc";
    const kind = known.get(key) ?? add((g) => keepOutOutline(keepOut, room.toKeepOut - g), round);
    known.set(key, kind);
    return { kind, x, y };
  });
  return { kinds, places: [...edge, ...places] };
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
