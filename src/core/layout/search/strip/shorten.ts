/**
 * Shortening: a board's last room is made shorter and shorter along one axis while its pieces can be kept apart.
 *
 * Exploration: a step shorter, and the pieces are separated again; where that fails, the search goes on from
 * one of the better failures, disturbed by swapping two large pieces. Compression: from the best state, ever
 * smaller steps, each taken out at a random place.
 *
 * Promise: the board ends in the best state found, free of overlap if it was so at the start.
 * Source: shortening and separating by turns, and swaps to disturb: Imamichi, Yagiura and Nagamochi, Discrete
 * Optimization 6(4), 2009; restarts from good failures and a closing local phase: Elkeran, EJOR 231(3), 2013.
 */
import type { Extent } from "../contact/forms.ts";
import {
  type Board,
  measureAll,
  restore,
  type Snapshot,
  setPlace,
  snapshotOf,
} from "../separate/board.ts";
import type { Looks } from "../separate/relocate.ts";
import { separate } from "../separate/separate.ts";

export interface Shortening {
  readonly board: Board;
  readonly axis: "x" | "y";
  /** The last room, as long as it ever was; it starts at its lower end along the axis. */
  readonly room: Extent;
  /** Share of the budget spent, 0 … 1 and beyond. */
  readonly spent: () => number;
  /** No layout is shorter; 0 or absent where nothing is known. */
  readonly least?: number | undefined;
  /** Steps without gain after which exploration ends, and half as many for compression; absent: all of the budget. */
  readonly patience?: number | undefined;
  readonly progress?: ((length: number) => void) | undefined;
}

interface Run extends Shortening {
  readonly least: number;
  best: Snapshot;
  length: number;
  /** Steps at the last gain. */
  gained: number;
}

export const EXPLORING: Looks = { wide: 12, near: 8, led: 4, forms: 4 };
/** Where the search ends soon: many small tries of other lengths find more than few thorough ones. */
const QUICK: Looks = { wide: 3, near: 2, led: 1, forms: 4 };
const COMPRESSING: Looks = { wide: 4, near: 8, led: 3, forms: 4 };

const EXPLORE_SHARE = 0.75;

/** Shortens from the present state, which must be free of overlap; the length reached, 0 where the room is empty. */
export function shorten(task: Shortening): number {
  const { board } = task;
  const run: Run = {
    ...task,
    least: task.least ?? 0,
    best: snapshotOf(board),
    length: usedLength(task),
    gained: board.steps,
  };
  const before = board.rooms;
  explore(run);
  compress(run);
  board.rooms = before;
  restore(board, run.best);
  return run.length;
}

function setLength({ board, axis, room }: Shortening, length: number): void {
  const last = axis === "x" ? { ...room, x1: room.x0 + length } : { ...room, y1: room.y0 + length };
  board.rooms = [...board.rooms.slice(0, -1), last];
}

/** From the room's start to the far end of what lies in it. */
function usedLength({ board: b, axis, room }: Shortening): number {
  const far = axis === "x" ? 2 : 3;
  const place = axis === "x" ? b.x : b.y;
  const start = axis === "x" ? room.x0 : room.y0;
  let used = 0;
  for (let i = 0; i < b.movable; i++) {
    // Rooms lie side by side along x, the last at the right.
    if ((middleOf(b, i)[0] as number) < room.x0) continue;
    const extent = b.extent[4 * (b.form[i] as number) + far] as number;
    used = Math.max(used, (place[i] as number) + extent - start);
  }
  return used;
}

function keep(run: Run): void {
  const length = usedLength(run);
  if (length >= run.length) return;
  run.length = length;
  run.best = snapshotOf(run.board);
  run.gained = run.board.steps;
  run.progress?.(length);
}

interface Failure {
  readonly state: Snapshot;
  readonly overlap: number;
}

/** Steps as shares of the length: the first, the growth after a success, the least. */
const FIRST_SHRINK = 0.05;
const SHRINK_GROWTH = 1.5;
const LEAST_SHRINK = 0.001;
const MOST_FAILURES = 10;
/** Sweeps without progress that a separation may take. */
const PATIENCE = 150;
const QUICK_PATIENCE = 10;
const SHORT_PATIENCE = 25;

function explore(run: Run): void {
  const { board, patience = Number.POSITIVE_INFINITY } = run;
  const over = (): boolean => run.spent() >= EXPLORE_SHARE || board.steps - run.gained >= patience;
  const quick = run.patience !== undefined;
  const looks = quick ? QUICK : EXPLORING;
  const sweeps = quick ? QUICK_PATIENCE : PATIENCE;
  let shrink = FIRST_SHRINK;
  let failures: Failure[] = [];
  const shorter = (): number => Math.max(run.least, run.length * (1 - shrink));
  let length = shorter();
  while (!over() && isLonger(run)) {
    setLength(run, length);
    const { free, fits, overlap } = separate(board, { looks, sweeps, over });
    if (free) {
      keep(run);
      failures = [];
      shrink = Math.min(FIRST_SHRINK, shrink * SHRINK_GROWTH);
      length = shorter();
    } else if (shrink > LEAST_SHRINK) {
      shrink = Math.max(LEAST_SHRINK, shrink / 2);
      restore(board, run.best);
      length = shorter();
    } else if (!fits) {
      return;
    } else {
      failures.push({ state: snapshotOf(board), overlap });
      failures.sort((a, b) => a.overlap - b.overlap);
      failures.length = Math.min(failures.length, MOST_FAILURES);
      const pick = Math.floor(failures.length * board.random() * board.random());
      restore(board, (failures[pick] as Failure).state);
      disturb(board);
    }
  }
}

/** Shares of a length below which no gain is worth a step. */
const NOTHING = 0.0002;

function isLonger({ length, least }: Run): boolean {
  return length - least > NOTHING * length;
}

/** Of so few pieces any two are swapped. */
const FEW = 8;

/** Swaps the places of two of the larger pieces, of different kind; pieces come largest first. */
export function disturb(b: Board): void {
  const large = Math.min(b.movable, Math.max(FEW, Math.ceil(b.movable * 0.5)));
  const i = Math.floor(b.random() * large);
  let j = i;
  for (let n = 0; n < 20 && b.kind[j] === b.kind[i]; n++) j = Math.floor(b.random() * large);
  if (i === j || j >= b.movable) return;
  const [ix, iy] = middleOf(b, i);
  const [jx, jy] = middleOf(b, j);
  setPlace(b, i, b.form[i] as number, (b.x[i] as number) + jx - ix, (b.y[i] as number) + jy - iy);
  setPlace(b, j, b.form[j] as number, (b.x[j] as number) + ix - jx, (b.y[j] as number) + iy - jy);
  measureAll(b);
}

function middleOf(b: Board, i: number): [number, number] {
  return [
    ((b.box[4 * i] as number) + (b.box[4 * i + 2] as number)) / 2,
    ((b.box[4 * i + 1] as number) + (b.box[4 * i + 3] as number)) / 2,
  ];
}

const COMPRESS_FROM = 0.0008;
const COMPRESS_TO = 0.00001;

function compress(run: Run): void {
  const { board, patience = Number.POSITIVE_INFINITY } = run;
  const from = board.steps;
  const done = (): number =>
    Math.max(
      (run.spent() - EXPLORE_SHARE) / (1 - EXPLORE_SHARE),
      (2 * (board.steps - from)) / patience,
    );
  const over = (): boolean => done() >= 1;
  while (!over() && isLonger(run)) {
    const share = COMPRESS_FROM + (COMPRESS_TO - COMPRESS_FROM) * Math.max(0, done());
    const step = Math.min(run.length * share, run.length - run.least);
    restore(board, run.best);
    takeOut(run, step);
    setLength(run, run.length - step);
    const { free, fits } = separate(board, { looks: COMPRESSING, sweeps: SHORT_PATIENCE, over });
    if (!fits) return;
    if (free) keep(run);
  }
}

/** All beyond a random cut moves in by the step. */
function takeOut({ board: b, axis, room, length }: Run, step: number): void {
  const along = axis === "x" ? 0 : 1;
  const cut = (axis === "x" ? room.x0 : room.y0) + length * b.random();
  for (let i = 0; i < b.movable; i++) {
    const middle = middleOf(b, i);
    if ((middle[along] as number) < cut || middle[0] < room.x0) continue;
    const x = (b.x[i] as number) - (axis === "x" ? step : 0);
    const y = (b.y[i] as number) - (axis === "y" ? step : 0);
    setPlace(b, i, b.form[i] as number, x, y);
  }
}
