import { bracketDxf } from "../../src/cli/starter/bracket-dxf.ts";
import { JOB_YAML, MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import type { Job } from "../../src/core/job/job.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { type PlanHooks, type Planned, planJob } from "../../src/core/job/plan.ts";
import type { Machine } from "../../src/core/machine/machine.ts";

const FILES: Readonly<Record<string, string>> = {
  "machine.yaml": MACHINE_YAML,
  "bracket.dxf": bracketDxf(),
};

/** The starter job, planned in memory. */
export function starterPlan(): Planned {
  return starterJob({});
}

/** A file of the starter job. */
export function starterFile(name: string): Uint8Array | undefined {
  const text = FILES[name];
  // All of it is ASCII; a bare world has no TextEncoder.
  return text === undefined ? undefined : Uint8Array.from(text, (c) => c.charCodeAt(0));
}

export function starterParsed(): Job {
  const { value, findings } = parseJob({ name: "job.yaml", text: JOB_YAML }, starterFile);
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return value;
}

/** The same for a machine that differs. */
export function starterJob(machine: Partial<Machine>, hooks: PlanHooks = {}): Planned {
  const job = starterParsed();
  return planJob({ ...job, machine: { ...job.machine, ...machine } }, starterFile, {
    keepUnproven: true,
    ...hooks,
  });
}

/** All that would be written, as one text. */
export function starterFiles(): string {
  return JSON.stringify([...starterPlan().files]);
}
