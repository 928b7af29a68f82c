/**
 * Sheet materials: density and the energy that it takes to cut them. g/cm³, J/mm³, mm.
 */
import { exp, log } from "../../geometry/trig.ts";
import type { MaterialName, TrialMaterial } from "../cutter.ts";
import type { Source } from "./source.ts";

export interface Density {
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly source: Source;
}

const CARBON: Density = {
  value: 1.55,
  least: 1.45,
  most: 1.6,
  source: {
    text: "rule of mixtures; UD at 60 % fibre 1.55, Toray T700S data sheet",
    tag: "derived",
  },
};

export const DENSITY: Readonly<Record<MaterialName, Density>> = {
  "carbon-woven": CARBON,
  "carbon-quasi-isotropic": CARBON,
  "glass-epoxy": {
    value: 1.85,
    least: 1.8,
    most: 1.91,
    source: { text: "laminate makers' charts for FR-4 and G-10", tag: "printed" },
  },
};

/**
 * J/mm³ against the mean chip, mm. A planning value: no published table could be opened. It rises
 * with spindle speed and falls with feed (Elgnemi et al., Materials 2021 14(19) 5697, abstract).
 */
export const ENERGY_POINTS: readonly (readonly [number, number])[] = [
  [0.01, 2],
  [0.02, 1.05],
  [0.05, 0.6],
  [0.1, 0.3],
];

export const ENERGY_SOURCE: Source = {
  text: "planning value: 0.3–0.6 J/mm³ at a chip of 0.05–0.1 mm, 0.6–1.5 at 0.02, 2 and more at 0.01",
  tag: "from memory, 50 % sure",
};

/** J/mm³ at any chip: wood-based board takes a fraction of what laminate does. */
export const TRIAL_ENERGY: Readonly<Record<TrialMaterial, number>> = { hardboard: 0.1 };

export const TRIAL_ENERGY_SOURCE: Source = {
  text: "wood-based board, 0.05–0.1 J/mm³",
  tag: "from memory, 50 % sure",
};

/** Straight lines on log-log paper; beyond the ends the last line goes on, but no further than ×¼ and ×2. */
export function specificEnergy(meanChip: number): number {
  const chip = Math.min(0.2, Math.max(0.0025, meanChip));
  let i = 1;
  while (i < ENERGY_POINTS.length - 1 && (ENERGY_POINTS[i]?.[0] ?? 0) < chip) i++;
  const [h0, u0] = ENERGY_POINTS[i - 1] as readonly [number, number];
  const [h1, u1] = ENERGY_POINTS[i] as readonly [number, number];
  return u0 * exp((log(u1 / u0) * log(chip / h0)) / log(h1 / h0));
}
