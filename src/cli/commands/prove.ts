/**
 * `weftcut prove PLAN.json PROGRAM…`: whether programs, whoever wrote them, make the plates of a plan.
 *
 * A sheet is right only when all its programs have run. Of a sheet for which a program is given, those that
 * are not given are taken from beside the plan, and that is told.
 */
import { basename, dirname, join } from "node:path";
import { type Finding, stops } from "../../core/finding/finding.ts";
import type { PlanJson, ProgramJson } from "../../core/job/plan-json.ts";
import { proofInput, type ReadProgram } from "../../core/job/planning/target.ts";
import { readPlan } from "../../core/job/read-plan.ts";
import { differs } from "../../core/proof/differs.ts";
import type { Proof, ProofCheck } from "../../core/proof/proof.ts";
import { prove as proveTraces } from "../../core/proof/prove.ts";
import { meantFor, traceOf } from "../at-machine/meant-for.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { printFindings } from "../print-findings.ts";
import { readText, typedFiles } from "../read-file.ts";
import { say } from "../say.ts";
import { table } from "../text.ts";

export interface ProveOptions {
  readonly sheet?: string;
  readonly cutter?: string;
  readonly json?: boolean;
}

interface Proven {
  readonly file: string;
  readonly proof: Proof;
}

export function prove(
  io: Io,
  planFile: string,
  files: readonly string[],
  options: ProveOptions,
): ExitCode {
  const text = readText(planFile);
  if (typeof text !== "string") return answer(io, options, [], [text], true);
  const { value: plan, findings } = readPlan({ name: planFile, text });
  if (plan === undefined) return answer(io, options, [], findings, false);
  const given = readGiven(plan, files, options);
  const said = [...findings, ...given.findings];
  if (given.unreadable || stops(given.unmatched)) {
    return answer(io, options, [], [...said, ...given.unmatched], given.unreadable);
  }
  const along = takenAlong(plan, dirname(planFile), given.programs);
  const all = inPlanOrder(plan, [...given.programs, ...along.programs]);
  const sheets = plan.sheets.filter((s) => all.some((p) => p.sheet === s.name));
  const { value: proof, findings: judged } = proveTraces(proofInput({ ...plan, sheets }, all));
  const told = given.programs.flatMap((p) => differs(p.trace, plan.machine, p.sheet));
  const programs = given.programs.map((p) => ({ file: p.file, proof: partOf(proof, p) }));
  return answer(io, options, programs, [...said, ...along.findings, ...judged, ...told], false);
}

interface Given {
  readonly programs: readonly ReadProgram[];
  readonly findings: readonly Finding[];
  readonly unmatched: readonly Finding[];
  readonly unreadable: boolean;
}

function readGiven(plan: PlanJson, files: readonly string[], options: ProveOptions): Given {
  const programs: ReadProgram[] = [];
  const findings: Finding[] = [];
  const unmatched: Finding[] = [];
  let unreadable = false;
  for (const file of files) {
    const text = readText(file);
    if (typeof text !== "string") {
      findings.push(text);
      unreadable = true;
      continue;
    }
    const trace = traceOf(plan, file, text);
    findings.push(...trace.findings);
    const meant = meantFor(plan, file, trace, options);
    if (meant === undefined) unmatched.push(say("program-for-what", { file }));
    else programs.push({ file, ...meant, trace });
  }
  return { programs, findings, unmatched, unreadable };
}

interface Along {
  readonly programs: readonly ReadProgram[];
  readonly findings: readonly Finding[];
}

function takenAlong(plan: PlanJson, folder: string, given: readonly ReadProgram[]): Along {
  const programs: ReadProgram[] = [];
  const findings: Finding[] = [];
  const missing = plan.programs.filter(
    (p) => given.some((g) => g.sheet === p.sheet) && !given.some((g) => serves(plan, g, p)),
  );
  for (const { file: name, sheet, cutter } of missing) {
    const file = join(folder, basename(name));
    const text = readText(file);
    if (typeof text !== "string") {
      findings.push(say("program-not-beside", { file, sheet }));
      continue;
    }
    findings.push(say("program-taken-along", { file, sheet }));
    programs.push({ file, sheet, cutter, trace: traceOf(plan, file, text) });
  }
  return { programs, findings };
}

/** By its name where the plan has one of that name: a worn cutter's work is split, and each part is a program. */
function serves(plan: PlanJson, given: ReadProgram, planned: ProgramJson): boolean {
  const name = basename(given.file);
  if (plan.programs.some((p) => p.file === name)) return planned.file === name;
  return given.sheet === planned.sheet && given.cutter === planned.cutter;
}

function inPlanOrder(plan: PlanJson, programs: readonly ReadProgram[]): readonly ReadProgram[] {
  const place = (program: ReadProgram) => plan.programs.findIndex((p) => serves(plan, program, p));
  return [...programs].sort((a, b) => place(a) - place(b));
}

/** Of the whole proof, what speaks of this program or of its sheet. */
function partOf(proof: Proof, { file, sheet }: ReadProgram): Proof {
  const mine = (check: ProofCheck) =>
    check.program === undefined
      ? check.sheet === undefined || check.sheet === sheet
      : check.program.file === file || check.passed;
  const checks = proof.checks.filter(mine);
  return { ...proof, checks, proven: checks.length > 0 && checks.every((c) => c.passed) };
}

function answer(
  io: Io,
  options: ProveOptions,
  programs: readonly Proven[],
  findings: readonly Finding[],
  unreadable: boolean,
): ExitCode {
  const proven = programs.length > 0 && programs.every((p) => p.proof.proven) && !stops(findings);
  if (options.json === true) printJson(io, { programs, proven, findings });
  else {
    printFindings(io, findings, typedFiles);
    for (const { file, proof } of programs) printProof(io, file, proof);
  }
  if (unreadable) return EXIT.usage;
  return proven ? EXIT.done : EXIT.stopped;
}

function printProof(io: Io, file: string, proof: Proof): void {
  io.out(`${file}: ${proof.proven ? "proven" : "NOT PROVEN"}\n`);
  io.out(table(proofRows(proof, file)));
}

/**
 * Every check with its worst value, its limit, and where that is: place on the sheet, line of the program
 * (of another one of the sheet with its name), drawn entity.
 */
export function proofRows(proof: Proof, file: string): string[][] {
  return proof.checks.map((c) => [
    c.passed ? "  passed" : "  FAILED",
    c.code,
    amount(c.worst, c.unit),
    `limit ${amount(c.limit, c.unit)}`,
    c.at === undefined ? "" : `at ${c.at.map((v) => v.toFixed(2)).join(", ")}`,
    c.program === undefined ? "" : lineIn(c.program, file),
    c.drawing === undefined ? "" : [c.drawing.file, c.drawing.line].filter(Boolean).join(":"),
  ]);
}

function lineIn(program: { readonly file: string; readonly line: number }, file: string): string {
  return program.file === file
    ? `line ${program.line}`
    : `${basename(program.file)}, line ${program.line}`;
}

/** What is nothing but rounding is written as 0. */
function amount(value: number, unit: string): string {
  const shown = Math.abs(value) < 1e-9 ? 0 : Number(value.toPrecision(4));
  return `${shown} ${unit}`;
}
