/**
 * What the job file may leave out, and why that value. "Common practice" has no source: these are
 * figures of public hobby guides, and each of them can be set in the job.
 */
import type { Cutter } from "../cutting/cutter.ts";
import type { CuttingOptions } from "../toolpath/cut.ts";

export const ORIGIN = { at: "lower-left", z: "sheet-top" } as const;

/** Common practice: a bridge 3.2–6.4 wide and 0.5–1 high every 125–160 mm, three or more. */
export const TABS: CuttingOptions["tabs"] = { width: 4, height: 0.8, spacing: 140, least: 3 };

/** Common practice: 0.2–0.3 under the sheet leaves no skin and hardly marks the spoilboard. */
export const THROUGH_DEPTH: number = 0.25;

/** A light last pass at full depth: enough to take off the fuzz, little enough not to bend the cutter. */
export const FINISH_STOCK: number = 0.1;

/** Common practice; a Ø2 cutter goes down 0.33 mm in one turn of a 3.2 mm hole's helix. */
export const RAMP_DEG: number = 3;

/** Above usual clamps and screw heads. Common practice 5–10. */
export const CLEARANCE: number = 6;

/**
 * Where nothing stands up between two cuts. Common practice, no source. Half a millimetre above where rapids come down
 * to before a cut: so every link is up, across and down, and a plate has as many blocks wherever it lies.
 */
export const HOP: number = 1.5;

export const SHEET = { fibreDeg: 0, margin: 6, count: 1 } as const;
/** Gap: a Ø3 cutter's slot and a millimetre of waste that stays stiff. Common practice 4–10. */
export const PLATE = { count: 1, gap: 4 } as const;
/** Common practice: 0.05–0.1 in all; zero does not assemble. */
export const MATE_CLEARANCE: number = 0.1;
/** Common practice: blades bend and arms flex by some millimetres. */
export const PROPELLER_GAP: number = 3;
/**
 * Set-up: the middle of the 15–30 minutes that quotes use. Offcut: one in two finds a use. Both common
 * practice, no source.
 */
export const RATES = { perHour: 30, currency: "EUR", setupMinutes: 20, offcutValue: 0.5 } as const;

/** What most streamed controllers take: NISTIR 6556 (2000) sec. 3.5.4 for seconds; the rest common practice. */
export const DIALECT = {
  junctionDeviation: 0.01,
  decimals: 4,
  lineLength: 70,
  dwell: "seconds",
  comments: "parentheses",
  repeatMotion: false,
  workOffset: "G54",
  arcs: true,
  blocksPerSecond: 250,
} as const;

/** A trim router's rating, common practice, and a spin-up in the middle of what is seen (5–31 s). */
export const SPINDLE = { powerW: 400, spinUpS: 8 } as const;

/** Common practice. A diamond-pattern router has no clean tooth count; its feed is per revolution anyhow. */
export const FLUTES: number = 2;

/** A cutter known by its diameter alone: flutes of 4 D, and that much and 6 mm out of the collet. Common practice. */
export function cutterOfDiameter(diameter: number): Cutter {
  return {
    name: `diameter-${diameter}`,
    kind: "diamond-router",
    diameter,
    fluteLength: 4 * diameter,
    overhang: 4 * diameter + 6,
    flutes: FLUTES,
    coating: "none",
  };
}
