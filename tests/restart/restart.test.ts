/**
 * Restarts at seeded lines of several jobs, one of them neither planned nor written by weftcut: proven, nothing
 * missed, nothing cut twice beyond one pass, the way in through what is cut. All but the proof is seen here
 * without the restart's own code: from what is read back of both texts.
 */
import process from "node:process";
import { describe, expect, test } from "vitest";
import { seeded } from "../../src/core/geometry/seeded.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { isFeed, type Trace, type TraceMove } from "../../src/core/program/read/trace.ts";
import { judge } from "../../src/core/restart/judge.ts";
import { type Restart, restart } from "../../src/core/restart/restart.ts";
import {
  casesJobs,
  demoJobs,
  failuresOf,
  foreignJobs,
  type SheetJob,
} from "../proof/support/planned.ts";
import { type Bench, benchOf, feedsFrom, inputFor, starterBench } from "./support.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;
const PATIENCE = LONG ? 1_800_000 : 60_000;
/** Rounding to the last decimal, mm. */
const DIGIT = 1.1e-4;

const benches: readonly Bench[] = [
  starterBench(),
  ...foreignJobs().map(benchOf),
  ...(LONG ? [...demoJobs(), ...casesJobs()] : casesJobs()).map((job: SheetJob) => benchOf(job)),
];
/** 200 in all in the long run. */
const LINES = LONG ? Math.ceil(200 / benches.length) : 5;

function made(bench: Bench, file: string, at: Parameters<typeof inputFor>[2]): Restart {
  const { value, findings } = restart(inputFor(bench, file, at));
  expect(findings.filter((f) => f.severity === "stop")).toEqual([]);
  return value as Restart;
}

const programOf = (bench: Bench, file: string): Trace =>
  bench.programs.find((p) => p.file === file)?.trace as Trace;

/** Lines on which something is fed, or anything else before the last of them. */
function linesOf(bench: Bench, seed: number): { file: string; line: number }[] {
  const random = seeded(seed);
  return Array.from({ length: LINES }, () => {
    const at = Math.floor(random() * bench.programs.length);
    const { file, trace } = bench.programs[at] as Bench["programs"][number];
    const last = trace.steps.findLast(isFeed)?.line ?? 1;
    return { file, line: 1 + Math.floor(random() * last) };
  });
}

const back = (r: Restart, { machine }: Bench["plan"]): Trace =>
  readProgram("restart.nc", r.text, {
    dwell: machine.dwell,
    semicolons: machine.comments === "semicolon",
  });

/** The step that is taken up, among the feeds of a line: a cycle has several. */
function feedsAt(trace: Trace, r: Restart): TraceMove[] {
  const feeds = feedsFrom(trace.steps, r.line);
  const [x, y, z] = r.at;
  const first = feeds.findIndex((m) => m.x0 === x && m.y0 === y && m.z0 === z);
  expect(first).toBeGreaterThanOrEqual(0);
  return feeds.slice(first);
}

function expectSame(own: readonly TraceMove[], wanted: readonly TraceMove[]): void {
  expect(own.length).toBe(wanted.length);
  for (const [i, m] of own.entries()) {
    const w = wanted[i] as TraceMove;
    const off = Math.max(
      ...(["x0", "y0", "z0", "x1", "y1", "z1"] as const).map((k) => Math.abs(m[k] - w[k])),
      Math.abs((m.arc?.sweep ?? 0) - (w.arc?.sweep ?? 0)) * (w.arc?.radius ?? 0),
    );
    expect(off).toBeLessThan(4 * DIGIT);
    expect(Math.abs(m.feed - w.feed)).toBeLessThanOrEqual(0.5);
    expect(m.rpm).toBe(w.rpm);
  }
}

/** Where a move is, in hundredths of a turn or tenths of a millimetre. */
function placesOf(m: TraceMove): { x: number; y: number; z: number }[] {
  const length = Math.hypot(m.x1 - m.x0, m.y1 - m.y0) + Math.abs(m.arc?.sweep ?? 0) * 20;
  const n = Math.min(2000, Math.ceil(length / 0.1) + 1);
  return Array.from({ length: n + 1 }, (_, i) => {
    const t = i / n;
    const z = m.z0 + (m.z1 - m.z0) * t;
    if (m.arc === undefined) {
      return { x: m.x0 + (m.x1 - m.x0) * t, y: m.y0 + (m.y1 - m.y0) * t, z };
    }
    const a = Math.atan2(m.y0 - m.arc.cy, m.x0 - m.arc.cx) + m.arc.sweep * t;
    const { cx, cy, radius } = m.arc;
    return { x: cx + Math.cos(a) * radius, y: cy + Math.sin(a) * radius, z };
  });
}

/** Every place of the way in was passed before, as deep or deeper. */
function expectThroughAir(entry: readonly TraceMove[], before: readonly TraceMove[], top: number) {
  const been = before.flatMap(placesOf);
  for (const p of entry.flatMap(placesOf)) {
    if (p.z >= top) continue;
    const passed = been.some(
      (b) => Math.abs(b.x - p.x) < 0.11 && Math.abs(b.y - p.y) < 0.11 && b.z <= p.z + 0.01,
    );
    if (!passed) expect.unreachable(`meets material at ${p.x}, ${p.y}, ${p.z}`);
  }
}

/** Down and then level, once, and down by no more than a pass and a move. */
function expectOnePass(twice: readonly TraceMove[], passDepth: number): void {
  const falls = twice.map((m) => m.z1 < m.z0 - 1e-6);
  expect(falls.lastIndexOf(true)).toBeLessThan(
    falls.indexOf(false) < 0 ? falls.length : falls.indexOf(false),
  );
  const down = twice.filter((m) => m.z1 < m.z0);
  const deepest = Math.max(0, ...down.map((m) => m.z0 - m.z1));
  const fall = down.reduce((sum, m) => sum + m.z0 - m.z1, 0);
  expect(fall).toBeLessThan(passDepth + deepest + 1e-6);
  const lines = new Set(twice.map((m) => m.line));
  expect(Math.max(...lines) - Math.min(...lines)).toBeLessThan(2000);
}

describe.each(benches)("$name", (bench) => {
  const { plan } = bench;

  test("at seeded lines", { timeout: PATIENCE }, () => {
    for (const { file, line } of linesOf(bench, 0x1a7e + bench.name.length)) {
      const r = made(bench, file, { line, ahead: 0 });
      const where = `${file}:${line}`;
      expect(r.proofs.map(failuresOf), where).toEqual([[], []]);
      const trace = programOf(bench, file);
      const own = back(r, plan);
      expect(own.findings).toEqual([]);
      const wanted = feedsAt(trace, r);
      const feeds = own.steps.filter(isFeed);
      expectSame(feeds.slice(feeds.length - wanted.length), wanted);
      const before = trace.steps.filter(isFeed).slice(0, -wanted.length);
      const sheet = plan.sheets.find((s) => bench.programs.some((p) => p.sheet === s.name));
      const top = plan.origin.z === "spoilboard" ? (sheet?.thickness ?? 0) : 0;
      expectThroughAir(feeds.slice(0, feeds.length - wanted.length), before, top);
      // What may be cut already is what the line says, and the rest of it is cut once.
      expect(r.line).toBeLessThanOrEqual(Math.max(line, r.cutTo));
      expect(r.cutTo).toBe(feedsFrom(trace.steps, line)[0]?.line);
      const twice = wanted.filter((m) => m.line <= r.cutTo);
      const passDepth = plan.programs.find((p) => p.file === file)?.passDepth ?? 0;
      expectOnePass(twice, passDepth);
    }
  });

  test("where the controller may have read ahead, more is cut again", { timeout: PATIENCE }, () => {
    const { file, line } = linesOf(bench, 7)[0] as { file: string; line: number };
    const sure = made(bench, file, { line, ahead: 0 });
    const unsure = made(bench, file, { line, ahead: 25 });
    expect(unsure.proofs.map(failuresOf)).toEqual([[], []]);
    expect(unsure.line).toBeLessThanOrEqual(sure.line);
    expect(unsure.cutTo).toBe(sure.cutTo);
    const between = programOf(bench, file).steps.filter(
      (s) => s.line >= unsure.line && s.line < sure.cutTo && "x1" in s,
    );
    expect(between.length).toBeGreaterThanOrEqual(Math.min(25, sure.line - unsure.line));
  });
});

describe("by plate", () => {
  const bench = benchOf(casesJobs()[0] as SheetJob);

  test.each(bench.plan.sheets[0]?.placements ?? [])("$plate $copy", ({ plate, copy }) => {
    for (const { file, trace } of bench.programs) {
      const starts = trace.comments.filter((c) => /^plate .* copy/.test(c.text));
      const at = starts.findIndex((c) => c.text === `plate ${plate} copy ${copy}`);
      if (at < 0) continue;
      const r = made(bench, file, { plate });
      expect(r.proofs.map(failuresOf)).toEqual([[], []]);
      expect(r.finished.length).toBe(at);
      expect(r.left[0]).toBe(`${plate} ${copy}`);
      expect(r.finished.length + r.left.length).toBe(starts.length);
      const next = feedsFrom(trace.steps, starts[at]?.line ?? 0);
      expectSame(back(r, bench.plan).steps.filter(isFeed), next);
    }
  });
});

describe("a sheet that is not cut as far as the restart takes it to be", () => {
  const bench = benches[0] as Bench;
  const { file, trace, sheet } = bench.programs[0] as Bench["programs"][number];
  const outline = trace.comments.find((c) => c.text.startsWith("outline"))?.line ?? 0;
  const deep = trace.steps
    .filter(isFeed)
    .filter((m) => m.line > outline && m.z0 < -1.2 && m.z1 < -1.2);
  const { line } = deep[0] as TraceMove;

  test("is not proven", () => {
    const input = inputFor(bench, file, { line, ahead: 0 });
    const r = made(bench, file, { line, ahead: 0 });
    const program = bench.programs[0] as Bench["programs"][number];
    const [sheetJson] = bench.plan.sheets.filter((s) => s.name === sheet);
    if (sheetJson === undefined) throw new Error("no sheet");
    const step = trace.steps.findIndex((s) => s.line > outline && isFeed(s));
    const takeUp = { step, run: step, open: step };
    const { proofs } = judge(input, { program, sheet: sheetJson, takeUp, text: r.text });
    expect(failuresOf(proofs[0])).not.toEqual([]);
  });
});

test("the end of the cuts, no such line, no such plate: said, with a way out", () => {
  const bench = benches[0] as Bench;
  const { file, trace } = bench.programs[0] as Bench["programs"][number];
  const codes = (at: Parameters<typeof inputFor>[2], name = file): string[] => {
    const { value, findings } = restart(inputFor(bench, name, at));
    expect(value).toBeUndefined();
    return findings.map((f) => f.code);
  };
  expect(codes({ line: trace.lines, ahead: 0 })).toEqual(["restart-nothing-left"]);
  expect(codes({ line: trace.lines + 1, ahead: 0 })).toEqual(["restart-line-beyond"]);
  expect(codes({ plate: "brackett" })).toEqual(["restart-plate-unknown"]);
  expect(codes({ plate: "bracket" })).toEqual(["restart-plate-copies"]);
  expect(codes({ line: 1, ahead: 0 }, "02.nc")).toEqual(["restart-not-of-plan"]);
  const whole = restart(inputFor(bench, file, { line: 1, ahead: 0 }));
  expect(whole.findings.map((f) => f.code)).toEqual(["restart-from-start"]);
});
