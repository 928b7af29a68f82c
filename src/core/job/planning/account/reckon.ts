/**
 * What the whole job takes: time, metres, wear, cost and mass, by program, cutter and plate, each with what it
 * rests on. Times and metres are from the programs as they were read back, prices from the job, and what was
 * measured on earlier cutters from their ledger.
 *
 * Promise: the plates' costs add up to the job's, the cutters' metres to the programs'. A program's own seconds
 * stay as reckoned; the job's are times the measured ratio.
 */
import type { Cutter } from "../../../cutting/cutter.ts";
import { type SheetLayout, thicknessOf } from "../../../layout/layout.ts";
import { splitByLine } from "../../../motion/by-plate.ts";
import type { TraceTime } from "../../../motion/time.ts";
import { blockEdges } from "../../../motion/wear/block-edges.ts";
import type { Feedback } from "../../../motion/wear/feedback.ts";
import type { SplitInput } from "../../../motion/wear/split.ts";
import { lifeFor, type WearOptions, wearOf } from "../../../motion/wear/wear.ts";
import type { Trace } from "../../../program/read/trace.ts";
import { type CutProgram, platesOf } from "../../../toolpath/cut.ts";
import type { Job } from "../../job.ts";
import type { CutterJson, EstimateJson, ProgramJson } from "../../plan-json.ts";
import { keyOf, NO_MEMORY, type PlanMemory } from "../../work/memory.ts";
import { programZero } from "../describe.ts";
import { shareOut, type Worn } from "./shares.ts";

/** A program as written, read back and timed. */
export interface Run {
  readonly program: CutProgram;
  readonly trace: Trace;
  readonly time: TraceTime;
  readonly cutMetres: number;
  /** The program line at which each plate block begins. */
  readonly blockLines: readonly number[];
  readonly newCutter: boolean;
  readonly lifeBefore: number;
}

export interface ReckonInput {
  readonly job: Job;
  readonly layouts: readonly SheetLayout[];
  readonly runs: readonly Run[];
  readonly feedback: Feedback;
  readonly memory?: PlanMemory;
}

export interface Reckoning {
  readonly estimate: EstimateJson;
  /** In the order of the runs: what plan.json adds to each program, its plates included. */
  readonly programs: readonly ReckonedProgram[];
  readonly cutters: ReadonlyMap<string, ReckonedCutter>;
}

type Fields<T, K extends keyof T> = { readonly [P in K]-?: Exclude<T[P], undefined> };

export type ReckonedProgram = Fields<
  ProgramJson,
  | "plates"
  | "byMotion"
  | "edgeMetres"
  | "wearMetres"
  | "rubbingMetres"
  | "lifeMetres"
  | "newCutter"
  | "lifeBefore"
  | "lifeAfter"
>;

export type ReckonedCutter = Fields<
  CutterJson,
  | "cutMetres"
  | "edgeMetres"
  | "wearMetres"
  | "rubbingMetres"
  | "lifeMetres"
  | "lifeBefore"
  | "lifeUsed"
  | "changes"
> &
  Pick<CutterJson, "diameterLoss">;

/** What splitting the routed programs needs to know of the job. */
export function splitInput(
  { origin }: Job,
  feedback: Feedback,
  { recall, id }: PlanMemory = NO_MEMORY,
): SplitInput {
  return {
    lifeMetres: (cutter) => lifeOfCutter(cutter, feedback),
    used: (cutter) => usedBefore(cutter, feedback),
    edges: (program) =>
      recall(
        "edges",
        () => keyOf(id(program), origin),
        () => blockEdges(program, programZero(program.sheet, origin)),
      ),
  };
}

function wearOptions(cutter: Cutter, { lives }: Feedback): WearOptions {
  return { measuredLife: lives.get(cutter.name)?.metres };
}

function lifeOfCutter(cutter: Cutter, feedback: Feedback): number {
  return lifeFor(cutter, wearOptions(cutter, feedback)).metres;
}

function usedBefore(cutter: Cutter, feedback: Feedback): number {
  return (feedback.worn.get(cutter.name) ?? 0) / lifeOfCutter(cutter, feedback);
}

export function reckon(input: ReckonInput): Reckoning {
  const { job, feedback, memory = NO_MEMORY } = input;
  const worn = input.runs.map((run): Worn => {
    const { program, trace, time, blockLines } = run;
    const thickness = thicknessOf(program.sheet);
    const sheet = { thickness, top: job.origin.z === "spoilboard" ? thickness : 0 };
    const { cutter } = program;
    const options = wearOptions(cutter, feedback);
    const wear = memory.recall(
      "wear",
      () => keyOf(memory.id(trace), cutter, sheet, options),
      () => wearOf(trace, cutter, sheet, options),
    );
    const seconds = splitByLine(trace, time.stepSeconds, blockLines);
    const edges = splitByLine(trace, wear.stepEdge, blockLines);
    return { ...run, wear, seconds, edges };
  });
  return {
    estimate: shareOut({ job, layouts: input.layouts, worn, feedback }),
    programs: worn.map(programOf),
    cutters: cuttersOf(worn, feedback),
  };
}

function programOf({ wear, seconds, edges, ...run }: Worn): ReckonedProgram {
  return {
    plates: platesOf(run.program.blocks).map(({ plate, copy }) => {
      const own = run.program.blocks.map((b) => b.plate === plate && b.copy === copy);
      const sum = (of: readonly number[]): number =>
        of.reduce((total, value, i) => (own[i] === true ? total + value : total), 0);
      const line = run.blockLines[own.indexOf(true)] ?? 0;
      return { plate, copy, line, seconds: sum(seconds), edgeMetres: sum(edges) };
    }),
    byMotion: run.time.byMotion,
    edgeMetres: wear.edgeMetres,
    wearMetres: wear.wearMetres,
    rubbingMetres: wear.rubbingMetres,
    lifeMetres: wear.lifeMetres,
    newCutter: run.newCutter,
    lifeBefore: run.lifeBefore,
    lifeAfter: run.lifeBefore + wear.lifeUsed,
  };
}

function cuttersOf(worn: readonly Worn[], feedback: Feedback): Map<string, ReckonedCutter> {
  const cutters = new Map<string, ReckonedCutter>();
  for (const { wear, ...run } of worn) {
    const { cutter } = run.program;
    const before = cutters.get(cutter.name);
    const loss = (before?.diameterLoss ?? 0) + (wear.diameterLoss ?? 0);
    cutters.set(cutter.name, {
      cutMetres: (before?.cutMetres ?? 0) + run.cutMetres,
      edgeMetres: (before?.edgeMetres ?? 0) + wear.edgeMetres,
      wearMetres: (before?.wearMetres ?? 0) + wear.wearMetres,
      rubbingMetres: (before?.rubbingMetres ?? 0) + wear.rubbingMetres,
      lifeMetres: wear.lifeMetres,
      lifeBefore: usedBefore(cutter, feedback),
      lifeUsed: (before?.lifeUsed ?? 0) + wear.lifeUsed,
      changes: (before?.changes ?? 0) + (run.newCutter ? 1 : 0),
      ...(wear.diameterLoss === undefined ? {} : { diameterLoss: loss }),
    });
  }
  return cutters;
}
