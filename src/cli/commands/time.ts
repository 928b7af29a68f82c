/** `weftcut time PROGRAM… --machine FILE` */
import type { Finding } from "../../core/finding/finding.ts";
import { stops } from "../../core/finding/finding.ts";
import type { Machine } from "../../core/machine/machine.ts";
import { timeOf } from "../../core/motion/time.ts";
import { readProgram } from "../../core/program/read/read.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { printFindings } from "../print-findings.ts";
import { readText, typedFiles } from "../read-file.ts";
import { readMachine } from "../read-profile.ts";
import { minutes, table } from "../text.ts";

export interface TimeOptions {
  readonly machine: string;
  readonly json?: boolean;
}

interface Timed {
  readonly file: string;
  readonly seconds: number;
  readonly cuttingSeconds: number;
  readonly rapidSeconds: number;
  readonly dwellSeconds: number;
  readonly cutMetres: number;
  readonly rapidMetres: number;
  readonly blocks: number;
}

export function time(io: Io, files: readonly string[], options: TimeOptions): ExitCode {
  const findings: Finding[] = [];
  const programs: Timed[] = [];
  const assumptions = new Set<string>();
  let unreadable = false;
  const profile = readMachine(options.machine);
  findings.push(...profile.findings);
  unreadable ||= profile.unreadable;
  for (const file of profile.machine === undefined ? [] : files) {
    const text = readText(file);
    if (typeof text !== "string") {
      findings.push(text);
      unreadable = true;
      continue;
    }
    const timed = timeProgram(file, text, profile.machine as Machine);
    programs.push(timed.program);
    findings.push(...timed.findings);
    for (const assumption of timed.assumptions) assumptions.add(assumption);
  }
  if (options.json === true) printJson(io, { programs, assumptions: [...assumptions], findings });
  else printPrograms(io, programs, [...assumptions]);
  if (options.json !== true) printFindings(io, findings, typedFiles);
  if (unreadable) return EXIT.usage;
  return stops(findings) ? EXIT.stopped : EXIT.done;
}

function timeProgram(file: string, text: string, machine: Machine) {
  const trace = readProgram(file, text, {
    dwell: machine.dwell,
    semicolons: machine.comments === "semicolon",
  });
  const t = timeOf(trace, machine);
  const program: Timed = {
    file,
    seconds: t.seconds,
    cuttingSeconds: t.cuttingSeconds,
    rapidSeconds: t.rapidSeconds,
    dwellSeconds: t.dwellSeconds,
    cutMetres: t.cutMetres,
    rapidMetres: t.rapidMetres,
    blocks: t.blocks,
  };
  return { program, findings: [...trace.findings, ...t.findings], assumptions: t.assumptions };
}

function printPrograms(io: Io, programs: readonly Timed[], assumptions: readonly string[]): void {
  if (programs.length === 0) return;
  const rows = programs.map((p) => [
    p.file,
    minutes(p.seconds),
    minutes(p.cuttingSeconds),
    minutes(p.rapidSeconds),
    minutes(p.dwellSeconds),
    `${p.cutMetres.toFixed(2)} m`,
    `${p.rapidMetres.toFixed(2)} m`,
    String(p.blocks),
  ]);
  const head = ["program", "time", "cutting", "rapids", "dwells", "cut", "rapid", "moves"];
  io.out(table([head, ...rows]));
  if (programs.length > 1) {
    io.out(`together ${minutes(programs.reduce((sum, p) => sum + p.seconds, 0))}\n`);
  }
  for (const assumption of assumptions) io.out(`assumed: ${assumption}\n`);
}
