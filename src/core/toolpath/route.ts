/**
 * From plates on sheets to cuts: which cutter makes what, in which order, and how.
 *
 * Promise: on each sheet every inner feature is cut before the outline that holds it, a plate is
 * finished before the next begins (unless the job asks for the shortest way over the whole sheet), and a plate inside a
 * window before that window; in the order in which the programs are run this holds across cutters too (assign.ts says
 * why).
 * Cost: near linear in plates; the order takes as many steps as it is given.
 */

import type { Cutter, Rates, TrialMaterial } from "../cutting/cutter.ts";
import { chooseRates } from "../cutting/rates.ts";
import type { RatesInput } from "../cutting/rates-input.ts";
import { type Finding, stops } from "../finding/finding.ts";
import { oncePerPlate } from "../finding/say-toolpath.ts";
import type { Point } from "../geometry/shape.ts";
import { type Placement, type SheetLayout, thicknessOf } from "../layout/layout.ts";
import type { Machine } from "../machine/machine.ts";
import type { Plate } from "../plate/plate.ts";
import { type Assignment, assignCutters, runningOrder } from "./choose/assign.ts";
import type { CutProgram, CuttingOptions, PlateBlock, Routed, Tab } from "./cut.ts";
import { type Setup, setupOf } from "./follow/setup.ts";
import { type Ground, groundOf } from "./link/ground.ts";
import { linked, travelOn } from "./link/linked.ts";
import { type PlateStops, QUICK_STEPS, shortOrder } from "./order.ts";
import { type Stops, stopsOn } from "./stops.ts";

export interface RouteOptions {
  readonly cutters: readonly Cutter[];
  readonly options: CuttingOptions;
  readonly machine: Machine;
  /** For each cut, what its order may cost (order/order.ts); absent: a little; 0: the nearest from the usual entries. */
  readonly orderSteps?: number | undefined;
  /** Feeds and speeds for this instead of the sheets' own materials; all else stays. */
  readonly trial?: TrialMaterial | undefined;
}

export interface RouteInput extends RouteOptions {
  readonly layouts: readonly SheetLayout[];
}

export function route({ layouts, ...input }: RouteInput): Routed {
  return joinRoutes(layouts.map((layout) => beginRoute(layout, input).route()));
}

/** One sheet. What each of its programs is cut with is known before any way is looked for. */
export interface SheetRoute {
  readonly heads: readonly ProgramHead[];
  readonly route: () => Routed;
}

export type ProgramHead = Omit<CutProgram, "blocks">;

/** The job's sheets, in their order. */
export function joinRoutes(sheets: readonly Routed[]): Routed {
  return {
    programs: sheets.flatMap((p) => p.programs),
    tabs: sheets.flatMap((p) => p.tabs),
    findings: oncePerPlate(oncePerCopy(sheets.flatMap((p) => p.findings))),
  };
}

/** Copies of a plate have the same to say; once is enough. */
function oncePerCopy(findings: readonly Finding[]): Finding[] {
  const seen = new Set<string>();
  return findings.filter((f) => {
    const key = `${f.code}|${f.plate}|${f.message}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

export function beginRoute(layout: SheetLayout, input: RouteOptions): SheetRoute {
  if (layout.placements.length === 0) {
    return { heads: [], route: () => ({ programs: [], tabs: [], findings: [] }) };
  }
  const { sheet } = layout;
  const { trial } = input;
  const assigned = assignAll(layout, input.cutters);
  const used = runningOrder(input.cutters).filter((c) => assigned.some((a) => uses(a, c)));
  const rated = used.map((cutter) => ({ cutter, rates: ratesFor(layout, cutter, input) }));
  const heads = rated.map(({ cutter, rates }): ProgramHead => {
    return { sheet, cutter, rates: rates.value, ...(trial === undefined ? {} : { trial }) };
  });
  const route = (): Routed => {
    const findings: Finding[] = assigned.flatMap((a) => a.findings);
    const tabs: Tab[] = [];
    const ground = groundOf(sheet);
    const programs = heads.map((head, i): CutProgram => {
      findings.push(...(rated[i]?.rates.findings ?? []));
      const setup = setupOf({ ...head, ...input });
      const made = blocksFor({ layout, assigned, setup, ground, input });
      tabs.push(...made.tabs);
      findings.push(...made.findings);
      return { ...head, blocks: made.blocks };
    });
    return { programs, tabs, findings };
  };
  return { heads, route };
}

/** A trial keeps the depth of passes, so that the cutter goes the very way that it will go in the sheet. */
function ratesFor(
  { sheet }: SheetLayout,
  cutter: Cutter,
  { machine, options, trial }: RouteOptions,
): { value: Rates; findings: readonly Finding[] } {
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
  const { value, findings } =
    trial === undefined || stops(own.findings)
      ? own
      : chooseRates({ ...asked, material: trial, passDepth, specificEnergy: undefined });
  return { value, findings: findings.map((f) => ({ ...f, sheet: sheet.name })) };
}

function uses(a: Assignment, cutter: Cutter): boolean {
  return a.outline === cutter || [...a.features.values()].includes(cutter);
}

/** Hosts before the plates in their windows, since a window's cutter caps what lies in it. */
function assignAll({ placements }: SheetLayout, cutters: readonly Cutter[]): Assignment[] {
  const memo = new Map<Plate, Map<Cutter | undefined, Assignment>>();
  const done: Assignment[] = [];
  const assign = (index: number): Assignment => {
    const known = done[index];
    if (known !== undefined) return known;
    const { plate, inside } = placements[index] as Placement;
    const cap =
      inside === undefined ? undefined : assign(inside.placement).features.get(inside.feature);
    const own = memo.get(plate) ?? new Map<Cutter | undefined, Assignment>();
    memo.set(plate, own);
    const made = own.get(cap) ?? assignCutters(plate, cutters, cap);
    own.set(cap, made);
    done[index] = made;
    return made;
  };
  return placements.map((_, i) => assign(i));
}

interface BlockJob {
  readonly layout: SheetLayout;
  readonly assigned: readonly Assignment[];
  readonly setup: Setup;
  /** What has been cut free so far is in it, by the programs before too. */
  readonly ground: Ground;
  readonly input: RouteOptions;
}

interface Blocks {
  readonly blocks: PlateBlock[];
  readonly tabs: Tab[];
  readonly findings: Finding[];
}

function blocksFor(job: BlockJob): Blocks {
  const { layout, assigned, setup, ground, input } = job;
  const made = stopsOn(layout, assigned, setup);
  const busy = made.flatMap((m, i) => (m.inner.length > 0 || m.outline !== undefined ? [i] : []));
  const plates = busy.map((i): PlateStops => {
    const nested = (k: number): boolean => layout.placements[k]?.inside?.placement === i;
    const after = busy.flatMap((k, n) => (nested(k) ? [n] : []));
    return { ...(made[i] as Stops), after };
  });
  const ordered = shortOrder(plates, {
    ...travelOn(ground, setup, input.machine),
    origin: ORIGIN,
    steps: input.orderSteps ?? QUICK_STEPS,
    whole: input.options.order === "whole-sheet",
  });
  const cuts = linked(ordered, ground, setup);
  const order = ordered.map(({ plate }) => busy[plate] as number);
  return {
    blocks: order.map((i, k) => {
      const { plate, copy } = layout.placements[i] as Placement;
      return { plate: plate.name, copy, cuts: cuts[k] ?? [] };
    }),
    tabs: [...new Set(order)].flatMap((i) => made[i]?.tabs ?? []),
    findings: made.flatMap((m) => m.findings).map((f) => ({ ...f, sheet: setup.sheet.name })),
  };
}

const ORIGIN: Point = { x: 0, y: 0 };
