/** Numbers as text, in the form of vlq.ts; apart from it, since the player reads and never writes. */
import { DIGITS, MORE, MOST } from "./vlq.ts";

/** Text that grows: as character codes, since of a hundred thousand short strings each would be an object of its own. */
export interface NumberWriter {
  codes: Uint8Array;
  count: number;
}

export function newWriter(): NumberWriter {
  return { codes: new Uint8Array(1024), count: 0 };
}

/** The most characters that a number takes. */
const LONGEST = 12;

/** A number ≥ 0. */
export function putCount(into: NumberWriter, value: number): void {
  if (into.count + LONGEST > into.codes.length) {
    const longer = new Uint8Array(2 * into.codes.length);
    longer.set(into.codes);
    into.codes = longer;
  }
  const { codes } = into;
  let rest = value >= 0 ? Math.min(value, 2 * MOST + 1) : 0;
  while (rest >= MORE) {
    codes[into.count++] = DIGITS.charCodeAt(MORE + (rest % MORE));
    rest = Math.floor(rest / MORE);
  }
  codes[into.count++] = DIGITS.charCodeAt(rest);
}

export function putSigned(into: NumberWriter, value: number): void {
  const size = Math.min(Math.abs(value), MOST);
  putCount(into, 2 * size + (value < 0 ? 1 : 0));
}

/** As many characters at a time as an argument list surely takes. */
const AT_A_TIME = 4096;

export function writtenText({ codes, count }: NumberWriter): string {
  let text = "";
  for (let at = 0; at < count; at += AT_A_TIME) {
    text += String.fromCharCode(...codes.subarray(at, Math.min(count, at + AT_A_TIME)));
  }
  return text;
}
