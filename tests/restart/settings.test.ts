/**
 * Whatever a job's settings and wherever its program is interrupted, it can be taken up by a proven one; and raised for
 * a run through air. The settings are made up, within what the schema takes.
 */
import process from "node:process";
import fc from "fast-check";
import { expect, test } from "vitest";
import { airRun } from "../../src/core/air/air.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { planJob } from "../../src/core/job/plan.ts";
import { dialectOf } from "../../src/core/program/read/dialect.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { isFeed } from "../../src/core/program/read/trace.ts";
import { restart } from "../../src/core/restart/restart.ts";
import type { Interrupted } from "../../src/core/restart/take-up.ts";
import { failuresOf } from "../proof/support/planned.ts";
import { jobWith, readDemo, type Settings, settings } from "../support/made-up-jobs.ts";
import { type Bench, inputFor } from "./support.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;

/** Of each job. */
const TRIES = LONG ? 20 : 2;

/** Of all programs, and of its lines or plates. */
const interruption = fc.record({
  program: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
  place: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
  ahead: fc.constantFrom(0, 0, 3, 40),
  byPlate: fc.constantFrom(false, false, false, true),
});

const at = <T>(list: readonly T[], share: number): T => list[Math.floor(share * list.length)] as T;

/** None where the settings cannot be planned: tests/toolpath/settings.test.ts asks why. */
function planned(s: Settings): Bench | undefined {
  const { value: job } = parseJob({ name: "job.yaml", text: jobWith(s) }, readDemo);
  if (job === undefined) return undefined;
  const { plan, files } = planJob(job, readDemo);
  if (plan?.proof.proven !== true || files.size === 0) return undefined;
  const programs = plan.programs.map(({ file, sheet, cutter }) => {
    const trace = readProgram(file, files.get(file) ?? "", dialectOf(job.machine));
    return { file, sheet, cutter, trace };
  });
  return { name: plan.name, plan, programs };
}

test("a program of any settings is taken up, and raised", () => {
  let tried = 0;
  const tries = fc.array(interruption, { minLength: TRIES, maxLength: TRIES });
  fc.assert(
    fc.property(settings, tries, (s, interruptions) => {
      const bench = planned(s);
      if (bench === undefined) return;
      for (const { program, place, ahead, byPlate } of interruptions) {
        const { file, sheet, trace } = at(bench.programs, program);
        const last = trace.steps.findLast(isFeed)?.line ?? 1;
        const own = bench.plan.programs.find((p) => p.file === file)?.plates ?? [];
        const { plate, copy } = at(own, place);
        const where: Interrupted = byPlate
          ? { plate: `${plate} ${copy}` }
          : { line: 1 + Math.floor(place * last), ahead };
        const programs = bench.programs.filter((p) => p.sheet === sheet);
        const { value, findings } = restart(inputFor({ ...bench, programs }, file, where));
        const stops = findings.filter((f) => f.severity === "stop");
        const told = JSON.stringify([file, where]);
        expect(
          stops.map((f) => `${f.code}: ${f.message}`),
          told,
        ).toEqual([]);
        expect(value?.proofs.map(failuresOf), told).toEqual([[], []]);
        tried++;
      }
      const { plan } = bench;
      for (const program of bench.programs) {
        const air = airRun({ plan, program, out: "air.nc" });
        expect(air.findings.filter((f) => f.severity === "stop")).toEqual([]);
        expect(air.value?.proven).toBe(true);
      }
    }),
    { numRuns: LONG ? 100 : 2, endOnFailure: true },
  );
  expect(tried).toBeGreaterThan(LONG ? 1000 : 0);
}, 1_800_000);
