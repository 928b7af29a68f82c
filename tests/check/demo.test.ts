/** `weftcut check` on the demo, as a person reads it: the gravest first, in one screen, each with place and way out. */
import { beforeAll, describe, expect, test } from "vitest";
import { check } from "../../src/cli/commands/plan.ts";
import { loadJob } from "../../src/cli/load-job.ts";
import { countsOf, printFindings } from "../../src/cli/print-findings.ts";
import type { Finding } from "../../src/core/finding/finding.ts";
import { listening } from "../support/listening.ts";

const JOB = "fixtures/demo/job.yaml";
/** A terminal's window on a common screen. */
const COLUMNS = 120;
const ROWS = 40;

describe("the demo's findings", () => {
  let code: number;
  let findings: readonly Finding[];
  let shown: string;
  beforeAll(async () => {
    // Planned once: what is printed is made of the same findings.
    const json = listening();
    code = await check(json.io, JOB, { json: true });
    findings = JSON.parse(json.said.out).findings;
    const people = listening();
    printFindings(people.io, findings, loadJob(JOB).beside);
    shown = `${people.said.err}${countsOf(findings)}`;
  }, 120_000);

  test("are none that stop the job, and rules and fits are among them", () => {
    expect(code).toBe(0);
    const codes = new Set(findings.map((f) => f.code));
    for (const code of ["hole-near-edge", "pattern-recognised", "slot-fitted"]) {
      expect(codes).toContain(code);
    }
  });

  test("fill one screen at the most", () => {
    const lines = shown.split("\n");
    const rows = lines.reduce((sum, l) => sum + Math.max(1, Math.ceil(l.length / COLUMNS)), 0);
    expect(rows).toBeLessThanOrEqual(ROWS);
  });

  test("come by severity, all of them", () => {
    const order = ["stop", "warn", "note"];
    const heads = [...shown.matchAll(/^\S.*? (stop|warn|note) ([a-z-]+) /gm)];
    expect(heads.length).toBe(findings.length);
    const ranks = heads.map(([, severity]) => order.indexOf(String(severity)));
    expect(ranks).toEqual(ranks.toSorted((a, b) => a - b));
  });

  test("have a place and a way out each", () => {
    for (const f of findings) {
      expect(f.hint, f.code).toBeTruthy();
      expect(f.drawing?.line ?? f.at, f.code).toBeDefined();
    }
  });
});
