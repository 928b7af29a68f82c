/**
 * What a job's settings may be, the proof has nothing against: whatever the schema takes and the checks on plates let
 * pass is cut by programs that are proven. The values are made up, within what the schema takes.
 */
import process from "node:process";
import fc from "fast-check";
import { expect, test } from "vitest";
import { parseJob } from "../../src/core/job/parse.ts";
import { planJob } from "../../src/core/job/plan.ts";
import { jobWith, readDemo, settings } from "../support/made-up-jobs.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;

/** What is drawn, laid and bought, not how it is cut: another drawing, sheet or cutter is wanted. */
const BEFORE_CUTTING = new Set(["sheet-full", "slot-narrower-than-cutter"]);

test("programs are proven whatever the settings", () => {
  let proven = 0;
  fc.assert(
    fc.property(settings, (s) => {
      const { value, findings } = parseJob({ name: "job.yaml", text: jobWith(s) }, readDemo);
      expect(findings.filter((f) => f.severity === "stop")).toEqual([]);
      if (value === undefined) return;
      const { plan, findings: found } = planJob(value, readDemo);
      const stops = found.filter((f) => f.severity === "stop" && !BEFORE_CUTTING.has(f.code));
      expect(stops.map((f) => `${f.code}: ${f.message}`)).toEqual([]);
      proven += Number(plan?.proof.proven === true);
    }),
    { numRuns: LONG ? 300 : 8, endOnFailure: true },
  );
  expect(proven).toBeGreaterThan(LONG ? 200 : 4);
}, 1_800_000);
