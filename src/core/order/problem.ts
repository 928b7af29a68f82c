/**
 * The shortest way through a set of stops, each with several ways to be made, where some must come before others:
 * the precedence-constrained generalised travelling-salesman problem, open or with ways in and out.
 *
 * A stop is made by exactly one of its choices (where to enter, which way round). Choices are numbered through:
 * those of stop 0 first, then those of stop 1, and so on. Costs may be asymmetric: from where a choice ends to where
 * the next begins. What a stop costs in itself goes into `own`, and the way from and to the world outside into
 * `start` and `end`; a first or last stop is one that comes before or after all others.
 *
 * This room knows no plates, cutters or seconds: costs are numbers that are to be small, finite, and may be zero.
 */

export interface OrderProblem {
  /** How many choices each stop has, at least one each. */
  readonly choices: readonly number[];
  /** For each stop the stops that come before it. Where these run in a ring, see `soundPrecedence`. */
  readonly after: readonly (readonly number[])[];
  /** From the end of choice `a` to the beginning of choice `b`, of different stops. */
  readonly cost: (a: number, b: number) => number;
  /** Of making a stop by this choice; none: 0. */
  readonly own?: (choice: number) => number;
  /** From outside to the beginning of the first choice; none: 0. */
  readonly start?: (choice: number) => number;
  /** From the end of the last choice to outside; none: 0. */
  readonly end?: (choice: number) => number;
}

export interface Tour {
  /** Stops in their order. */
  readonly stops: readonly number[];
  /** The choice of each stop, in the same order, numbered through. */
  readonly choices: readonly number[];
  readonly cost: number;
}

/**
 * A problem made ready: choices in a row, costs in a table where it is small enough, two stops more for the way in
 * and the way out. `work` counts what has been done, in steps: a cost looked at, or work like it.
 */
export interface Ready {
  /** Stops, without the two outside; these are numbered `count` (in) and `count + 1` (out). */
  readonly count: number;
  /** The first choice of each stop; one entry more than there are stops, outside included. */
  readonly first: Int32Array;
  readonly stopOf: Int32Array;
  /** Stops that come directly before and after each one. */
  readonly before: readonly Int32Array[];
  readonly behind: readonly Int32Array[];
  readonly size: number;
  readonly table: Float64Array | undefined;
  readonly far: (a: number, b: number) => number;
  work: number;
}

/** Choices up to which costs are kept in a table: 18 MB at most. */
const MOST_KEPT = 1500;

/** With a table where it fills in a part of the steps that there are. */
export function ready(problem: OrderProblem, steps: number = Number.MAX_VALUE): Ready {
  const count = problem.choices.length;
  const first = new Int32Array(count + 3);
  for (let s = 0; s < count; s++) first[s + 1] = (first[s] as number) + (problem.choices[s] ?? 1);
  const into = first[count] as number;
  first[count + 1] = into + 1;
  first[count + 2] = into + 2;
  const size = into + 2;
  const stopOf = new Int32Array(size);
  for (let s = 0; s < count + 2; s++) stopOf.fill(s, first[s], first[s + 1]);
  const far = costBetween(problem, into);
  const { before, behind } = neighbours(problem);
  const made = { count, first, stopOf, before, behind, size, far, work: 0 };
  if (size > MOST_KEPT || 2 * size * size > steps) return { ...made, table: undefined };
  const table = new Float64Array(size * size);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < size; b++) table[a * size + b] = stopOf[a] === stopOf[b] ? 0 : far(a, b);
  }
  return { ...made, table, work: size * size };
}

function costBetween(problem: OrderProblem, into: number): (a: number, b: number) => number {
  const { cost, own, start, end } = problem;
  const out = into + 1;
  return (a, b) => {
    // Nothing lies between in and out but where there is nothing to do.
    if (b === into || a === out) return 0;
    if (b === out) return a === into ? 0 : (end?.(a) ?? 0);
    return (a === into ? (start?.(b) ?? 0) : cost(a, b)) + (own?.(b) ?? 0);
  };
}

function neighbours(problem: OrderProblem): Pick<Ready, "before" | "behind"> {
  const after = soundPrecedence(problem.after);
  const behind: number[][] = after.map(() => []);
  for (const [s, firsts] of after.entries()) for (const f of firsts) behind[f]?.push(s);
  const rows = (lists: readonly (readonly number[])[]): Int32Array[] =>
    [...lists, [], []].map((list) => Int32Array.from(list));
  return { before: rows(after), behind: rows(behind) };
}

/**
 * Precedence without doubles, stops that are not there, and rings: of a ring, what would close it (in the order of
 * the stops) is left out. Nested plates have none; a caller that can have them looks for them itself.
 */
export function soundPrecedence(after: readonly (readonly number[])[]): number[][] {
  const kept = after.map((list, s) => [
    ...new Set(list.filter((f) => f !== s && f >= 0 && f < after.length)),
  ]);
  const state = new Uint8Array(after.length);
  for (let root = 0; root < kept.length; root++) {
    // Depth first without recursion: a chain of stops may be long.
    const path: { stop: number; next: number }[] =
      state[root] === 0 ? [{ stop: root, next: 0 }] : [];
    while (path.length > 0) {
      const top = path[path.length - 1] as { stop: number; next: number };
      const list = kept[top.stop] as number[];
      state[top.stop] = 1;
      const f = list[top.next];
      if (f === undefined) {
        state[top.stop] = 2;
        path.pop();
      } else if (state[f] === 1) list.splice(top.next, 1);
      else {
        top.next++;
        if (state[f] === 0) path.push({ stop: f, next: 0 });
      }
    }
  }
  return kept;
}

/** From the end of choice `a` to the beginning of choice `b`, with what `b` costs in itself. */
export function between(r: Ready, a: number, b: number): number {
  return r.table === undefined ? r.far(a, b) : (r.table[a * r.size + b] as number);
}

/** Of the stops in this order by these choices, the way in and out with it. */
export function costOf(r: Ready, choices: ArrayLike<number>): number {
  let at = r.size - 2;
  let sum = 0;
  for (let i = 0; i < choices.length; i++) {
    sum += between(r, at, choices[i] as number);
    at = choices[i] as number;
  }
  return sum + between(r, at, r.size - 1);
}
