/**
 * How deep one pass in uncut stock goes.
 *
 * The chart allows one diameter; half of that is the start here (depth-limits.ts says why). Power, deflection and stress, all
 * of them proportional to depth, can only lower it. A depth that the user names is kept and judged.
 */
import type { Cutter, RateStep } from "./cutter.ts";
import { ENERGY_SOURCE, TRIAL_ENERGY_SOURCE } from "./data/materials.ts";
import { cite } from "./data/source.ts";
import {
  depthLimits,
  limitsText,
  ratedFor,
  SHALLOWEST,
  START,
  settable,
  tightest,
  usablePower,
} from "./depth-limits.ts";
import { type Load, loadOf } from "./physics/load.ts";
import {
  CARBIDE_E_SOURCE,
  CARBIDE_WORKING_STRESS,
  DEFLECTION_SOURCE,
  DEFLECTION_WANTED,
  SHANK_SOURCE,
  STRESS_SOURCE,
  shankOf,
} from "./physics/strength.ts";
import { energyFor, type RatesInput, report, round, type Talk } from "./rates-input.ts";

interface Speeds {
  readonly rpm: number;
  readonly feed: number;
}

export function choosePassDepth(
  input: RatesInput,
  speeds: Speeds,
  talk: Talk,
): { passDepth: number; load: Load } {
  const { cutter } = input;
  const at = (depth: number): Load =>
    loadOf(cutter, { width: cutter.diameter, depth, ...speeds }, energyFor(input));
  const passDepth = input.passDepth === undefined ? deepest(input, at(1), talk) : input.passDepth;
  const load = at(Math.min(passDepth, input.thickness + input.throughDepth));
  if (input.passDepth !== undefined) judge(input, load, talk);
  if (cutter.kind === "compression" && passDepth < cutter.diameter) {
    talk.findings.push(
      report("compression-pass-shallow", {
        cutter: cutter.name,
        passDepth,
        diameter: cutter.diameter,
      }),
    );
  }
  explain(cutter, input, passDepth, load, talk);
  return { passDepth, load };
}

/** `perMm`: the load of a pass of 1 mm. */
function deepest(input: RatesInput, perMm: Load, talk: Talk): number {
  const { cutter, machine } = input;
  const limits = depthLimits(cutter, machine, START * cutter.diameter, perMm);
  const [limit, depth] = tightest(limits);
  if (limit !== "table") talk.limits.push(limit);
  talk.steps.push({
    quantity: "deepest pass at full width",
    formula: limitsText(limits),
    value: depth,
    unit: "mm",
    source: "the chart's maximum is 1 D; half of it is taken (common practice, no source)",
  });
  const taken = settable(depth);
  if (limit === "spindle power") tellPower(input, perMm, taken, talk);
  if (taken <= depth || limit === "spindle power") return taken;
  talk.findings.push(
    report("cutter-too-slender", {
      cutter: cutter.name,
      depth: round(depth, 4),
      least: SHALLOWEST,
      limit,
    }),
  );
  return taken;
}

function tellPower({ cutter, machine }: RatesInput, perMm: Load, depth: number, talk: Talk): void {
  const usable = usablePower(machine) ?? 0;
  const charted = START * cutter.diameter;
  const weak = perMm.powerW * depth > usable;
  const wanted = perMm.powerW * (weak ? depth : charted);
  talk.findings.push(
    report(weak ? "spindle-too-weak" : "spindle-limits-passes", {
      cutter: cutter.name,
      usable: round(usable, 1),
      depth,
      charted,
      wanted: round(wanted, 1),
      rated: ratedFor(wanted),
    }),
  );
}

/** The user's own depth against the same limits. */
function judge(input: RatesInput, load: Load, talk: Talk): void {
  const { cutter, machine } = input;
  const passDepth = Math.min(input.passDepth ?? 0, input.thickness + input.throughDepth);
  const data = { cutter: cutter.name, passDepth };
  const depth = passDepth / cutter.diameter;
  const diameters = round(depth, 2);
  if (depth > 3) talk.findings.push(report("pass-depth-beyond-chart", { ...data, diameters }));
  else if (depth > 1) talk.findings.push(report("pass-depth-derated", { ...data, diameters }));
  if (load.deflectionMm > DEFLECTION_WANTED) {
    const better = round((passDepth * DEFLECTION_WANTED) / load.deflectionMm, 2);
    talk.findings.push(
      report("pass-depth-bends-cutter", {
        ...data,
        deflection: round(load.deflectionMm, 3),
        limit: DEFLECTION_WANTED,
        better,
      }),
    );
  }
  if (load.stress > CARBIDE_WORKING_STRESS) {
    const better = round((passDepth * CARBIDE_WORKING_STRESS) / load.stress, 2);
    talk.findings.push(
      report("pass-depth-stresses-cutter", {
        ...data,
        stress: Math.round(load.stress),
        limit: CARBIDE_WORKING_STRESS,
        better,
      }),
    );
  }
  const power = usablePower(machine);
  if (power !== undefined && load.powerW > power) {
    talk.findings.push(
      report("power-above-spindle", {
        ...data,
        power: Math.round(load.powerW),
        usable: Math.round(power),
        better: round((passDepth * power) / load.powerW, 2),
      }),
    );
  }
}

function explain(
  cutter: Cutter,
  input: RatesInput,
  passDepth: number,
  load: Load,
  talk: Talk,
): void {
  const energy =
    input.specificEnergy === undefined
      ? cite(input.material === "hardboard" ? TRIAL_ENERGY_SOURCE : ENERGY_SOURCE)
      : "the user's own specific energy";
  talk.steps.push(
    {
      quantity: "pass depth",
      formula:
        input.passDepth === undefined ? "deepest pass, rounded down to 0.01" : "as the job says",
      value: passDepth,
      unit: "mm",
      source: input.passDepth === undefined ? "weftcut" : "job file",
    },
    {
      quantity: "mean chip",
      formula: "hm = 2 fz ÷ π at full width",
      value: load.chip,
      unit: "mm",
      source: "geometry (derived)",
    },
    {
      quantity: "specific energy",
      formula: "u at the mean chip",
      value: load.energy,
      unit: "J/mm³",
      source: energy,
    },
    {
      quantity: "power",
      formula: "P = u ae ap vf ÷ 60",
      value: load.powerW,
      unit: "W",
      source: "Kalpakjian & Schmid (from memory, 95 % sure)",
    },
    {
      quantity: "cutting force",
      formula: "Ft = 60 P ÷ vc",
      value: load.forceN,
      unit: "N",
      source: "mean tangential force (derived)",
    },
  );
  talk.steps.push(...bending(cutter, load));
}

function bending(cutter: Cutter, load: Load): readonly RateStep[] {
  return [
    {
      quantity: "deflection",
      formula: `y = F (Lf³/I1 + (L³ − Lf³)/I2) ÷ 3E, d1 = 0.8 D, d2 = ${round(shankOf(cutter), 3)}`,
      value: load.deflectionMm,
      unit: "mm",
      source: `${cite(DEFLECTION_SOURCE)}; ${cite(CARBIDE_E_SOURCE)}${cutter.shankDiameter === undefined ? `; ${cite(SHANK_SOURCE)}` : ""}`,
    },
    {
      quantity: "cutter stress",
      formula: "σ = 32 F L ÷ (π d³)",
      value: load.stress,
      unit: "N/mm²",
      source: cite(STRESS_SOURCE),
    },
  ];
}
