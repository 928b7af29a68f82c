/** What a controller may do differently from the standard, told of programs that are right by it. */
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { buildProgram } from "../../src/cli/program.ts";
import type { Finding } from "../../src/core/finding/finding.ts";
import type { Machine } from "../../src/core/machine/machine.ts";
import { dialectOf } from "../../src/core/program/read/dialect.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { differs } from "../../src/core/proof/differs.ts";
import { prove } from "../../src/core/proof/prove.ts";
import { tempFolder } from "../cli/temp-folder.ts";
import { MACHINE } from "../toolpath/support.ts";
import { failuresOf, fixtureText, foreignJobs, inputOf } from "./support/planned.ts";

const HEAD = "G21\nG90\nG17\nG94\nG0 Z6\n";

function told(lines: string, change: Partial<Machine> = {}) {
  const machine = { ...MACHINE, ...change };
  const trace = readProgram("p.nc", `${HEAD}${lines}\nM5\nM2\n`, dialectOf(machine));
  expect(trace.findings.filter((f) => f.severity === "stop")).toEqual([]);
  return differs(trace, machine, "sheet").map((f) => [f.code, f.program?.line]);
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
  expect(told("G4 P6000", { dwell: "milliseconds" })).toEqual([]);
  expect(told("G4 P6", { dwell: "milliseconds" })).toEqual([["dwell-unit-unlikely", 6]]);
});

test("M30 at the end, but where the profile says that programs end so", () => {
  const trace = readProgram("p.nc", `${HEAD}M5\nM30\n`);
  const codes = (machine: Machine) => differs(trace, machine, "sheet").map((f) => f.code);
  expect(codes(MACHINE)).toEqual(["end-may-delete"]);
  expect(codes({ ...MACHINE, programEnd: "M30" })).toEqual([]);
});

describe("what S counts", () => {
  const spindle = (sAtMax: number | undefined) => ({ spindle: { ...MACHINE.spindle, sAtMax } });

  test.each([
    // Full speed is 24000, the slowest 8000: 203 of 255 are 19106.
    ["S203 M3", undefined, [["speed-scale-unlikely", 6]]],
    ["S800 M3", undefined, [["speed-scale-unlikely", 6]]],
    ["S19100 M3", undefined, []],
    ["S19100 M3", 255, [["speed-scale-unlikely", 6]]],
    ["S203 M3", 255, []],
    ["S800 M3", 255, [["speed-scale-unlikely", 6]]],
    // No scale makes sense of these: the proof says that they are out of range.
    ["S12 M3", undefined, []],
    ["S90000 M3", undefined, []],
  ] as const)("%s, %j at full speed", (line, sAtMax, expected) => {
    expect(told(line, spindle(sAtMax))).toEqual(expected);
  });

  test("is said with both speeds", () => {
    const trace = readProgram("p.nc", `${HEAD}S203 M3\nM5\nM2\n`);
    const [found] = differs(trace, MACHINE, "sheet");
    expect(found?.message).toMatch(/S203 is 203 rpm .* 255 at full speed, it is 19106/);
  });
});

test.each([
  ["M7", {}, [["codes-often-refused", 6]]],
  ["M7", { startLines: ["M7"] }, []],
  ["M0", { spindle: { ...MACHINE.spindle, start: "hand-at-stop" } }, []],
] as const)("%s on a machine with %j", (line, change, expected) => {
  expect(told(line, change)).toEqual(expected);
});

test("another work offset than the profile's", () => {
  const trace = readProgram("p.nc", "G21\nG90\nG17\nG94\nG55\nG0 Z6\nM5\nM2\n");
  const on = (workOffset: Machine["workOffset"]) =>
    differs(trace, { ...MACHINE, workOffset }, "sheet").map((f) => [f.code, f.program?.line]);
  expect(on("G54")).toEqual([["work-offset-other", 5]]);
  expect(on("G55")).toEqual([]);
});

test.each(["G28", "G30"])("%s is refused by the reader, with the reason", (code) => {
  const { findings } = readProgram("p.nc", `${HEAD}${code}\nM5\nM2\n`);
  expect(findings.map((f) => [f.code, f.severity, f.program?.line])).toEqual([
    ["program-unsupported-code", "stop", 6],
  ]);
  expect(findings[0]?.hint).toMatch(/homes on some controllers/);
});

test("a motion code that the machine forgets fails the proof, and only there", () => {
  const [router] = foreignJobs();
  if (router === undefined) throw new Error("no job");
  const failed = (repeatMotion: boolean) => {
    const plan = { ...router.plan, machine: { ...router.plan.machine, repeatMotion } };
    return failuresOf(prove(inputOf({ ...router, plan })).value);
  };
  expect(failed(false)).toEqual([]);
  expect(failed(true)).toEqual(["motion-not-repeated"]);
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
