/**
 * Comparing lengths so that rounding decides nothing.
 *
 * A drawing that is turned or mirrored comes back with every length changed by the 0.1 µm of its grid. A
 * choice between two places must not hang on that: lengths are compared in steps far above it, and the
 * steps begin where drawings, which love round numbers and their halves, have no length.
 */

/** mm; far above the grid, far below what makes one place better than another. */
export const SAME = 0.01;
const BESIDE_ROUND = 0.19;

/** A length in steps. */
export function steps(length: number): number {
  return Math.round(length / SAME + BESIDE_ROUND);
}

/** The first of the keys in which a and b differ decides; more is better. */
export function isBetter<K extends string>(
  a: Readonly<Record<K, number>>,
  b: Readonly<Record<K, number>>,
  keys: readonly K[],
): boolean {
  for (const key of keys) {
    const difference = steps(a[key]) - steps(b[key]);
    if (difference !== 0) return difference > 0;
  }
  return false;
}
