/** A job from its file, with what the reader has to say and the means to show it. */
import { basename } from "node:path";
import type { Finding } from "../core/finding/finding.ts";
import type { Job } from "../core/job/job.ts";
import { parseJob } from "../core/job/parse.ts";
import { ledgerOfJob } from "./ledger-file.ts";
import { type Beside, filesBeside, readText } from "./read-file.ts";

export interface LoadedJob {
  /** Undefined where a finding stops it. */
  readonly job: Job | undefined;
  readonly findings: readonly Finding[];
  readonly beside: Beside;
  /** True where the job's own file cannot be read; other files are in `beside.unreadable`. */
  readonly unreadable: boolean;
  /** The cutters' ledger that the job reckons with, if there is one. */
  readonly ledger?: string | undefined;
}

/** Findings name the job's files as the job does, so that the plan is the same from any folder. */
export function loadJob(path: string): LoadedJob {
  const beside = filesBeside(path);
  const text = readText(path);
  if (typeof text !== "string") {
    return { job: undefined, findings: [text], beside, unreadable: true };
  }
  const { value, findings } = parseJob({ name: basename(path), text }, beside.read);
  const ledger = value === undefined ? undefined : ledgerOfJob(path, value.ledger);
  return { job: value, findings, beside, unreadable: false, ledger };
}
