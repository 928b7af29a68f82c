/**
 * The board: pieces, where they lie now, how deep each pair overlaps, and the weights that guide the search.
 *
 * Pieces 0 … movable − 1 may move, the rest are obstacles. Rooms are upright boxes; a piece lies wholly in one
 * of them. Everything is in flat arrays: this is the inner state of a search that asks it millions of times.
 */
import type { Random } from "../../../geometry/seeded.ts";
import type { Contacts } from "../contact/contacts.ts";
import { depthAt } from "../contact/contacts.ts";
import type { Extent, Form } from "../contact/forms.ts";

export interface Board {
  readonly contacts: Contacts;
  readonly random: Random;
  readonly count: number;
  readonly movable: number;
  readonly kind: Int32Array;
  readonly form: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Boxes of the pieces where they lie: x0, y0, x1, y1. */
  readonly box: Float64Array;
  /** count × count, symmetric: depths; what a depth counts for by the sizes of the two; and what it is weighted with. */
  readonly depth: Float64Array;
  readonly base: Float64Array;
  readonly weight: Float64Array;
  /** Reach of the forms: x0, y0, x1, y1. */
  readonly reach: Float64Array;
  /** Boxes of the forms, for the walls. */
  readonly extent: Float64Array;
  rooms: readonly Extent[];
  /** Places looked at so far: the budget's unit. */
  steps: number;
}

export interface Piece {
  readonly form: number;
  readonly x: number;
  readonly y: number;
}

export function boardOf(
  contacts: Contacts,
  pieces: readonly Piece[],
  movable: number,
  random: Random,
  rooms: readonly Extent[],
): Board {
  const count = pieces.length;
  const { list } = contacts.forms;
  const board: Board = {
    contacts,
    random,
    count,
    movable,
    kind: Int32Array.from(pieces, (p) => (list[p.form] as Form).kind),
    form: new Int32Array(count),
    x: new Float64Array(count),
    y: new Float64Array(count),
    box: new Float64Array(4 * count),
    depth: new Float64Array(count * count),
    base: basesOf(
      pieces.map((p) => list[p.form] as Form),
      movable,
    ),
    weight: new Float64Array(count * count),
    reach: Float64Array.from(list.flatMap(({ reach: r }) => [r.x0, r.y0, r.x1, r.y1])),
    extent: Float64Array.from(list.flatMap(({ box: b }) => [b.x0, b.y0, b.x1, b.y1])),
    rooms,
    steps: 0,
  };
  board.weight.set(board.base);
  for (const [i, p] of pieces.entries()) setPlace(board, i, p.form, p.x, p.y);
  measureAll(board);
  return board;
}

/**
 * A depth between two large pieces is harder to undo than the same between small ones. Size to the power 3/8
 * for each of the two: tuned by trial, and of square roots alone, which every engine rounds alike.
 */
function basesOf(forms: readonly Form[], movable: number): Float64Array {
  const sizes = forms.map(({ box }) => (box.x1 - box.x0) * (box.y1 - box.y0));
  const largest = Math.max(...sizes.slice(0, movable));
  const scaled = sizes.map((s) => {
    const quarter = Math.sqrt(Math.sqrt(Math.min(1, s / largest)));
    return quarter * Math.sqrt(quarter);
  });
  return Float64Array.from(scaled.flatMap((a) => scaled.map((b) => a * b)));
}

/** The budget spent so far. */
export function stepsOf(b: Board): number {
  return b.steps + b.contacts.work;
}

export function setPlace(b: Board, i: number, form: number, x: number, y: number): void {
  b.form[i] = form;
  b.x[i] = x;
  b.y[i] = y;
  b.box[4 * i] = x + (b.reach[4 * form] as number);
  b.box[4 * i + 1] = y + (b.reach[4 * form + 1] as number);
  b.box[4 * i + 2] = x + (b.reach[4 * form + 2] as number);
  b.box[4 * i + 3] = y + (b.reach[4 * form + 3] as number);
}

/** Depths between piece i and all others. */
export function measure(b: Board, i: number): void {
  for (let j = 0; j < b.count; j++) {
    if (j === i) continue;
    const d = i >= b.movable && j >= b.movable ? 0 : depthBetween(b, i, j);
    b.depth[i * b.count + j] = d;
    b.depth[j * b.count + i] = d;
  }
}

export function measureAll(b: Board): void {
  for (let i = 0; i < b.movable; i++) measure(b, i);
}

function depthBetween(b: Board, i: number, j: number): number {
  if (
    (b.box[4 * i] as number) >= (b.box[4 * j + 2] as number) ||
    (b.box[4 * j] as number) >= (b.box[4 * i + 2] as number) ||
    (b.box[4 * i + 1] as number) >= (b.box[4 * j + 3] as number) ||
    (b.box[4 * j + 1] as number) >= (b.box[4 * i + 3] as number)
  ) {
    return 0;
  }
  const forms = b.contacts.forms.list.length;
  return depthAt(
    b.contacts,
    (b.form[j] as number) * forms + (b.form[i] as number),
    (b.x[i] as number) - (b.x[j] as number),
    (b.y[i] as number) - (b.y[j] as number),
  );
}

/** Sum of the depths of piece i. */
export function overlapOf(b: Board, i: number): number {
  let sum = 0;
  for (let j = 0, k = i * b.count; j < b.count; j++, k++) sum += b.depth[k] as number;
  return sum;
}

/** Sum of all depths by size, each pair once. */
export function totalOverlap(b: Board): number {
  let sum = 0;
  for (let i = 0; i < b.movable; i++) {
    for (let j = i + 1, k = i * b.count + i + 1; j < b.count; j++, k++) {
      sum += (b.depth[k] as number) * (b.base[k] as number);
    }
  }
  return sum;
}

/** Places of all pieces, to come back to. */
export interface Snapshot {
  readonly form: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

export function snapshotOf(b: Board): Snapshot {
  return { form: b.form.slice(), x: b.x.slice(), y: b.y.slice() };
}

export function restore(b: Board, s: Snapshot): void {
  for (let i = 0; i < b.movable; i++) {
    setPlace(b, i, s.form[i] as number, s.x[i] as number, s.y[i] as number);
  }
  measureAll(b);
}

/** Into the nearest room, without regard to others, in another form if need be; false where it fits none. */
export function pushInside(b: Board, i: number): boolean {
  const spot = { x: b.x[i] as number, y: b.y[i] as number };
  const form = b.form[i] as number;
  const fitting = clampInto(b, form, spot)
    ? form
    : (b.contacts.forms.ofKind[b.kind[i] as number] ?? []).find((f) => clampInto(b, f, spot));
  if (fitting === undefined) return false;
  setPlace(b, i, fitting, spot.x, spot.y);
  return true;
}

/** Moves a spot to the nearest one where the form is inside a room. */
export function clampInto(b: Board, form: number, spot: { x: number; y: number }): boolean {
  const x0 = b.extent[4 * form] as number;
  const y0 = b.extent[4 * form + 1] as number;
  const x1 = b.extent[4 * form + 2] as number;
  const y1 = b.extent[4 * form + 3] as number;
  let best = Number.POSITIVE_INFINITY;
  const { x, y } = spot;
  for (const room of b.rooms) {
    const left = room.x0 - x0;
    const right = room.x1 - x1;
    const low = room.y0 - y0;
    const high = room.y1 - y1;
    if (right < left - b.contacts.tolerance || high < low - b.contacts.tolerance) continue;
    const cx = x < left ? left : x > right ? Math.max(left, right) : x;
    const cy = y < low ? low : y > high ? Math.max(low, high) : y;
    const d = (cx - x) * (cx - x) + (cy - y) * (cy - y);
    if (d < best) {
      best = d;
      spot.x = cx;
      spot.y = cy;
    }
  }
  return best < Number.POSITIVE_INFINITY;
}
