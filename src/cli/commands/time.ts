/** `weftcut time PROGRAM… --machine FILE`: split by program, by plate where a program names them, and by motion. */
import type { Finding } from "../../core/finding/finding.ts";
import { stops } from "../../core/finding/finding.ts";
import type { Machine } from "../../core/machine/machine.ts";
import { plateStarts, splitByLine } from "../../core/motion/by-plate.ts";
import { type TimeOptions as Planner, timeOf } from "../../core/motion/time.ts";
import { type TimeJson, timeJson } from "../../core/motion/time-json.ts";
import { dialectOf } from "../../core/program/read/dialect.ts";
import { readProgram } from "../../core/program/read/read.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { printFindings } from "../print-findings.ts";
import { readText, typedFiles } from "../read-file.ts";
import { readMachine } from "../read-profile.ts";
import { minutes, table } from "../text.ts";

export interface TimeOptions extends Planner {
  readonly machine: string;
  readonly json?: boolean;
}

interface PlateTime {
  readonly plate: string;
  readonly copy: number;
  readonly seconds: number;
}

type Timed = Omit<TimeJson, "assumptions"> & { readonly plates: readonly PlateTime[] };

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
    const timed = timeProgram(file, text, profile.machine as Machine, options);
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

function timeProgram(file: string, text: string, machine: Machine, options: Planner) {
  const trace = readProgram(file, text, dialectOf(machine));
  const { jerk, lookAhead } = options;
  const t = timeOf(trace, machine, { jerk, lookAhead });
  const { assumptions, ...json } = timeJson(file, t);
  const starts = plateStarts(trace);
  const seconds = splitByLine(
    trace,
    t.stepSeconds,
    starts.map((s) => s.line),
  );
  const plates = starts.map(({ plate, copy }, i) => ({ plate, copy, seconds: seconds[i] ?? 0 }));
  const program: Timed = { ...json, plates };
  return { program, findings: [...trace.findings, ...t.findings], assumptions };
}

function printPrograms(io: Io, programs: readonly Timed[], assumptions: readonly string[]): void {
  if (programs.length === 0) return;
  const rows = programs.map((p) => [
    p.file,
    minutes(p.seconds),
    minutes(p.byMotion.level),
    minutes(p.byMotion.ramp),
    minutes(p.byMotion.plunge),
    minutes(p.rapidSeconds),
    minutes(p.dwellSeconds),
    `${p.cutMetres.toFixed(2)} m`,
    `${p.rapidMetres.toFixed(2)} m`,
    String(p.blocks),
  ]);
  const head = [
    "program",
    "time",
    "level",
    "ramps",
    "plunges",
    "rapids",
    "dwells",
    "cut",
    "rapid",
    "moves",
  ];
  io.out(table([head, ...rows]));
  if (programs.length > 1) {
    io.out(`together ${minutes(programs.reduce((sum, p) => sum + p.seconds, 0))}\n`);
  }
  const plates = programs.flatMap((p) =>
    p.plates.map((s) => [`${s.plate} ${s.copy}`, minutes(s.seconds), p.file]),
  );
  if (plates.length > 0) io.out(`\n${table([["plate", "time", "in"], ...plates])}\n`);
  for (const assumption of assumptions) io.out(`assumed: ${assumption}\n`);
}
