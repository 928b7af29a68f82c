/** How high the cutter goes from cut to cut, once their order is known. */
import { distance } from "../../geometry/segment.ts";
import type { Machine } from "../../machine/machine.ts";
import { type Cut, placeCut } from "../cut.ts";
import type { Setup } from "../follow/setup.ts";
import type { Begin, Ordered, Spot, Travel } from "../order.ts";
import { spotAfter } from "../order.ts";
import { type Ground, isClear, isOpen, setFree } from "./ground.ts";
import { airTimes } from "./time.ts";

/** Seconds of links on this ground; what is cut free on the way is left out, for it depends on the order. */
export function travelOn(ground: Ground, setup: Setup, machine: Machine): Pick<Travel, "seconds"> {
  const { lift, across } = airTimes(machine);
  const { clearance, hop } = setup.options;
  return {
    seconds: (from: Spot, to: Begin) => {
      if (from.z === undefined) return across(from.at, to.start) + lift(clearance - to.startZ);
      const height = isClear(ground, from.at, to.start, setup) ? hop : clearance;
      return lift(height - from.z) + across(from.at, to.start) + lift(height - to.startZ);
    },
  };
}

/** The cuts of each plate with their links; what comes free is added to the ground. */
export function linked(ordered: readonly Ordered[], ground: Ground, setup: Setup): Cut[][] {
  let from: Spot | undefined;
  return ordered.map(({ made }) =>
    made.flatMap(({ stop, cuts }) => {
      const { toSheet, frees } = stop;
      const placed = toSheet === undefined ? cuts : cuts.map((cut) => placeCut(cut, toSheet));
      const out = placed.map((cut): Cut => {
        const low = from !== undefined && isLow(ground, from, cut, setup);
        from = spotAfter(cut);
        return low ? { ...cut, linkZ: setup.options.hop } : cut;
      });
      for (const piece of frees ?? []) setFree(ground, piece);
      return out;
    }),
  );
}

function isLow(ground: Ground, from: Spot, { start }: Cut, setup: Setup): boolean {
  // Straight down again where it is: nothing lies between.
  if (distance(from.at, start) === 0) return setup.options.hop < setup.options.clearance;
  return isOpen(ground, from.at, start, setup);
}
