/** Median and range of repeated measures, and the order in which they are taken. */

export interface Spread {
  readonly median: number;
  readonly least: number;
  readonly most: number;
}

export function spread(values: readonly number[]): Spread {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] ?? Number.NaN;
  const lower = sorted.length % 2 === 1 ? upper : (sorted[middle - 1] ?? Number.NaN);
  return {
    median: (upper + lower) / 2,
    least: sorted[0] ?? Number.NaN,
    most: sorted.at(-1) ?? Number.NaN,
  };
}

/**
 * Runs every contender once before any runs again, so that a machine that warms up or gets busy
 * does so for all of them. `results`: of runs before, which are added to.
 */
export function interleaved<T>(
  contenders: Readonly<Record<string, () => T>>,
  rounds: number,
  results: Map<string, T[]> = new Map(),
): Map<string, T[]> {
  for (let round = 0; round < rounds; round++) {
    for (const [name, run] of Object.entries(contenders)) {
      results.set(name, [...(results.get(name) ?? []), run()]);
    }
  }
  return results;
}

/** `1.24 (1.20–1.31)`, in so many digits after the point; the median alone where all are the same. */
export function shown({ median, least, most }: Spread, digits: number): string {
  const text = (x: number) => x.toFixed(digits);
  return least === most ? text(median) : `${text(median)} (${text(least)}–${text(most)})`;
}

/** Milliseconds that `work` took, and what it gave. */
export function timed<T>(work: () => T): { readonly ms: number; readonly value: T } {
  const before = performance.now();
  const value = work();
  return { ms: performance.now() - before, value };
}
