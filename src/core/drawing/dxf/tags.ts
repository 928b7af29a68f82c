/**
 * A DXF file as tags: pairs of group code and value, with the line that each came from.
 *
 * Text DXF writes a code on one line and its value on the next; line ends may be LF, CR, CR LF, or CR CR LF
 * (a file that went through a careless transfer). Where a line that must hold a code does not, it is left
 * out and the reading goes on with the next one, so a stray line costs one line and not the file.
 * Binary DXF holds the same tags: code (one byte before R13, then two), value by the code's type.
 *
 * Cost: O(n). Three parallel arrays, because a drawing of 4 MB has half a million tags.
 */

export interface Tags {
  readonly codes: number[];
  readonly values: string[];
  /** Line of the code, from 1; in binary files the tag's own number. */
  readonly lines: number[];
  /** Lines that should have held a group code. */
  readonly strayLines: number[];
  /** The last value may have lost its end: no line end after it. */
  readonly lastCut: boolean;
}

/** Stray lines that are still kept by number. */
const STRAYS_KEPT = 50;

export function textTags(text: string): Tags {
  const source = text.includes("\r\r\n") ? text.replaceAll("\r\r\n", "\n") : text;
  const tags: Tags & { lastCut: boolean } = {
    codes: [],
    values: [],
    lines: [],
    strayLines: [],
    lastCut: false,
  };
  let line = 0;
  let at = 0;
  let code = Number.NaN;
  while (at < source.length) {
    const end = lineEnd(source, at);
    line++;
    if (Number.isNaN(code)) {
      code = codeOf(source, at, end);
      if (
        Number.isNaN(code) &&
        source.slice(at, end).trim() !== "" &&
        tags.strayLines.length < STRAYS_KEPT
      )
        tags.strayLines.push(line);
    } else {
      tags.codes.push(code);
      tags.values.push(source.slice(at, end));
      tags.lines.push(line - 1);
      code = Number.NaN;
      tags.lastCut = end === source.length;
    }
    at = end + (source[end] === "\r" && source[end + 1] === "\n" ? 2 : 1);
  }
  return tags;
}

function lineEnd(s: string, from: number): number {
  for (let i = from; i < s.length; i++) {
    const c = s.charCodeAt(i);
    if (c === 10 || c === 13) return i;
  }
  return s.length;
}

/** The group code that a line holds, NaN where it holds none. */
function codeOf(s: string, from: number, to: number): number {
  let i = from;
  while (i < to && isBlank(s.charCodeAt(i))) i++;
  let negative = false;
  if (s[i] === "-") {
    negative = true;
    i++;
  }
  let code = 0;
  const digits = i;
  for (; i < to; i++) {
    const d = s.charCodeAt(i) - 48;
    if (d < 0 || d > 9) break;
    code = code * 10 + d;
  }
  if (i === digits || i - digits > 5) return Number.NaN;
  while (i < to && isBlank(s.charCodeAt(i))) i++;
  if (i < to) return Number.NaN;
  return negative ? -code : code;
}

function isBlank(c: number): boolean {
  return c === 32 || c === 9 || c === 0;
}

const SENTINEL = " Binary DXF\r\n\x1a\0";
const SENTINEL_AT = 7;
const BINARY_START = 22;

export function isBinary(bytes: Uint8Array): boolean {
  if (bytes.length < BINARY_START) return false;
  for (let i = 0; i < SENTINEL.length; i++) {
    if (bytes[SENTINEL_AT + i] !== SENTINEL.charCodeAt(i)) return false;
  }
  return true;
}

type Kind = "text" | "double" | "int16" | "int32" | "int64" | "byte" | "chunk";

/** Value types by ranges of group codes, [first, last] (DXF reference, "Group Code Value Types"); others are text. */
const KINDS: readonly (readonly [number, number, Kind])[] = [
  [10, 59, "double"],
  [60, 79, "int16"],
  [80, 99, "int32"],
  [110, 149, "double"],
  [160, 169, "int64"],
  [170, 179, "int16"],
  [210, 239, "double"],
  [270, 289, "int16"],
  [290, 299, "byte"],
  [310, 319, "chunk"],
  [370, 389, "int16"],
  [400, 409, "int16"],
  [420, 429, "int32"],
  [440, 459, "int32"],
  [460, 469, "double"],
  [1004, 1004, "chunk"],
  [1010, 1059, "double"],
  [1060, 1070, "int16"],
  [1071, 1071, "int32"],
];

function kindOf(code: number): Kind {
  return KINDS.find(([first, last]) => code >= first && code <= last)?.[2] ?? "text";
}

/** Tags of a binary DXF; `toText` reads the bytes of names. */
export function binaryTags(bytes: Uint8Array, toText: (bytes: Uint8Array) => string): Tags {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const codes: number[] = [];
  const values: string[] = [];
  const lines: number[] = [];
  let lastCut = false;
  let at = BINARY_START;
  // Before R13 a code is one byte: then the first tag is 0, "SECTION" and its third byte is a letter.
  const short = bytes[at + 1] !== 0;
  while (at < bytes.length) {
    let code = view.getUint8(at);
    if (!short) {
      if (at + 2 > bytes.length) break;
      code = view.getInt16(at, true);
      at += 2;
    } else if (code === 255 && at + 3 <= bytes.length) {
      code = view.getInt16(at + 1, true);
      at += 3;
    } else {
      at += 1;
    }
    const read = binaryValue(view, bytes, at, kindOf(code), toText);
    if (read === undefined) {
      lastCut = true;
      break;
    }
    codes.push(code);
    values.push(read.value);
    lines.push(codes.length);
    at = read.next;
  }
  return { codes, values, lines, strayLines: [], lastCut };
}

interface Read {
  readonly value: string;
  readonly next: number;
}

function binaryValue(
  view: DataView,
  bytes: Uint8Array,
  at: number,
  kind: Kind,
  toText: (bytes: Uint8Array) => string,
): Read | undefined {
  const left = bytes.length - at;
  switch (kind) {
    case "text": {
      const end = bytes.indexOf(0, at);
      if (end < 0) return undefined;
      return { value: toText(bytes.subarray(at, end)).replace(/[\r\n]/g, " "), next: end + 1 };
    }
    case "double":
      return left < 8 ? undefined : { value: String(view.getFloat64(at, true)), next: at + 8 };
    case "int16":
      return left < 2 ? undefined : { value: String(view.getInt16(at, true)), next: at + 2 };
    case "int32":
      return left < 4 ? undefined : { value: String(view.getInt32(at, true)), next: at + 4 };
    case "int64":
      return left < 8 ? undefined : { value: String(view.getBigInt64(at, true)), next: at + 8 };
    case "byte":
      return left < 1 ? undefined : { value: String(view.getUint8(at)), next: at + 1 };
    case "chunk": {
      const n = bytes[at];
      return n === undefined || left < n + 1 ? undefined : { value: "", next: at + 1 + n };
    }
  }
}
