/** Jobs to be proven: planned from the fixtures, or written by hand; and proofs of changed programs. */
import { readFileSync } from "node:fs";
import { parseJob } from "../../../src/core/job/parse.ts";
import { planJob } from "../../../src/core/job/plan.ts";
import type { PlanJson, SheetJson } from "../../../src/core/job/plan-json.ts";
import { proofInput } from "../../../src/core/job/planning/target.ts";
import { readPlan } from "../../../src/core/job/read-plan.ts";
import { readProgram } from "../../../src/core/program/read/read.ts";
import type { Proof, ProofInput } from "../../../src/core/proof/proof.ts";
import { prove } from "../../../src/core/proof/prove.ts";

const FIXTURES = new URL("../../../fixtures/", import.meta.url);

export interface ProgramText {
  readonly file: string;
  readonly sheet: string;
  readonly cutter: string;
  readonly text: string;
}

/** One sheet of a plan with its programs: what is proven as a whole. */
export interface SheetJob {
  readonly name: string;
  readonly plan: PlanJson;
  readonly sheet: SheetJson;
  readonly programs: readonly ProgramText[];
}

export const fixtureBytes = (path: string): Uint8Array => readFileSync(new URL(path, FIXTURES));

export function fixtureText(path: string): string {
  return readFileSync(new URL(path, FIXTURES), "utf8");
}

function sheetJobs(plan: PlanJson, textOf: (file: string) => string): SheetJob[] {
  return plan.sheets.map((sheet) => ({
    name: `${plan.name}, ${sheet.name}`,
    plan,
    sheet,
    programs: plan.programs
      .filter((p) => p.sheet === sheet.name)
      .map(({ file, cutter }) => ({ file, cutter, sheet: sheet.name, text: textOf(file) })),
  }));
}

export function planned(text: string, folder: string): SheetJob[] {
  const read = (path: string): Uint8Array => readFileSync(new URL(folder + path, FIXTURES));
  const { value: job, findings } = parseJob({ name: "job.yaml", text }, read);
  if (job === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  const { plan, files } = planJob(job, read, { keepUnproven: true });
  if (plan === undefined) throw new Error(`${job.name} has no plan`);
  return sheetJobs(plan, (file) => files.get(file) ?? "");
}

export const demoJobs = (): SheetJob[] => planned(fixtureText("demo/job.yaml"), "demo/");

/** A frame with an inner plate in its window, and plates of arcs, with two cutters. */
export const casesJobs = (): SheetJob[] =>
  planned(
    `weftcut: 1
name: odd shapes
machine: ../machines/medium-router.yaml
sheets: [{ name: glass, material: glass-epoxy, thickness: 1.5, size: [300, 200], margin: 6 }]
plates:
  - { name: frame, drawing: 42-islands.dxf, sheet: glass, units: mm }
  - { name: bulge, drawing: 05-bulge-over-one.dxf, sheet: glass, units: mm }
cutters:
  - { name: fine, kind: two-flute, diameter: 1.5, fluteLength: 6, overhang: 12 }
  - { name: stout, kind: two-flute, diameter: 3, fluteLength: 10, overhang: 18 }
cutting: { clearance: 5 }
`,
    "cases/",
  );

/** What became of a drawing: the checks that failed, or where it made no plan, the findings that stopped it. */
export interface Cased {
  readonly failed: readonly string[] | undefined;
  readonly stops: readonly string[];
}

export function plannedCase(drawing: string): Cased {
  const text = `weftcut: 1
name: case
machine: ../machines/large-router.yaml
sheets: [{ name: sheet, material: carbon-woven, thickness: 2, size: [600, 400], margin: 6 }]
plates: [{ name: plate, drawing: ${drawing}, sheet: sheet, units: mm }]
cutters:
  - { name: fine, kind: two-flute, diameter: 1, fluteLength: 5, overhang: 12 }
  - { name: stout, kind: diamond-router, diameter: 2, fluteLength: 8, overhang: 14 }
`;
  const read = (path: string): Uint8Array => readFileSync(new URL(`cases/${path}`, FIXTURES));
  const { value: job, findings } = parseJob({ name: "job.yaml", text }, read);
  if (job === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  const made = planJob(job, read, { keepUnproven: true });
  const stops = made.findings.filter((f) => f.severity === "stop").map((f) => f.code);
  return { failed: made.plan && failuresOf(made.plan.proof), stops };
}

/** Neither planned nor written by weftcut. */
export function foreignJobs(): SheetJob[] {
  const { value, findings } = readPlan({
    name: "plan.json",
    text: fixtureText("foreign/plan.json"),
  });
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return sheetJobs(value, (file) => fixtureText(`foreign/${file}`));
}

export function inputOf(
  job: SheetJob,
  programs: readonly ProgramText[] = job.programs,
): ProofInput {
  const read = programs.map(({ text, ...rest }) => ({
    ...rest,
    trace: readProgram(rest.file, text),
  }));
  return proofInput({ ...job.plan, sheets: [job.sheet] }, read);
}

export const proofOf = (job: SheetJob, programs?: readonly ProgramText[]): Proof =>
  prove(inputOf(job, programs)).value;

export function failuresOf(proof: Proof): string[] {
  return proof.checks.filter((c) => !c.passed).map((c) => c.code);
}
