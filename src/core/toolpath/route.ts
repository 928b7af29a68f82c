/**
 * From plates on sheets to cuts: which cutter makes what, in which order, and how.
 *
 * Promise: on each sheet every inner feature is cut before the outline that holds it, a plate is
 * finished before the next begins (unless the job asks for the shortest way over the whole sheet), and a plate inside a
 * window before that window; in the order in which the programs are run this holds across cutters too (assign.ts says
 * why).
 * Cost: near linear in plates; the order takes as many steps as it is given.
 */

import type { Finding } from "../finding/finding.ts";
import { oncePerPlate } from "../finding/say-toolpath.ts";
import type { Point } from "../geometry/shape.ts";
import type { Placement, SheetLayout } from "../layout/layout.ts";
import { type Assignment, runningOrder } from "./choose/assign.ts";
import type { CutProgram, PlateBlock, Routed, Tab } from "./cut.ts";
import { type Homes, type HomesInput, homesOf, uses } from "./homes.ts";
import { type Ground, groundOf } from "./link/ground.ts";
import { linked, travelOn } from "./link/linked.ts";
import { type PlateStops, QUICK_STEPS, shortOrder } from "./order.ts";
import { type Stops, stopsOn } from "./stops.ts";

export interface RouteInput extends HomesInput {
  readonly layouts: readonly SheetLayout[];
  readonly orderSteps?: number | undefined;
}

export function route({ layouts, orderSteps, ...input }: RouteInput): Routed {
  const homes = homesOf(input);
  return joinRoutes(layouts.map((layout) => beginRoute(layout, homes, orderSteps).route()));
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

/** `orderSteps`: for each cut, what its order may cost (order/order.ts); absent: a little; 0: the nearest next. */
export function beginRoute(
  layout: SheetLayout,
  homes: Homes,
  orderSteps: number = QUICK_STEPS,
): SheetRoute {
  if (layout.placements.length === 0) {
    return { heads: [], route: () => ({ programs: [], tabs: [], findings: [] }) };
  }
  const { sheet } = layout;
  const { cutters, trial } = homes.input;
  const assigned = assignAll(layout, homes);
  const used = runningOrder(cutters).filter((c) => assigned.some((a) => uses(a, c)));
  const heads = used.map((cutter): ProgramHead => {
    const rates = homes.rates(sheet, cutter).value;
    return { sheet, cutter, rates, ...(trial === undefined ? {} : { trial }) };
  });
  const route = (): Routed => {
    const findings: Finding[] = assigned.flatMap((a) => a.findings);
    const tabs: Tab[] = [];
    const ground = groundOf(sheet);
    const programs = heads.map((head): CutProgram => {
      const rated = homes.rates(sheet, head.cutter).findings;
      findings.push(...rated.map((f) => ({ ...f, sheet: sheet.name })));
      const made = blocksFor({ layout, assigned, head, ground, homes, orderSteps });
      tabs.push(...made.tabs);
      findings.push(...made.findings);
      return { ...head, blocks: made.blocks };
    });
    return { programs, tabs, findings };
  };
  return { heads, route };
}

/** Hosts before the plates in their windows, since a window's cutter caps what lies in it. */
function assignAll({ placements }: SheetLayout, homes: Homes): Assignment[] {
  const done: Assignment[] = [];
  const assign = (index: number): Assignment => {
    const known = done[index];
    if (known !== undefined) return known;
    const { plate, inside } = placements[index] as Placement;
    const cap =
      inside === undefined ? undefined : assign(inside.placement).features.get(inside.feature);
    const made = homes.assigned(plate, cap);
    done[index] = made;
    return made;
  };
  return placements.map((_, i) => assign(i));
}

interface BlockJob {
  readonly layout: SheetLayout;
  readonly assigned: readonly Assignment[];
  readonly head: ProgramHead;
  /** What has been cut free so far is in it, by the programs before too. */
  readonly ground: Ground;
  readonly homes: Homes;
  readonly orderSteps: number;
}

interface Blocks {
  readonly blocks: PlateBlock[];
  readonly tabs: Tab[];
  readonly findings: Finding[];
}

function blocksFor(job: BlockJob): Blocks {
  const { layout, assigned, head, ground, homes, orderSteps } = job;
  const { machine, options } = homes.input;
  const setup = homes.setup(head.sheet, head.cutter);
  const made = stopsOn(layout, assigned, setup, homes.stops);
  const busy = made.flatMap((m, i) => (m.inner.length > 0 || m.outline !== undefined ? [i] : []));
  const plates = busy.map((i): PlateStops => {
    const nested = (k: number): boolean => layout.placements[k]?.inside?.placement === i;
    const after = busy.flatMap((k, n) => (nested(k) ? [n] : []));
    return { ...(made[i] as Stops), after };
  });
  const ordered = shortOrder(plates, {
    ...travelOn(ground, setup, machine),
    origin: ORIGIN,
    steps: orderSteps,
    whole: options.order === "whole-sheet",
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
