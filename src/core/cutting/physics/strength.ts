/**
 * How far a cutter bends and how hard it is stressed by a force at its tip.
 *
 * Model: a cantilever held in the collet, fluted over `fluteLength` from the tip with a core of 0.8 D,
 * then a round shank. Small cutters stand on a shank thicker than themselves, and the shank's share
 * falls with the fourth power, so a rod of 0.8 D over the whole overhang would bend several times too far.
 * The force is the mean tangential one; the peak in a slot is π/2 of it, and the limits leave room for that.
 */
import { power } from "../../geometry/trig.ts";
import type { Cutter } from "../cutter.ts";
import type { Source } from "../data/source.ts";

/** N/mm². */
export const CARBIDE_E: number = 600_000;
export const CARBIDE_E_SOURCE: Source = {
  text: "E of carbide 600 GPa",
  tag: "from memory, 90 % sure",
};

/** N/mm²: 20–25 % of a rupture strength of 3500–4000. */
export const CARBIDE_WORKING_STRESS: number = 800;
export const STRESS_SOURCE: Source = {
  text: "beam theory; 800 N/mm², 20–25 % of the rupture strength of fine carbide",
  tag: "derived",
};

/** mm. */
export const DEFLECTION_WANTED: number = 0.025;
export const DEFLECTION_SOURCE: Source = {
  text: "Ingersoll rigidity note, 0.025 mm; core 0.8 D, Kops & Vo, CIRP Annals 39(1) 1990",
  tag: "printed",
};

/** Cutters below this stand on a shank of this diameter, mm. */
export const COMMON_SHANK: number = 3.175;
export const SHANK_SOURCE: Source = {
  text: "shank 3.175 mm under smaller cutters unless the cutter names its own",
  tag: "common practice, no source",
};

const CORE = 0.8;

/** I = π d⁴ ÷ 64. */
export function secondMoment(diameter: number): number {
  return (Math.PI * power(diameter, 4)) / 64;
}

/** y = F L³ ÷ (3 E I), d = 0.8 D throughout. Mitsubishi end-mill course; Kops & Vo 1990. */
export function tipDeflection(force: number, overhang: number, diameter: number): number {
  return (force * power(overhang, 3)) / (3 * CARBIDE_E * secondMoment(CORE * diameter));
}

/** σ = 32 F L ÷ (π d³). Beam theory. */
export function bendingStress(force: number, arm: number, diameter: number): number {
  return (32 * force * arm) / (Math.PI * power(diameter, 3));
}

export function shankOf(cutter: Cutter): number {
  return cutter.shankDiameter ?? Math.max(cutter.diameter, COMMON_SHANK);
}

/** mm per N at the tip: (Lf³/I₁ + (L³ − Lf³)/I₂) ÷ 3E; the same formula, integrated over two rods. */
export function compliance(cutter: Cutter): number {
  const fluted = Math.min(cutter.fluteLength, cutter.overhang);
  const core = power(fluted, 3) / secondMoment(CORE * cutter.diameter);
  const shank = (power(cutter.overhang, 3) - power(fluted, 3)) / secondMoment(shankOf(cutter));
  return (core + shank) / (3 * CARBIDE_E);
}

/** N/mm² per N at the tip, where it is worst: at the end of the flutes or at the collet. */
export function stressPerNewton(cutter: Cutter): number {
  const fluted = Math.min(cutter.fluteLength, cutter.overhang);
  return Math.max(
    bendingStress(1, fluted, CORE * cutter.diameter),
    fluted < cutter.overhang ? bendingStress(1, cutter.overhang, shankOf(cutter)) : 0,
  );
}
