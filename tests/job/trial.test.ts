/** A trial in hardboard: the very moves of the job, other feeds, and no way to take it for the job itself. */
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { buildProgram } from "../../src/cli/program.ts";
import { airRun } from "../../src/core/air/air.ts";
import { CHIP_ROWS } from "../../src/core/cutting/data/chip-load.ts";
import type { Planned } from "../../src/core/job/plan.ts";
import type { PlanJson } from "../../src/core/job/plan-json.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { isFeed } from "../../src/core/program/read/trace.ts";
import { restart } from "../../src/core/restart/restart.ts";
import { tempFolder } from "../cli/temp-folder.ts";
import { listening } from "../support/listening.ts";
import { starterJob } from "./starter-plan.ts";

const own = starterJob({});
const trial = starterJob({}, { trial: "hardboard" });
const planOf = ({ plan }: Planned): PlanJson => plan as PlanJson;
const textsOf = (planned: Planned): string[] =>
  planOf(planned).programs.map((p) => planned.files.get(p.file) ?? "");
/** From the first word that is no comment on. */
const bodyOf = (text: string): string => text.replace(/^(\(.*\)\n)+/, "");

describe("against the job itself", () => {
  test("the same moves, line for line, but for feed and speed", () => {
    const plain = (text: string): string => bodyOf(text).replace(/ ?[FS]\d+(\.\d+)?/g, "");
    expect(textsOf(trial).map(plain)).toEqual(textsOf(own).map(plain));
    expect(textsOf(trial).map(bodyOf)).not.toEqual(textsOf(own).map(bodyOf));
    expect(planOf(trial).sheets).toEqual(planOf(own).sheets);
  });

  test("passes and depths stay, feeds and speed are the board's, by rows that say what they rest on", () => {
    for (const [i, p] of planOf(trial).programs.entries()) {
      const o = planOf(own).programs[i];
      expect(p.passDepth).toBe(o?.passDepth);
      expect(p.deepest).toBe(o?.deepest);
      expect(p.feed).toBeGreaterThan(o?.feed ?? 0);
      const sources = p.rateSteps.filter((s) => s.quantity === "feed per revolution");
      expect(sources.length).toBeGreaterThan(0);
      for (const s of sources) expect(s.source).toContain("common practice, no source");
    }
    const rows = CHIP_ROWS.filter((r) => r.materials.includes("hardboard"));
    for (const r of rows) expect(r.feedSource.tag).toBe("common practice, no source");
  });

  test("is proven as the job is", () => {
    expect(planOf(trial).proof.proven).toBe(true);
    expect(trial.stopped).toBe(false);
  });
});

describe("is marked", () => {
  const MARK = "(TRIAL IN HARDBOARD: not for carbon-woven)";

  test("in the name and in the first line of every program, the border's too", () => {
    const programs = [...trial.files].filter(([name]) => name.endsWith(".nc"));
    expect(programs.length).toBeGreaterThan(1);
    for (const [, text] of programs) expect(text.split("\n")[0]).toBe(MARK);
    for (const { file } of planOf(trial).programs) expect(file).toMatch(/^trial-\d\d-/);
    for (const text of textsOf(trial)) {
      expect(text).toContain("hardboard in place of carbon-woven");
    }
  });

  test("in plan.json, in the findings, on the job sheet", () => {
    expect(planOf(trial).trial).toBe("hardboard");
    const told = trial.findings.filter((f) => f.code === "trial-material");
    expect(told.map((f) => [f.severity, f.sheet])).toEqual([["warn", "carbon-2"]]);
    const html = trial.files.get("job-sheet.html") ?? "";
    expect(html).toContain("<title>TRIAL: ");
    expect(html).toMatch(/<strong>Trial in hardboard: <\/strong>these programs are not for carbon/);
    expect(html).toContain("Clamp hardboard in place of sheet carbon-2;");
    expect(html.indexOf("Trial in hardboard")).toBeLessThan(html.indexOf("<nav"));
  });

  test("in what is made of its programs: restart and air run", () => {
    const plan = planOf(trial);
    const [program] = plan.programs;
    const file = program?.file ?? "";
    const trace = readProgram(file, trial.files.get(file) ?? "");
    const read = { file, sheet: program?.sheet ?? "", cutter: program?.cutter ?? "", trace };
    const line = trace.steps.filter(isFeed)[20]?.line ?? 1;
    const at = { line, ahead: 0 };
    const made = restart({ plan, file, out: "r.nc", programs: [read], at });
    expect(made.value?.text.split("\n")[0]).toBe(MARK);
    expect(made.value?.proofs.map((p) => p.proven)).toEqual([true, true]);
    const air = airRun({ plan, program: read, out: "a.nc" });
    expect(air.value?.text.split("\n")[0]).toBe(MARK);
  });

  test("and the job itself has no such word", () => {
    expect(planOf(own).trial).toBeUndefined();
    for (const [, text] of own.files) expect(text).not.toMatch(/trial in|hardboard/i);
  });
});

test("the command plans it, says so, and the ledger refuses it", async () => {
  const folder = join(tempFolder({}), "job");
  const run = async (...args: string[]) => {
    const { io, said } = listening();
    const { program, code } = buildProgram(io);
    await program.parseAsync(args, { from: "user" });
    return { ...said, code: code() };
  };
  expect((await run("new", folder)).code).toBe(0);
  const out = join(folder, "out");
  const planned = await run("plan", join(folder, "job.yaml"), "--trial", "--out", out);
  expect(planned.code).toBe(0);
  expect(planned.out).toMatch(/^TRIAL IN HARDBOARD$/m);
  expect(planned.err).toMatch(/warn trial-material /);
  const ledger = join(folder, "life.jsonl");
  const recorded = await run("life", "record", out, "--ledger", ledger);
  expect(recorded.code).toBe(1);
  expect(recorded.err).toMatch(/^stop trial-not-recorded /m);
});
