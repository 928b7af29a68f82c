/**
 * The cutters' ledger as a file: read, appended to, found.
 *
 * Appending is one write at the file's end (O_APPEND), pushed to the disk, then read back: where the records are
 * not there whole, since another file system tore them or the process was cut short before, they are written
 * again. Records carry an id, and a program counts once, so writing twice is harmless. Nothing is ever
 * rewritten: a crash can tear the last record alone.
 */
import { closeSync, existsSync, fsyncSync, openSync, readFileSync, writeSync } from "node:fs";
import { dirname, join } from "node:path";
import type { Finding } from "../core/finding/finding.ts";
import { reporter } from "../core/finding/finding.ts";
import { sayMotion } from "../core/finding/say-motion.ts";
import {
  LEDGER_NAME,
  type Ledger,
  type LedgerRecord,
  ledgerFindings,
  readLedger,
  recordText,
} from "../core/motion/wear/ledger.ts";
import { reason } from "./read-file.ts";
import { say } from "./say.ts";

const report = reporter(sayMotion);

export interface OpenedLedger {
  readonly file: string;
  readonly ledger: Ledger;
  readonly findings: readonly Finding[];
  /** There is something by that name that cannot be read. */
  readonly unreadable: boolean;
}

/** A ledger that is not there yet is empty. */
export function openLedger(file: string): OpenedLedger {
  let text = "";
  try {
    if (existsSync(file)) text = readFileSync(file, "utf8");
  } catch (error) {
    const finding = say("file-unreadable", { file, why: reason(error) });
    return { file, ledger: readLedger(""), findings: [finding], unreadable: true };
  }
  const ledger = readLedger(text);
  return { file, ledger, findings: ledgerFindings(file, ledger), unreadable: false };
}

/** Where a job's ledger is: as the job names it, else beside the job, else in the working folder, if there. */
export function ledgerOfJob(jobFile: string, named: string | undefined): string | undefined {
  if (named !== undefined) return join(dirname(jobFile), named);
  return [join(dirname(jobFile), LEDGER_NAME), LEDGER_NAME].find((file) => existsSync(file));
}

const TRIES = 3;

/** A finding where the records could not be written; they are in the file otherwise. */
export function appendRecords(file: string, records: readonly LedgerRecord[]): Finding | undefined {
  try {
    for (let tries = 0; tries < TRIES; tries++) {
      appendWhole(file, records.map(recordText).join(""));
      if (holds(file, records)) return undefined;
    }
  } catch (error) {
    return say("file-unwritable", { file, why: reason(error) });
  }
  return report("ledger-lost-record", { file });
}

function appendWhole(file: string, text: string): void {
  const bytes = Buffer.from(text, "utf8");
  const handle = openSync(file, "a");
  try {
    let written = 0;
    while (written < bytes.length) {
      written += writeSync(handle, bytes, written, bytes.length - written);
    }
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

function holds(file: string, records: readonly LedgerRecord[]): boolean {
  const lines = new Set(readFileSync(file, "utf8").split("\n"));
  return records.every((r) => lines.has(recordText(r).trim()));
}
