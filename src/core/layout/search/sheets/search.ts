/**
 * The search for places on sheets of one kind: as many plates as will go, on as few sheets as will do, and on
 * the last of them in as short a length as can be, so that the offcut is large.
 *
 * It starts from rows and boxes, and gives them back where it finds nothing better. Plates may go into windows
 * of others. Fixed places stay.
 *
 * Promise: what comes back keeps gap, margin, keep-outs and fibres, judged by the exact contours; the same
 * task, seed and steps give the same answer.
 */
import { type Random, seeded } from "../../../geometry/seeded.ts";
import type { Nested } from "../../fixed.ts";
import type { Item } from "../../riders.ts";
import { keepOutBox } from "../../room.ts";
import type { Form } from "../contact/forms.ts";
import { type Board, stepsOf } from "../separate/board.ts";
import { separate } from "../separate/separate.ts";
import { disturb, EXPLORING, shorten } from "../strip/shorten.ts";
import { clearArea } from "./clear.ts";
import { cellsFor, patienceFor, type SearchOptions, stepsFor, turningFor } from "./effort.ts";
import { judge, spotsOf } from "./spots.ts";
import { laidAs, looseRows, type RowsTask, rowsOn, type SheetsFound } from "./start.ts";
import {
  boardWith,
  bySize,
  fitsAlone,
  grownArea,
  type Laid,
  roomAt,
  type Stock,
  stockOf,
} from "./stock.ts";

export interface SheetTask extends RowsTask {
  readonly widestCutter: number;
  readonly options: SearchOptions;
}

interface Run {
  readonly task: SheetTask;
  readonly stock: Stock;
  readonly random: Random;
  readonly steps: number;
  best: SheetsFound;
  /** The best as the board has it; absent while it is rows. */
  laid: readonly Laid[] | undefined;
  /** Steps of boards that are done with. */
  before: number;
}

export function searchSheets(task: SheetTask): SheetsFound {
  const rows = rowsOn(task);
  const { room, items, fixed, leastGap, widestCutter, options } = task;
  const [turning, cells] = [turningFor(options), cellsFor(options)];
  const stock = stockOf({ room, items, fixed, leastGap, widestCutter, turning, cells });
  if (stock === undefined || items.length === 0) return rows;
  const random = seeded(options.seed);
  const steps = stepsFor(options);
  const run: Run = { task, stock, random, steps, best: rows, laid: undefined, before: 0 };
  takeAll(run);
  if (run.best.missing.length > 0) takeMore(run);
  else shortenLast(run);
  return { ...run.best, steps: run.before + stock.contacts.work };
}

/** Share of the budget up to which the whole set, thrown in anew, is tried on fewer sheets. */
const ALL_SHARE = 0.35;
/** Grown plates fill no sheet further than this: not even the public instances of the field are. */
const DENSEST = 0.9;

function spent(run: Run, board: Board): number {
  const { options } = run.task;
  if (options.over?.() === true) return 2;
  return (run.before + stepsOf(board)) / run.steps;
}

function tell(run: Run, share: number): void {
  const { options, room } = run.task;
  options.progress?.({
    sheet: room.sheet.name,
    share: Math.min(1, share),
    sheets: run.best.sheets.length,
    missing: run.best.missing.length,
    used: lengthUsed(run.best),
  });
}

function lengthUsed({ sheets }: SheetsFound): number {
  const last = sheets.at(-1) ?? [];
  return Math.max(0, ...last.map((s) => s.shape.box.max.x));
}

/** Everything that fits a sheet at all, on fewer and fewer sheets. */
function takeAll(run: Run): void {
  const { task, stock } = run;
  const items = task.items.filter((item) => fitsAlone(stock, item));
  const area = items.reduce((sum, item) => sum + grownArea(stock, item), 0);
  const { x0, y0, x1, y1 } = stock.inside;
  const fewest = Math.max(1, Math.ceil(area / ((x1 - x0) * (y1 - y0) * DENSEST)));
  const lost = task.items.length - items.length;
  for (;;) {
    const { sheets, missing } = run.best;
    const next = missing.length > lost ? task.copies : sheets.length - 1;
    if (next < fewest || !tryAll(run, items, next, ALL_SHARE)) return;
  }
}

/** All of these items on so many sheets, thrown in at random, until a share of the budget is spent. */
function tryAll(run: Run, items: readonly Item[], sheets: number, share: number): boolean {
  const laid = bySize(items).map((item) => thrown(run, item, Math.floor(run.random() * sheets)));
  return settle(run, laid, sheets, share);
}

function thrown({ stock, random }: Run, item: Item, sheet: number): Laid {
  const forms = stock.contacts.forms.ofKind[stock.kindOf.get(item) ?? -1] ?? [];
  const form = forms[Math.floor(random() * forms.length)] ?? 0;
  const { x0, y0, x1, y1 } = roomAt(stock, sheet);
  return { item, form, x: x0 + (x1 - x0) * random(), y: y0 + (y1 - y0) * random() };
}

const PATIENCE = 100;

/** Separates what is laid; keeps it where that succeeds and it is better than the best. */
function settle(run: Run, laid: readonly Laid[], sheets: number, share: number): boolean {
  const board = boardWith(run.stock, laid, { first: 0, last: sheets - 1 }, run.random);
  const over = (): boolean => spent(run, board) >= share;
  let free = false;
  let fits = true;
  while (!free && fits && !over()) {
    ({ free, fits } = separate(board, { looks: EXPLORING, sweeps: PATIENCE, over }));
    if (!free) disturb(board);
    tell(run, spent(run, board));
  }
  run.before += board.steps;
  return free && keep(run, laidOn(board, laid), sheets);
}

function laidOn(board: Board, laid: readonly Laid[]): Laid[] {
  return laid.map(({ item }, i) => ({
    item,
    form: board.form[i] as number,
    x: board.x[i] as number,
    y: board.y[i] as number,
  }));
}

function keep(run: Run, laid: readonly Laid[], sheets: number): boolean {
  const { task, stock } = run;
  const spots = spotsOf(stock, laid, sheets);
  const nested: Nested[] = [];
  for (const [n, mine] of spots.entries()) {
    const judged = judge(task.room, mine, n === 0 ? task.fixed : [], task.leastGap);
    if (!judged.sound) return false;
    nested.push(...judged.nested);
  }
  const placed = new Set(laid.map((l) => l.item));
  const missing = task.items.filter((item) => !placed.has(item));
  run.best = { sheets: spots, nested, missing, steps: 0 };
  run.laid = laid;
  return true;
}

/** Rows first: then what found no place, one after another, small ones first, for they may go into windows. */
function takeMore(run: Run): void {
  const { task, stock } = run;
  const hopeless = new Set<unknown>();
  const left = bySize(run.best.missing.filter((item) => fitsAlone(stock, item))).reverse();
  for (const [i, item] of left.entries()) {
    const order = item.members[0]?.order;
    if (hopeless.has(order)) continue;
    const already = run.laid ?? laidAs(run.stock, run.best.sheets);
    const share = ALL_SHARE + ((1 - ALL_SHARE) * (i + 1)) / left.length;
    const laid = [...already, thrown(run, item, Math.floor(run.random() * task.copies))];
    const sorted = bySize(laid.map((l) => l.item));
    const byItem = new Map(laid.map((l) => [l.item, l]));
    const ordered = sorted.map((one) => byItem.get(one) as Laid);
    if (!settle(run, ordered, task.copies, share)) hopeless.add(order);
  }
}

/** The last sheet made shorter, so that plates move on to the sheets before it, until it is empty; then the next. */
function shortenLast(run: Run): void {
  while (spentBefore(run) < 1) {
    const last = run.best.sheets.length - 1;
    const all =
      run.laid ?? looseRows(run.task, run.stock, run.best) ?? laidAs(run.stock, run.best.sheets);
    const sorted = bySize(all.map((l) => l.item)).map(
      (item) => all.find((l) => l.item === item) as Laid,
    );
    const board = boardWith(run.stock, sorted, { first: 0, last }, run.random);
    const left = shortenOn(run, board, last);
    const laid = laidOn(board, sorted);
    run.before += board.steps;
    if (left === undefined) return;
    const before = { best: run.best, laid: run.laid };
    if (left > 0 || last === 0) {
      const kept = keep(run, laid, last + 1);
      if (kept && clearOf(run.best, run) <= clearOf(before.best, run)) {
        Object.assign(run, before);
      }
      return;
    }
    if (!keep(run, laid, last)) return;
  }
}

function spentBefore({ task, before, stock, steps }: Run): number {
  return task.options.over?.() === true ? 2 : (before + stock.contacts.work) / steps;
}

/** The length of the last sheet that is left in use; none where the board was not free of overlap. */
function shortenOn(run: Run, board: Board, last: number): number | undefined {
  const from = spent(run, board);
  // Rows keep plates apart exactly, the board by polygons a little larger.
  const settled = separate(board, {
    looks: EXPLORING,
    sweeps: PATIENCE,
    over: () => spent(run, board) >= from + (1 - from) / 3,
  });
  if (!settled.free) return undefined;
  const start = spent(run, board);
  const axis = axisOf(run.stock);
  return shorten({
    board,
    axis,
    room: roomAt(run.stock, last),
    // Of several sheets the last may become empty, and that is worth all the budget.
    ...(last > 0
      ? {}
      : {
          least: leastLength(run.stock, axis),
          patience: patienceFor(run.task.options, board.movable),
        }),
    spent: () => (spent(run, board) - start) / Math.max(1e-9, 1 - start),
    progress: () => tell(run, spent(run, board)),
  });
}

/** The length of the longest plate, lying as short as it can. */
function leastLength({ contacts, kindOf }: Stock, axis: "x" | "y"): number {
  const shortest = (kind: number): number =>
    Math.min(
      ...(contacts.forms.ofKind[kind] ?? []).map((f) => {
        const { box } = contacts.forms.list[f] as Form;
        return axis === "x" ? box.x1 - box.x0 : box.y1 - box.y0;
      }),
    );
  return Math.max(0, ...[...new Set(kindOf.values())].map(shortest));
}

/** The axis along which the least has to be left in use: plates long along one cannot give way there. */
function axisOf({ inside, contacts, kindOf }: Stock): "x" | "y" {
  const wide = inside.x1 - inside.x0;
  const high = inside.y1 - inside.y0;
  let x = 0;
  let y = 0;
  for (const kind of new Set(kindOf.values())) {
    const boxes = (contacts.forms.ofKind[kind] ?? []).map(
      (f) => (contacts.forms.list[f] as Form).box,
    );
    x = Math.max(x, Math.min(...boxes.map((b) => b.x1 - b.x0)) / wide);
    y = Math.max(y, Math.min(...boxes.map((b) => b.y1 - b.y0)) / high);
  }
  if (Math.abs(x - y) < SAME) return wide >= high ? "x" : "y";
  return x < y ? "x" : "y";
}

/** Shares of a side that are as good as one another. */
const SAME = 0.1;

/** Area of the largest upright rectangle of the last sheet that no plate's box and no keep-out's is in. */
function clearOf({ sheets }: SheetsFound, { task }: Run): number {
  const { clear, sheet } = task.room;
  const last = sheets.at(-1) ?? [];
  const fixed = sheets.length === 1 ? task.fixed : [];
  const taken = [...last, ...fixed].map((s) => s.shape.box);
  return clearArea(clear, [...taken, ...sheet.keepOuts.map(keepOutBox)]);
}
