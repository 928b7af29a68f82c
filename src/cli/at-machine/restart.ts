/**
 * `weftcut restart PLAN.json PROGRAM --line N | --plate NAME --out FILE`: a program that takes up an
 * interrupted one. Written only where it is proven, against the sheet as the interrupted program left it.
 */
import { basename, dirname, join } from "node:path";
import { type Finding, stops } from "../../core/finding/finding.ts";
import type { PlanJson } from "../../core/job/plan-json.ts";
import type { ReadProgram } from "../../core/job/planning/target.ts";
import { readPlan } from "../../core/job/read-plan.ts";
import { type Restart, restart } from "../../core/restart/restart.ts";
import type { Interrupted } from "../../core/restart/take-up.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { printFindings } from "../print-findings.ts";
import { readText, typedFiles } from "../read-file.ts";
import { say } from "../say.ts";
import { writeWhole } from "../write-files.ts";
import { traceOf } from "./meant-for.ts";

export interface RestartOptions {
  readonly line?: number;
  readonly lookAhead?: number;
  readonly plate?: string;
  readonly out: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

export function restartProgram(
  io: Io,
  planFile: string,
  file: string,
  options: RestartOptions,
): ExitCode {
  const { line, plate, lookAhead = 0 } = options;
  if ((line === undefined) === (plate === undefined)) {
    return answer(io, options, undefined, [say("restart-wants", {})], true);
  }
  const text = readText(planFile);
  if (typeof text !== "string") return answer(io, options, undefined, [text], true);
  const { value: plan, findings } = readPlan({ name: planFile, text });
  if (plan === undefined) return answer(io, options, undefined, findings, false);
  const read = readAll(plan, planFile, file);
  if (read.unreadable) return answer(io, options, undefined, read.findings, true);
  const at: Interrupted =
    plate === undefined ? { line: line as number, ahead: lookAhead } : { plate };
  const out = basename(options.out);
  const made = restart({ plan, file: basename(file), out, programs: read.programs, at });
  const all = [...findings, ...read.findings, ...made.findings];
  if (made.value === undefined || !isProven(made.value) || stops(all)) {
    return answer(io, options, made.value, all, false);
  }
  const problem = writeWhole(options.out, made.value.text, options.force === true);
  const told = problem === undefined ? all : [...all, problem];
  return answer(io, options, made.value, told, problem !== undefined);
}

const isProven = ({ proofs }: Restart): boolean => proofs.every((p) => p.proven);

interface ReadAll {
  readonly programs: readonly ReadProgram[];
  readonly findings: readonly Finding[];
  readonly unreadable: boolean;
}

/** The interrupted program from where it was named, the other ones of its sheet from beside the plan. */
function readAll(plan: PlanJson, planFile: string, file: string): ReadAll {
  const own = plan.programs.find((p) => p.file === basename(file));
  const programs: ReadProgram[] = [];
  const findings: Finding[] = [];
  const text = readText(file);
  if (typeof text !== "string") return { programs, findings: [text], unreadable: true };
  for (const { file: name, sheet, cutter } of plan.programs) {
    if (sheet !== own?.sheet) continue;
    const path = join(dirname(planFile), basename(name));
    const program = name === own.file ? text : readText(path);
    if (typeof program !== "string") {
      findings.push(say("program-not-beside", { file: path, sheet }));
      continue;
    }
    const trace = traceOf(plan, name, program);
    programs.push({ file: name, sheet, cutter, trace });
  }
  return { programs, findings, unreadable: false };
}

function answer(
  io: Io,
  options: RestartOptions,
  made: Restart | undefined,
  findings: readonly Finding[],
  usage: boolean,
): ExitCode {
  const proven = made !== undefined && isProven(made);
  const written = proven && !stops(findings);
  if (options.json === true) {
    const { text: _text, ...facts } = made ?? {};
    const look = made === undefined ? [] : lookAt(made);
    printJson(io, { file: written ? options.out : null, ...facts, look, proven, findings });
  } else {
    printFindings(io, findings, typedFiles);
    if (made !== undefined) print(io, made, options.out, written);
  }
  if (usage) return EXIT.usage;
  return written ? EXIT.done : EXIT.stopped;
}

function lookAt({ text, look: [first, last] }: Restart): { line: number; text: string }[] {
  const lines = text.split("\n").slice(first - 1, last);
  return lines.map((line, i) => ({ line: first + i, text: line }));
}

function print(io: Io, made: Restart, out: string, written: boolean): void {
  const { line, cutTo, above, at, finished, left } = made;
  io.out(`taken up at line ${line}; up to line ${cutTo} it may be cut already\n`);
  io.out(`goes down at ${xyz(above)}, takes up at ${xyz(at)}\n`);
  io.out(
    `cuts ${made.metres.toFixed(2)} m, ${made.twiceMetres.toFixed(2)} m of it a second time at most\n`,
  );
  if (finished.length > 0) io.out(`left out, finished: ${finished.join(", ")}\n`);
  if (left.length > 0) io.out(`cut now: ${left.join(", ")}\n`);
  if (!written) {
    io.out(isProven(made) ? "proven, but not written\n" : "NOT PROVEN, not written\n");
    return;
  }
  io.out("proven against the sheet as the interrupted program left it\n");
  io.out("\nlook at these lines before you start:\n");
  for (const { line: n, text } of lookAt(made)) io.out(`${String(n).padStart(6)}  ${text}\n`);
  io.out(`\nwrote ${out}\n`);
}

function xyz(values: readonly number[]): string {
  return values.map((v, i) => `${"XYZ"[i]}${Number(v.toFixed(3))}`).join(" ");
}
