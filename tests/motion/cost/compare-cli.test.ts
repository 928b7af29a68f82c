/** `weftcut rates --job`: the comparison from the command line, on the demo. */
import { join } from "node:path";
import { expect, test } from "vitest";
import { weftcut } from "../../cli/run-cli.ts";
import { ROOT, tempFolder } from "../../cli/temp-folder.ts";

const DEMO = join(ROOT, "fixtures/demo/job.yaml");

test("a table for each sheet, over the job's cutters", () => {
  const { code, out } = weftcut(["rates", "--job", DEMO, "--json"]);
  expect(code).toBe(0);
  const { sheets } = JSON.parse(out);
  expect(sheets.map((s: { sheet: string }) => s.sheet)).toEqual(["carbon-4", "carbon-2"]);
  for (const { rows, assumptions } of sheets) {
    expect(rows.length).toBe(1);
    expect(rows[0]).toMatchObject({ cutter: "router-2", diameter: 2, cannot: [] });
    expect(rows[0].minutes).toBeGreaterThan(10);
    expect(rows[0].deflectionMm).toBeLessThanOrEqual(0.025);
    expect(assumptions.length).toBeGreaterThan(1);
  }
}, 30_000);

test("neither a job nor a cutter with material and machine is bad usage", () => {
  const ran = weftcut(["rates", "--cutter", "2"]);
  expect([ran.code, ran.out]).toEqual([2, ""]);
  expect(ran.err).toContain("--material");
  expect(weftcut(["rates", "--job", "nowhere.yaml"], { cwd: tempFolder() }).code).toBe(2);
});
