/** Plans to be interrupted, read as the command line reads them. */
import { bracketDxf } from "../../src/cli/starter/bracket-dxf.ts";
import { JOB_YAML, MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { planJob } from "../../src/core/job/plan.ts";
import type { PlanJson } from "../../src/core/job/plan-json.ts";
import type { ReadProgram } from "../../src/core/job/planning/target.ts";
import { dialectOf } from "../../src/core/program/read/dialect.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { isFeed, type TraceMove, type TraceStep } from "../../src/core/program/read/trace.ts";
import type { RestartInput } from "../../src/core/restart/restart.ts";
import type { Interrupted } from "../../src/core/restart/take-up.ts";
import type { SheetJob } from "../proof/support/planned.ts";

/** One sheet of a plan with its programs as read. */
export interface Bench {
  readonly name: string;
  readonly plan: PlanJson;
  readonly programs: readonly ReadProgram[];
}

export function benchOf({ name, plan, programs }: SheetJob): Bench {
  const read = programs.map(({ text, ...p }) => ({ ...p, trace: readProgram(p.file, text) }));
  return { name, plan, programs: read };
}

/** The starter job, with the machine's profile or the job changed in places. */
export function starterBench(change: (text: string) => string = (text) => text): Bench {
  const files: Readonly<Record<string, string>> = {
    "machine.yaml": change(MACHINE_YAML),
    "bracket.dxf": bracketDxf(),
  };
  const read = (name: string): Uint8Array | undefined => {
    const text = files[name];
    return text === undefined ? undefined : new TextEncoder().encode(text);
  };
  const { value: job, findings } = parseJob({ name: "job.yaml", text: change(JOB_YAML) }, read);
  if (job === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  const { plan, files: made } = planJob(job, read, { keepUnproven: true });
  if (plan === undefined) throw new Error("the starter job has no plan");
  const programs = plan.programs.map(({ file, sheet, cutter }): ReadProgram => {
    const text = made.get(file) ?? "";
    return { file, sheet, cutter, trace: readProgram(file, text, dialectOf(job.machine)) };
  });
  return { name: "starter", plan, programs };
}

/** A machine that differs from the plain one in all that changes what a program means or looks like. */
export const ODD = (text: string): string =>
  text
    .replace("# sAtMax: 1000 ", "sAtMax: 255 ")
    .replace("start: program", "start: hand-in-dwell")
    .replace("lineLength: 70", "lineLength: 40")
    .replace("dwell: seconds", "dwell: milliseconds")
    .replace("comments: parentheses", "comments: semicolon")
    .replace("repeatMotion: false", "repeatMotion: true")
    .replace("workOffset: G54", "workOffset: G57")
    .replace("arcs: true", "arcs: false")
    .replace("programEnd: M2", "programEnd: none")
    .replace("startLines: []", 'startLines: ["M7"]')
    .replace("endLines: []", 'endLines: ["M9"]');

/** Ramps fall faster than the Z axis can where the way was fed level. */
export const STEEP = (text: string): string =>
  text
    .replace(/maxFeed: \[.*\]/, "maxFeed: [2000, 2000, 250]")
    .replace("rampDeg: 3", "rampDeg: 45");

export function inputFor({ plan, programs }: Bench, file: string, at: Interrupted): RestartInput {
  return { plan, file, out: "restart.nc", programs, at };
}

export const feedsFrom = (steps: readonly TraceStep[], line: number): TraceMove[] =>
  steps.filter(isFeed).filter((s) => s.line >= line);
