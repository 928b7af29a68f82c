/**
 * What a cut asks of spindle and cutter: power, force, deflection, stress. All estimates: they stand on
 * the planning value of specific energy.
 */

import type { Cutter } from "../cutter.ts";
import { teethOf } from "../data/chip-load.ts";
import { specificEnergy } from "../data/materials.ts";
import {
  meanChip,
  powerFromEnergy,
  removalRate,
  surfaceSpeed,
  tangentialForce,
} from "./formulas.ts";
import { compliance, stressPerNewton } from "./strength.ts";

export interface CutGeometry {
  readonly width: number;
  readonly depth: number;
  readonly feed: number;
  readonly rpm: number;
}

export interface Load {
  /** mm. */
  readonly chip: number;
  /** J/mm³. */
  readonly energy: number;
  readonly powerW: number;
  readonly forceN: number;
  readonly deflectionMm: number;
  /** N/mm². */
  readonly stress: number;
}

/** `energy`: the user's own J/mm³ instead of the planning value. */
export function loadOf(cutter: Cutter, cut: CutGeometry, energy?: number): Load {
  const q = Math.min(1, cut.width / cutter.diameter);
  const chip = q <= 0 ? 0 : meanChip(cut.feed / (teethOf(cutter) * cut.rpm), q);
  const u = energy ?? specificEnergy(chip);
  const powerW = powerFromEnergy(u, removalRate(cut.width, cut.depth, cut.feed));
  const forceN = tangentialForce(powerW, surfaceSpeed(cut.rpm, cutter.diameter));
  return {
    chip,
    energy: u,
    powerW,
    forceN,
    deflectionMm: forceN * compliance(cutter),
    stress: forceN * stressPerNewton(cutter),
  };
}
