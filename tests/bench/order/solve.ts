/** An instance as the ordering room takes it, and the tour that it gives, in the instance's nodes. */
import { type OrderOptions, shortTour } from "../../../src/core/order/order.ts";
import type { OrderProblem } from "../../../src/core/order/problem.ts";
import type { Instance } from "./instance.ts";

/** Where there is no way: dearer than any tour, and far from where doubles lose units. */
const NO_WAY = 1e9;

/**
 * The start group is what lies outside: the way from it is the way in, the way back the way out. It has one node in
 * all instances.
 */
export function solve(instance: Instance, options: OrderOptions): number[] {
  const { groups, startGroup, closed } = instance;
  const home = groups[startGroup]?.[0] ?? 0;
  if (groups[startGroup]?.length !== 1)
    throw new Error(`${instance.name}: a start of several nodes`);
  const stops = groups.flatMap((_, g) => (g === startGroup ? [] : [g]));
  const nodes = stops.flatMap((g) => groups[g] ?? []);
  const cost = (a: number, b: number): number => {
    const c = instance.costs[a]?.[b] ?? -1;
    return c < 0 ? NO_WAY : c;
  };
  const at = (choice: number): number => nodes[choice] ?? 0;
  const problem: OrderProblem = {
    choices: stops.map((g) => groups[g]?.length ?? 1),
    after: stops.map((g) =>
      instance.before
        .filter(([first, second]) => second === g && first !== startGroup)
        .map(([first]) => stops.indexOf(first)),
    ),
    cost: (a, b) => cost(at(a), at(b)),
    start: (b) => cost(home, at(b)),
    ...(closed ? { end: (a: number) => cost(at(a), home) } : {}),
  };
  return [home, ...shortTour(problem, options).choices.map(at)];
}
