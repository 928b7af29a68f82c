/**
 * What an earlier plan of the same job worked out, for a plan that is made again after a change.
 *
 * Promise: stages are functions of their inputs, and a result is taken from memory only for equal inputs; so
 * a plan with a memory has the same bytes as one without. Results that come out of memory are the very objects
 * that went in, by which later stages know them again.
 * Keys name inputs by value (`keyOf`) or, where they are results of an earlier stage, by `id`.
 */
export interface PlanMemory {
  readonly recall: <T>(
    stage: string,
    key: () => string,
    make: () => T,
    /** Where some results are not for keeping. */
    lasting?: (made: T) => boolean,
  ) => T;
  /** The same number for the same object, as long as it lives. */
  readonly id: (value: object) => number;
}

/** More than the drawings of any one job, and the last few plans' worth of everything else. */
const KEPT = 64;

export function planMemory(): PlanMemory {
  const stages = new Map<string, Map<string, unknown>>();
  const ids = new WeakMap<object, number>();
  let next = 0;
  return {
    recall(stage, key, make, lasting = () => true) {
      const kept = stages.get(stage) ?? new Map<string, unknown>();
      stages.set(stage, kept);
      const name = key();
      const value = kept.has(name) ? (kept.get(name) as ReturnType<typeof make>) : make();
      if (!lasting(value)) return value;
      // A Map keeps the order of entry: what was used last goes last.
      kept.delete(name);
      kept.set(name, value);
      for (const oldest of kept.keys()) {
        if (kept.size <= KEPT) break;
        kept.delete(oldest);
      }
      return value;
    },
    id(value) {
      const known = ids.get(value) ?? next++;
      ids.set(value, known);
      return known;
    },
  };
}

/** For a plan that stands alone: nothing is kept, and no key is ever made. */
export const NO_MEMORY: PlanMemory = {
  recall: (_stage, _key, make) => make(),
  id: () => 0,
};

export const keyOf = (...values: readonly unknown[]): string => JSON.stringify(values);
