/**
 * Moves as lines: the machine's modal memory, so that a word is written when it changes and not again.
 *
 * Every rapid is followed by the feed and the motion code afresh, so that each cut can be taken up by
 * itself. No F on a rapid, no X or Y below clearance at rapid: rapids come only from `rise`, `over` and
 * `down`.
 */
import { chords } from "../../geometry/contour.ts";
import { angleOf, boxOf, distance, onCircle } from "../../geometry/segment.ts";
import type { Box, Point } from "../../geometry/shape.ts";
import { ARC_RADIUS } from "../../geometry/tolerance.ts";
import { hypot, TAU } from "../../geometry/trig.ts";
import type { Machine } from "../../machine/machine.ts";
import type { CutMove } from "../../toolpath/cut.ts";
import { arcWords } from "./arc-words.ts";
import { merged, type Place } from "./merge.ts";
import { lowered, paced, type Slowed } from "./pace.ts";
import { number, rounded } from "./words.ts";

/** Chords of arcs for controllers without G2 and G3 stray by no more than this, mm. */
const CHORD = 0.002;

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
  const kept = arcs ? paced(start, fewest, blocksPerSecond, l.slowed) : fewest;
  for (const m of kept) feedMove(l, m);
}

export function feedMove(l: Lines, m: CutMove): void {
  if (m.arc === undefined) {
    feedLine(l, m.to, m.z, m.feed, !l.machine.arcs);
    return;
  }
  if (l.machine.arcs) feedArc(l, m);
  else chordsOf(l, m);
}

function programPoint(l: Lines, p: Point): Point {
  const { decimals } = l.machine;
  return { x: rounded(p.x - l.zero.x, decimals), y: rounded(p.y - l.zero.y, decimals) };
}

/** `chord`: one of many, and each must last as long as the controller takes for a block. */
function feedLine(l: Lines, p: Point, z: number, feed: number, chord: boolean): void {
  const { decimals } = l.machine;
  const to = programPoint(l, p);
  const toZ = rounded(z - l.zero.z, decimals);
  const words: string[] = [];
  if (to.x !== l.x) words.push(`X${number(to.x, decimals)}`);
  if (to.y !== l.y) words.push(`Y${number(to.y, decimals)}`);
  if (toZ !== l.z) words.push(`Z${number(toZ, decimals)}`);
  if (words.length === 0) return;
  cut(l, "G1", words.join(" "), chord ? keptUp(l, to, toZ, feed) : feed);
  arrive(l, to, toZ);
}

function keptUp(l: Lines, to: Point, z: number, feed: number): number {
  const { x = to.x, y = to.y } = l;
  const length = hypot(hypot(to.x - x, to.y - y), z - (l.z ?? z));
  const most = Math.floor(length * l.machine.blocksPerSecond * 60);
  return Math.round(feed) <= most ? feed : lowered(feed, most, l.slowed);
}

function moveTo(l: Lines, { x, y }: Point): void {
  l.x = x;
  l.y = y;
  widen(l, { min: { x, y }, max: { x, y } });
}

function widen(l: Lines, by: Box): void {
  const { min, max } = l.box ?? by;
  l.box = {
    min: { x: Math.min(min.x, by.min.x), y: Math.min(min.y, by.min.y) },
    max: { x: Math.max(max.x, by.max.x), y: Math.max(max.y, by.max.y) },
  };
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
    feedLine(l, m.to, m.z, m.feed, !l.machine.arcs);
    return;
  }
  const centre = { x: arc.centre.x - l.zero.x, y: arc.centre.y - l.zero.y };
  const radius = distance(arc.centre, m.to);
  const words = arcWords(start, full ? start : to, centre, radius, decimals);
  if (words.mismatch > ARC_RADIUS || (words.i === 0 && words.j === 0)) {
    chordsOf(l, m);
    return;
  }
  const xy = `X${number(to.x, decimals)} Y${number(to.y, decimals)}`;
  const depth = z === l.z ? "" : ` Z${number(z, decimals)}`;
  const ij = `I${number(words.i, decimals)} J${number(words.j, decimals)}`;
  cut(l, arc.sweep > 0 ? "G3" : "G2", `${xy}${depth} ${ij}`, m.feed);
  widen(l, boxOf({ kind: "arc", from: start, to, centre, radius, sweep: arc.sweep }));
  arrive(l, to, z);
}

function chordsOf(l: Lines, m: CutMove): void {
  const { centre, sweep } = m.arc as NonNullable<CutMove["arc"]>;
  const radius = distance(centre, m.to);
  const n = chords(radius, sweep, CHORD);
  const a0 = angleOf(centre, m.to) - sweep;
  const z0 = (l.z ?? 0) + l.zero.z;
  for (let i = 1; i <= n; i++) {
    const p = i === n ? m.to : onCircle(centre, radius, a0 + (sweep * i) / n);
    feedLine(l, p, z0 + ((m.z - z0) * i) / n, m.feed, true);
  }
}

function cut(l: Lines, code: string, words: string, feed: number): void {
  const f = Math.max(1, Math.round(feed));
  emit(l, code, f === l.feed ? words : `${words} F${f}`);
  l.feed = f;
}

function emit(l: Lines, code: string, words: string): void {
  const say = l.machine.repeatMotion || code !== l.code;
  l.text.push(say ? `${code} ${words}` : words);
  l.code = code;
  l.blocks++;
}
