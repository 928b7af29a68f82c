/** A job from its file, with what the reader has to say and the means to show it. */
import { basename } from "node:path";
import type { Finding } from "../core/finding/finding.ts";
import type { Job } from "../core/job/job.ts";
import { parseJob } from "../core/job/parse.ts";
import { type Beside, filesBeside, readText } from "./read-file.ts";

export interface LoadedJob {
  /** Undefined where a finding stops it. */
  readonly job: Job | undefined;
  readonly findings: readonly Finding[];
  readonly beside: Beside;
  /** True where the job's own file cannot be read; other files are in `beside.unreadable`. */
  readonly unreadable: boolean;
}

/** Findings name the job's files as the job does, so that the plan is the same from any folder. */
export function loadJob(path: string): LoadedJob {
  const beside = filesBeside(path);
  const text = readText(path);
  if (typeof text !== "string") {
    return { job: undefined, findings: [text], beside, unreadable: true };
  }
  const { value, findings } = parseJob({ name: basename(path), text }, beside.read);
  return { job: value, findings, beside, unreadable: false };
}
