/**
 * Bytes to text, without the platform's decoder, so that every engine reads the same.
 *
 * Line structure and numbers are ASCII in every encoding that drawings use, so geometry survives whatever
 * the names are written in. A name in an encoding that is not known here keeps its bytes, one character
 * each, and `exact` is false.
 *
 * Cost: O(n) time, two bytes a character on the way.
 */
import { CODE_PAGES } from "./code-pages.ts";

export interface Decoded {
  readonly text: string;
  /** What the bytes were read as: `utf-8`, `utf-16`, `1252` … */
  readonly encoding: string;
  /** False where characters beyond ASCII could not be told. */
  readonly exact: boolean;
}

export type DecodeText = (bytes: Uint8Array, encoding: string) => string;

/** The text of a drawing; `page` names the code page that applies where the bytes are not UTF-8. */
export function decode(
  bytes: Uint8Array,
  page: string | undefined,
  preferUtf8: boolean,
  outside?: DecodeText,
): Decoded {
  const [a, b, c] = bytes;
  if (a === 0xff && b === 0xfe) return { text: utf16(bytes, 0), encoding: "utf-16", exact: true };
  if (a === 0xfe && b === 0xff) return { text: utf16(bytes, 1), encoding: "utf-16", exact: true };
  const bom = a === 0xef && b === 0xbb && c === 0xbf;
  const body = bom ? bytes.subarray(3) : bytes;
  // Most drawings are plain ASCII, which every encoding writes alike.
  if (isAscii(body))
    return {
      text: toText(body),
      encoding: bom || preferUtf8 || page === undefined ? "utf-8" : page,
      exact: true,
    };
  if (bom || preferUtf8 || page === undefined) {
    const units = utf8(body);
    if (units !== undefined) return { text: toText(units), encoding: "utf-8", exact: true };
  }
  return decodePage(body, page ?? "1252", outside);
}

function isAscii(bytes: Uint8Array): boolean {
  for (let i = 0; i < bytes.length; i++) if ((bytes[i] as number) > 127) return false;
  return true;
}

function decodePage(bytes: Uint8Array, page: string, outside?: DecodeText): Decoded {
  const upper = CODE_PAGES[page];
  if (upper !== undefined || !bytes.some((b) => b > 127)) {
    const units = new Uint16Array(bytes.length);
    for (let i = 0; i < bytes.length; i++) {
      const b = bytes[i] as number;
      units[i] = b < 128 || upper === undefined ? b : upper.charCodeAt(b - 128);
    }
    return { text: toText(units), encoding: page, exact: true };
  }
  const text = outside?.(bytes, WEB_NAMES[page] ?? page);
  if (text !== undefined) return { text, encoding: page, exact: true };
  return { text: toText(bytes), encoding: page, exact: false };
}

/** The names under which the WHATWG encoding standard knows the pages of two bytes a character. */
const WEB_NAMES: Readonly<Record<string, string>> = {
  "874": "windows-874",
  "932": "shift_jis",
  "936": "gbk",
  "949": "euc-kr",
  "950": "big5",
  "1255": "windows-1255",
  "1256": "windows-1256",
  "1258": "windows-1258",
};

/** UTF-16 units of UTF-8 bytes; undefined where the bytes are not UTF-8. */
function utf8(bytes: Uint8Array): Uint16Array | undefined {
  const units = new Uint16Array(bytes.length);
  let n = 0;
  for (let i = 0; i < bytes.length; ) {
    const lead = bytes[i] as number;
    const more = lead < 0x80 ? 0 : tailsOf(lead);
    const code = more === 0 ? lead : tailed(bytes, i, more);
    if (more < 0 || code < 0) return undefined;
    if (code > 0xffff) {
      units[n++] = 0xd800 + ((code - 0x10000) >> 10);
      units[n++] = 0xdc00 + ((code - 0x10000) & 0x3ff);
    } else {
      units[n++] = code;
    }
    i += more + 1;
  }
  return units.subarray(0, n);
}

/** How many bytes follow a leading byte of 0x80 and above; −1 where it leads nothing. */
function tailsOf(lead: number): number {
  if (lead < 0xc2 || lead > 0xf4) return -1;
  return lead < 0xe0 ? 1 : lead < 0xf0 ? 2 : 3;
}

/** The character of a leading byte and `more` that follow it; −1 where they do not. */
function tailed(bytes: Uint8Array, at: number, more: number): number {
  let code = (bytes[at] as number) & (0x3f >> more);
  for (let k = 1; k <= more; k++) {
    const tail = bytes[at + k];
    if (tail === undefined || (tail & 0xc0) !== 0x80) return -1;
    code = (code << 6) | (tail & 0x3f);
  }
  return code > 0x10ffff ? -1 : code;
}

function utf16(bytes: Uint8Array, high: 0 | 1): string {
  const units = new Uint16Array((bytes.length - 2) >> 1);
  for (let i = 0; i < units.length; i++) {
    const x = bytes[2 + 2 * i] as number;
    const y = bytes[3 + 2 * i] as number;
    units[i] = high === 0 ? x | (y << 8) : (x << 8) | y;
  }
  return toText(units);
}

function toText(units: Uint16Array | Uint8Array): string {
  // Argument lists are limited by the engine's stack; 8192 is safe everywhere.
  const step = 8192;
  const parts: string[] = [];
  for (let i = 0; i < units.length; i += step) {
    parts.push(Reflect.apply(String.fromCharCode, undefined, units.subarray(i, i + step)));
  }
  return parts.join("");
}

/** Bytes as characters 0–255: enough to look at a file's beginning. */
export function latin1(bytes: Uint8Array): string {
  return toText(bytes);
}
