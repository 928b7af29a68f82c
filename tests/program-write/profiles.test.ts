/**
 * Every option of a machine profile: the whole job planned for such a machine, its programs read back as that
 * machine would read them, proven, and found to take the same material away as the plain profile's.
 */
import process from "node:process";
import { describe, expect, test } from "vitest";
import { JOB_YAML, MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import type { Finding } from "../../src/core/finding/finding.ts";
import { seeded } from "../../src/core/geometry/seeded.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";
import type { PlanJson } from "../../src/core/job/plan-json.ts";
import { planMemory } from "../../src/core/job/work/memory.ts";
import type { Machine } from "../../src/core/machine/machine.ts";
import { dialectOf } from "../../src/core/program/read/dialect.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { isFeed, type Trace, type TraceMove } from "../../src/core/program/read/trace.ts";
import { starterFile } from "../job/starter-plan.ts";
import { fixtureBytes, fixtureText } from "../proof/support/planned.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;

/** What a profile may say, first the plain one's. */
const AXES = {
  decimals: [4, 3, 5],
  lineLength: [70, 40],
  dwell: ["seconds", "milliseconds"],
  comments: ["parentheses", "semicolon", "none"],
  repeatMotion: [false, true],
  workOffset: ["G54", "none", "G57"],
  arcs: [true, false],
  blocksPerSecond: [250, 30],
  programEnd: ["M2", "M30", "none"],
  percentLines: [false, true],
  startLines: [[], ["M7", "G64"]],
  endLines: [[], ["M9"]],
  start: ["program", "hand-at-stop", "hand-in-dwell"],
  sAtMax: [undefined, 255, 1000],
} as const;

type Axis = keyof typeof AXES;
type Profile = { readonly [K in Axis]: (typeof AXES)[K][number] };
type Options = Partial<Omit<Profile, "blocksPerSecond">> & { readonly blocksPerSecond?: number };

const NAMES = Object.keys(AXES) as Axis[];
const PLAIN = Object.fromEntries(NAMES.map((n) => [n, AXES[n][0]])) as unknown as Profile;

const machineOf = (machine: Machine, options: Options): Machine => {
  const { start, sAtMax, ...rest } = { ...PLAIN, ...options };
  return { ...machine, ...rest, spindle: { ...machine.spindle, start, sAtMax } };
};

/** Each value alone. */
const SINGLE: readonly Options[] = NAMES.flatMap((name) =>
  AXES[name].slice(1).map((value) => ({ [name]: value })),
);

/** Profiles in which every two values of two keys meet once, chosen one after the other from seeded ones. */
function inPairs(): Profile[] {
  const random = seeded(0xd1a1);
  const pairsOf = (p: Profile): string[] =>
    NAMES.flatMap((a, i) =>
      NAMES.slice(i + 1).map((b) => JSON.stringify([a, p[a] ?? null, b, p[b] ?? null])),
    );
  const open = new Set<string>();
  for (const [i, a] of NAMES.entries()) {
    for (const b of NAMES.slice(i + 1)) {
      for (const x of AXES[a]) {
        for (const y of AXES[b]) open.add(JSON.stringify([a, x ?? null, b, y ?? null]));
      }
    }
  }
  const chosen: Profile[] = [];
  while (open.size > 0) {
    const some = Array.from({ length: 200 }, () => {
      const any = NAMES.map((n) => [n, AXES[n][Math.floor(random() * AXES[n].length)]]);
      return Object.fromEntries(any) as Profile;
    });
    const gain = (p: Profile): number => pairsOf(p).filter((pair) => open.has(pair)).length;
    const best = some.reduce((a, b) => (gain(b) > gain(a) ? b : a));
    for (const pair of pairsOf(best)) open.delete(pair);
    chosen.push(best);
  }
  return chosen;
}

const PAIRS: readonly Profile[] = inPairs();

test("every two values meet in some profile", () => {
  expect(PAIRS.length).toBeLessThan(40);
  for (const name of NAMES) {
    expect(new Set(PAIRS.map((p) => JSON.stringify(p[name]))).size).toBe(AXES[name].length);
  }
});

interface Job {
  readonly name: string;
  readonly plan: (options: Options) => Planned;
  readonly profiles: readonly Options[];
}

/** What does not depend on the machine is worked out once. */
function planner(name: string, text: string, read: (file: string) => Uint8Array | undefined) {
  const memory = planMemory();
  const { value: job } = parseJob({ name: "job.yaml", text }, read);
  if (job === undefined) throw new Error(`${name} is no job`);
  return (options: Options): Planned =>
    planJob({ ...job, machine: machineOf(job.machine, options) }, read, {
      memory,
      keepUnproven: true,
    });
}

const demo = (path: string): Uint8Array => fixtureBytes(`demo/${path}`);

const JOBS: readonly Job[] = [
  {
    name: "starter",
    plan: planner("starter", JOB_YAML, starterFile),
    // Each value alone is in some pair as well.
    profiles: LONG ? [...SINGLE, ...PAIRS] : PAIRS,
  },
  {
    name: "demo",
    plan: planner("demo", fixtureText("demo/job.yaml"), demo),
    profiles: LONG ? [...SINGLE, ...PAIRS] : PAIRS.slice(0, 2),
  },
];

interface Cut {
  readonly plan: PlanJson;
  readonly traces: readonly Trace[];
  readonly texts: readonly string[];
  readonly findings: readonly Finding[];
}

function cutFor(job: Job, options: Options): Cut {
  const { plan, files, findings } = job.plan(options);
  if (plan === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  const texts = plan.programs.map((p) => files.get(p.file) ?? "");
  const traces = texts.map((t, i) =>
    readProgram(plan.programs[i]?.file ?? "", t, dialectOf(plan.machine)),
  );
  return { plan, traces, texts, findings };
}

const feedsOf = ({ traces }: Cut): TraceMove[] => traces.flatMap((t) => t.steps.filter(isFeed));

/** Moves with one and the same arc behind them lie on it; the plain program's moves in order, arcs as arcs. */
function expectSameWay(own: readonly TraceMove[], plain: readonly TraceMove[], room: number): void {
  let at = 0;
  for (const wanted of plain) {
    let turned = 0;
    for (; ; at++) {
      const m = own[at];
      if (m === undefined) expect.unreachable("the way ends early");
      expect(offWay(m, wanted)).toBeLessThan(room);
      if (m.arc !== undefined) turned += Math.abs(m.arc.sweep);
      else if (wanted.arc !== undefined) turned += angleBetween(m, wanted.arc);
      const there = Math.hypot(m.x1 - wanted.x1, m.y1 - wanted.y1, m.z1 - wanted.z1) < room;
      // Round a whole circle, its end is its beginning.
      if (there && turned > Math.abs(wanted.arc?.sweep ?? 0) * 0.9 - 0.02) break;
    }
    at++;
  }
  expect(at).toBe(own.length);
}

function angleBetween(m: TraceMove, { cx, cy }: { cx: number; cy: number }): number {
  const a = Math.atan2(m.y0 - cy, m.x0 - cx);
  const b = Math.atan2(m.y1 - cy, m.x1 - cx);
  const d = Math.abs(b - a);
  return Math.min(d, 2 * Math.PI - d);
}

/** How far the ends and the middle of a move are off the arc or the line that they should be on. */
function offWay(m: TraceMove, wanted: TraceMove): number {
  const places = [0, 0.5, 1].map((t) => [m.x0 + (m.x1 - m.x0) * t, m.y0 + (m.y1 - m.y0) * t]);
  if (wanted.arc !== undefined) {
    const { cx, cy, radius } = wanted.arc;
    if (m.arc !== undefined) {
      return Math.hypot(m.arc.cx - cx, m.arc.cy - cy, m.arc.radius - radius);
    }
    return Math.max(
      ...places.map(([x = 0, y = 0]) => Math.abs(Math.hypot(x - cx, y - cy) - radius)),
    );
  }
  const [dx, dy] = [wanted.x1 - wanted.x0, wanted.y1 - wanted.y0];
  const length = Math.hypot(dx, dy);
  const off = places.map(([x = 0, y = 0]) =>
    length < 1e-6
      ? Math.hypot(x - wanted.x0, y - wanted.y0)
      : Math.abs((x - wanted.x0) * dy - (y - wanted.y0) * dx) / length,
  );
  return Math.max(...off);
}

describe.each(JOBS)("$name", (job) => {
  const plain = cutFor(job, {});

  test.each(job.profiles)("%j", { timeout: LONG ? 600_000 : 120_000 }, (options) => {
    const cut = cutFor(job, options);
    expect(cut.findings.filter((f) => f.severity === "stop")).toEqual([]);
    expect(cut.traces.flatMap((t) => t.findings)).toEqual([]);
    expect(cut.plan.machine).toEqual(machineOf(cut.plan.machine, options));
    expect(cut.plan.proof.proven).toBe(true);
    // Rounding, and the chords' 2 µm where there are no arcs, or some whose words do not fit on a line.
    const digit = 10 ** -(options.decimals ?? 4);
    const chords = options.arcs === false || options.lineLength === 40;
    const room = (chords ? 0.002 : 0) + 2 * Math.max(digit, 1e-4);
    expectSameWay(feedsOf(cut), feedsOf(plain), room);
    for (const key of ["overcutMm", "leftMm2", "cornerMm"] as const) {
      expect(Math.abs(cut.plan.proof[key] - plain.plan.proof[key])).toBeLessThan(room);
    }
  });

  test("without arcs no chord comes faster than the controller keeps up with, and what is slowed is told", () => {
    const planned = feedsOf(cutFor(job, { arcs: false, blocksPerSecond: 1e4 }));
    for (const blocksPerSecond of job.name === "demo" ? [250] : [250, 30, 10]) {
      const cut = cutFor(job, { arcs: false, blocksPerSecond });
      const feeds = feedsOf(cut);
      expect(feeds.length).toBe(planned.length);
      const slowed = feeds.filter((m, i) => m.feed < (planned[i]?.feed ?? 0));
      const told = cut.findings.filter((f) => f.code === "feed-lowered-for-blocks");
      expect(told.length > 0).toBe(slowed.length > 0);
      if (blocksPerSecond === 10) expect(slowed.length).toBeGreaterThan(0);
      expectKeptUp(feeds, blocksPerSecond);
    }
  });
});

/** As many blocks as controllers look ahead, together: one short block among long ones holds up nothing. */
const AHEAD = 15;

function expectKeptUp(feeds: readonly TraceMove[], blocksPerSecond: number): void {
  const seconds = feeds.map((m) => {
    const length = Math.hypot(m.x1 - m.x0, m.y1 - m.y0, m.z1 - m.z0);
    return (length / m.feed) * 60;
  });
  let worst = 0;
  for (let i = AHEAD; i <= feeds.length; i++) {
    const sum = seconds.slice(i - AHEAD, i).reduce((a, b) => a + b, 0);
    worst = Math.max(worst, AHEAD / sum);
  }
  // Feeds are whole mm/min.
  expect(worst).toBeLessThan(blocksPerSecond * 1.05);
}

test("the starter's profile is the plain one", () => {
  expect(MACHINE_YAML).toMatch(/^arcs: true/m);
});
