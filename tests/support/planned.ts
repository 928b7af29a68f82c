/** The plan of a job whose files are in memory. */
import type { Job } from "../../src/core/job/job.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";
import { readFrom } from "./read-files.ts";

export interface PlannedJob extends Planned {
  readonly job: Job;
}

/** Throws where `job.yaml` is no job. */
export function plannedFrom(files: ReadonlyMap<string, string>): PlannedJob {
  const read = readFrom(files);
  const text = files.get("job.yaml") ?? "";
  const { value: job, findings } = parseJob({ name: "job.yaml", text }, read);
  if (job === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return { ...planJob(job, read), job };
}
