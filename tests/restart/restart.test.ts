/**
 * Restarts at seeded lines of several jobs, one of them neither planned nor written by weftcut: proven, nothing
 * missed, nothing cut twice beyond one pass, the way in through what is cut. All but the proof is seen here
 * without the restart's own code: from what is read back of both texts.
 */
import process from "node:process";
import { describe, expect, test } from "vitest";
import { seeded } from "../../src/core/geometry/seeded.ts";
import { dialectOf } from "../../src/core/program/read/dialect.ts";
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
import { type Bench, benchOf, feedsFrom, inputFor, ODD, STEEP, starterBench } from "./support.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;
const PATIENCE = LONG ? 1_800_000 : 60_000;
/** Rounding to the last decimal, mm. */
const DIGIT = 1.1e-4;

const onSpoilboard = (text: string): string => text.replace(/^( *z:) sheet-top/m, "$1 spoilboard");

const benches: readonly Bench[] = [
  starterBench(),
  { ...starterBench(onSpoilboard), name: "starter, Z0 on the spoilboard" },
  { ...starterBench(ODD), name: "starter, on an odd machine" },
  { ...starterBench(STEEP), name: "starter, down steeply with a slow Z" },
  ...foreignJobs().map(benchOf),
  ...(LONG ? [...demoJobs(), ...casesJobs()] : casesJobs()).map((job: SheetJob) => benchOf(job)),
];
/** Of each of them. */
const LINES = LONG ? 200 : 8;

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
  readProgram("restart.nc", r.text, dialectOf(machine));

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

/** Places along a move, `pitch` apart at most, both ends too. */
function placesOf(m: TraceMove, pitch: number): { x: number; y: number; z: number }[] {
  const flat =
    m.arc === undefined
      ? Math.hypot(m.x1 - m.x0, m.y1 - m.y0)
      : Math.abs(m.arc.sweep) * m.arc.radius;
  const n = Math.ceil(Math.hypot(flat, m.z1 - m.z0) / pitch) + 1;
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

/** How low a move's tip passes over a place, or above everything where it passes it by. */
function passedAt(m: TraceMove, x: number, y: number, room: number): number {
  const nearest = Math.min(1, Math.max(0, alongMove(m, x, y)));
  // The ends by themselves: where a whole turn begins it ends, too, only lower.
  const heights = [nearest, 0, 1].map((t) => {
    const [px, py] =
      m.arc === undefined
        ? [m.x0 + (m.x1 - m.x0) * t, m.y0 + (m.y1 - m.y0) * t]
        : onArc(m, m.arc, t);
    const passes = Math.hypot(px - x, py - y) <= room;
    return passes ? m.z0 + (m.z1 - m.z0) * t : Number.POSITIVE_INFINITY;
  });
  return Math.min(...heights);
}

function onArc(m: TraceMove, arc: NonNullable<TraceMove["arc"]>, t: number): [number, number] {
  const a = Math.atan2(m.y0 - arc.cy, m.x0 - arc.cx) + arc.sweep * t;
  return [arc.cx + Math.cos(a) * arc.radius, arc.cy + Math.sin(a) * arc.radius];
}

/** Share of the move at which it is nearest to a place; outside 0 to 1 beyond its ends. */
function alongMove(m: TraceMove, x: number, y: number): number {
  if (m.arc === undefined) {
    const [dx, dy] = [m.x1 - m.x0, m.y1 - m.y0];
    const square = dx * dx + dy * dy;
    return square === 0 ? 0 : ((x - m.x0) * dx + (y - m.y0) * dy) / square;
  }
  const { cx, cy, sweep } = m.arc;
  const from = Math.atan2(m.y0 - cy, m.x0 - cx);
  const turn = (Math.atan2(y - cy, x - cx) - from) * Math.sign(sweep);
  const ahead = ((turn % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
  return ahead / Math.abs(sweep);
}

const boxOfMove = (m: TraceMove): readonly [number, number, number, number] =>
  m.arc === undefined
    ? [Math.min(m.x0, m.x1), Math.min(m.y0, m.y1), Math.max(m.x0, m.x1), Math.max(m.y0, m.y1)]
    : [
        m.arc.cx - m.arc.radius,
        m.arc.cy - m.arc.radius,
        m.arc.cx + m.arc.radius,
        m.arc.cy + m.arc.radius,
      ];

/**
 * Every place of the way in was passed before, as deep or deeper: rounded twice, and an arc that is cut up has its
 * middle rounded anew.
 */
function expectThroughAir(entry: readonly TraceMove[], before: readonly TraceMove[], top: number) {
  const room = 0.003;
  const [x0, y0, x1, y1] = entry
    .map(boxOfMove)
    .reduce(
      ([a, b, c, d], [e, f, g, h]) => [
        Math.min(a, e),
        Math.min(b, f),
        Math.max(c, g),
        Math.max(d, h),
      ],
      [
        Number.POSITIVE_INFINITY,
        Number.POSITIVE_INFINITY,
        Number.NEGATIVE_INFINITY,
        Number.NEGATIVE_INFINITY,
      ],
    );
  const near = before.filter((m) => {
    const [a, b, c, d] = boxOfMove(m);
    return a <= x1 + room && c >= x0 - room && b <= y1 + room && d >= y0 - room;
  });
  for (const { x, y, z } of entry.flatMap((m) => placesOf(m, 0.2))) {
    if (z >= top) continue;
    if (!near.some((m) => passedAt(m, x, y, room) <= z + 0.001)) {
      expect.unreachable(`meets material at ${x}, ${y}, ${z}`);
    }
  }
}

/** Down and then level, once, and down by no more than a pass and a move. The pecks of one line are one move. */
function expectOnePass(twice: readonly TraceMove[], passDepth: number): void {
  const falls = twice.map((m) => m.z1 < m.z0 - 1e-6);
  expect(falls.lastIndexOf(true)).toBeLessThan(
    falls.indexOf(false) < 0 ? falls.length : falls.indexOf(false),
  );
  const lines = [...new Set(twice.map((m) => m.line))];
  const drops = lines.map((line) => range(twice.filter((m) => m.line === line)));
  expect(range(twice)).toBeLessThan(passDepth + Math.max(...drops) + 1e-6);
  expect(Math.max(...lines) - Math.min(...lines)).toBeLessThan(2000);
}

function range(moves: readonly TraceMove[]): number {
  const heights = moves.flatMap((m) => [m.z0, m.z1]);
  return Math.max(...heights) - Math.min(...heights);
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

/** Its programs say nothing of plates: where they begin is in the plan. */
const silent: Bench = {
  ...starterBench((text) => text.replace("comments: parentheses", "comments: none")),
  name: "starter, without comments",
};

const cases: Bench = benchOf(casesJobs()[0] as SheetJob);

describe.each([cases, silent, ...benches.filter((b) => b.name.includes("spoilboard"))])(
  "by plate: $name",
  (bench) => {
    test.each(bench.plan.sheets[0]?.placements ?? [])("$plate $copy", ({ plate, copy }) => {
      for (const { file, trace } of bench.programs) {
        const starts = bench.plan.programs.find((p) => p.file === file)?.plates ?? [];
        const at = starts.findIndex((p) => p.plate === plate && p.copy === copy);
        if (at < 0) continue;
        if (bench !== silent) {
          const said = trace.comments.find((c) => c.text === `plate ${plate} copy ${copy}`);
          expect(starts[at]?.line).toBe(said?.line);
        }
        const r = made(bench, file, { plate: `${plate} ${copy}` });
        expect(r.proofs.map(failuresOf)).toEqual([[], []]);
        expect(r.finished.length).toBe(at);
        expect(r.left[0]).toBe(`${plate} ${copy}`);
        expect(r.finished.length + r.left.length).toBe(starts.length);
        const next = feedsFrom(trace.steps, starts[at]?.line ?? 0);
        expectSame(back(r, bench.plan).steps.filter(isFeed), next);
      }
    });
  },
);

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
