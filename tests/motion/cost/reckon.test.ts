/** The demo's estimate: its parts add up, it says what it rests on, and goes by what was measured. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { massOf } from "../../../src/core/cutting/mass.ts";
import { parseJob } from "../../../src/core/job/parse.ts";
import {
  type Reckoning,
  type Run,
  reckon,
  splitInput,
} from "../../../src/core/job/planning/account/reckon.ts";
import { programZero } from "../../../src/core/job/planning/describe.ts";
import { gather } from "../../../src/core/job/planning/gather.ts";
import { layPlates } from "../../../src/core/layout/place.ts";
import { plateStarts } from "../../../src/core/motion/by-plate.ts";
import { feedWay } from "../../../src/core/motion/routed.ts";
import { timeOf } from "../../../src/core/motion/time.ts";
import { type Feedback, NO_FEEDBACK } from "../../../src/core/motion/wear/feedback.ts";
import { splitter } from "../../../src/core/motion/wear/split.ts";
import { readProgram } from "../../../src/core/program/read/read.ts";
import { writeProgram } from "../../../src/core/program/write/write.ts";
import { route } from "../../../src/core/toolpath/route.ts";
import { ROOT } from "../../cli/temp-folder.ts";

const DEMO = join(ROOT, "fixtures/demo");
const read = (name: string) => new Uint8Array(readFileSync(join(DEMO, name)));
const parsed = parseJob(
  { name: "job.yaml", text: readFileSync(join(DEMO, "job.yaml"), "utf8") },
  read,
).value;
if (parsed === undefined) throw new Error("the demo is no job");
const job = parsed;
const { sheets, orders } = gather(job, read);
const layouts = layPlates({ sheets, plates: orders, widestCutter: 2 }).value;
const { machine, cutters, cutting: options } = job;
const routed = route({ layouts, cutters, options, machine });

function reckoned(feedback: Feedback): { made: Reckoning; runs: readonly Run[] } {
  const parts = splitter(splitInput(job, feedback)).split(routed.programs);
  const runs = parts.map((part, i): Run => {
    const { program } = part;
    const context = {
      job: job.name,
      machine,
      options,
      originAt: "lower left corner",
      zAt: job.origin.z,
      zero: programZero(program.sheet, job.origin),
      number: i + 1,
      of: parts.length,
    };
    const trace = readProgram("a.nc", writeProgram(program, context).text);
    const blockLines = plateStarts(trace).map((s) => s.line);
    const cutMetres = feedWay(program) / 1000;
    return { ...part, trace, time: timeOf(trace, machine), cutMetres, blockLines };
  });
  return { made: reckon({ job, layouts, runs, feedback }), runs };
}

const plain = reckoned(NO_FEEDBACK);
const { estimate, programs, cutters: worn } = plain.made;
const plates = estimate.plates ?? [];
const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

describe("sums", () => {
  test("every copy of every plate is there once", () => {
    expect(plates.map((p) => `${p.plate} ${p.copy}`).sort()).toEqual([
      "arm 1",
      "arm 2",
      "arm 3",
      "arm 4",
      "bottom-plate 1",
      "camera-side 1",
      "camera-side 2",
      "top-plate 1",
    ]);
  });
  test("costs of plates add up to the set's, part by part", () => {
    for (const part of ["sheet", "machine", "cutter", "setup", "total"] as const) {
      expect(sum(plates.map((p) => p.cost[part]))).toBeCloseTo(estimate.costs?.[part] ?? -1, 6);
    }
    expect(estimate.cost).toBeCloseTo(estimate.costs?.total ?? -1, 9);
    expect(estimate.costs?.machine).toBeCloseTo((estimate.seconds / 3600) * 30, 9);
    expect(estimate.costs?.setup).toBeCloseTo(10, 9);
  });
  test("seconds and metres of plates are those of the programs, but for the spindle's run-up", () => {
    const dwells = estimate.dwellSeconds;
    expect(dwells).toBeGreaterThan(0);
    const own = sum(plates.map((p) => p.seconds));
    expect(estimate.seconds - own).toBeGreaterThanOrEqual(dwells - 1e-6);
    expect(estimate.seconds - own).toBeLessThan(dwells + 5 * programs.length);
    expect(sum(plates.map((p) => p.edgeMetres))).toBeCloseTo(estimate.edgeMetres ?? -1, 9);
    expect(sum(programs.map((p) => p.edgeMetres))).toBeCloseTo(estimate.edgeMetres ?? -1, 9);
    const router = worn.get("router-2");
    expect(router?.edgeMetres).toBeCloseTo(estimate.edgeMetres ?? -1, 9);
    expect(router?.lifeUsed).toBeCloseTo((router?.wearMetres ?? 0) / 4, 9);
    const shares = plates.flatMap((p) => p.lifeUsed.map((l) => l.share));
    expect(sum(shares)).toBeCloseTo(router?.lifeUsed ?? -1, 9);
    expect(estimate.costs?.cutter).toBeCloseTo(9.5 * sum(shares), 9);
  });
  test("mass with its range, by area, thickness and density", () => {
    const arm = layouts[0]?.placements[0]?.plate;
    expect(plates.find((p) => p.plate === "arm")?.mass.g).toBeCloseTo(
      ((arm?.area ?? 0) * 4 * 1.55) / 1000,
      9,
    );
    const { g, least, most } = estimate.mass ?? { g: 0, least: 0, most: 0 };
    expect(least / g).toBeCloseTo(1.45 / 1.55, 9);
    expect(most / g).toBeCloseTo(1.6 / 1.55, 9);
  });
  test("offcuts are credited: the sheets cost less than their price by what they are worth", () => {
    const worth = sum((estimate.offcuts ?? []).map((o) => o.worth));
    expect(worth).toBeGreaterThan(0);
    expect(estimate.costs?.sheet).toBeCloseTo(46 + 27 - worth, 6);
  });
});

test("the cutter is changed so that no life is overrun; each life's share goes on from program to program", () => {
  const changes = programs.filter((p) => p.newCutter).length;
  expect(changes).toBe(Math.ceil((worn.get("router-2")?.lifeUsed ?? 0) - 1));
  let before = 0;
  for (const p of programs) {
    expect(p.lifeBefore).toBeCloseTo(p.newCutter ? 0 : before, 4);
    expect(p.lifeAfter).toBeLessThanOrEqual(1 + 1e-3);
    before = p.lifeAfter;
  }
});

test("every kind of figure says what it rests on", () => {
  const { time, wear, cost, mass } = estimate.assumed ?? { time: [], wear: [], cost: [], mass: [] };
  expect(time.join(" ")).toMatch(/accelerate.*sees 15 blocks/s);
  expect(wear.join(" ")).toMatch(/Life of router-2: 4 m of edge.*taken as new/s);
  expect(cost.join(" ")).toMatch(/30 EUR an hour.*Set-up of 20 min.*offcut gives back 50 %/s);
  expect(mass.join(" ")).toMatch(/1\.55 g\/cm³, 1\.45–1\.6/);
  expect(estimate.assumptions).toEqual([...time, ...wear, ...cost, ...mass]);
});

test("what was measured on earlier cutters is gone by, and said", () => {
  const feedback: Feedback = {
    minutesRatio: 1.5,
    minutesFrom: 2,
    lives: new Map([["router-2", { metres: 8, from: 2 }]]),
    worn: new Map([["router-2", 2]]),
  };
  const { made } = reckoned(feedback);
  const e = made.estimate;
  expect(e.reckonedSeconds).toBeCloseTo(sum(plainSeconds(made)), 6);
  expect(e.seconds / (e.reckonedSeconds ?? 0)).toBeCloseTo(1.5, 9);
  expect(e.cuttingSeconds + e.rapidSeconds + e.dwellSeconds).toBeCloseTo(e.seconds, 6);
  expect(e.costs?.machine).toBeCloseTo((e.seconds / 3600) * 30, 9);
  expect(made.cutters.get("router-2")).toMatchObject({ lifeMetres: 8, lifeBefore: 0.25 });
  expect(made.programs[0]?.lifeBefore).toBeCloseTo(0.25, 9);
  expect(e.assumed?.time.join(" ")).toContain("1.50 times the reckoned ones");
  expect(e.assumed?.wear.join(" ")).toMatch(/measured at the end of earlier ones, 2 times the 4 m/);
  expect(e.assumed?.wear.join(" ")).toContain("router-2 has 2.00 m of edge behind it");
  expect(estimate.measuredRatio).toBeUndefined();
});

function plainSeconds(made: Reckoning): readonly number[] {
  return made.programs.map((p) => sum(Object.values(p.byMotion)));
}

test("a density of the user's own has no range; a recess is no mass", () => {
  const own = massOf(10_000, 2, "carbon-woven", { density: 1.5 });
  expect([own.g, own.least, own.most]).toEqual([30, 30, 30]);
  expect(massOf(10_000, 2, "carbon-woven", { recessed: 1000 }).g).toBeCloseTo(1.55 * 19, 9);
});
