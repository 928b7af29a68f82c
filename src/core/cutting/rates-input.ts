/** The question that rates answer, what of it cannot be served, and what answering collects on its way. */
import { type Finding, type Report, reporter } from "../finding/finding.ts";
import { sayCutting } from "../finding/say-cutting.ts";
import type { Machine } from "../machine/machine.ts";
import type { Cutter, RateMaterial, RateStep } from "./cutter.ts";
import { TRIAL_ENERGY } from "./data/materials.ts";
import type { Source } from "./data/source.ts";

export interface RatesInput {
  readonly material: RateMaterial;
  readonly cutter: Cutter;
  readonly machine: Machine;
  readonly thickness: number;
  readonly throughDepth: number;
  /** The user's own; the chart's and the cutter's limits are then only warned of. */
  readonly passDepth?: number | undefined;
  readonly finishStock: number;
  readonly rampDeg: number;
  /** The user's own specific energy, J/mm³. */
  readonly specificEnergy?: number | undefined;
}

export interface Talk {
  readonly steps: RateStep[];
  readonly limits: string[];
  readonly findings: Finding[];
}

export const report: Report<typeof sayCutting> = reporter(sayCutting);

/** J/mm³ where it does not follow from the chip. */
export function energyFor({ specificEnergy, material }: RatesInput): number | undefined {
  return specificEnergy ?? (material === "hardboard" ? TRIAL_ENERGY[material] : undefined);
}

export const RAMP_SOURCE: Source = {
  text: "router-bit makers' charts for wood and plastic: ramp feed = feed ÷ flutes",
  tag: "printed",
};

/** For a finding's data and a formula's text; never for a result. */
export function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

export function inputFindings(input: RatesInput): Finding[] {
  const { cutter, machine } = input;
  const found: Finding[] = [];
  const name = cutter.name;
  const measures: readonly (readonly [string, number, number])[] = [
    ["diameter", cutter.diameter, 0],
    ["fluteLength", cutter.fluteLength, 0],
    ["overhang", cutter.overhang, 0],
    ["flutes", cutter.flutes, 0],
    ["shankDiameter", cutter.shankDiameter ?? 1, 0],
    ["feedPerRev", cutter.feedPerRev ?? 1, 0],
    ["surfaceSpeed", cutter.surfaceSpeed ?? 1, 0],
    ["edgeRadius", cutter.edgeRadius ?? 1, 0],
    ["thickness", input.thickness, 0],
    ["throughDepth", input.throughDepth, -1],
    ["passDepth", input.passDepth ?? 1, 0],
    ["finishStock", input.finishStock, -1],
    ["rampDeg", input.rampDeg, 0],
    ["maxFeed x", machine.maxFeed[0], 0],
    ["maxFeed y", machine.maxFeed[1], 0],
    ["maxFeed z", machine.maxFeed[2], 0],
    ["specificEnergy", input.specificEnergy ?? 1, 0],
  ];
  for (const [field, value, above] of measures) {
    const good = Number.isFinite(value) && (above === 0 ? value > 0 : value >= 0);
    if (!good)
      found.push(report("rates-measure-invalid", { cutter: name, field, value: String(value) }));
  }
  const { min, max } = machine.spindle;
  if (!(Number.isFinite(min) && Number.isFinite(max) && min >= 0 && max > 0 && min <= max)) {
    found.push(report("spindle-range-invalid", { min: String(min), max: String(max) }));
  }
  if (found.length > 0) return found;
  return lengthFindings(input);
}

function lengthFindings(input: RatesInput): Finding[] {
  const { cutter, thickness, throughDepth } = input;
  const found: Finding[] = [];
  const depth = thickness + throughDepth;
  const data = { cutter: cutter.name, depth, thickness, throughDepth };
  if (cutter.fluteLength < depth) {
    found.push(report("flute-shorter-than-cut", { ...data, fluteLength: cutter.fluteLength }));
  }
  if (cutter.overhang <= depth) {
    found.push(report("overhang-shorter-than-cut", { ...data, overhang: cutter.overhang }));
  }
  if (cutter.kind === "drill" && depth > 5 * cutter.diameter) {
    found.push(
      report("drill-deep", { ...data, diameters: Number((depth / cutter.diameter).toFixed(1)) }),
    );
  }
  return found;
}
