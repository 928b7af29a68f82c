/** What a controller may do differently from the standard, told of programs that are right by it. */
import { join } from "node:path";
import { expect, test } from "vitest";
import { buildProgram } from "../../src/cli/program.ts";
import type { Finding } from "../../src/core/finding/finding.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { differs } from "../../src/core/proof/differs.ts";
import { tempFolder } from "../cli/temp-folder.ts";
import { MACHINE } from "../toolpath/support.ts";
import { fixtureText } from "./support/planned.ts";

const HEAD = "G21\nG90\nG17\nG94\nG0 Z6\n";

function told(lines: string, dwell: "seconds" | "milliseconds" = "seconds") {
  const trace = readProgram("p.nc", `${HEAD}${lines}\nM5\nM2\n`, { dwell });
  expect(trace.findings.filter((f) => f.severity === "stop")).toEqual([]);
  return differs(trace, { ...MACHINE, dwell }, "sheet").map((f) => [f.code, f.program?.line]);
}

test.each([
  ["M0", [["stop-may-be-ignored", 6]]],
  ["M1", [["stop-may-be-ignored", 6]]],
  ["G4 P6000", [["dwell-unit-unlikely", 6]]],
  ["G4 P6", []],
  ["G4 P0", []],
  ["G1 X3 F100", []],
])("%s", (line, expected) => {
  expect(told(line)).toEqual(expected);
});

test("the dwell is that of the profile's unit", () => {
  expect(told("G4 P6000", "milliseconds")).toEqual([]);
  expect(told("G4 P6", "milliseconds")).toEqual([["dwell-unit-unlikely", 6]]);
});

test("M30 at the end", () => {
  const trace = readProgram("p.nc", `${HEAD}M5\nM30\n`);
  expect(differs(trace, MACHINE, "sheet").map((f) => f.code)).toEqual(["end-may-delete"]);
});

async function proveIn(folder: string, ...names: string[]) {
  let out = "";
  const io = {
    out: (more: string) => {
      out += more;
    },
    err: () => undefined,
    colourOut: false,
    colourErr: false,
    watched: false,
  };
  const { program, code } = buildProgram(io);
  const args = names.map((f) => join(folder, f));
  await program.parseAsync(["prove", ...args, "--json"], { from: "user" });
  const { findings } = JSON.parse(out) as { findings: Finding[] };
  return { code: code(), findings };
}

test("of two programs of one sheet and cutter, the one that is not given is taken along", async () => {
  const plan = JSON.parse(fixtureText("foreign/plan.json"));
  const router = plan.programs[1];
  plan.programs.push({ ...router, file: "tag-router-again.nc" });
  const folder = tempFolder({
    "plan.json": JSON.stringify(plan),
    "tag-drill.nc": fixtureText("foreign/tag-drill.nc"),
    "tag-router.nc": fixtureText("foreign/tag-router.nc"),
    "tag-router-again.nc": `${HEAD}M5\nM2\n`,
  });
  const { code, findings } = await proveIn(folder, "plan.json", "tag-router.nc");
  expect(code).toBe(0);
  expect(findings.map((f) => [f.code, f.data["file"]])).toEqual([
    ["program-taken-along", join(folder, "tag-drill.nc")],
    ["program-taken-along", join(folder, "tag-router-again.nc")],
  ]);
});

test("prove warns of it, and proves all the same", async () => {
  const text = fixtureText("foreign/tag-router.nc");
  const files = {
    "plan.json": fixtureText("foreign/plan.json"),
    "tag-drill.nc": fixtureText("foreign/tag-drill.nc"),
    "tag-router.nc": text.replace(/^m0?2$/im, "m30"),
  };
  const folder = tempFolder(files);
  const { code, findings } = await proveIn(folder, ...Object.keys(files));
  expect(code).toBe(0);
  const warned = findings.filter((f) => f.severity === "warn");
  // The drill's program ends so as it is.
  expect(warned.map((f) => f.code)).toEqual(["end-may-delete", "end-may-delete"]);
  expect(warned[1]?.program).toEqual({ file: join(folder, "tag-router.nc"), line: 98 });
});
