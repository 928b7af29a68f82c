/**
 * Cutter changes: which plates of a program each cutter takes, so that none is used beyond its life.
 * A cutter is changed between plates alone, where the program is safe and every plate is whole.
 */
import { type Finding, type Report, reporter } from "../finding/finding.ts";
import { sayMotion } from "../finding/say-motion.ts";

const report: Report<typeof sayMotion> = reporter(sayMotion);

/** A run of a program: a plate, in the order of the program. */
export interface Stretch {
  readonly name: string;
  readonly edgeMetres: number;
}

export interface Shift {
  /** Index of the first stretch of this cutter, and of the one after its last. */
  readonly from: number;
  readonly to: number;
  readonly lifeUsed: number;
}

/**
 * Each cutter takes as many plates as its life allows. `used` is the share
 * that the first one has behind it. A plate that needs more than a whole life gets a fresh cutter of its
 * own and `lifeUsed` above 1 says so.
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
    const more = stretch.edgeMetres / lifeMetres;
    // A hair: a job that was planned to fill a life exactly is not split by rounding.
    if (share > 0 && share + more > 1 + 1e-9) {
      if (i > from || used > 0) shifts.push({ from, to: i, lifeUsed: share });
      from = i;
      share = 0;
    }
    share += more;
  });
  shifts.push({ from, to: stretches.length, lifeUsed: share });
  return shifts;
}

export function shiftFindings(
  cutter: string,
  stretches: readonly Stretch[],
  shifts: readonly Shift[],
  lifeMetres: number,
): readonly Finding[] {
  const found: Finding[] = [];
  const whole = stretches.reduce((sum, s) => sum + s.edgeMetres, 0) / lifeMetres;
  if (shifts.length > 1) {
    const changes = shifts.length - 1;
    found.push(report("cutter-outlasted", { cutter, share: hundredths(whole), changes }));
  }
  for (const stretch of stretches) {
    const share = stretch.edgeMetres / lifeMetres;
    if (share <= 1) continue;
    const data = { plate: stretch.name, cutter, share: hundredths(share) };
    found.push(report("plate-outlasts-cutter", data, { plate: stretch.name }));
  }
  return found;
}

function hundredths(value: number): number {
  return Math.round(value * 100) / 100;
}
