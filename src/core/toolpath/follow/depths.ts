/** Depths of a cut: Z is 0 at the sheet's top, negative below. mm. */

export interface Depths {
  /** Floor of each pass, evenly spaced, the last one at the bottom. */
  readonly levels: readonly number[];
  readonly bottom: number;
  /** Height of one pass, mm, positive. */
  readonly step: number;
}

/** Equal passes no deeper than `pass` down to `depth` (positive) below the top. */
export function passes(depth: number, pass: number): Depths {
  // A pass that is deeper by rounding alone must not add another one.
  const n = Math.max(1, Math.ceil(depth / pass - 1e-9));
  const levels = Array.from({ length: n }, (_, i) =>
    i === n - 1 ? -depth : (-depth * (i + 1)) / n,
  );
  return { levels, bottom: -depth, step: depth / n };
}
