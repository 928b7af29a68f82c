/**
 * Whole numbers as text, in the variable-length base 64 that source maps use (ECMA-426): five bits a character,
 * the lowest first, the sixth bit says that more follow; of a signed number the lowest bit is the sign.
 *
 * Small numbers take one character, and the text needs no escaping in HTML or JSON. Exact to ±2⁵².
 */

export const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
export const MORE = 32;
/** What is no number or beyond this is written as this: a picture has no better use for it. */
export const MOST = 2 ** 52 - 1;

export interface NumberReader {
  readonly text: string;
  at: number;
}

/** The next number ≥ 0; zeros follow the text's end. */
export function takeCount(from: NumberReader): number {
  let value = 0;
  let weight = 1;
  for (;;) {
    const digit = digitOf(from.text.charCodeAt(from.at++));
    value += (digit % MORE) * weight;
    if (digit < MORE) return value;
    weight *= MORE;
  }
}

export function takeSigned(from: NumberReader): number {
  const value = takeCount(from);
  const size = Math.floor(value / 2);
  return value % 2 === 1 ? -size : size;
}

/** Tells the four ranges of characters apart; anything else, and what is beyond the end, is nought. */
function digitOf(code: number): number {
  if (code >= 97) return code <= 122 ? code - 71 : 0;
  if (code >= 65) return code <= 90 ? code - 65 : 0;
  if (code >= 48) return code <= 57 ? code + 4 : 0;
  return code === 43 ? 62 : code === 47 ? 63 : 0;
}
