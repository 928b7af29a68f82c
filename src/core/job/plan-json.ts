/**
 * plan.json: the whole plan as plain data, written by `plan`, read by `prove`, `restart`, the job
 * sheet and the page. All lengths mm, times s, feeds mm/min, speeds rpm, angles in degrees, points [x, y].
 */
import type { CutterKind, MaterialName, RateStep, TrialMaterial } from "../cutting/cutter.ts";
import type { Finding } from "../finding/finding.ts";
import type { Origin } from "../geometry/shape.ts";
import type { Machine } from "../machine/machine.ts";
import type { Proof } from "../proof/proof.ts";
import type { CuttingOptions } from "../toolpath/cut.ts";

export type PointJson = readonly [number, number];

/** Closed: the last `to` is `start` again. An arc whose `to` is where it begins is a full circle. */
export interface ContourJson {
  readonly start: PointJson;
  readonly segments: readonly SegmentJson[];
}

export type SegmentJson =
  | { readonly to: PointJson; readonly origin?: Origin }
  | {
      readonly to: PointJson;
      readonly centre: PointJson;
      readonly ccw: boolean;
      readonly origin?: Origin;
    };

export interface FeatureJson {
  readonly id: number;
  readonly kind: "hole" | "slot" | "window" | "recess";
  /** Sheet frame, as all of a placement's contours. */
  readonly at: PointJson;
  readonly contour: ContourJson;
  readonly diameter?: number;
  readonly width?: number;
  readonly length?: number;
  readonly angleDeg?: number;
  readonly depth?: number;
  /** The cutter that makes it. */
  readonly cutter?: string;
}

export interface PlacementJson {
  readonly plate: string;
  readonly copy: number;
  readonly drawing: string;
  readonly x: number;
  readonly y: number;
  readonly rotationDeg: number;
  readonly flipped: boolean;
  readonly outer: ContourJson;
  /** Holes, slots and windows that go through. */
  readonly inner: readonly ContourJson[];
  readonly features: readonly FeatureJson[];
  readonly massG: number;
  /** Named points of the plate, sheet frame. */
  readonly points?: readonly { readonly name: string; readonly at: PointJson }[];
  /** At the ends of the density's range. */
  readonly massLeastG?: number;
  readonly massMostG?: number;
}

export interface TabJson {
  readonly plate: string;
  readonly copy: number;
  /** The window whose slug it holds; absent for the plate's outline. */
  readonly feature?: number;
  readonly at: PointJson;
  readonly width: number;
  readonly height: number;
}

export type KeepOutJson =
  | { readonly at: PointJson; readonly diameter: number }
  | { readonly from: PointJson; readonly to: PointJson };

export interface SheetJson {
  readonly name: string;
  readonly material: MaterialName;
  /** What the programs were made for: measured where given. */
  readonly thickness: number;
  readonly outline: ContourJson;
  readonly fibreDeg: number;
  readonly margin: number;
  readonly keepOut: readonly KeepOutJson[];
  readonly price?: number;
  readonly utilisation: number;
  /** Program X0 Y0 in the sheet frame. */
  readonly originOffset: PointJson;
  readonly placements: readonly PlacementJson[];
  readonly tabs: readonly TabJson[];
  /** What is left in pieces wide enough to lay plates on again, largest first. */
  readonly offcuts?: readonly OffcutDrawingJson[];
}

export interface OffcutDrawingJson {
  /** Drawing of it, good as the next job's sheet outline. */
  readonly file: string;
  /** mm². */
  readonly area: number;
  /** The largest upright rectangle clear inside it, by its lower-left corner in the sheet frame. */
  readonly clear: { readonly at: PointJson; readonly width: number; readonly height: number };
  readonly outline: ContourJson;
}

/** The search that found the layout. */
export interface SearchJson {
  readonly effort: "quick" | "normal" | "long";
  readonly seed: number;
  /** True where the clock or the user ended it: the same job may then be laid out otherwise. */
  readonly endedEarly: boolean;
}

export interface CutterJson {
  readonly name: string;
  readonly kind: CutterKind;
  readonly diameter: number;
  readonly effectiveDiameter: number;
  readonly fluteLength: number;
  readonly overhang: number;
  readonly flutes: number;
  readonly cutMetres: number;
  /** Share of its life that this job uses; 1 is all of it: wearMetres ÷ lifeMetres. */
  readonly lifeUsed: number;
  /** Metres of plate edge: several passes over an edge count once. */
  readonly edgeMetres?: number;
  /** The same as of sheets of 2–3 mm, which life figures are for. */
  readonly wearMetres?: number;
  /** How far each edge slides in the cut. */
  readonly rubbingMetres?: number;
  readonly lifeMetres?: number;
  /** Share of its life that the ledger says is gone before this job. */
  readonly lifeBefore?: number;
  /** How often a new one is put in during the job. */
  readonly changes?: number;
  /** What the diameter loses in this job, mm, where the cutter says what it loses over its life. */
  readonly diameterLoss?: number;
  /** mm/rev that its chip must stay within on these sheets. */
  readonly chip: { readonly least: number; readonly most: number };
}

export interface ProgramJson {
  readonly file: string;
  readonly sheet: string;
  readonly cutter: string;
  /** Motion blocks. */
  readonly blocks: number;
  readonly seconds: number;
  readonly cutMetres: number;
  readonly rapidMetres: number;
  readonly rpm: number;
  readonly feed: number;
  readonly passDepth: number;
  readonly plungeFeed: number;
  readonly rampFeed: number;
  readonly finishFeed: number;
  /** Lowest Z of the program below the sheet's top, negative. */
  readonly deepest: number;
  readonly plates: readonly {
    readonly plate: string;
    readonly copy: number;
    /** Of the program, where it begins. */
    readonly line?: number;
    readonly seconds?: number;
    readonly edgeMetres?: number;
  }[];
  /** Seconds by kind of motion. */
  readonly byMotion?: {
    readonly rapid: number;
    readonly plunge: number;
    readonly ramp: number;
    readonly level: number;
    readonly dwell: number;
  };
  readonly edgeMetres?: number;
  readonly wearMetres?: number;
  readonly rubbingMetres?: number;
  readonly lifeMetres?: number;
  /** A new cutter of the name is put in before this program: the one in use would wear out. */
  readonly newCutter?: boolean;
  /** Shares of the cutter's life gone before and after. */
  readonly lifeBefore?: number;
  readonly lifeAfter?: number;
  readonly rateSteps: readonly RateStep[];
  readonly limitedBy: string;
}

/** In the estimate's currency. */
export interface CostJson {
  readonly sheet: number;
  readonly machine: number;
  readonly cutter: number;
  readonly setup: number;
  readonly total: number;
}

export interface MassJson {
  readonly g: number;
  readonly least: number;
  readonly most: number;
}

/** What one copy of a plate takes. */
export interface PlateEstimateJson {
  readonly plate: string;
  readonly copy: number;
  readonly sheet: string;
  readonly seconds: number;
  readonly edgeMetres: number;
  /** Share of a cutter's life, by cutter. */
  readonly lifeUsed: readonly { readonly cutter: string; readonly share: number }[];
  readonly mass: MassJson;
  readonly cost: CostJson;
}

export interface OffcutJson {
  readonly sheet: string;
  /** Sheet frame. */
  readonly from: PointJson;
  readonly to: PointJson;
  /** mm². */
  readonly area: number;
  /** Credited to the plates of its sheet. */
  readonly worth: number;
}

export interface EstimateJson {
  readonly seconds: number;
  readonly cuttingSeconds: number;
  readonly rapidSeconds: number;
  readonly dwellSeconds: number;
  readonly cost: number;
  readonly currency: string;
  readonly assumptions: readonly string[];
  /** As reckoned; `seconds` is this times `measuredRatio` where earlier cutters were timed. */
  readonly reckonedSeconds?: number;
  readonly measuredRatio?: number;
  readonly cutMetres?: number;
  readonly edgeMetres?: number;
  readonly costs?: CostJson;
  readonly mass?: MassJson;
  readonly plates?: readonly PlateEstimateJson[];
  readonly offcuts?: readonly OffcutJson[];
  /** The same sentences as `assumptions`, by what rests on them. */
  readonly assumed?: {
    readonly time: readonly string[];
    readonly wear: readonly string[];
    readonly cost: readonly string[];
    readonly mass: readonly string[];
  };
}

/** What was changed of a drawing for mates and relief; plate frame, mm. */
export interface FitJson {
  readonly plate: string;
  readonly what: "slot" | "tenon" | "window";
  readonly at: PointJson;
  /** A slot's width and the length that its tenon has; a tenon's width and how far it reaches. */
  readonly before: { readonly width: number; readonly length: number };
  readonly after: { readonly width: number; readonly length: number };
  readonly with?: string;
  readonly clearance?: number;
  readonly relief?: {
    readonly way: "round-ends" | "along-wall" | "bisector";
    readonly radius: number;
    readonly bite: number;
    readonly corners: number;
  };
}

/** A plan before its proof: what the proof will add is not there to be read. */
export type UnprovenPlan = Omit<PlanJson, "proof" | "findings">;

export interface PlanJson {
  readonly weftcut: number;
  readonly name: string;
  readonly units: "mm";
  readonly origin: {
    readonly at: "lower-left" | "lower-right" | "upper-left" | "upper-right" | "centre";
    readonly z: "sheet-top" | "spoilboard";
  };
  readonly machine: Machine;
  readonly cutting: CuttingOptions;
  readonly throughDepth: number;
  /** The programs are for this, to try the job in it, and not for the sheets' own materials. */
  readonly trial?: TrialMaterial;
  readonly search?: SearchJson;
  readonly sheets: readonly SheetJson[];
  readonly cutters: readonly CutterJson[];
  readonly programs: readonly ProgramJson[];
  /** Absent where nothing was changed. */
  readonly fits?: readonly FitJson[];
  readonly findings: readonly Finding[];
  readonly proof: Proof;
  readonly estimate: EstimateJson;
}
