/**
 * What a line may hold (NISTIR 6556, sec. 3.3.5 and Tables 4 and 7): one code of each modal group, at
 * most four M codes, no axis words without somebody to use them, no word that nobody uses.
 *
 * Words: `axes` are the bits of X, Y, Z in the line; `motion` is the motion code that this line runs,
 * or −1 where it moves nothing.
 */
import type { Finding } from "../../finding/finding.ts";
import { G_GROUPS, gEntry, gName, M_GROUPS, MOTION, mEntry, NON_MODAL, whole } from "./codes.ts";
import { type Block, letterBit, letterIndex } from "./scan.ts";
import { placeOf, report, type State, X, Y, Z } from "./state.ts";

export interface Orders {
  /** The code of each G group in this line, times ten, or −1. */
  readonly g: Int32Array;
  readonly m: Int32Array;
  axes: number;
  motion: number;
}

export function newOrders(): Orders {
  return { g: new Int32Array(G_GROUPS), m: new Int32Array(M_GROUPS), axes: 0, motion: -1 };
}

const MOST_M = 4;
const bits = (letters: string): number =>
  [...letters].reduce((sum, letter) => sum | letterBit(letter), 0);
const bitX: number = letterBit("X");
const bitY: number = letterBit("Y");
const bitZ: number = letterBit("Z");
const AXES: number = bits("XYZ");
const ALWAYS: number = bits("NFST");
const ARC_WORDS: number = bits("XYZIJKR");
const CYCLE_WORDS: number = bits("XYZRL");
const NOT_NEGATIVE: number = bits("FSPT");
const TURNING: number = bits("ABC");

const isArc = (motion: number): boolean => motion === 20 || motion === 30;
const isCycle = (motion: number): boolean => motion >= 810;

/** Fills `orders` from the block; a finding where the line may not be executed. */
export function checkBlock(state: State, block: Block, orders: Orders): Finding | undefined {
  orders.g.fill(-1);
  orders.m.fill(-1);
  return (
    sortG(state, block, orders) ??
    sortM(state, block, orders) ??
    checkAxes(state, block, orders) ??
    checkUnused(state, block, orders) ??
    checkNumbers(state, block)
  );
}

function sortG(state: State, block: Block, orders: Orders): Finding | undefined {
  for (let i = 0; i < block.gCount; i++) {
    const column = block.gColumns[i] as number;
    const code = whole((block.g[i] as number) * 10);
    const entry = gEntry(code);
    if (entry.state !== "known") {
      return report(
        entry.state === "unknown" ? "program-unknown-code" : "program-unsupported-code",
        { column, text: code < 0 ? `G${block.g[i]}` : gName(code) },
        placeOf(state),
      );
    }
    const other = orders.g[entry.group] as number;
    if (other >= 0) {
      const data = { column, first: gName(other), second: gName(code) };
      return report("program-two-of-a-group", data, placeOf(state));
    }
    orders.g[entry.group] = code;
  }
  return undefined;
}

function sortM(state: State, block: Block, orders: Orders): Finding | undefined {
  if (block.mCount > MOST_M) {
    const data = { column: block.mColumns[MOST_M] as number, count: block.mCount };
    return report("program-too-many-m", data, placeOf(state));
  }
  for (let i = 0; i < block.mCount; i++) {
    const column = block.mColumns[i] as number;
    const code = whole(block.m[i] as number);
    const entry = mEntry(code);
    if (entry.state !== "known") {
      return report(
        entry.state === "unknown" ? "program-unknown-code" : "program-unsupported-code",
        { column, text: `M${code < 0 ? block.m[i] : code}` },
        placeOf(state),
      );
    }
    const other = orders.m[entry.group] as number;
    if (other >= 0) {
      const data = { column, first: `M${other}`, second: `M${code}` };
      return report("program-two-of-a-group", data, placeOf(state));
    }
    orders.m[entry.group] = code;
  }
  return undefined;
}

/** Who takes the axis words: G92, or the motion in force. */
function checkAxes(state: State, block: Block, orders: Orders): Finding | undefined {
  const { letters } = block;
  orders.axes = (letters & bitX ? X : 0) | (letters & bitY ? Y : 0) | (letters & bitZ ? Z : 0);
  orders.motion = -1;
  const explicit = orders.g[MOTION] as number;
  const special = orders.g[NON_MODAL] as number;
  const moves = explicit >= 0 && explicit !== 800;
  if (special === 920) return checkOffset(state, orders.axes, moves ? explicit : -1);
  const motion = explicit >= 0 ? explicit : state.motion;
  if (special === 530 && motion !== 0 && motion !== 10) {
    return report("program-axis-without-motion", { column: 1 }, placeOf(state));
  }
  const arcWords = isArc(motion) && (letters & ARC_WORDS) !== 0;
  if (orders.axes === 0 && !arcWords) {
    if (!moves && special !== 530) return undefined;
    const text = moves ? gName(explicit) : "G53";
    return report("program-motion-without-axis", { column: 1, text }, placeOf(state));
  }
  if (motion === 800) {
    const column = block.columns[letterIndex(axisLetter(letters))] as number;
    return report("program-axis-without-motion", { column }, placeOf(state));
  }
  orders.motion = motion;
  return undefined;
}

/** G92 wants axis words, and wants them for itself. */
function checkOffset(state: State, axes: number, motion: number): Finding | undefined {
  if (motion >= 0) {
    const data = { column: 1, first: "G92", second: gName(motion) };
    return report("program-two-axis-codes", data, placeOf(state));
  }
  if (axes !== 0) return undefined;
  return report("program-motion-without-axis", { column: 1, text: "G92" }, placeOf(state));
}

const axisLetter = (letters: number): string => (letters & bitX ? "X" : letters & bitY ? "Y" : "Z");

function checkUnused(state: State, block: Block, orders: Orders): Finding | undefined {
  const { motion } = orders;
  let used = ALWAYS;
  if (orders.g[NON_MODAL] === 40) used |= letterBit("P");
  if (orders.g[NON_MODAL] === 920) used |= AXES;
  if (isArc(motion)) used |= ARC_WORDS;
  else if (isCycle(motion)) {
    used |= CYCLE_WORDS;
    if (motion === 820) used |= letterBit("P");
    if (motion === 830) used |= letterBit("Q");
  } else if (motion >= 0) used |= AXES;
  const left = block.letters & ~used;
  if (left === 0) return undefined;
  const index = 31 - Math.clz32(left & -left);
  const column = block.columns[index] as number;
  const text = String.fromCharCode(65 + index);
  if (left & -left & TURNING) {
    return report("program-unsupported-code", { column, text }, placeOf(state));
  }
  return report("program-unused-word", { column, text }, placeOf(state));
}

function checkNumbers(state: State, block: Block): Finding | undefined {
  if ((block.letters & NOT_NEGATIVE) === 0) return undefined;
  for (const letter of ["F", "S", "P", "T"]) {
    if ((block.letters & letterBit(letter)) === 0) continue;
    const value = block.values[letterIndex(letter)] as number;
    if (value >= 0 && (letter !== "T" || whole(value) >= 0)) continue;
    const column = block.columns[letterIndex(letter)] as number;
    return report("program-number-range", { column, why: letter }, placeOf(state));
  }
  return undefined;
}
