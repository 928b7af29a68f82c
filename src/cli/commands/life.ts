/** `weftcut life show`, `life record DIR`, `life renew CUTTER`: the ledger of what each cutter has cut. */
import { createHash, randomUUID } from "node:crypto";
import { join } from "node:path";
import process from "node:process";
import { createInterface } from "node:readline/promises";
import { type Finding, reporter, stops } from "../../core/finding/finding.ts";
import { sayMotion } from "../../core/finding/say-motion.ts";
import type { PlanJson, ProgramJson } from "../../core/job/plan-json.ts";
import { readPlan } from "../../core/job/read-plan.ts";
import { feedbackOf } from "../../core/motion/wear/feedback.ts";
import {
  alreadyRecorded,
  type CutRecord,
  type CutterTotal,
  counted,
  LEDGER_NAME,
  type Ledger,
  totalsOf,
} from "../../core/motion/wear/ledger.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { appendRecords, openLedger } from "../ledger-file.ts";
import { printFindings } from "../print-findings.ts";
import { readText, typedFiles } from "../read-file.ts";
import { minutes, table } from "../text.ts";

const report = reporter(sayMotion);

export interface LifeOptions {
  readonly ledger?: string;
  readonly json?: boolean;
}

export interface RecordOptions extends LifeOptions {
  readonly program?: readonly string[];
  readonly again?: boolean;
}

export interface RenewOptions extends LifeOptions {
  readonly minutes?: number;
  readonly metres?: number;
}

export function show(io: Io, options: LifeOptions): ExitCode {
  const opened = openLedger(options.ledger ?? LEDGER_NAME);
  const { file, ledger, findings } = opened;
  if (options.json === true) printJson(io, { ledger: file, ...stateOf(ledger), findings });
  else {
    printFindings(io, findings, typedFiles);
    if (!opened.unreadable) printState(io, file, ledger);
  }
  return opened.unreadable ? EXIT.usage : EXIT.done;
}

export async function record(io: Io, dir: string, options: RecordOptions): Promise<ExitCode> {
  const file = options.ledger ?? LEDGER_NAME;
  const cut = readCut(dir, options.program ?? []);
  const opened = openLedger(file);
  const findings: Finding[] = [...cut.findings, ...opened.findings];
  const unreadable = cut.unreadable || opened.unreadable;
  if (unreadable || stops(findings)) {
    return tell(io, findings, options, unreadable ? EXIT.usage : EXIT.stopped);
  }
  const had = new Set(alreadyRecorded(opened.ledger, cut.plan));
  const before = cut.programs.filter((p) => had.has(p.file)).map((p) => p.file);
  let again = options.again === true;
  if (!again && before.length === cut.programs.length) {
    again = await asks(io, `${before.join(", ")} of ${dir} is recorded already. Cut again?`);
    if (!again) {
      const data = { dir, programs: before.join(", ") };
      findings.push(report("plan-already-recorded", data));
      return tell(io, findings, options, EXIT.stopped);
    }
  }
  if (!again && before.length > 0) {
    findings.push(report("program-recorded-before", { programs: before.join(", ") }));
  }
  const wanted = cut.programs.filter((p) => again || !had.has(p.file));
  const records = wanted.map((p) => recordOf(p, cut.plan, again));
  const failed = appendRecords(file, records);
  if (failed !== undefined) return tell(io, [...findings, failed], options, EXIT.usage);
  const { ledger } = openLedger(file);
  // Another run may have recorded the same plan between our look and our write: then its records count.
  const lost = records.filter((r) => !isCounted(ledger, r)).map((r) => r.program);
  if (lost.length > 0) {
    findings.push(report("plan-already-recorded", { dir, programs: lost.join(", ") }));
    return tell(io, findings, options, EXIT.stopped);
  }
  const recorded = wanted.map((p) => p.file);
  if (options.json === true) {
    printJson(io, { ledger: file, recorded, ...stateOf(ledger), findings });
  } else {
    printFindings(io, findings, typedFiles);
    io.out(`recorded ${recorded.join(", ")}\n`);
    printState(io, file, ledger);
  }
  return EXIT.done;
}

export function renew(io: Io, cutter: string, options: RenewOptions): ExitCode {
  const file = options.ledger ?? LEDGER_NAME;
  const opened = openLedger(file);
  if (opened.unreadable) return tell(io, opened.findings, options, EXIT.usage);
  const before = totalsOf(opened.ledger).find((t) => t.cutter === cutter);
  if (before === undefined) {
    const known = totalsOf(opened.ledger).map((t) => t.cutter);
    const unknown = report("cutter-not-in-ledger", { cutter, known: known.join(", ") });
    return tell(io, [...opened.findings, unknown], options, EXIT.stopped);
  }
  const failed = appendRecords(file, [
    {
      kind: "renew",
      time: new Date().toISOString(),
      id: randomUUID(),
      cutter,
      ...(options.minutes === undefined ? {} : { trueMinutes: options.minutes }),
      ...(options.metres === undefined ? {} : { trueMetres: options.metres }),
    },
  ]);
  if (failed !== undefined) return tell(io, [...opened.findings, failed], options, EXIT.usage);
  const { ledger } = openLedger(file);
  if (options.json === true) {
    const findings = opened.findings;
    printJson(io, { ledger: file, renewed: cutter, before, ...stateOf(ledger), findings });
  } else {
    printFindings(io, opened.findings, typedFiles);
    io.out(`${cutter} is new; the last one was reckoned at ${spent(before)}\n`);
    if (options.minutes === undefined && options.metres === undefined) {
      io.out("If you know what it truly did, --minutes and --metres mend the next estimates.\n");
    }
    printState(io, file, ledger);
  }
  return EXIT.done;
}

function spent(t: CutterTotal): string {
  return `${minutes(t.seconds)} and ${t.edgeMetres.toFixed(2)} m of edge in ${t.programs} program${t.programs === 1 ? "" : "s"}`;
}

interface Cut {
  /** A hash of all the plan's programs. */
  readonly plan: string;
  readonly programs: readonly ProgramJson[];
  readonly findings: readonly Finding[];
  readonly unreadable: boolean;
}

/** A plan's programs as they lie in its folder; `only` names those that were cut. */
function readCut(dir: string, only: readonly string[]): Cut {
  const none = { plan: "", programs: [] };
  const path = join(dir, "plan.json");
  const text = readText(path);
  if (typeof text !== "string") return { ...none, findings: [text], unreadable: true };
  const { value, findings } = readPlan({ name: path, text });
  if (value === undefined) return { ...none, findings, unreadable: true };
  const hash = createHash("sha256");
  for (const { file } of value.programs) {
    const program = readText(join(dir, file));
    if (typeof program !== "string") return { ...none, findings: [program], unreadable: true };
    hash.update(JSON.stringify([file, program]));
  }
  const programs = only.length === 0 ? value.programs : chosen(value, only);
  const wrong = [
    ...unknownPrograms(value, only),
    ...withoutWear(dir, programs),
    ...ofTrial(value, dir),
  ];
  return { plan: hash.digest("hex"), programs, findings: wrong, unreadable: false };
}

function ofTrial({ trial }: PlanJson, dir: string): Finding[] {
  return trial === undefined ? [] : [report("trial-not-recorded", { dir, trial })];
}

function chosen(plan: PlanJson, only: readonly string[]): readonly ProgramJson[] {
  return plan.programs.filter((p) => only.includes(p.file));
}

function unknownPrograms(plan: PlanJson, only: readonly string[]): Finding[] {
  const known = plan.programs.map((p) => p.file);
  return only
    .filter((name) => !known.includes(name))
    .map((program) => report("program-not-in-plan", { program, programs: known.join(", ") }));
}

function withoutWear(dir: string, programs: readonly ProgramJson[]): Finding[] {
  const whole = programs.every((p) =>
    [p.edgeMetres, p.wearMetres, p.lifeMetres, p.seconds, p.cutMetres].every(Number.isFinite),
  );
  return whole ? [] : [report("plan-without-wear", { dir })];
}

function recordOf(p: ProgramJson, plan: string, again: boolean): CutRecord {
  return {
    kind: "cut",
    time: new Date().toISOString(),
    id: randomUUID(),
    plan,
    program: p.file,
    cutter: p.cutter,
    ...(p.newCutter === true ? { newCutter: true } : {}),
    seconds: p.seconds,
    cutMetres: p.cutMetres,
    edgeMetres: p.edgeMetres ?? 0,
    wearMetres: p.wearMetres ?? 0,
    lifeMetres: p.lifeMetres ?? 0,
    ...(again ? { again: true } : {}),
  };
}

function isCounted(ledger: Ledger, r: CutRecord): boolean {
  return counted(ledger.records).some((c) => c.kind === "cut" && c.id === r.id);
}

/** No where nobody is there to say yes. */
async function asks(io: Io, question: string): Promise<boolean> {
  if (!io.watched || process.stdin.isTTY !== true) return false;
  const lines = createInterface({ input: process.stdin, output: process.stderr });
  const answer = await lines.question(`${question} [y/N] `);
  lines.close();
  return /^y(es)?$/i.test(answer.trim());
}

function tell(
  io: Io,
  findings: readonly Finding[],
  options: LifeOptions,
  code: ExitCode,
): ExitCode {
  if (options.json === true) printJson(io, { recorded: [], findings });
  else printFindings(io, findings, typedFiles);
  return code;
}

function stateOf(ledger: Ledger) {
  const { minutesRatio, minutesFrom, lives } = feedbackOf(ledger);
  return {
    cutters: totalsOf(ledger).map((t) => ({
      ...t,
      ...(t.lifeMetres === undefined ? {} : { lifeUsed: t.wearMetres / t.lifeMetres }),
    })),
    measured: {
      ...(minutesRatio === undefined ? {} : { minutesRatio }),
      minutesFrom,
      lives: [...lives].map(([cutter, life]) => ({
        cutter,
        lifeMetres: life.metres,
        from: life.from,
      })),
    },
  };
}

function printState(io: Io, file: string, ledger: Ledger): void {
  const { cutters, measured } = stateOf(ledger);
  if (cutters.length === 0) {
    io.out(`${file}: nothing recorded yet; weftcut life record DIR records a plan that was cut\n`);
    return;
  }
  const rows = cutters.map((t) => [
    t.cutter,
    String(t.programs),
    minutes(t.seconds),
    `${t.cutMetres.toFixed(2)} m`,
    `${t.edgeMetres.toFixed(2)} m`,
    t.lifeUsed === undefined ? "new" : `${Math.round(100 * t.lifeUsed)} %`,
  ]);
  io.out(`${file}\n`);
  io.out(table([["cutter", "programs", "time", "cut", "edge", "life used"], ...rows]));
  if (measured.minutesRatio !== undefined) {
    io.out(
      `true minutes are ${measured.minutesRatio.toFixed(2)} times the reckoned ones, on ${measured.minutesFrom} cutter${measured.minutesFrom === 1 ? "" : "s"}\n`,
    );
  }
  for (const life of measured.lives) {
    io.out(
      `${life.cutter} lasts ${life.lifeMetres.toFixed(2)} m of edge, measured on ${life.from}\n`,
    );
  }
}
