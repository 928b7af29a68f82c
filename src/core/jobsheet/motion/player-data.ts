/**
 * What the player shows: sheets as pictures, programs as they are written and as they move. Plain data, so that it
 * can stand in a page.
 */

import { bounds } from "../../geometry/contour.ts";
import type { Box } from "../../geometry/shape.ts";
import type { PointJson, SheetJson, UnprovenPlan } from "../../job/plan-json.ts";
import { contourOf } from "../../job/planning/contour-json.ts";
import { pathOf } from "../../layout/drawn/svg.ts";
import { keepOutContour, keepOutOf } from "../../layout/picture.ts";
import { timeOf } from "../../motion/time.ts";
import { dialectOf } from "../../program/read/dialect.ts";
import { readProgram } from "../../program/read/read.ts";
import type { Trace } from "../../program/read/trace.ts";
import { encodeMotion } from "./encode.ts";

/** Left, bottom, right, top; sheet frame. */
export type BoxJson = readonly [number, number, number, number];

export interface PlayerPlate {
  readonly name: string;
  readonly box: BoxJson;
  /** SVG path data as all paths here: sheet frame, Y downward. */
  readonly path: string;
}

export interface PlayerSheet {
  readonly name: string;
  readonly box: BoxJson;
  readonly thickness: number;
  readonly outline: string;
  readonly keepOuts: string;
  readonly plates: readonly PlayerPlate[];
  /** Program X0 Y0 in the sheet frame. */
  readonly zero: PointJson;
  /** Z of the sheet's top in its programs. */
  readonly topZ: number;
  /** How far below its top the deepest program goes. */
  readonly depth: number;
}

export interface PlayerProgram {
  readonly file: string;
  /** Which of the sheets. */
  readonly sheet: number;
  readonly cutter: string;
  /** What the cutter really cuts, mm. */
  readonly diameter: number;
  readonly text: string;
  /** See `encode.ts`. */
  readonly motion: string;
}

export interface PlayerData {
  readonly sheets: readonly PlayerSheet[];
  /** In the order in which they are run. */
  readonly programs: readonly PlayerProgram[];
}

/** A program of the plan, as it was read back and timed. */
export interface ProgramRun {
  readonly file: string;
  readonly text: string;
  readonly trace: Trace;
  readonly time: { readonly stepSeconds: ArrayLike<number> };
}

export function playerData(plan: UnprovenPlan, runs: readonly ProgramRun[]): PlayerData {
  return {
    sheets: plan.sheets.map((sheet) => sheetData(plan, sheet)),
    programs: runs.flatMap(({ file, text, trace, time }) => {
      const program = plan.programs.find((p) => p.file === file);
      if (program === undefined) return [];
      const cutter = plan.cutters.find((c) => c.name === program.cutter);
      return {
        file,
        sheet: plan.sheets.findIndex((s) => s.name === program.sheet),
        cutter: program.cutter,
        diameter: cutter?.effectiveDiameter ?? 0,
        text,
        motion: encodeMotion(trace, time.stepSeconds),
      };
    }),
  };
}

/** The same for programs of which only the text is at hand. */
export function runsOf(plan: UnprovenPlan, texts: ReadonlyMap<string, string>): ProgramRun[] {
  return plan.programs.flatMap(({ file }) => {
    const text = texts.get(file);
    if (text === undefined) return [];
    const trace = readProgram(file, text, dialectOf(plan.machine));
    return { file, text, trace, time: timeOf(trace, plan.machine) };
  });
}

/** Z of the sheet's top in a program. */
export function topZ(plan: UnprovenPlan, sheet: SheetJson): number {
  return plan.origin.z === "sheet-top" ? 0 : sheet.thickness;
}

function sheetData(plan: UnprovenPlan, sheet: SheetJson): PlayerSheet {
  const outline = contourOf(sheet.outline);
  const deepest = plan.programs.filter((p) => p.sheet === sheet.name).map((p) => -p.deepest);
  return {
    name: sheet.name,
    box: boxJson(bounds(outline)),
    thickness: sheet.thickness,
    outline: pathOf(outline),
    keepOuts: sheet.keepOut.map((k) => pathOf(keepOutContour(keepOutOf(k)))).join(""),
    plates: sheet.placements.map((p) => {
      const outer = contourOf(p.outer);
      const many = sheet.placements.filter((o) => o.plate === p.plate).length > 1;
      return {
        name: many ? `${p.plate} ${p.copy}` : p.plate,
        box: boxJson(bounds(outer)),
        path: [outer, ...p.inner.map(contourOf)].map(pathOf).join(""),
      };
    }),
    zero: sheet.originOffset,
    topZ: topZ(plan, sheet),
    depth: Math.max(sheet.thickness, ...deepest),
  };
}

function boxJson({ min, max }: Box): BoxJson {
  return [min.x, min.y, max.x, max.y];
}
