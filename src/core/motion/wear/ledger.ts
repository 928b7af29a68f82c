/**
 * The cutters' ledger: what each cutter has cut, as JSON lines that are only ever appended.
 *
 * One record a line. Every record is written as a line break, the record, a line break: a record that was torn
 * in mid-write ends at the next one's break and costs nothing but itself. Reading takes every whole record and
 * counts the rest.
 *
 * No lock is needed. A program of a plan counts once, by the first record of it in the file, unless a later one
 * says `again`: so two runs that record the same plan at once cannot count it twice, and either may be repeated
 * after a crash. Who appends and asks is the shell's matter.
 */
import type { Finding, Report } from "../../finding/finding.ts";
import { reporter } from "../../finding/finding.ts";
import { sayMotion } from "../../finding/say-motion.ts";

/** Beside the job or in the folder that one works in, unless it is named. */
export const LEDGER_NAME: string = "cutter-life.jsonl";

/** A program was cut. */
export interface CutRecord {
  readonly kind: "cut";
  /** ISO 8601, from the shell's clock. */
  readonly time: string;
  /** What tells one writer's record from another's; any text. */
  readonly id: string;
  /** What tells one plan from another: a hash of its programs. */
  readonly plan: string;
  readonly program: string;
  readonly cutter: string;
  /** A new cutter of this name was put in for it: what the last one had behind it ends here. */
  readonly newCutter?: boolean | undefined;
  /** As planned, without what was measured on earlier cutters. */
  readonly seconds: number;
  readonly cutMetres: number;
  readonly edgeMetres: number;
  /** Metres of edge as of sheets of 2–3 mm, which life figures are in. */
  readonly wearMetres: number;
  /** Life that the plan took for the cutter. */
  readonly lifeMetres: number;
  /** Set where the user said yes to recording the same plan again. */
  readonly again?: boolean | undefined;
}

/** A cutter was taken out; what it had truly done, where the user knows. */
export interface RenewRecord {
  readonly kind: "renew";
  readonly time: string;
  readonly id?: string | undefined;
  readonly cutter: string;
  readonly trueMinutes?: number | undefined;
  /** Metres of edge that it cut until it was worn. */
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
  readonly wearMetres: number;
  /** As the last plan took it; undefined where nothing was cut yet. */
  readonly lifeMetres: number | undefined;
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
    [r["id"], r["plan"], r["program"]].every(isText) &&
    ["seconds", "cutMetres", "edgeMetres", "wearMetres"].every((key) => isAmount(r[key])) &&
    isAmount(r["lifeMetres"]) &&
    r["lifeMetres"] > 0;
  return whole ? (value as CutRecord) : undefined;
}

const isText = (v: unknown): v is string => typeof v === "string";
const isAmount = (v: unknown): v is number => typeof v === "number" && Number.isFinite(v) && v >= 0;
const maybe = (v: unknown): boolean => v === undefined || isAmount(v);

/** The records that count: see above. */
export function counted(records: readonly LedgerRecord[]): readonly LedgerRecord[] {
  const seen = new Set<string>();
  return records.filter((r) => {
    if (r.kind === "renew") return true;
    const key = JSON.stringify([r.plan, r.program]);
    if (seen.has(key) && r.again !== true) return false;
    seen.add(key);
    return true;
  });
}

/** The programs of a plan that the ledger already has: recording them again must be asked for. */
export function alreadyRecorded(ledger: Ledger, plan: string): readonly string[] {
  const found = new Set<string>();
  for (const r of ledger.records) if (r.kind === "cut" && r.plan === plan) found.add(r.program);
  return [...found];
}

export type Total = Omit<CutterTotal, "cutter">;

export const NOTHING_CUT: Total = {
  programs: 0,
  seconds: 0,
  cutMetres: 0,
  edgeMetres: 0,
  wearMetres: 0,
  lifeMetres: undefined,
};

/** What a cutter has behind it after one more program. */
export function withCut(before: Total, r: CutRecord): Total {
  const total = r.newCutter === true ? NOTHING_CUT : before;
  return {
    programs: total.programs + 1,
    seconds: total.seconds + r.seconds,
    cutMetres: total.cutMetres + r.cutMetres,
    edgeMetres: total.edgeMetres + r.edgeMetres,
    wearMetres: total.wearMetres + r.wearMetres,
    lifeMetres: r.lifeMetres,
  };
}

/** What each cutter has behind it since it was last renewed, in order of first use. */
export function totalsOf(ledger: Ledger): readonly CutterTotal[] {
  const totals = new Map<string, Total>();
  for (const r of counted(ledger.records)) {
    const before = totals.get(r.cutter) ?? NOTHING_CUT;
    totals.set(r.cutter, r.kind === "renew" ? NOTHING_CUT : withCut(before, r));
  }
  return [...totals].map(([cutter, total]) => ({ cutter, ...total }));
}
