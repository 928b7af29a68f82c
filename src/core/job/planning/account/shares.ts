/**
 * The job's estimate, shared out: every copy of a plate gets its seconds, metres, mass and cost, each with what
 * it rests on.
 *
 * Promise: the plates' costs add up to the job's.
 */
import { type Mass, massOf } from "../../../cutting/mass.ts";
import { bounds, signedArea } from "../../../geometry/contour.ts";
import {
  type Placement,
  type Sheet,
  type SheetLayout,
  thicknessOf,
} from "../../../layout/layout.ts";
import { costOf, type JobCost, type PlateCost } from "../../../motion/cost/cost.ts";
import { type Offcut, offcutOf } from "../../../motion/cost/offcut.ts";
import type { TraceTime } from "../../../motion/time.ts";
import { type Feedback, minutesAssumption } from "../../../motion/wear/feedback.ts";
import type { Wear } from "../../../motion/wear/wear.ts";
import type { CutProgram } from "../../../toolpath/cut.ts";
import type { Job } from "../../job.ts";
import type {
  CostJson,
  EstimateJson,
  MassJson,
  OffcutJson,
  PlateEstimateJson,
} from "../../plan-json.ts";

/** A program with its time and wear, and what of them is each plate block's own. */
export interface Worn {
  readonly program: CutProgram;
  readonly time: TraceTime;
  readonly cutMetres: number;
  readonly wear: Wear;
  readonly newCutter: boolean;
  readonly lifeBefore: number;
  readonly seconds: readonly number[];
  readonly edges: readonly number[];
}

export interface ShareInput {
  readonly job: Job;
  readonly layouts: readonly SheetLayout[];
  readonly worn: readonly Worn[];
  readonly feedback: Feedback;
}

/** One copy of a plate, with what all programs do for it. */
interface Own {
  readonly sheet: Sheet;
  readonly placement: Placement;
  readonly mass: Mass;
  seconds: number;
  edge: number;
  readonly lifeUsed: Map<string, number>;
}

export function shareOut({ job, layouts, worn, feedback }: ShareInput): EstimateJson {
  const sum = (of: (t: TraceTime) => number): number => worn.reduce((n, w) => n + of(w.time), 0);
  const ratio = feedback.minutesRatio ?? 1;
  const reckoned = sum((t) => t.seconds);
  const owns = ownsOf(layouts, worn);
  const offcuts = offcutsOf(layouts, worn);
  const cost = costFor(job, layouts, { owns, offcuts, seconds: reckoned * ratio });
  const assumed = assumptionsOf(worn, owns, cost, feedback);
  return {
    seconds: reckoned * ratio,
    cuttingSeconds: sum((t) => t.cuttingSeconds) * ratio,
    rapidSeconds: sum((t) => t.rapidSeconds) * ratio,
    dwellSeconds: sum((t) => t.dwellSeconds) * ratio,
    reckonedSeconds: reckoned,
    ...(feedback.minutesRatio === undefined ? {} : { measuredRatio: ratio }),
    cutMetres: worn.reduce((n, w) => n + w.cutMetres, 0),
    edgeMetres: worn.reduce((n, w) => n + w.wear.edgeMetres, 0),
    cost: cost.total,
    currency: job.rates.currency,
    costs: costJson(cost),
    mass: massJson(owns.map((o) => o.mass)),
    plates: owns.map((own, i) => plateJson(own, cost.plates[i] as PlateCost, ratio)),
    offcuts: offcutsJson(job, layouts, offcuts),
    assumptions: Object.values(assumed).flat(),
    assumed,
  };
}

function ownsOf(layouts: readonly SheetLayout[], worn: readonly Worn[]): Own[] {
  const owns = layouts.flatMap(({ sheet, placements }) =>
    placements.map((placement): Own => {
      const mass = massOfPlacement(placement, sheet);
      return { sheet, placement, mass, seconds: 0, edge: 0, lifeUsed: new Map() };
    }),
  );
  const byName = new Map(
    owns.map((o) => [keyOf(o.sheet.name, o.placement.plate.name, o.placement.copy), o]),
  );
  for (const { program, wear, seconds, edges } of worn) {
    const { cutter, sheet, blocks } = program;
    const perMetre = wear.edgeMetres > 0 ? wear.lifeUsed / wear.edgeMetres : 0;
    blocks.forEach(({ plate, copy }, i) => {
      const own = byName.get(keyOf(sheet.name, plate, copy));
      if (own === undefined) return;
      const edge = edges[i] ?? 0;
      own.seconds += seconds[i] ?? 0;
      own.edge += edge;
      const used = (own.lifeUsed.get(cutter.name) ?? 0) + edge * perMetre;
      own.lifeUsed.set(cutter.name, used);
    });
  }
  return owns;
}

function keyOf(sheet: string, plate: string, copy: number): string {
  return JSON.stringify([sheet, plate, copy]);
}

/** What goes through is no part of a plate's area; recesses are taken off here. */
export function massOfPlacement({ plate }: Placement, sheet: Sheet): Mass {
  const recessed = plate.features.reduce((sum, f) => sum + f.area * (f.depth ?? 0), 0);
  const { density, material } = sheet;
  return massOf(plate.area, thicknessOf(sheet), material, { density, recessed });
}

/** By sheet name; kerfs are as wide as the widest cutter that cuts there. */
function offcutsOf(layouts: readonly SheetLayout[], worn: readonly Worn[]): Map<string, Offcut> {
  const found = new Map<string, Offcut>();
  for (const { sheet, placements } of layouts) {
    const cutters = worn.filter((r) => r.program.sheet.name === sheet.name);
    const kerf = Math.max(0, ...cutters.map((r) => r.program.cutter.diameter));
    const boxes = placements.map((p) => bounds(p.outer));
    const offcut = offcutOf(sheet.outline, boxes, kerf);
    if (offcut !== undefined) found.set(sheet.name, offcut);
  }
  return found;
}

interface Shares {
  readonly owns: readonly Own[];
  readonly offcuts: ReadonlyMap<string, Offcut>;
  readonly seconds: number;
}

function costFor(
  job: Job,
  layouts: readonly SheetLayout[],
  { owns, offcuts, seconds }: Shares,
): JobCost {
  const usedNames = new Set(owns.flatMap((o) => [...o.lifeUsed.keys()]));
  return costOf({
    plates: owns.map((o) => ({
      plate: o.placement.plate.name,
      copy: o.placement.copy,
      sheet: o.sheet.name,
      area: o.placement.plate.area,
      seconds: o.seconds,
      lifeUsed: [...o.lifeUsed].map(([cutter, share]) => ({ cutter, share })),
    })),
    sheets: layouts
      .filter((l) => l.placements.length > 0)
      .map(({ sheet }) => ({
        name: sheet.name,
        price: sheet.price,
        area: Math.abs(signedArea(sheet.outline)),
        offcutArea: offcuts.get(sheet.name)?.area ?? 0,
      })),
    cutters: job.cutters.filter((c) => usedNames.has(c.name)),
    ...job.rates,
    seconds,
  });
}

function costJson(cost: CostJson): CostJson {
  const { sheet, machine, cutter, setup, total } = cost;
  return { sheet, machine, cutter, setup, total };
}

function massJson(masses: readonly MassJson[]): MassJson {
  const sum = (of: (m: MassJson) => number): number => masses.reduce((n, m) => n + of(m), 0);
  return { g: sum((m) => m.g), least: sum((m) => m.least), most: sum((m) => m.most) };
}

function plateJson(own: Own, cost: PlateCost, ratio: number): PlateEstimateJson {
  return {
    plate: own.placement.plate.name,
    copy: own.placement.copy,
    sheet: own.sheet.name,
    seconds: own.seconds * ratio,
    edgeMetres: own.edge,
    lifeUsed: [...own.lifeUsed].map(([cutter, share]) => ({ cutter, share })),
    mass: massJson([own.mass]),
    cost: costJson(cost),
  };
}

function offcutsJson(
  job: Job,
  layouts: readonly SheetLayout[],
  offcuts: ReadonlyMap<string, Offcut>,
): OffcutJson[] {
  return layouts.flatMap(({ sheet }) => {
    const offcut = offcuts.get(sheet.name);
    if (offcut === undefined) return [];
    const { box, area } = offcut;
    const share = area / Math.abs(signedArea(sheet.outline));
    return [
      {
        sheet: sheet.name,
        from: [box.min.x, box.min.y],
        to: [box.max.x, box.max.y],
        area,
        worth: (sheet.price ?? 0) * share * job.rates.offcutValue,
      },
    ];
  });
}

function assumptionsOf(
  worn: readonly Worn[],
  owns: readonly Own[],
  cost: JobCost,
  feedback: Feedback,
): NonNullable<EstimateJson["assumed"]> {
  const once = (list: readonly string[]): readonly string[] => [...new Set(list)];
  const names = once(worn.map((w) => w.program.cutter.name));
  return {
    time: once([...worn.flatMap((w) => w.time.assumptions), ...minutesAssumption(feedback)]),
    wear: once([
      ...worn.flatMap((w) => w.wear.assumptions),
      ...names.map((name) => {
        const metres = feedback.worn.get(name) ?? 0;
        return metres > 0
          ? `${name} has ${metres.toFixed(2)} m of edge behind it, by the cutters' ledger.`
          : `${name} is taken as new.`;
      }),
    ]),
    cost: once(cost.assumptions),
    mass: once(owns.map((o) => o.mass.assumption)),
  };
}
