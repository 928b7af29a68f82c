/**
 * Moves as lines: the machine's modal memory, so that a word is written when it changes and not again.
 *
 * Every rapid is followed by the feed and the motion code afresh, so that each cut can be taken up by
 * itself. No F on a rapid, no X or Y in its rise or fall: rapids come only from `rise`, `over` and
 * `down`.
 */
import { boxOf, distance } from "../../geometry/segment.ts";
import type { Arc, Box, Point } from "../../geometry/shape.ts";
import { ARC_RADIUS } from "../../geometry/tolerance.ts";
import { TAU } from "../../geometry/trig.ts";
import type { Machine } from "../../machine/machine.ts";
import type { CutMove } from "../../toolpath/cut.ts";
import { arcWords } from "./arc-words.ts";
import { chordsOf, inChords } from "./chords.ts";
import { merged, type Place } from "./merge.ts";
import { paced, type Slowed } from "./pace.ts";
import { number, rounded } from "./words.ts";

export interface Lines {
  readonly text: string[];
  readonly machine: Machine;
  /** Sheet frame to program: what is taken off X, Y and Z. */
  readonly zero: { readonly x: number; readonly y: number; readonly z: number };
  x: number | undefined;
  y: number | undefined;
  z: number | undefined;
  code: string;
  feed: number;
  /** Motion blocks so far. */
  blocks: number;
  /** Lowest program Z so far. */
  lowest: number;
  /** Of all X and Y so far: the way of the cutter's centre. */
  box: Box | undefined;
  /** Blocks whose feed was lowered to what the controller keeps up with. */
  readonly slowed: Slowed;
}

export function linesFor(machine: Machine, zero: Lines["zero"]): Lines {
  return {
    text: [],
    machine,
    zero,
    x: undefined,
    y: undefined,
    z: undefined,
    code: "",
    feed: 0,
    blocks: 0,
    lowest: Number.POSITIVE_INFINITY,
    box: undefined,
    slowed: { blocks: 0, most: 0 },
  };
}

/** Forget what the controller holds: the next move states motion and feed again. */
export function afresh(l: Lines): void {
  l.code = "";
  l.feed = 0;
}

/** Straight up or down at rapid. */
export function rapidZ(l: Lines, z: number): void {
  const to = rounded(z - l.zero.z, l.machine.decimals);
  if (to === l.z) return;
  emit(l, "G0", `Z${number(to, l.machine.decimals)}`);
  l.z = to;
  l.lowest = Math.min(l.lowest, to);
  l.feed = 0;
}

/** Across at rapid, at the height where the cutter is. */
export function rapidXY(l: Lines, p: Point): void {
  const { decimals } = l.machine;
  const to = programPoint(l, p);
  const words: string[] = [];
  if (to.x !== l.x) words.push(`X${number(to.x, decimals)}`);
  if (to.y !== l.y) words.push(`Y${number(to.y, decimals)}`);
  if (words.length > 0) emit(l, "G0", words.join(" "));
  moveTo(l, to);
  l.feed = 0;
}

/** A cut's moves from where the cutter stands, as few of them as there need be. */
export function feedMoves(l: Lines, start: Place, moves: readonly CutMove[]): void {
  const fewest = merged(start, moves);
  const { arcs, blocksPerSecond } = l.machine;
  const taken = arcs ? fewest : inChords(start, fewest);
  for (const m of paced(start, taken, blocksPerSecond, l.slowed)) feedMove(l, m);
}

export function feedMove(l: Lines, m: CutMove): void {
  if (m.arc === undefined) {
    feedLine(l, m);
    return;
  }
  if (l.machine.arcs) feedArc(l, m);
  else feedChords(l, m);
}

function programPoint(l: Lines, p: Point): Point {
  const { decimals } = l.machine;
  return { x: rounded(p.x - l.zero.x, decimals), y: rounded(p.y - l.zero.y, decimals) };
}

function feedLine(l: Lines, { to: p, z, feed }: CutMove): void {
  const { decimals } = l.machine;
  const to = programPoint(l, p);
  const toZ = rounded(z - l.zero.z, decimals);
  const words: string[] = [];
  if (to.x !== l.x) words.push(`X${number(to.x, decimals)}`);
  if (to.y !== l.y) words.push(`Y${number(to.y, decimals)}`);
  if (toZ !== l.z) words.push(`Z${number(toZ, decimals)}`);
  if (words.length === 0) return;
  cut(l, "G1", words.join(" "), feed);
  arrive(l, to, toZ);
}

function moveTo(l: Lines, { x, y }: Point): void {
  l.x = x;
  l.y = y;
  widen(l, x, y, x, y);
}

function widen(l: Lines, x0: number, y0: number, x1: number, y1: number): void {
  if (l.box === undefined) {
    l.box = { min: { x: x0, y: y0 }, max: { x: x1, y: y1 } };
  } else if (!holds(l.box, x0, y0, x1, y1)) {
    const { min, max } = l.box;
    l.box = {
      min: { x: Math.min(min.x, x0), y: Math.min(min.y, y0) },
      max: { x: Math.max(max.x, x1), y: Math.max(max.y, y1) },
    };
  }
}

function holds({ min, max }: Box, x0: number, y0: number, x1: number, y1: number): boolean {
  return min.x <= x0 && min.y <= y0 && max.x >= x1 && max.y >= y1;
}

/** An arc bows out beyond its ends, but hardly ever beyond all that was there before. */
function widenByArc(l: Lines, arc: Arc): void {
  const { x, y } = arc.centre;
  const r = arc.radius;
  if (l.box !== undefined && holds(l.box, x - r, y - r, x + r, y + r)) return;
  const { min, max } = boxOf(arc);
  widen(l, min.x, min.y, max.x, max.y);
}

function arrive(l: Lines, to: Point, z: number): void {
  moveTo(l, to);
  l.z = z;
  l.lowest = Math.min(l.lowest, z);
}

function feedArc(l: Lines, m: CutMove): void {
  const arc = m.arc as NonNullable<CutMove["arc"]>;
  const { decimals } = l.machine;
  const to = programPoint(l, m.to);
  const z = rounded(m.z - l.zero.z, decimals);
  const start = { x: l.x ?? 0, y: l.y ?? 0 };
  const closed = to.x === start.x && to.y === start.y;
  // An arc whose ends round to one point turns a full circle: it nearly does, or is shorter than the last decimal.
  const full = Math.abs(arc.sweep) > TAU - 1e-9 || (closed && Math.abs(arc.sweep) > Math.PI);
  if (!full && closed) {
    feedLine(l, m);
    return;
  }
  const centre = { x: arc.centre.x - l.zero.x, y: arc.centre.y - l.zero.y };
  const radius = distance(arc.centre, m.to);
  const words = arcWords(start, full ? start : to, centre, radius, decimals);
  const xy = `X${number(to.x, decimals)} Y${number(to.y, decimals)}`;
  const depth = z === l.z ? "" : ` Z${number(z, decimals)}`;
  const ij = `I${number(words.i, decimals)} J${number(words.j, decimals)}`;
  const code = arc.sweep > 0 ? "G3" : "G2";
  const text = `${xy}${depth} ${ij}`;
  const broken = words.mismatch > ARC_RADIUS || (words.i === 0 && words.j === 0);
  if (broken || !fits(l, code + text)) {
    feedChords(l, m);
    return;
  }
  cut(l, code, text, m.feed);
  widenByArc(l, { kind: "arc", from: start, to, centre, radius, sweep: arc.sweep });
  arrive(l, to, z);
}

function feedChords(l: Lines, m: CutMove): void {
  const { x = m.to.x, y = m.to.y, z = m.z, zero } = l;
  const from = { to: { x: x + zero.x, y: y + zero.y }, z: z + zero.z };
  const all = paced(from, chordsOf(from, m), l.machine.blocksPerSecond, l.slowed);
  for (const c of all) feedLine(l, c);
}

function cut(l: Lines, code: string, words: string, feed: number): void {
  const f = Math.max(1, Math.round(feed));
  if (f === l.feed) emit(l, code, words);
  else if (fits(l, `${code}${words}F${f}`)) {
    emit(l, code, `${words} F${f}`);
  } else {
    l.text.push(`F${f}`);
    emit(l, code, words);
  }
  l.feed = f;
}

/** Blanks mean nothing between words: where a line is too long for the controller, it does without. */
const close = (words: string): string => words.replaceAll(" ", "");

/** With blanks or without. */
function fits(l: Lines, words: string): boolean {
  const { lineLength } = l.machine;
  return words.length <= lineLength || close(words).length <= lineLength;
}

function emit(l: Lines, code: string, words: string): void {
  const say = l.machine.repeatMotion || code !== l.code;
  const line = say ? `${code} ${words}` : words;
  l.text.push(line.length > l.machine.lineLength ? close(line) : line);
  l.code = code;
  l.blocks++;
}
