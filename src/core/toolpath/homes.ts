/**
 * At home: what a plate gets where nothing lies near it.
 *
 * Copies of a plate are cut alike wherever they lie, unless something lies near. So what they get is worked out once, for
 * the plate as drawn or flipped over on an endless sheet, and serves all copies on all sheets of that stock; and it can be
 * worked out before anybody knows where they lie.
 */
import type { Cutter, Rates, TrialMaterial } from "../cutting/cutter.ts";
import { chooseRates } from "../cutting/rates.ts";
import type { RatesInput } from "../cutting/rates-input.ts";
import { type Outcome, stops } from "../finding/finding.ts";
import { remembering } from "../geometry/remember.ts";
import { type Sheet, thicknessOf } from "../layout/layout.ts";
import { placementOf } from "../layout/placed.ts";
import type { Machine } from "../machine/machine.ts";
import type { Plate } from "../plate/plate.ts";
import { type Assignment, assignCutters, runningOrder } from "./choose/assign.ts";
import type { CuttingOptions } from "./cut.ts";
import { type Setup, setupOf } from "./follow/setup.ts";
import { type AtHome, type Stops, stopsAt } from "./stops.ts";

export interface HomesInput {
  readonly cutters: readonly Cutter[];
  readonly options: CuttingOptions;
  readonly machine: Machine;
  /** Feeds and speeds for this instead of the sheets' own materials; all else stays. */
  readonly trial?: TrialMaterial | undefined;
}

export interface Homes {
  readonly input: HomesInput;
  /** `cap`: the cutter of the window that the plate lies in. The same object for what is made alike. */
  readonly assigned: (plate: Plate, cap: Cutter | undefined) => Assignment;
  readonly rates: (sheet: Sheet, cutter: Cutter) => Outcome<Rates>;
  readonly setup: (sheet: Sheet, cutter: Cutter) => Setup;
  /** With the names of the first sheet and copy that asked. */
  readonly stops: (of: AtHome, setup: Setup) => Stops;
}

export function homesOf(input: HomesInput): Homes {
  const assignments = remembering<Plate, Assignment>();
  const rated = new Map<string, Outcome<Rates>>();
  const known = remembering<Assignment, Stops>();
  const numberOf = (cutter: Cutter): number => input.cutters.indexOf(cutter);
  const rates: Homes["rates"] = (sheet, cutter) => {
    const key = `${numberOf(cutter)} ${stockOf(sheet)}`;
    const made = rated.get(key) ?? ratesFor(sheet, cutter, input);
    rated.set(key, made);
    return made;
  };
  return {
    input,
    assigned: (plate, cap) =>
      assignments(plate, cap === undefined ? "" : numberOf(cap), () =>
        assignCutters(plate, input.cutters, cap),
      ),
    rates,
    setup: (sheet, cutter) =>
      setupOf({ ...input, sheet, cutter, rates: rates(sheet, cutter).value }),
    stops: ({ plate, assigned, flipped }, setup) => {
      const { sheet, cutter } = setup;
      const key = `${numberOf(cutter)} ${flipped} ${stockOf(sheet)}`;
      return known(assigned, key, () => {
        const home = placementOf(plate, { x: 0, y: 0, angle: 0, flipped }, 1);
        const endless = { ...sheet, outline: { segments: [] }, keepOuts: [] };
        const layout = { sheet: endless, placements: [home], utilisation: 0 };
        return stopsAt(layout, 0, assigned, setup);
      });
    },
  };
}

/** Sheets that differ in nothing else are cut alike. */
function stockOf(sheet: Sheet): string {
  return `${sheet.material} ${thicknessOf(sheet)} ${sheet.specificEnergy}`;
}

/** A trial keeps the depth of passes, so that the cutter goes the very way that it will go in the sheet. */
function ratesFor(
  sheet: Sheet,
  cutter: Cutter,
  { machine, options, trial }: HomesInput,
): Outcome<Rates> {
  const asked: RatesInput = {
    material: sheet.material,
    cutter,
    machine,
    thickness: thicknessOf(sheet),
    throughDepth: options.throughDepth,
    passDepth: options.passDepth,
    finishStock: options.finish.stock,
    rampDeg: options.rampDeg,
    specificEnergy: sheet.specificEnergy,
  };
  const own = chooseRates(asked);
  const { passDepth } = own.value;
  return trial === undefined || stops(own.findings)
    ? own
    : chooseRates({ ...asked, material: trial, passDepth, specificEnergy: undefined });
}

/**
 * What these plates will want on a sheet where they stand alone and as drawn, in pieces: for who has time before it is
 * known where they lie. A piece that nobody will want costs its time and nothing else.
 */
export function ahead(homes: Homes, sheet: Sheet, plates: readonly Plate[]): (() => void)[] {
  const cutters = runningOrder(homes.input.cutters);
  return cutters.flatMap((cutter) =>
    plates.map((plate) => () => {
      const assigned = homes.assigned(plate, undefined);
      if (!uses(assigned, cutter)) return;
      homes.stops({ plate, assigned, flipped: false }, homes.setup(sheet, cutter));
    }),
  );
}

export function uses({ outline, features }: Assignment, cutter: Cutter): boolean {
  return outline === cutter || [...features.values()].includes(cutter);
}
