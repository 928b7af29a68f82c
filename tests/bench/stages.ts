/**
 * A child process of the benchmark: plans the job file that it is given and prints, as JSON, how long each stage took
 * and the memory held at its end, and then the speed of what reads, proves and times programs.
 *
 * In a process of its own, since a second plan in the same one finds its code compiled already.
 */
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import process from "node:process";
import { parseJob } from "../../src/core/job/parse.ts";
import { planJob } from "../../src/core/job/plan.ts";
import type { PlanJson } from "../../src/core/job/plan-json.ts";
import { proofInput } from "../../src/core/job/planning/target.ts";
import { timeOf } from "../../src/core/motion/time.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { prove } from "../../src/core/proof/prove.ts";
import { spread, timed } from "./numbers.ts";

export interface Stage {
  readonly name: string;
  readonly ms: number;
  /** Processor time of all threads. */
  readonly cpuMs: number;
  readonly heapMb: number;
  readonly residentMb: number;
}

export interface Planning {
  readonly stages: readonly Stage[];
  readonly quality: Quality;
  /** Blocks of all programs, and milliseconds for all of them: first run, then median of `AGAIN`. */
  readonly blocks: number;
  readonly rooms: Readonly<Record<"read" | "prove" | "time", { first: number; again: number }>>;
}

/** What the plan is worth: a faster plan that is worse is no better. */
export interface Quality {
  readonly proven: boolean;
  readonly overcutMm: number;
  readonly leftMm2: number;
  readonly utilisation: number;
  readonly machineSeconds: number;
  readonly cutMetres: number;
  readonly rapidMetres: number;
}

const AGAIN = 3;
/** Memory of garbage that has not been collected says nothing. */
const collect: () => void = globalThis.gc ?? (() => undefined);

function planned(file: string): Planning {
  const read = (name: string) => readFileSync(join(dirname(file), name));
  const stages: Stage[] = [];
  let name = "reading the job file";
  let since = performance.now();
  let used = process.cpuUsage();
  const next = (following: string) => {
    // How far the search is, said while it goes on.
    if (/^laying out .*%/.test(following)) return;
    const ms = performance.now() - since;
    const { user, system } = process.cpuUsage(used);
    const cpuMs = (user + system) / 1000;
    collect();
    const { heapUsed, rss } = process.memoryUsage();
    // Sheets are routed and written in turn: a stage is all of its turns, and what was held at the end of the last.
    const before = stages.find((stage) => stage.name === name);
    if (before !== undefined) stages.splice(stages.indexOf(before), 1);
    stages.push({
      name,
      ms: ms + (before?.ms ?? 0),
      cpuMs: cpuMs + (before?.cpuMs ?? 0),
      heapMb: heapUsed / 1e6,
      residentMb: rss / 1e6,
    });
    name = following;
    since = performance.now();
    used = process.cpuUsage();
  };
  const { value: job } = parseJob({ name: file, text: readFileSync(file, "utf8") }, read);
  if (job === undefined) throw new Error(`${file} is no job`);
  const { plan, files } = planJob(job, read, { progress: next, keepUnproven: true });
  next("");
  if (plan === undefined) throw new Error(`${file} was stopped before there was a plan`);
  return { stages, quality: qualityOf(plan), ...speeds(plan, files) };
}

function qualityOf(plan: PlanJson): Quality {
  const sum = (of: (p: PlanJson["programs"][number]) => number) =>
    plan.programs.reduce((total, p) => total + of(p), 0);
  const { sheets, proof } = plan;
  return {
    proven: proof.proven,
    overcutMm: proof.overcutMm,
    leftMm2: proof.leftMm2,
    utilisation: sheets.reduce((total, s) => total + s.utilisation, 0) / sheets.length,
    machineSeconds: sum((p) => p.seconds),
    cutMetres: sum((p) => p.cutMetres),
    rapidMetres: sum((p) => p.rapidMetres),
  };
}

/** The plan's own programs once more, through the three rooms that take programs in. */
function speeds(
  plan: PlanJson,
  files: ReadonlyMap<string, string>,
): Pick<Planning, "blocks" | "rooms"> {
  const readAll = () =>
    plan.programs.map(({ file, sheet, cutter }) => ({
      file,
      sheet,
      cutter,
      trace: readProgram(file, files.get(file) ?? ""),
    }));
  const programs = readAll();
  const proveAll = () => prove(proofInput(plan, programs));
  const timeAll = () => programs.map(({ trace }) => timeOf(trace, plan.machine));
  return {
    blocks: programs.reduce((sum, { trace }) => sum + trace.steps.length, 0),
    rooms: { read: repeated(readAll), prove: repeated(proveAll), time: repeated(timeAll) },
  };
}

function repeated(work: () => unknown): { first: number; again: number } {
  const first = timed(work).ms;
  const again = spread(Array.from({ length: AGAIN }, () => timed(work).ms)).median;
  return { first, again };
}

process.stdout.write(JSON.stringify(planned(process.argv[2] ?? "")));
