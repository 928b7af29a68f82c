/**
 * The cutters' ledger: what each cutter has cut, as JSON lines that are only ever appended.
 *
 * One record a line. Every record is written as a line break, the record, a line break, in one write: a
 * record that was torn in mid-write ends at the next one's break and costs nothing but itself. Reading
 * takes every whole record and counts the rest. Who appends, locks and asks is the shell's matter.
 */
import type { Finding, Report } from "../finding/finding.ts";
import { reporter } from "../finding/finding.ts";
import { sayMotion } from "../finding/say-motion.ts";

/** A program was cut. */
export interface CutRecord {
  readonly kind: "cut";
  /** ISO 8601, from the shell's clock. */
  readonly time: string;
  /** What tells one plan from another: a hash of plan.json. */
  readonly plan: string;
  readonly program: string;
  readonly cutter: string;
  readonly seconds: number;
  readonly cutMetres: number;
  readonly edgeMetres: number;
  /** Set where the user said yes to recording the same plan again. */
  readonly again?: boolean | undefined;
}

/** A cutter was taken out; what it had truly done, where the user knows. */
export interface RenewRecord {
  readonly kind: "renew";
  readonly time: string;
  readonly cutter: string;
  readonly trueMinutes?: number | undefined;
  /** Metres of edge. */
  readonly trueMetres?: number | undefined;
}

export type LedgerRecord = CutRecord | RenewRecord;

export interface Ledger {
  readonly records: readonly LedgerRecord[];
  /** Lines that are no record. */
  readonly unread: readonly number[];
}

export interface CutterTotal {
  readonly cutter: string;
  readonly programs: number;
  readonly seconds: number;
  readonly cutMetres: number;
  readonly edgeMetres: number;
}

export interface Feedback {
  /** True over planned; absent where nobody measured. */
  readonly minutesRatio?: number | undefined;
  /** True metres of edge of worn-out cutters of this name, mean. */
  readonly lifeMetres?: number | undefined;
  /** Cutters that the figures stand on. */
  readonly minutesFrom: number;
  readonly metresFrom: number;
  readonly assumptions: readonly string[];
}

const report: Report<typeof sayMotion> = reporter(sayMotion);

export function recordText(record: LedgerRecord): string {
  return `\n${JSON.stringify(record)}\n`;
}

export function readLedger(text: string): Ledger {
  const records: LedgerRecord[] = [];
  const unread: number[] = [];
  text.split("\n").forEach((line, i) => {
    if (line.trim() === "") return;
    const record = recordOf(line);
    if (record === undefined) unread.push(i + 1);
    else records.push(record);
  });
  return { records, unread };
}

export function ledgerFindings(file: string, ledger: Ledger): readonly Finding[] {
  const first = ledger.unread[0];
  if (first === undefined) return [];
  return [report("ledger-lines-unread", { file, count: ledger.unread.length, line: first })];
}

function recordOf(line: string): LedgerRecord | undefined {
  let value: unknown;
  try {
    value = JSON.parse(line);
  } catch {
    return undefined;
  }
  if (typeof value !== "object" || value === null) return undefined;
  const r = value as Readonly<Record<string, unknown>>;
  if (!(isText(r["time"]) && isText(r["cutter"]))) return undefined;
  if (r["kind"] === "renew") {
    return maybe(r["trueMinutes"]) && maybe(r["trueMetres"]) ? (value as RenewRecord) : undefined;
  }
  const whole =
    r["kind"] === "cut" &&
    isText(r["plan"]) &&
    isText(r["program"]) &&
    [r["seconds"], r["cutMetres"], r["edgeMetres"]].every(isAmount);
  return whole ? (value as CutRecord) : undefined;
}

const isText = (v: unknown): v is string => typeof v === "string";
const isAmount = (v: unknown): v is number => typeof v === "number" && Number.isFinite(v) && v >= 0;
const maybe = (v: unknown): boolean => v === undefined || isAmount(v);

/** The programs of a plan that the ledger already has: recording them again must be asked for. */
export function alreadyRecorded(ledger: Ledger, plan: string): readonly string[] {
  const found = new Set<string>();
  for (const r of ledger.records) if (r.kind === "cut" && r.plan === plan) found.add(r.program);
  return [...found];
}

const EMPTY: Omit<CutterTotal, "cutter"> = { programs: 0, seconds: 0, cutMetres: 0, edgeMetres: 0 };

function added(total: Omit<CutterTotal, "cutter">, r: CutRecord): Omit<CutterTotal, "cutter"> {
  return {
    programs: total.programs + 1,
    seconds: total.seconds + r.seconds,
    cutMetres: total.cutMetres + r.cutMetres,
    edgeMetres: total.edgeMetres + r.edgeMetres,
  };
}

/** What each cutter has behind it since it was last renewed, in order of first use. */
export function totalsOf(ledger: Ledger): readonly CutterTotal[] {
  const totals = new Map<string, Omit<CutterTotal, "cutter">>();
  for (const r of ledger.records) {
    totals.set(r.cutter, r.kind === "renew" ? EMPTY : added(totals.get(r.cutter) ?? EMPTY, r));
  }
  return [...totals].map(([cutter, total]) => ({ cutter, ...total }));
}

/** What was measured at the end of cutters, against what had been planned for them. */
export function feedbackOf(ledger: Ledger, cutter: string): Feedback {
  const running = new Map<string, Omit<CutterTotal, "cutter">>();
  let planned = 0;
  let measured = 0;
  let minutesFrom = 0;
  const lives: number[] = [];
  for (const r of ledger.records) {
    const total = running.get(r.cutter) ?? EMPTY;
    if (r.kind === "cut") {
      running.set(r.cutter, added(total, r));
      continue;
    }
    running.set(r.cutter, EMPTY);
    // Time is the machine's, whatever the cutter; life is this cutter's own.
    if (r.trueMinutes !== undefined && r.trueMinutes > 0 && total.seconds > 0) {
      planned += total.seconds / 60;
      measured += r.trueMinutes;
      minutesFrom++;
    }
    if (r.cutter === cutter && r.trueMetres !== undefined && r.trueMetres > 0) {
      lives.push(r.trueMetres);
    }
  }
  const minutesRatio = minutesFrom > 0 ? measured / planned : undefined;
  const lifeMetres = lives.length > 0 ? lives.reduce((a, b) => a + b, 0) / lives.length : undefined;
  return {
    minutesRatio,
    lifeMetres,
    minutesFrom,
    metresFrom: lives.length,
    assumptions: [
      ...(minutesRatio === undefined
        ? []
        : [`Minutes times ${minutesRatio.toFixed(2)}, as measured on ${minutesFrom} cutter(s).`]),
      ...(lifeMetres === undefined
        ? []
        : [
            `Life of ${cutter} ${lifeMetres.toFixed(2)} m of edge, the mean of ${lives.length} cutter(s).`,
          ]),
    ],
  };
}

/** A planned time as it was measured to come out. */
export function measuredSeconds(seconds: number, feedback: Feedback): number {
  return seconds * (feedback.minutesRatio ?? 1);
}
