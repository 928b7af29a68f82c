/**
 * The job as rules see it: plates with their sheets, and what more than one rule would work out from them.
 *
 * Words: an *opening* is a hole, slot or window that goes through. A *gap* is the least distance between two
 * contours of a plate, that is, the width of the web between them. Costs are paid once, when first asked for.
 */

import type { Cutter } from "../cutting/cutter.ts";
import type { Place } from "../finding/finding.ts";
import { type SegmentIndex, segmentIndex } from "../geometry/nearest.ts";
import { once } from "../geometry/remember.ts";
import type { Point } from "../geometry/shape.ts";
import type { Sheet, SheetLayout } from "../layout/layout.ts";
import { thicknessOf } from "../layout/layout.ts";
import type { Machine } from "../machine/machine.ts";
import type { Feature, Plate } from "../plate/plate.ts";
import type { Screw } from "../plate/screw.ts";
import type { CuttingOptions } from "../toolpath/cut.ts";
import { type Gap, gapsOf } from "./shape/gaps.ts";
import { type Pattern, patternsOf } from "./shape/pattern.ts";

/** A screw that the job names: for the hole at a point, or for the plate as a whole. */
export interface Fastener {
  readonly screw: Screw;
  readonly at?: Point | undefined;
}

/** Propellers, where the job names them: one disc for each motor axis, all in one frame. */
export interface Propellers {
  readonly diameter: number;
  /** Widest chord of the blade, mm. */
  readonly chord?: number | undefined;
  readonly at: readonly Point[];
  /** Plates that are drawn in the frame of `at` and stand in the discs' height. */
  readonly beside: readonly string[];
  /** Least way from a disc to the next disc or to a plate. */
  readonly gap: number;
}

export interface CheckPlate {
  readonly plate: Plate;
  readonly sheet: Sheet;
  readonly count: number;
  /** Direction in the drawing that lies along the sheet's fibre; absent: free. */
  readonly fibreDeg?: number | undefined;
  readonly fasteners?: readonly Fastener[] | undefined;
  /** Openings of this plate in which another plate sits, by feature id. */
  readonly mating?: ReadonlySet<number> | undefined;
}

export interface CheckInput {
  readonly plates: readonly CheckPlate[];
  readonly sheets: readonly Sheet[];
  readonly cutters: readonly Cutter[];
  readonly machine: Machine;
  readonly cutting: CuttingOptions;
  readonly propellers?: Propellers | undefined;
  readonly layouts?: readonly SheetLayout[] | undefined;
}

export interface PlateView extends CheckPlate {
  /** As measured, where somebody did. */
  readonly thickness: number;
  readonly openings: readonly Feature[];
  /** Round openings. */
  readonly holes: readonly Feature[];
  /** All webs narrower than `WIDEST_WEB`, narrowest first. */
  readonly gaps: () => readonly Gap[];
  readonly patterns: () => readonly Pattern[];
  readonly outline: () => SegmentIndex;
}

export interface JobView extends Omit<CheckInput, "plates"> {
  readonly plates: readonly PlateView[];
  /** All that can go round, from small to large. */
  readonly routers: readonly Cutter[];
  readonly drills: readonly Cutter[];
}

/** No rule asks for a wider web than this; 25 mm is the thickest sheet that a job may name, and rules ask 0.6 of it. */
export const WIDEST_WEB = 15;

export function viewOf(input: CheckInput): JobView {
  const bySize = [...input.cutters].sort((a, b) => effective(a) - effective(b));
  return {
    ...input,
    plates: input.plates.map(plateView),
    routers: bySize.filter((c) => c.kind !== "drill"),
    drills: bySize.filter((c) => c.kind === "drill"),
  };
}

function effective(c: Cutter): number {
  return c.measuredDiameter ?? c.diameter;
}

function plateView(p: CheckPlate): PlateView {
  const { plate } = p;
  const openings = plate.features.filter((f) => f.depth === undefined);
  const holes = openings.filter((f) => f.kind === "hole");
  return {
    ...p,
    thickness: thicknessOf(p.sheet),
    openings,
    holes,
    gaps: once(() => gapsOf(plate.outer, openings, WIDEST_WEB)),
    patterns: once(() => patternsOf(holes)),
    outline: once(() => segmentIndex([plate.outer])),
  };
}

/** Where a feature is, for findings. */
export function featurePlace(p: PlateView, f: Feature): Place {
  return pointPlace(p, f.at, originOf(f));
}

/** The drawing's entity. */
export function originOf(f: Feature): Place["drawing"] {
  return f.contour.segments[0]?.origin;
}

export function pointPlace(p: PlateView, at: Point, drawing?: Place["drawing"]): Place {
  return {
    plate: p.plate.name,
    at: [at.x, at.y],
    ...(drawing === undefined ? {} : { drawing }),
  };
}
