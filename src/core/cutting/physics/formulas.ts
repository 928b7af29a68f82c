/**
 * The formulas of milling, each with its source. Units are in the names; D and lengths in mm, feeds in
 * mm/min, speeds in rpm, surface speed in m/min, forces in N, power in W unless it says kW.
 *
 * q is the width of cut over the diameter, ae ÷ D: 1 in a slot. Nothing here knows a material.
 */
import { acos, pow } from "../../geometry/trig.ts";

/** n = 1000 vc ÷ (π D). Mitsubishi Materials, Technical Information, Formulas for Milling. */
export function spindleSpeed(surfaceSpeed: number, diameter: number): number {
  return (1000 * surfaceSpeed) / (Math.PI * diameter);
}

/** vc = π D n ÷ 1000. Same source. */
export function surfaceSpeed(rpm: number, diameter: number): number {
  return (Math.PI * diameter * rpm) / 1000;
}

/** vf = fz z n. Same source. */
export function tableFeed(feedPerTooth: number, teeth: number, rpm: number): number {
  return feedPerTooth * teeth * rpm;
}

/** fz = vf ÷ (z n). Same source. */
export function feedPerTooth(feed: number, teeth: number, rpm: number): number {
  return feed / (teeth * rpm);
}

/** T = L ÷ vf, in minutes. Same source. */
export function minutesOf(length: number, feed: number): number {
  return length / feed;
}

/** Q = ae ap vf, mm³/min. Kyocera 2021–22 p. R42; Ingersoll 2011 p. 453 (÷ 1000 for cm³). */
export function removalRate(width: number, depth: number, feed: number): number {
  return width * depth * feed;
}

/** Pc = ap ae vf kc ÷ (60·10⁶ η), kW, kc in N/mm². Mitsubishi, Cutting Power for Face Milling. */
export function cuttingPowerKw(removal: number, kc: number, efficiency: number): number {
  return (removal * kc) / (60e6 * efficiency);
}

/** P = u Q, W, u in J/mm³, Q in mm³/min. Kalpakjian & Schmid (from memory, 95 %). */
export function powerFromEnergy(specificEnergy: number, removal: number): number {
  return (specificEnergy * removal) / 60;
}

/** M = 60 P ÷ (2π n), N·m, P in W. Definition of power. */
export function torque(power: number, rpm: number): number {
  return (60 * power) / (2 * Math.PI * rpm);
}

/** Mean tangential force Ft = 60 P ÷ vc, N (derived: power is force times speed). */
export function tangentialForce(power: number, surface: number): number {
  return (60 * power) / surface;
}

/** kc = kc1 h^(−mc). Sandvik Coromant, specific cutting force. */
export function sizeEffect(kc1: number, chip: number, exponent: number): number {
  return kc1 * pow(chip, -exponent);
}

/** Thickest chip over fz: 2√(q(1−q)) below half the diameter, else 1. Geometry. */
export function thickestChipRatio(q: number): number {
  return q < 0.5 ? 2 * Math.sqrt(q * (1 - q)) : 1;
}

/**
 * How much faster a light cut must be fed to keep its thickest chip: 1 ÷ (2√(q(1−q))) for q < 0.5.
 * Stellram/Kennametal p. A194; Dormer Pramet 2021–22 p. 114.
 */
export function chipThinning(q: number): number {
  return 1 / thickestChipRatio(q);
}

/** hm ≈ fz √(ae/D): good for light cuts. Ingersoll 2011 p. 453. */
export function meanChipApproximate(perTooth: number, q: number): number {
  return perTooth * Math.sqrt(q);
}

/** Mean chip over the engaged angle φ = acos(1 − 2q): hm = 2 q fz ÷ φ; 2/π of fz in a slot. Geometry. */
export function meanChip(perTooth: number, q: number): number {
  // So light a cut has no angle that a double can tell from nothing.
  if (q < 1e-12) return meanChipApproximate(perTooth, q);
  return (2 * q * perTooth) / acos(1 - 2 * Math.min(1, q));
}

/**
 * Feed of the cutter's centre inside a bore, so that the edge at the wall has `feed`:
 * feed (Dm − Dc) ÷ Dm. Sandvik Coromant threading catalogue p. 117; Yamawa 2022–23 p. 1228.
 * Zero where the cutter fills the bore.
 */
export function boreFeed(feed: number, wallRadius: number, cutterRadius: number): number {
  return feed * Math.max(0, (wallRadius - cutterRadius) / wallRadius);
}

/** The same round the outside of a boss or a convex corner: feed (Dm + Dc) ÷ Dm. Sandvik, same page. */
export function bossFeed(feed: number, wallRadius: number, cutterRadius: number): number {
  return feed * ((wallRadius + cutterRadius) / wallRadius);
}

/** Sliding of each edge in the cut, mm per metre of slot: (π D/2) 1000 ÷ (fz z). Exact geometry. */
export function rubbingPerMetre(diameter: number, feedPerRev: number): number {
  return ((Math.PI * diameter) / 2) * (1000 / feedPerRev);
}
