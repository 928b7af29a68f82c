/**
 * One piece looks for the place where its weighted overlap with all others is least.
 *
 * Places drawn at random over the rooms, and some near where it lies, are weighed; the best few are then led
 * down. Weighted overlap is all but piecewise linear in the place, and its low points lie where two boundary
 * lines meet: so the way down jumps out of one overlap, or to the meeting of two such lines, and not by steps.
 *
 * Weighing ends as soon as a place is known to be no better than those held.
 */
import { depthAt } from "../contact/contacts.ts";
import type { Extent } from "../contact/forms.ts";
import { type Board, clampInto, measure, setPlace } from "./board.ts";

export interface Looks {
  /** Random places for each form, over all rooms. */
  readonly wide: number;
  /** Forms tried; where a piece has more, that many of them at random. */
  readonly forms: number;
  /** Random places near the present one. */
  readonly near: number;
  /** Places led down. */
  readonly led: number;
}

/** Lines that the last weighed place overlaps across: nearest way out as a line n·p = c, and depth. */
interface Lines {
  count: number;
  readonly nx: Float64Array;
  readonly ny: Float64Array;
  readonly c: Float64Array;
  readonly depth: Float64Array;
}

const MOST_LINES = 16;

function linesOf(): Lines {
  return {
    count: 0,
    nx: new Float64Array(MOST_LINES),
    ny: new Float64Array(MOST_LINES),
    c: new Float64Array(MOST_LINES),
    depth: new Float64Array(MOST_LINES),
  };
}

/** What one search of a piece works on; made once for a board. */
export interface Seeker {
  readonly board: Board;
  readonly here: Lines;
  readonly there: Lines;
  readonly ran: Lines;
  readonly held: Held[];
  /** The piece that looks for a place. */
  piece: number;
}

interface Held {
  cost: number;
  form: number;
  x: number;
  y: number;
}

export function seekerOf(board: Board, looks: Looks): Seeker {
  return {
    board,
    here: linesOf(),
    there: linesOf(),
    ran: linesOf(),
    piece: 0,
    held: Array.from({ length: looks.led }, () => ({ cost: 0, form: 0, x: 0, y: 0 })),
  };
}

/** Weighted overlap of piece i in `form` at (x, y); at least `bound` where it is not below it. */
function weigh(
  s: Seeker,
  { form, x, y }: { form: number; x: number; y: number },
  bound: number,
  lines: Lines,
): number {
  const b = s.board;
  const i = s.piece;
  const { box, weight, contacts } = b;
  const count = b.count;
  const forms = contacts.forms.list.length;
  const x0 = x + (b.reach[4 * form] as number);
  const y0 = y + (b.reach[4 * form + 1] as number);
  const x1 = x + (b.reach[4 * form + 2] as number);
  const y1 = y + (b.reach[4 * form + 3] as number);
  const row = i * count;
  let sum = 0;
  lines.count = 0;
  b.steps++;
  for (let j = 0, k = 0; j < count; j++, k += 4) {
    if (
      x0 >= (box[k + 2] as number) ||
      x1 <= (box[k] as number) ||
      y0 >= (box[k + 3] as number) ||
      y1 <= (box[k + 1] as number) ||
      j === i
    ) {
      continue;
    }
    const pair = (b.form[j] as number) * forms + form;
    const d = depthAt(contacts, pair, x - (b.x[j] as number), y - (b.y[j] as number));
    if (d <= 0) continue;
    sum += d * (weight[row + j] as number);
    if (lines.count < MOST_LINES) addLine(lines, contacts.way, d, x, y);
    if (sum >= bound) return sum;
  }
  return sum;
}

function addLine(lines: Lines, way: Float64Array, d: number, x: number, y: number): void {
  const nx = (way[0] as number) / d;
  const ny = (way[1] as number) / d;
  const at = lines.count++;
  lines.nx[at] = nx;
  lines.ny[at] = ny;
  lines.c[at] = nx * x + ny * y + d;
  lines.depth[at] = d;
}

/** Moves piece i to the best place found, if that is better than where it lies. */
export function relocate(s: Seeker, i: number, looks: Looks): boolean {
  const b = s.board;
  s.piece = i;
  const form = b.form[i] as number;
  const present = { cost: 0, form, x: b.x[i] as number, y: b.y[i] as number };
  present.cost = weigh(s, present, Number.POSITIVE_INFINITY, s.there);
  if (present.cost === 0) return false;
  const before = present.cost;
  for (const h of s.held) h.cost = Number.POSITIVE_INFINITY;
  lookNear(s, present, looks.near);
  const forms = b.contacts.forms.ofKind[b.kind[i] as number] ?? [];
  const tried = Math.min(looks.forms, forms.length);
  const all = tried === forms.length;
  for (let n = 0; n < tried; n++) {
    const f = forms[all ? n : Math.floor(forms.length * b.random())] as number;
    lookWide(s, f, looks.wide);
  }
  lead(s, present);
  let best: Held = present;
  for (const h of s.held) {
    if (h.cost === Number.POSITIVE_INFINITY || best.cost === 0) continue;
    lead(s, h);
    if (h.cost < best.cost) best = h;
  }
  if (best.cost >= before) return false;
  setPlace(b, i, best.form, best.x, best.y);
  measure(b, i);
  return true;
}

/** Puts a weighed place among the best held, worst first out. */
function hold(s: Seeker, cost: number, form: number, x: number, y: number): void {
  let worst = s.held[0] as Held;
  for (const h of s.held) if (h.cost > worst.cost) worst = h;
  if (cost >= worst.cost) return;
  worst.cost = cost;
  worst.form = form;
  worst.x = x;
  worst.y = y;
}

function boundOf(s: Seeker): number {
  let worst = 0;
  for (const h of s.held) if (h.cost > worst) worst = h.cost;
  return worst;
}

const look = { form: 0, x: 0, y: 0 };

function lookWide(s: Seeker, form: number, times: number): void {
  const { rooms } = s.board;
  const each = Math.ceil(times / rooms.length);
  for (const room of rooms) lookInRoom(s, form, room, each);
}

function lookInRoom(s: Seeker, form: number, room: Extent, times: number): void {
  const b = s.board;
  const left = room.x0 - (b.extent[4 * form] as number);
  const low = room.y0 - (b.extent[4 * form + 1] as number);
  const wide = room.x1 - (b.extent[4 * form + 2] as number) - left;
  const high = room.y1 - (b.extent[4 * form + 3] as number) - low;
  if (wide < -b.contacts.tolerance || high < -b.contacts.tolerance) return;
  look.form = form;
  for (let n = 0; n < times; n++) {
    look.x = left + Math.max(0, wide) * b.random();
    look.y = low + Math.max(0, high) * b.random();
    const bound = boundOf(s);
    const cost = weigh(s, look, bound, s.there);
    if (cost < bound) hold(s, cost, form, look.x, look.y);
  }
}

function lookNear(s: Seeker, present: Held, times: number): void {
  const b = s.board;
  const f = present.form;
  const reach =
    0.5 *
    Math.min(
      (b.extent[4 * f + 2] as number) - (b.extent[4 * f] as number),
      (b.extent[4 * f + 3] as number) - (b.extent[4 * f + 1] as number),
    );
  look.form = f;
  for (let n = 0; n < times; n++) {
    look.x = present.x + reach * (b.random() + b.random() - 1);
    look.y = present.y + reach * (b.random() + b.random() - 1);
    clampInto(b, f, look);
    const bound = boundOf(s);
    const cost = weigh(s, look, bound, s.there);
    if (cost < bound) hold(s, cost, f, look.x, look.y);
  }
}

const MOST_JUMPS = 10;

/** Jumps down from a held place until no jump helps. */
function lead(s: Seeker, from: Held): void {
  from.cost = weigh(s, from, Number.POSITIVE_INFINITY, s.here);
  for (let n = 0; n < MOST_JUMPS && from.cost > 0; n++) {
    if (!jump(s, from)) return;
    if (from.cost > 0) from.cost = weigh(s, from, Number.POSITIVE_INFINITY, s.here);
  }
}

const target = { form: 0, x: 0, y: 0 };

/** Lines a jump ran into that are tried for a meeting. */
const MOST_RAN = 3;

/** Tries the ways out of each overlap and the meetings of their lines; takes the best. */
function jump(s: Seeker, from: Held): boolean {
  const { here, there, ran } = s;
  const { x, y, cost } = from;
  const started = cost;
  for (let a = 0; a < here.count; a++) {
    const nx = here.nx[a] as number;
    const ny = here.ny[a] as number;
    const d = here.depth[a] as number;
    tryAt(s, from, x + nx * d, y + ny * d);
    slideAlongWall(s, from, a, x + nx * d, y + ny * d);
    if (from.cost === 0) return true;
    ran.count = Math.min(MOST_RAN, there.count);
    for (let k = 0; k < ran.count; k++) copyLine(there, ran, k);
    for (let k = 0; k < ran.count; k++) tryMeeting(s, from, a, ran, k);
    for (let k = a + 1; k < here.count; k++) tryMeeting(s, from, a, here, k);
    if (from.cost === 0) return true;
  }
  return from.cost < started;
}

function copyLine(from: Lines, to: Lines, k: number): void {
  to.nx[k] = from.nx[k] as number;
  to.ny[k] = from.ny[k] as number;
  to.c[k] = from.c[k] as number;
}

/** A jump that a wall cut short: along the wall to the line instead. */
function slideAlongWall(s: Seeker, from: Held, a: number, x: number, y: number): void {
  const nx = s.here.nx[a] as number;
  const ny = s.here.ny[a] as number;
  const c = s.here.c[a] as number;
  if (target.x !== x && Math.abs(ny) > 0.01) tryAt(s, from, target.x, (c - nx * target.x) / ny);
  else if (target.y !== y && Math.abs(nx) > 0.01)
    tryAt(s, from, (c - ny * target.y) / nx, target.y);
}

function tryMeeting(s: Seeker, from: Held, a: number, others: Lines, k: number): void {
  const { here } = s;
  const ax = here.nx[a] as number;
  const ay = here.ny[a] as number;
  const ac = here.c[a] as number;
  const bx = others.nx[k] as number;
  const by = others.ny[k] as number;
  const bc = others.c[k] as number;
  const det = ax * by - ay * bx;
  if (Math.abs(det) < 0.02) return;
  tryAt(s, from, (ac * by - bc * ay) / det, (ax * bc - bx * ac) / det);
}

function tryAt(s: Seeker, from: Held, x: number, y: number): void {
  if (from.cost === 0) return;
  target.form = from.form;
  target.x = x;
  target.y = y;
  if (!clampInto(s.board, from.form, target)) return;
  const cost = weigh(s, target, from.cost, s.there);
  if (cost >= from.cost) return;
  from.cost = cost;
  from.x = target.x;
  from.y = target.y;
}
