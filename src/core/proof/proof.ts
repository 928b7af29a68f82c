/**
 * What a proof is given and what it answers. The target is plain data that can be had from plan.json
 * alone, so that `prove` judges any program, ours or not, exactly as `plan` does.
 *
 * Frames: sheet frame in X and Y; Z is 0 at the sheet's top. `programToSheet` says where program zero
 * is. mm, mm/min, rpm, rad.
 */
import type { Contour, Origin, Point } from "../geometry/shape.ts";
import type { KeepOut } from "../layout/layout.ts";
import type { Machine } from "../machine/machine.ts";
import type { Trace } from "../program/read/trace.ts";

export interface TargetFeature {
  readonly id: number;
  readonly kind: "hole" | "slot" | "window" | "recess";
  readonly contour: Contour;
  /** Recesses only, mm below the top. */
  readonly depth?: number | undefined;
}

export interface TargetPlate {
  readonly plate: string;
  readonly copy: number;
  readonly outer: Contour;
  readonly features: readonly TargetFeature[];
}

export interface TargetTab {
  readonly plate: string;
  readonly copy: number;
  readonly feature?: number | undefined;
  readonly at: Point;
  readonly width: number;
  readonly height: number;
}

export interface TargetSheet {
  readonly name: string;
  readonly thickness: number;
  readonly outline: Contour;
  readonly margin: number;
  readonly keepOuts: readonly KeepOut[];
  readonly plates: readonly TargetPlate[];
  readonly tabs: readonly TargetTab[];
  /** Program (0, 0, 0) in the sheet frame: X and Y of it, and its Z (0 at the top, −thickness at the spoilboard). */
  readonly programZero: { readonly x: number; readonly y: number; readonly z: number };
}

export interface TargetCutter {
  readonly name: string;
  readonly kind: "diamond-router" | "two-flute" | "compression" | "drill";
  readonly effectiveDiameter: number;
  readonly fluteLength: number;
  readonly overhang: number;
  readonly flutes: number;
  /** mm/rev at full width for this material, and the band that it must stay in. */
  readonly feedPerRev: {
    readonly least: number;
    readonly most: number;
    /** Where more than half of the cutter's width is engaged; `most` where absent. */
    readonly mostAtFullWidth?: number | undefined;
  };
}

export interface TargetLimits {
  readonly throughDepth: number;
  readonly passDepth: number;
  readonly finishStock: number;
  readonly rampAngle: number;
  readonly clearance: number;
  /** The least height of rapids over whole sheet; clearance: nowhere lower. */
  readonly hop: number;
  readonly tabs: { readonly width: number; readonly height: number; readonly least: number };
}

/** A program as far as what it moves goes. */
export interface MovesProgram {
  readonly file: string;
  readonly sheet: string;
  readonly cutter: TargetCutter;
  readonly trace: Pick<Trace, "steps" | "brokenOff">;
}

export interface ProofProgram extends MovesProgram {
  readonly trace: Trace;
}

/** What is the same for all sheets of a job. */
export interface ProofSetting {
  readonly machine: Machine;
  readonly limits: TargetLimits;
  /** In the order in which they are run. */
  readonly programs: readonly MovesProgram[];
}

export interface ProofInput extends ProofSetting {
  readonly sheets: readonly TargetSheet[];
  readonly programs: readonly ProofProgram[];
}

export interface SheetInput extends ProofSetting {
  readonly sheet: TargetSheet;
}

export interface ProofCheck {
  readonly code: string;
  readonly passed: boolean;
  /** What was found, in the unit of `limit`. */
  readonly worst: number;
  readonly limit: number;
  readonly unit: string;
  /** Sheet frame. */
  readonly at?: readonly [number, number] | undefined;
  readonly sheet?: string | undefined;
  readonly plate?: string | undefined;
  readonly program?: { readonly file: string; readonly line: number } | undefined;
  readonly drawing?: Origin | undefined;
}

export interface Proof {
  readonly proven: boolean;
  readonly checks: readonly ProofCheck[];
  /** Deepest cut into any plate, mm. */
  readonly overcutMm: number;
  /** What should have gone and stayed, less what no round cutter can reach, mm². */
  readonly leftMm2: number;
  /** Corners that the cutter cannot reach, in all, mm², and the furthest point of them from the cutter, mm. */
  readonly cornerMm2: number;
  readonly cornerMm: number;
}
