/** Random choices for made up data, from a seed. */
import { seeded } from "../../src/core/geometry/seeded.ts";

export interface Dice {
  /** With a step, one of the numbers so far apart. */
  readonly between: (lo: number, hi: number, step?: number) => number;
  readonly pick: <T>(list: readonly T[]) => T;
  readonly chance: (p: number) => boolean;
}

/** `usual`: the step where none is said; absent, all numbers come. */
export function diceOf(seed: number, usual?: number): Dice {
  const random = seeded(seed);
  return {
    between: (lo, hi, step = usual) =>
      step === undefined
        ? lo + (hi - lo) * random()
        : Number((lo + Math.floor((random() * (hi - lo)) / step + 0.5) * step).toFixed(4)),
    pick: (list) => list[Math.floor(random() * list.length)] as (typeof list)[number],
    chance: (p) => random() < p,
  };
}
