/**
 * One line of a program, character by character, into its words.
 *
 * Source: Kramer, Proctor, Messina, NISTIR 6556 (2000), sec. 3.3: blanks and case mean nothing outside
 * comments, a number has at most one point and at least one digit and no exponent, a comment closes on
 * its own line and never nests, `/` and N come first.
 *
 * The block is one record, used again for every line: at 300 000 lines a second the collector would
 * otherwise be the largest cost. Promise: never throws; the first error of a line is kept with its
 * column (from 1), and the line is then not to be executed.
 */
import { power } from "../../geometry/trig.ts";

export interface BlockError {
  readonly code: ScanCode;
  readonly column: number;
  readonly text: string;
}

export type ScanCode =
  | "program-bad-character"
  | "program-open-comment"
  | "program-nested-comment"
  | "program-no-digits"
  | "program-word-twice"
  | "program-expression"
  | "program-line-number"
  | "program-number-large"
  | "program-line-too-long";

export interface Block {
  deleted: boolean;
  /** Bit i is set where letter number i (A is 0) stands in the line; G and M are kept apart. */
  letters: number;
  readonly values: Float64Array;
  readonly columns: Int32Array;
  gCount: number;
  readonly g: Float64Array;
  readonly gColumns: Int32Array;
  mCount: number;
  readonly m: Float64Array;
  readonly mColumns: Int32Array;
  readonly comments: string[];
  error: BlockError | undefined;
  /** Scratch of the scanner: where it is, and the number that it read last. */
  at: number;
  number: number;
  /** Digits after the point: of the number read last, and the most in this line's coordinates. */
  digits: number;
  decimals: number;
}

/** More words of one kind than groups exist are an error anyway; this only bounds the memory. */
const MOST_CODES = 32;
const LONGEST_LINE = 256;
/** Decimal digits that a double holds exactly. */
const EXACT_DIGITS = 15;
/** No word of a router program is larger; beyond it arithmetic would lose its digits. */
const LARGEST = 1e7;
const POWERS: readonly number[] = Array.from({ length: EXACT_DIGITS + 1 }, (_, i) => power(10, i));

export const letterIndex = (letter: string): number => letter.charCodeAt(0) - 65;
export const letterBit = (letter: string): number => 1 << letterIndex(letter);

const G = letterIndex("G");
const M = letterIndex("M");
const N = letterIndex("N");
const COORDINATES: number = [..."XYZIJKR"].reduce((sum, l) => sum | letterBit(l), 0);
/** NISTIR 6556, Table 3: these five letters begin no word. */
const NO_WORD: number =
  letterBit("E") | letterBit("O") | letterBit("U") | letterBit("V") | letterBit("W");

export function newBlock(): Block {
  return {
    deleted: false,
    letters: 0,
    values: new Float64Array(26),
    columns: new Int32Array(26),
    gCount: 0,
    g: new Float64Array(MOST_CODES),
    gColumns: new Int32Array(MOST_CODES),
    mCount: 0,
    m: new Float64Array(MOST_CODES),
    mColumns: new Int32Array(MOST_CODES),
    comments: [],
    error: undefined,
    at: 0,
    number: 0,
    digits: 0,
    decimals: 0,
  };
}

const isBlank = (c: number): boolean => c === 32 || c === 9;
const isDigit = (c: number): boolean => c >= 48 && c <= 57;

/** 0 to 25 for a letter of either case, else −1. */
function letterOf(c: number): number {
  const upper = c & ~32;
  return upper >= 65 && upper <= 90 && c < 128 ? upper - 65 : -1;
}

/** Fills `block` from text[from, to), which is one line without its end. */
export function scanLine(
  text: string,
  from: number,
  to: number,
  block: Block,
  semicolons: boolean,
): void {
  block.deleted = false;
  block.letters = 0;
  block.gCount = 0;
  block.mCount = 0;
  if (block.comments.length > 0) block.comments.length = 0;
  block.error = undefined;
  block.at = from;
  block.decimals = 0;
  if (to - from > LONGEST_LINE) {
    block.error = { code: "program-line-too-long", column: LONGEST_LINE + 1, text: `${to - from}` };
    return;
  }
  let first = true;
  while (block.at < to && block.error === undefined) {
    const c = text.charCodeAt(block.at);
    if (isBlank(c)) {
      block.at++;
      continue;
    }
    const letter = letterOf(c);
    if (letter >= 0) scanWord(text, from, to, block, letter);
    else if (c === 40) scanComment(text, from, to, block);
    else if (c === 59 && semicolons) {
      block.comments.push(text.slice(block.at + 1, to).trim());
      block.at = to;
    } else if (c === 47 && first) {
      block.deleted = true;
      block.at++;
    } else if (c === 35 || c === 91) fail(text, from, block, "program-expression");
    else fail(text, from, block, "program-bad-character");
    first = false;
  }
}

function fail(text: string, from: number, block: Block, code: ScanCode): void {
  block.error = { code, column: block.at - from + 1, text: text.charAt(block.at) };
}

function scanComment(text: string, from: number, to: number, block: Block): void {
  const start = block.at + 1;
  for (let i = start; i < to; i++) {
    const c = text.charCodeAt(i);
    if (c === 41) {
      block.comments.push(text.slice(start, i));
      block.at = i + 1;
      return;
    }
    if (c === 40 || ((c < 32 || c === 127) && c !== 9)) {
      block.at = i;
      fail(text, from, block, c === 40 ? "program-nested-comment" : "program-bad-character");
      return;
    }
  }
  fail(text, from, block, "program-open-comment");
}

function scanWord(text: string, from: number, to: number, block: Block, letter: number): void {
  const start = block.at;
  const column = start - from + 1;
  if ((NO_WORD >> letter) & 1) {
    fail(text, from, block, "program-bad-character");
    return;
  }
  const first = block.letters === 0 && block.gCount === 0 && block.mCount === 0;
  block.at++;
  if (!scanNumber(text, from, to, block, start)) return;
  if (letter === G) {
    if (block.gCount < MOST_CODES) {
      block.g[block.gCount] = block.number;
      block.gColumns[block.gCount++] = column;
    }
    return;
  }
  if (letter === M) {
    if (block.mCount < MOST_CODES) {
      block.m[block.mCount] = block.number;
      block.mColumns[block.mCount++] = column;
    }
    return;
  }
  const bit = 1 << letter;
  if (block.letters & bit) {
    block.error = { code: "program-word-twice", column, text: String.fromCharCode(65 + letter) };
    return;
  }
  if (letter === N && !(first && isLineNumber(text, start, block))) {
    block.error = { code: "program-line-number", column, text: text.slice(start, block.at) };
    return;
  }
  if (COORDINATES & bit && block.digits > block.decimals) block.decimals = block.digits;
  block.letters |= bit;
  block.values[letter] = block.number;
  block.columns[letter] = column;
}

/** 0 to 99999, at most five digits, no sign and no point (sec. 3.3.1). */
function isLineNumber(text: string, start: number, block: Block): boolean {
  return /^[Nn][ \t]*(\d[ \t]*){1,5}$/.test(text.slice(start, block.at));
}

/** Reads the number at `block.at` into `block.number`; false where there is none to be had. */
function scanNumber(text: string, from: number, to: number, block: Block, word: number): boolean {
  let i = skipBlanks(text, block.at, to);
  const sign = i < to ? text.charCodeAt(i) : 0;
  if (sign === 43 || sign === 45) i++;
  const start = i;
  const size = scanDigits(text, start, to, block);
  const code = size < 0 ? noNumber(text, start, to, block) : "program-number-large";
  block.number = sign === 45 ? -size : size;
  if (size >= 0 && size <= LARGEST) return true;
  block.error = { code, column: word - from + 1, text: text.slice(word, Math.min(to, word + 12)) };
  return false;
}

function skipBlanks(text: string, at: number, to: number): number {
  let i = at;
  while (i < to && isBlank(text.charCodeAt(i))) i++;
  return i;
}

/**
 * Digits with at most one point; −1 where there are none. Blanks may stand between them, too:
 * `x +0. 12 34` is 0.1234. A mantissa and a power of ten that are both exact give the correctly
 * rounded quotient.
 */
function scanDigits(text: string, start: number, to: number, block: Block): number {
  let mantissa = 0;
  let digits = 0;
  let decimals = -1;
  let i = start;
  for (; i < to; i++) {
    const c = text.charCodeAt(i);
    if (isDigit(c)) {
      mantissa = mantissa * 10 + (c - 48);
      digits++;
      if (decimals >= 0) decimals++;
    } else if (c === 46 && decimals < 0) decimals = 0;
    else if (!isBlank(c)) break;
  }
  block.at = i;
  block.digits = Math.max(decimals, 0);
  if (digits === 0) return -1;
  if (digits > EXACT_DIGITS) return Number(text.slice(start, i).replace(/[ \t]/g, ""));
  return mantissa / (POWERS[Math.max(decimals, 0)] as number);
}

function noNumber(text: string, start: number, to: number, block: Block): ScanCode {
  const formula = block.at === start && isFormula(text, start, to);
  return formula ? "program-expression" : "program-no-digits";
}

/** `#12`, `[1+2]`, `sin[30]`: what NISTIR 6556 sec. 3.3.2 lets stand for a number. */
function isFormula(text: string, at: number, to: number): boolean {
  return /^(#|\[|[a-z]{2,5}[ \t]*\[)/i.test(text.slice(at, Math.min(to, at + 12)));
}
