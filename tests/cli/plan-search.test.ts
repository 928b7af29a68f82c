/** What the command line says of the search for a layout. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { bracketDxf } from "../../src/cli/starter/bracket-dxf.ts";
import { JOB_YAML, MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import { weftcut } from "./run-cli.ts";
import { tempFolder } from "./temp-folder.ts";

const STARTER = { "job.yaml": JOB_YAML, "machine.yaml": MACHINE_YAML, "bracket.dxf": bracketDxf() };

test("plan takes a seed and an effort, says them in the plan, and refuses others", () => {
  const cwd = tempFolder(STARTER);
  const search = ["--effort", "quick", "--seed", "7"];
  expect(weftcut(["plan", "job.yaml", "--out", "out", ...search], { cwd }).code).toBe(0);
  const plan = JSON.parse(readFileSync(join(cwd, "out/plan.json"), "utf8"));
  expect(plan.search).toMatchObject({ effort: "quick", seed: 7 });
  for (const wrong of [
    ["--effort", "huge"],
    ["--seed", "-1"],
    ["--seed", "1.5"],
  ]) {
    const { code, err } = weftcut(["plan", "job.yaml", "--out", "new", ...wrong], { cwd });
    expect(code).toBe(2);
    expect(err).toContain(wrong[0]);
  }
});
