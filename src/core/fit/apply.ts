/**
 * Mates applied: slots get the width of the sheet that sits in them, as measured, and the length of its tenon; tenons
 * reach through and have their roots cut free; windows get the relief that was asked for.
 *
 * Promise: a slot's walls are (thickness + clearance + the cutter's fit offset) apart and its ends (tenon + the same
 * room), on the drawing's grid. What changes is recorded, and told as a note; what cannot be fitted stays as drawn and
 * is told as a warning. Edges of tenons are kept for the toolpath, which puts no holding tab on them.
 * Cost: O(tenons × slots), and one distance query for each relief that is weighed.
 */
import type { Finding } from "../finding/finding.ts";
import { timesFitted } from "../finding/say-fit.ts";
import type { Line } from "../geometry/shape.ts";
import type { Plate } from "../plate/plate.ts";
import { fitSlot } from "./fit-slot.ts";
import { fitTenons } from "./fit-tenon.ts";
import type { FitChange, FitInput, FitPlate } from "./mate.ts";
import { type Met, metMates, unmatched } from "./meet.ts";
import { proposals } from "./propose.ts";
import { remade, type Step, withFeatures } from "./shape/rework.ts";
import { edgesOf, tenonsOf } from "./shape/tenon.ts";
import { relieveWindows } from "./window.ts";

export interface Fitted {
  /** In the order of the input. */
  readonly plates: readonly (readonly Plate[])[];
  readonly changes: readonly FitChange[];
  readonly findings: readonly Finding[];
  /** Openings in which a plate sits, by plate name. */
  readonly mating: ReadonlyMap<string, ReadonlySet<number>>;
}

export function fitMates(input: FitInput): Fitted {
  const { mates, findings } = metMates(input);
  const changes: FitChange[] = [];
  const mating = new Map<string, Set<number>>();
  const plates = input.plates.map((p) =>
    p.plates.map((drawn) => {
      const own = mates.filter((m) => m.host.plate === drawn);
      mating.set(drawn.name, new Set(own.map((m) => m.host.feature.id)));
      const steps = [
        (plate: Plate) => fitSlots(input, p, plate, own),
        (plate: Plate) => relieveWindows(input, p, plate),
        (plate: Plate) => fitTenons(input, p, plate, tenonsWanted(mates, p)),
      ];
      const fitted = steps.reduce((plate, step) => {
        const made = step(plate);
        changes.push(...made.changes);
        findings.push(...alike(made.findings));
        return made.plate;
      }, drawn);
      return withEdges(fitted, tenonsWanted(mates, p));
    }),
  );
  findings.push(...unmatched(input, mates));
  if (input.propose) findings.push(...proposals(input));
  return { plates, changes, findings, mating };
}

/** Mates whose tenons are on this entry's plates. */
function tenonsWanted(mates: readonly Met[], p: FitPlate): Met[] {
  return mates.filter((m) => m.guest === p);
}

function fitSlots(input: FitInput, p: FitPlate, plate: Plate, mates: readonly Met[]): Step {
  const changes: FitChange[] = [];
  const findings: Finding[] = [];
  const features = plate.features.map((f) => {
    const mate = mates.find((m) => m.host.feature.id === f.id);
    if (mate === undefined) return f;
    const made = fitSlot(input, p, plate, mate);
    findings.push(...made.findings);
    if (made.change === undefined || made.contour === undefined) return f;
    changes.push(made.change);
    return remade(f, made.contour);
  });
  return { plate: withFeatures(plate, features), changes, findings };
}

const TOLD_ONCE: ReadonlySet<string> = new Set(["slot-fitted", "tenon-fitted"]);

/** Slots and tenons that were changed alike are told once, with their number. */
function alike(findings: readonly Finding[]): Finding[] {
  const told = new Map<string, Finding[]>();
  for (const f of findings) told.set(f.message, [...(told.get(f.message) ?? []), f]);
  return [...told.values()].flatMap((same) => {
    const [first] = same;
    return first === undefined || !TOLD_ONCE.has(first.code)
      ? same
      : [timesFitted(first, same.length)];
  });
}

/** No holding tab goes where the plate sits in another. */
function withEdges(plate: Plate, mates: readonly Met[]): Plate {
  if (mates.length === 0) return plate;
  const own = tenonsOf(plate).filter((t) => mates.some((m) => m.fits(t)));
  const edges: Line[] = own.flatMap((t) => edgesOf(plate, t));
  return edges.length === 0 ? plate : { ...plate, matingEdges: [...new Set(edges)] };
}
