/**
 * Strip packing: all pieces into a strip of given width (y) and least length (x).
 *
 * Promise: the answer is free of overlap beyond 1e-9 of the pieces' size; the same seed and steps give the same
 * answer.
 */
import { type Random, seeded } from "../../../geometry/seeded.ts";
import { type Contacts, contactsOf } from "../contact/contacts.ts";
import { ringArea } from "../contact/convex.ts";
import { type Extent, type Form, formsOf, type Kind } from "../contact/forms.ts";
import { type Board, boardOf, setPlace, stepsOf } from "../separate/board.ts";
import { separate } from "../separate/separate.ts";
import { EXPLORING, shorten } from "./shorten.ts";

export interface StripTask {
  readonly width: number;
  readonly kinds: readonly Kind[];
  /** Kind of each piece. */
  readonly pieces: readonly number[];
  readonly seed: number;
  /** Share of the budget spent, 0 … 1 and beyond, from the steps taken so far. */
  readonly spent: (steps: number) => number;
  readonly progress?: ((length: number, steps: number) => void) | undefined;
}

export interface StripPlace {
  readonly kind: number;
  readonly deg: number;
  readonly flipped: boolean;
  readonly x: number;
  readonly y: number;
}

export interface StripLayout {
  readonly length: number;
  readonly places: readonly StripPlace[];
  readonly steps: number;
}

/** None where a piece is wider than the strip in every turn that it may take. */
export function packStrip(task: StripTask): StripLayout | undefined {
  const contacts = contactsOf(formsOf(task.kinds));
  if (!task.pieces.every((k) => fitsAcross(contacts, k, task.width))) return undefined;
  const random = seeded(task.seed);
  const { board, room } = loose(task, contacts, random);
  const length = shorten({
    board,
    axis: "x",
    room,
    spent: () => task.spent(stepsOf(board)),
    progress: (l) => task.progress?.(l, stepsOf(board)),
  });
  const { list } = contacts.forms;
  const places = Array.from(board.form, (f, i): StripPlace => {
    const { kind, turn } = list[f] as Form;
    return { kind, ...turn, x: board.x[i] as number, y: board.y[i] as number };
  });
  return { length, places, steps: stepsOf(board) };
}

function fitsAcross({ forms, tolerance }: Contacts, kind: number, width: number): boolean {
  return (forms.ofKind[kind] ?? []).some((f) => {
    const { box } = forms.list[f] as Form;
    return box.y1 - box.y0 <= width + tolerance;
  });
}

/** Share of the strip that pieces thrown in at random are first given, and what is added where that fails. */
const FIRST_UTILISATION = 0.55;
const ADDED = 1.1;

/** All pieces free of overlap in a strip that is long enough. */
function loose(
  task: StripTask,
  contacts: Contacts,
  random: Random,
): { board: Board; room: Extent } {
  const { list, ofKind } = contacts.forms;
  const sizeOf = (kind: number): number => {
    const { box } = list[ofKind[kind]?.[0] ?? 0] as Form;
    return (box.x1 - box.x0) * (box.y1 - box.y0);
  };
  const sorted = [...task.pieces].sort((a, b) => sizeOf(b) - sizeOf(a) || a - b);
  const area = task.pieces.reduce((sum, k) => sum + areaOf(task.kinds[k] as Kind), 0);
  const longest = Math.max(...list.map((f) => f.box.x1 - f.box.x0));
  let length = Math.max(longest, area / task.width / FIRST_UTILISATION);
  const roomOf = (): Extent => ({ x0: 0, y0: 0, x1: length, y1: task.width });
  const pieces = sorted.map((k) => {
    const forms = ofKind[k] ?? [];
    const form = forms[Math.floor(random() * forms.length)] as number;
    return { form, x: length * random(), y: task.width * random() };
  });
  const board = boardOf(contacts, pieces, pieces.length, random, [roomOf()]);
  while (!separate(board, { looks: EXPLORING, sweeps: 40, over: () => false }).free) {
    length *= ADDED;
    board.rooms = [roomOf()];
    for (let i = 0; i < board.count; i++) {
      setPlace(board, i, board.form[i] as number, length * random(), task.width * random());
    }
  }
  return { board, room: roomOf() };
}

export function areaOf(kind: Kind): number {
  return Math.abs(ringArea(kind.outline.outer));
}
