/** A plan made again with a memory is the plan that would have been made without one, to the byte. */
import { expect, test } from "vitest";
import type { Job } from "../../src/core/job/job.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";
import { planMemory } from "../../src/core/job/work/memory.ts";
import { starterFile, starterParsed } from "./starter-plan.ts";

type Change = (job: Job) => Job;

const CHANGES: Readonly<Record<string, Change>> = {
  nothing: (job) => job,
  "wider tabs": (job) => ({
    ...job,
    cutting: { ...job.cutting, tabs: { ...job.cutting.tabs, width: 5 } },
  }),
  "a slower machine": (job) => ({
    ...job,
    machine: { ...job.machine, acceleration: [100, 100, 50] },
  }),
  "another name": (job) => ({ ...job, name: "the same once more" }),
  "one copy more": (job) => ({
    ...job,
    plates: job.plates.map((p, i) => (i === 0 ? { ...p, count: p.count + 1 } : p)),
  }),
  "a worn cutter": (job) => ({
    ...job,
    cutters: job.cutters.map((c) => ({ ...c, measuredDiameter: c.diameter - 0.04 })),
  }),
  "a wider gap": (job) => ({ ...job, plates: job.plates.map((p) => ({ ...p, gap: p.gap + 3 })) }),
  "zero elsewhere": (job) => ({ ...job, origin: { at: "centre", z: "spoilboard" } }),
  "nothing again": (job) => job,
};

const shown = ({ files, findings, stopped }: Planned): string =>
  JSON.stringify([[...files], findings, stopped]);

test("changes one after another, each planned with what the plans before it left behind", () => {
  const memory = planMemory();
  const job = starterParsed();
  for (const [name, change] of Object.entries(CHANGES)) {
    const changed = change(job);
    const with_ = planJob(changed, starterFile, { memory, keepUnproven: true });
    const without = planJob(changed, starterFile, { keepUnproven: true });
    expect(shown(with_) === shown(without), name).toBe(true);
  }
});

test("a drawing that changes is read anew", () => {
  const memory = planMemory();
  const job = starterParsed();
  const before = planJob(job, starterFile, { memory });
  // The first circle's radius: M3 fine becomes M3 coarse, ISO 273.
  const redrawn = (file: string): Uint8Array | undefined => {
    const text = String.fromCharCode(...(starterFile(file) ?? []));
    const changed = file.endsWith(".dxf") ? text.replace(/\n1\.6\b/, "\n1.8") : text;
    return Uint8Array.from(changed, (c) => c.charCodeAt(0));
  };
  const after = shown(planJob(job, redrawn, { memory }));
  expect(after === shown(planJob(job, redrawn))).toBe(true);
  expect(after === shown(before)).toBe(false);
});

test("nothing is planned twice where nothing has changed", () => {
  const memory = planMemory();
  const stages: string[] = [];
  const watching = {
    ...memory,
    recall: <T>(stage: string, key: () => string, make: () => T): T =>
      memory.recall(stage, key, () => {
        stages.push(stage);
        return make();
      }),
  };
  const job = starterParsed();
  planJob(job, starterFile, { memory: watching });
  expect(stages).toContain("layout");
  stages.length = 0;
  planJob(job, starterFile, { memory: watching });
  expect(stages).toEqual([]);
});

test("the plan before its proof has all that the plan has but proof and offcuts", () => {
  let seen: unknown;
  const { plan } = planJob(starterParsed(), starterFile, { drafted: (draft) => (seen = draft) });
  const { proof: _proof, ...rest } = plan as NonNullable<typeof plan>;
  const sheets = rest.sheets.map(({ offcuts: _left, ...sheet }) => sheet);
  expect(seen).toEqual({ ...rest, sheets });
});
