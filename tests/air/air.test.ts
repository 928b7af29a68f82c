/** Air runs: of every program of several jobs, one of them neither planned nor written by weftcut. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { buildProgram } from "../../src/cli/program.ts";
import { type AirRun, airRun } from "../../src/core/air/air.ts";
import { judgeAir } from "../../src/core/air/judge.ts";
import type { SheetJson } from "../../src/core/job/plan-json.ts";
import { dialectOf } from "../../src/core/program/read/dialect.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import type { Trace, TraceMove } from "../../src/core/program/read/trace.ts";
import { isFeed } from "../../src/core/program/read/trace.ts";
import { tempFolder } from "../cli/temp-folder.ts";
import { casesJobs, fixtureText, foreignJobs } from "../proof/support/planned.ts";
import { type Bench, benchOf, ODD, starterBench } from "../restart/support.ts";
import { listening } from "../support/listening.ts";

const benches: readonly Bench[] = [
  starterBench(),
  starterBench((text) => text.replace(/^( *z:) sheet-top/m, "$1 spoilboard")),
  starterBench(ODD),
  ...[...foreignJobs(), ...casesJobs()].map(benchOf),
];
const programs = benches.flatMap((bench) =>
  bench.programs.map((program) => ({ bench, program, name: `${bench.name}, ${program.file}` })),
);

const moves = (trace: Trace): TraceMove[] =>
  trace.steps.filter((s): s is TraceMove => s.kind === "feed" || s.kind === "rapid");

function made(of: (typeof programs)[number], raise?: number): AirRun {
  const { plan } = of.bench;
  const { value, findings } = airRun({ plan, program: of.program, out: "air.nc", raise });
  expect(findings).toEqual([]);
  return value as AirRun;
}

const topOf = ({ plan }: Bench, sheet: string): number =>
  plan.origin.z === "spoilboard" ? (plan.sheets.find((s) => s.name === sheet)?.thickness ?? 0) : 0;

test("both ways to set Z are there", () => {
  expect(new Set(benches.map((b) => b.plan.origin.z))).toEqual(
    new Set(["sheet-top", "spoilboard"]),
  );
});

describe.each(programs)("$name", (of) => {
  const { bench, program } = of;
  const { clearance } = bench.plan.cutting;
  const own = program.trace.steps.filter(isFeed);
  const deepest = Math.min(...own.map((m) => Math.min(m.z0, m.z1)));
  const least = topOf(bench, program.sheet) + clearance - deepest;

  test("is the same way, as much higher as is said, and the spindle never turns", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 3000 }), (more) => {
        const raise = more === 0 ? undefined : Math.ceil(least * 100) / 100 + more / 100;
        const run = made(of, raise);
        expect(run.proven).toBe(true);
        const air = readProgram("air.nc", run.text, dialectOf(bench.plan.machine));
        expect(air.findings).toEqual([]);
        expect(air.steps.filter((s) => s.kind === "spindle-on" || s.kind === "dwell")).toEqual([]);
        const floor = topOf(bench, program.sheet) + clearance;
        for (const m of moves(air)) expect(Math.min(m.z0, m.z1)).toBeGreaterThan(floor - 0.001);
        const risen = air.steps.filter(isFeed);
        expect(risen.length).toBe(own.length);
        const off = own.map((m, i) => {
          const r = risen[i] as TraceMove;
          return Math.max(
            Math.abs(r.x1 - m.x1),
            Math.abs(r.y1 - m.y1),
            Math.abs(r.z1 - m.z1 - run.raise),
            Math.abs(r.feed - m.feed) - 0.5,
          );
        });
        expect(Math.max(...off)).toBeLessThan(2e-4);
      }),
      { numRuns: 4 },
    );
  });

  test("not raised enough: said, with the height that is", () => {
    const input = { plan: bench.plan, program, out: "air.nc", raise: least - 0.5 };
    const { value, findings } = airRun(input);
    expect(value).toBeUndefined();
    expect(findings.map((f) => f.code)).toEqual(["air-too-low"]);
    const enough = Number(findings[0]?.data["least"]);
    expect(airRun({ ...input, raise: enough }).value?.proven).toBe(true);
  });
});

describe("chords for arcs, as a controller without them gets", () => {
  const [bench] = benches as [Bench];
  const [program] = bench.programs as [Bench["programs"][number]];
  const plan = { ...bench.plan, machine: { ...bench.plan.machine, arcs: false } };
  const { value: run, findings } = airRun({ plan, program, out: "air.nc" });
  const text = run?.text ?? "";
  const judged = (changed: string): string[] => {
    const air = { ...program, trace: readProgram("air.nc", changed) };
    const sheet = plan.sheets[0] as SheetJson;
    return judgeAir({ plan, sheet, program, raise: run?.raise ?? 0 }, air).findings.map(
      (f) => f.code,
    );
  };

  test("are the same way", () => {
    expect(findings).toEqual([]);
    expect(program.trace.steps.filter(isFeed).some((m) => m.arc !== undefined)).toBe(true);
    expect(text).not.toMatch(/^G[23] /m);
    expect(run?.proven).toBe(true);
    expect(judged(text)).toEqual([]);
  });

  test("one of them for an arc that turns by little", () => {
    const cut = (line: string, z: number): Trace =>
      readProgram(
        "cut.nc",
        `G21 G90 G17 G94\nM5\nG0 Z${z + 5}\nG0 X10 Y0\nG1 Z${z} F200\n${line}\nM2\n`,
      );
    const sheet = plan.sheets[0] as SheetJson;
    const own = { ...program, trace: cut("G3 X9.9995 Y0.1 I-10 J0 F200", -1) };
    const astray = (line: string): boolean => {
      const air = { ...program, trace: cut(line, 9) };
      const { value } = judgeAir({ plan, sheet, program: own, raise: 10 }, air);
      return value.checks.some((c) => c.code === "air-astray" && !c.passed);
    };
    expect(astray("G1 X9.9995 Y0.1 F200")).toBe(false);
    expect(astray("G1 X9.9995 Y0.2 F200")).toBe(true);
    expect(astray("G1 X9.9 Y0.1 F200")).toBe(true);
  });

  test("but for one that is left out, or lies a hundredth aside", () => {
    const lines = text.split("\n");
    const bend = lines.findIndex((l, i) => i > 60 && /^X\S+ Y\S+$/.test(l));
    const without = lines.toSpliced(bend, 1).join("\n");
    const aside = lines.with(
      bend,
      (lines[bend] ?? "").replace(/X(\S+)/, (_, x) => `X${Number(x) + 0.02}`),
    );
    expect(judged(without)).toContain("air-astray");
    expect(judged(aside.join("\n"))).toContain("air-astray");
  });
});

describe("the proof has teeth", () => {
  const of = programs[0] as (typeof programs)[number];
  const { bench, program } = of;
  const run = made(of);
  const sheet = bench.plan.sheets[0] as SheetJson;
  const failed = (text: string): string[] => {
    const air = { ...program, trace: readProgram("air.nc", text) };
    const judged = judgeAir({ plan: bench.plan, sheet, program, raise: run.raise }, air);
    expect(judged.findings.map((f) => f.code)).toEqual(
      judged.value.checks.filter((c) => !c.passed).map((c) => c.code),
    );
    return judged.findings.map((f) => f.code);
  };
  const lowest = /^.*\bZ6\b.*$/m;

  test.each([
    ["one move to the sheet", (t: string) => t.replace(lowest, "G1 Z0.5 F300"), "air-height"],
    ["the spindle on", (t: string) => t.replace(/^M5$/m, "S12000 M3"), "air-spindle"],
    ["one line less", (t: string) => t.replace(/^G3 .*\n/m, ""), "air-astray"],
    ["no end", (t: string) => t.replace(/M5\nM2\n$/, ""), "unsafe-end"],
    ["far up", (t: string) => t.replace(/^G0 Z\S+$/m, "G0 Z500"), "travel-z"],
  ])("%s", (_, spoil, code) => {
    const text = spoil(run.text);
    expect(text).not.toBe(run.text);
    expect(failed(text)).toContain(code);
  });

  test("as it is, it passes", () => {
    expect(failed(run.text)).toEqual([]);
  });
});

async function command(folder: string, ...args: string[]) {
  const { io, said } = listening();
  const { program, code } = buildProgram(io);
  const files = ["plan.json", "tag-router.nc", "--out", "air.nc"].map((name) =>
    name.startsWith("--") ? name : join(folder, name),
  );
  await program.parseAsync(["air", ...files, ...args], { from: "user" });
  return { ...said, code: code() };
}

test("the command writes it, or says why not", async () => {
  const files = ["plan.json", "tag-router.nc"].map((f) => [f, fixtureText(`foreign/${f}`)]);
  const folder = tempFolder(Object.fromEntries(files));
  const low = await command(folder, "--raise", "2");
  expect(low.code).toBe(1);
  expect(low.err).toMatch(/^stop air-too-low Raised by 2 mm/);
  expect(existsSync(join(folder, "air.nc"))).toBe(false);
  const done = await command(folder, "--json");
  expect(done.code).toBe(0);
  const told = JSON.parse(done.out);
  expect(told.proven).toBe(true);
  expect(told.lowest).toBeCloseTo(6, 1);
  expect(readFileSync(told.file, "utf8")).toMatch(/^\(mooring tag: AIR RUN of tag-router\.nc/);
});
