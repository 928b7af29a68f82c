/**
 * Cutter changes: which plates of a program each cutter takes, so that none is used beyond its life.
 * A cutter is changed between plates alone, where the program is safe and every plate is whole.
 */

/** A run of a program: a plate, in the order of the program. */
export interface Stretch {
  readonly name: string;
  readonly copy: number;
  /** Metres of edge as of sheets of 2–3 mm, which is what life figures are in. */
  readonly wearMetres: number;
}

export interface Shift {
  /** Index of the first stretch of this cutter, and of the one after its last. */
  readonly from: number;
  readonly to: number;
  /** Share of its life that the cutter has behind it afterwards. */
  readonly lifeUsed: number;
}

/** A hair: a job that was planned to fill a life exactly is not split by rounding. */
const HAIR = 1e-9;

/**
 * Each cutter takes as many plates as its life allows. `used` is the share that the first one has behind
 * it; where not even the first plate fits into the rest, the first shift is empty. A plate that needs more than a
 * whole life gets a fresh cutter of its own and `lifeUsed` above 1 says so.
 */
export function splitByLife(
  stretches: readonly Stretch[],
  lifeMetres: number,
  used = 0,
): readonly Shift[] {
  const shifts: Shift[] = [];
  let from = 0;
  let share = used;
  stretches.forEach((stretch, i) => {
    const more = stretch.wearMetres / lifeMetres;
    if (share > 0 && share + more > 1 + HAIR) {
      if (i > from || used > 0) shifts.push({ from, to: i, lifeUsed: share });
      from = i;
      share = 0;
    }
    share += more;
  });
  shifts.push({ from, to: stretches.length, lifeUsed: share });
  return shifts;
}
