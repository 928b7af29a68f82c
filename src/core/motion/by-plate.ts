/** A program's seconds, metres or whatever else is known for each of its steps, plate by plate. */
import type { Trace } from "../program/read/trace.ts";

/**
 * Sums of per-step values over the stretches that begin at the given program lines, each to the next one;
 * what comes before the first belongs to none.
 */
export function splitByLine(
  trace: Trace,
  values: ArrayLike<number>,
  starts: readonly number[],
): readonly number[] {
  const order = starts.map((line, at) => ({ line, at })).sort((a, b) => a.line - b.line);
  const sums = new Array<number>(starts.length).fill(0);
  let k = -1;
  trace.steps.forEach((step, i) => {
    while (k + 1 < order.length && (order[k + 1]?.line ?? 0) <= step.line) k++;
    const into = order[k];
    if (into !== undefined) sums[into.at] = (sums[into.at] ?? 0) + (values[i] ?? 0);
  });
  return sums;
}

export interface PlateStart {
  readonly plate: string;
  readonly copy: number;
  readonly line: number;
}

/** Where plates begin, in programs that say so in comments as weftcut's do. */
export function plateStarts(trace: Trace): readonly PlateStart[] {
  return trace.comments.flatMap(({ line, text }) => {
    const found = /^\s*plate (.+) copy (\d+)\s*$/.exec(text);
    return found === null ? [] : [{ plate: found[1] ?? "", copy: Number(found[2]), line }];
  });
}
