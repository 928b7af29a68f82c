/** Tours are sound, and as short as any where all of them can be tried. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bestEntries, entryRoom } from "../../src/core/order/entries.ts";
import { shortTour } from "../../src/core/order/order.ts";
import { pathOf } from "../../src/core/order/path.ts";
import { ready, soundPrecedence } from "../../src/core/order/problem.ts";
import { faultsOf, leastByEntries, leastOf, madeUp, wayOf } from "./support.ts";

const seed = fc.integer({ min: 1, max: 1e6 });
const bound = fc.constantFrom(0, 0.1, 0.3, 0.7);

describe("few stops", () => {
  const shape = fc.record({ stops: fc.integer({ min: 1, max: 7 }), most: fc.constant(3), bound });

  test("the shortest tour there is, worked out", () => {
    fc.assert(
      fc.property(seed, shape, (n, s) => {
        const problem = madeUp(n, s);
        const tour = shortTour(problem, { steps: 1e7 });
        expect(faultsOf(problem, tour)).toEqual([]);
        expect(tour.cost).toBeCloseTo(leastOf(problem), 9);
      }),
      { numRuns: 60 },
    );
  });

  test("and searched for, as where there are more", () => {
    fc.assert(
      fc.property(seed, shape, fc.boolean(), (n, s, plane) => {
        const problem = madeUp(n, { ...s, plane });
        const tour = shortTour(problem, { steps: 3e6, exactUpTo: 0 });
        expect(faultsOf(problem, tour)).toEqual([]);
        expect(tour.cost).toBeCloseTo(leastOf(problem), 9);
      }),
      { numRuns: 30 },
    );
  });

  test.each([0, 0.2])("nine, of which a share of %d of the pairs is bound", (share) => {
    for (const n of [1, 2, 3]) {
      const problem = madeUp(n, { stops: 9, most: 2, bound: share, plane: true });
      const least = leastOf(problem);
      expect(shortTour(problem, { steps: 1e8 }).cost).toBeCloseTo(least, 9);
      expect(shortTour(problem, { steps: 1e7, exactUpTo: 0 }).cost).toBeCloseTo(least, 9);
    }
  });
});

describe("many stops", () => {
  const shape = fc.record({
    stops: fc.integer({ min: 10, max: 120 }),
    most: fc.integer({ min: 1, max: 4 }),
    bound: fc.constantFrom(0, 0.02, 0.2),
    plane: fc.boolean(),
  });

  test("precedence is kept, each stop is made once, by a choice of its own, and the cost is true", () => {
    fc.assert(
      fc.property(seed, shape, (n, s) => {
        const problem = madeUp(n, s);
        for (const steps of [0, 1e4, 5e5]) {
          expect(faultsOf(problem, shortTour(problem, { steps }))).toEqual([]);
        }
      }),
      { numRuns: 25 },
    );
  });

  test("never longer than the start, nor than the nearest neighbour by first choices", () => {
    fc.assert(
      fc.property(seed, shape, (n, s) => {
        const problem = madeUp(n, s);
        const plain = shortTour(problem, { steps: 0 });
        const short = shortTour(problem, { steps: 2e5 });
        expect(short.cost).toBeLessThanOrEqual(plain.cost * (1 + 1e-9));
        const again = shortTour(problem, { steps: 2e4, start: short.choices, seed: 7 });
        expect(again.cost).toBeLessThanOrEqual(short.cost * (1 + 1e-9));
      }),
      { numRuns: 20 },
    );
  });

  test("a start that is no tour is refused", () => {
    const problem = madeUp(3, { stops: 80, most: 2, bound: 0.05 });
    const { choices } = shortTour(problem, { steps: 1e4 });
    const from = (start: readonly number[]) => () => shortTour(problem, { steps: 1e4, start });
    expect(from(choices)).not.toThrow();
    expect(from([...choices.slice(1), choices[1] ?? 0])).toThrow(/twice/);
    expect(from(choices.slice(1))).toThrow(/leaves out/);
    expect(from([...choices.slice(1), 1e6])).toThrow(/belongs to no stop/);
    expect(from([...choices].reverse())).toThrow(/before/);
  });

  test("the same input gives the same tour", () => {
    fc.assert(
      fc.property(seed, shape, (n, s) => {
        const run = (): unknown => shortTour(madeUp(n, s), { steps: 2e5, seed: n });
        expect(run()).toEqual(run());
      }),
      { numRuns: 10 },
    );
  });

  test("a chain in a scattered order is taken as the chain demands", () => {
    const problem = madeUp(5, { stops: 60, most: 1, bound: 0 });
    const chain = problem.choices.map((_, s) => (s * 7) % 60);
    const after = problem.choices.map((_, s) => {
      const at = chain.indexOf(s);
      return at === 0 ? [] : [chain[at - 1] ?? 0];
    });
    const tour = shortTour({ ...problem, after }, { steps: 1e6 });
    expect(tour.stops).toEqual(chain);
    expect(tour.cost).toBeCloseTo(leastOf({ ...problem, after }), 9);
  });

  test("too many choices for a table of costs come to the same", () => {
    // 800 stops in a row, twice each.
    const spot = (c: number): number => Math.floor(c / 2) * 3 + (c % 2 === 0 ? 0 : 1);
    const problem = {
      choices: Array<number>(800).fill(2),
      after: Array.from({ length: 800 }, () => []),
      cost: (a: number, b: number) => Math.abs(spot(a) - spot(b)),
      start: (b: number) => spot(b),
    };
    const tour = shortTour(problem, { steps: 2e7 });
    expect(faultsOf(problem, tour)).toEqual([]);
    expect(tour.cost).toBe(spot(1598));
  });
});

describe("entries", () => {
  test("the best for an order, as by trying all", () => {
    fc.assert(
      fc.property(seed, fc.integer({ min: 1, max: 8 }), (n, stops) => {
        const problem = madeUp(n, { stops, most: 4, bound: 0 });
        const r = ready(problem);
        const tour = shortTour(problem, { steps: 0 });
        const path = pathOf(r, tour.choices);
        const cost = bestEntries(r, path.stops, path.choices, entryRoom(r), [1, stops]);
        expect(cost).toBeCloseTo(leastByEntries(problem, tour.stops), 9);
        const choices = [...path.choices.slice(1, stops + 1)];
        expect(wayOf(problem, choices)).toBeCloseTo(cost, 9);
      }),
      { numRuns: 50 },
    );
  });
});

describe("odd input", () => {
  test("nothing to do", () => {
    const none = shortTour({ choices: [], after: [], cost: () => 1 }, { steps: 1000 });
    expect(none).toEqual({ stops: [], choices: [], cost: 0 });
  });

  test("what a choice costs in itself counts", () => {
    const problem = { choices: [2], after: [[]], cost: () => 0, own: (c: number) => 5 - c };
    expect(shortTour(problem, { steps: 1000 })).toEqual({ stops: [0], choices: [1], cost: 4 });
  });

  test("a ring of precedence is opened, and the rest of it kept", () => {
    const after = [[2], [0], [1], [7, 3, 0, 0]];
    expect(soundPrecedence(after)).toEqual([[2], [], [1], [0]]);
    const problem = { choices: [1, 1, 1, 1], after, cost: (a: number, b: number) => a + b };
    expect(shortTour(problem, { steps: 1e5 }).stops.slice(0, 3)).toEqual([1, 2, 0]);
  });
});
