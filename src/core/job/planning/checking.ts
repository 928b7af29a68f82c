/** What the job names as the check and fit rooms want it: plates with their sheets, and all that is asked of them. */
import type { CheckInput } from "../../check/view.ts";
import { type Fitted, fitMates } from "../../fit/apply.ts";
import type { FitChange } from "../../fit/mate.ts";
import type { Sheet, SheetLayout } from "../../layout/layout.ts";
import type { Plate } from "../../plate/plate.ts";
import type { Job, JobPlate } from "../job.ts";
import type { FitJson } from "../plan-json.ts";
import type { Gathered } from "./gather.ts";

/** Plates fitted to each other; by the job's entry, and what the fit room has to say. */
export function fitted(
  job: Job,
  found: ReadonlyMap<JobPlate, readonly Plate[]>,
  sheets: readonly Sheet[],
): Fitted {
  return fitMates({
    plates: job.plates.flatMap((p) => {
      const sheet = sheets.find((s) => s.name === p.sheet);
      const { name, count, mates, relief } = p;
      const entry = { name, plates: found.get(p) ?? [], count, mates, relief };
      // A sheet whose outline could not be read has stopped the job already.
      return sheet === undefined ? [] : [{ ...entry, sheet }];
    }),
    cutters: job.cutters,
    finishStock: job.cutting.finish.stock,
    propose: job.mates === "find",
  });
}

export function checkInput(
  job: Job,
  { sheets, orders, mating, fasteners }: Gathered,
  layouts?: readonly SheetLayout[],
): CheckInput {
  return {
    plates: orders.flatMap((o) => {
      const sheet = sheets.find((s) => s.name === o.sheet);
      if (sheet === undefined) return [];
      const { plate, count, fibreDeg } = o;
      const own = { fasteners: fasteners.get(plate.name), mating: mating.get(plate.name) };
      return [{ plate, count, fibreDeg, sheet, ...own }];
    }),
    sheets,
    cutters: job.cutters,
    machine: job.machine,
    cutting: job.cutting,
    propellers: job.props,
    ...(layouts === undefined ? {} : { layouts }),
  };
}

/** Changes as plan.json tells them; undefined where there are none. */
export function fitsJson(changes: readonly FitChange[]): readonly FitJson[] | undefined {
  if (changes.length === 0) return undefined;
  return changes.map(({ at, with: guest, clearance, relief, ...change }) => ({
    ...change,
    at: [at.x, at.y],
    ...(guest === undefined ? {} : { with: guest }),
    ...(clearance === undefined ? {} : { clearance }),
    ...(relief === undefined ? {} : { relief }),
  }));
}
