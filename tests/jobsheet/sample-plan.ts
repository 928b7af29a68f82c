/** A plan to draw job sheets of: the demo's plates laid out for real; programs, proof and times made up. */
import { rectangle } from "../../src/core/geometry/contour.ts";
import { lengthOf, pointAt } from "../../src/core/geometry/segment.ts";
import type { PlanJson, ProgramJson } from "../../src/core/job/plan-json.ts";
import { sheetJson, withOffcuts } from "../../src/core/job/planning/describe.ts";
import type { KeepOut, Placement, SheetLayout } from "../../src/core/layout/layout.ts";
import { layPlates } from "../../src/core/layout/place.ts";
import type { Tab } from "../../src/core/toolpath/cut.ts";
import { demoPlate, sheetOf } from "../layout/support.ts";

const keepOuts = [
  [8, 8],
  [292, 8],
  [292, 192],
  [8, 192],
].map(([x, y]): KeepOut => ({ kind: "disc", at: { x: x ?? 0, y: y ?? 0 }, diameter: 14 }));

export function demoLayouts(): readonly SheetLayout[] {
  const sheet = (name: string, thickness: number) =>
    sheetOf(rectangle(0, 0, 300, 200), { name, thickness, keepOuts, price: 27 });
  return layPlates({
    sheets: [sheet("carbon-4", 4), sheet("carbon-2", 2)],
    widestCutter: 1.97,
    plates: [
      { plate: demoPlate("arm"), sheet: "carbon-4", count: 4, gap: 6, fibreDeg: 0 },
      { plate: demoPlate("bottom-plate"), sheet: "carbon-2", count: 1, gap: 6, fibreDeg: 45 },
      { plate: demoPlate("top-plate"), sheet: "carbon-2", count: 1, gap: 6, fibreDeg: 90 },
      { plate: demoPlate("camera-side"), sheet: "carbon-2", count: 2, gap: 6 },
    ],
  }).value;
}

/** On the four longest lines of each outline. */
function tabsOf(sheet: string, placements: readonly Placement[]): Tab[] {
  return placements.flatMap((p) => {
    const lines = p.outer.segments.filter((s) => s.kind === "line");
    const longest = [...lines].sort((a, b) => lengthOf(b) - lengthOf(a)).slice(0, 4);
    return longest.map((s) => ({
      sheet,
      plate: p.plate.name,
      copy: p.copy,
      at: pointAt(s, 0.5),
      width: 4,
      height: 0.8,
    }));
  });
}

function program(file: string, sheet: string, cutter: string): ProgramJson {
  return {
    file,
    sheet,
    cutter,
    blocks: 1234,
    seconds: 754.2,
    cutMetres: 3.456,
    rapidMetres: 1.2,
    rpm: 19099,
    feed: 741,
    passDepth: 0.5,
    plungeFeed: 120,
    rampFeed: 370,
    finishFeed: 900,
    deepest: -4.25,
    plates: [],
    limitedBy: "the chip load of the table",
    rateSteps: [
      {
        quantity: "spindle speed",
        formula: "n = 1000 vc / (pi D)",
        value: 19098.6,
        unit: "rpm",
        source: "Mitsubishi Materials, Formulas for Milling",
      },
      {
        quantity: "feed",
        formula: "vf = f n",
        value: 744.8,
        unit: "mm/min",
        source: "SGS composite router catalogue p. 13",
      },
    ],
  };
}

const FINDINGS: PlanJson["findings"] = [
  {
    code: "gap-narrow",
    severity: "warn",
    message: "plates on sheet carbon-2 fit only with a gap of 3 mm",
    hint: "a larger sheet is safer",
    sheet: "carbon-2",
    data: { used: 3 },
  },
  {
    code: "hole-near-edge",
    severity: "note",
    message: "hole 3.4 mm is 7 mm from the edge",
    plate: "arm",
    at: [119.34, 5.66],
    drawing: { file: "arm.dxf", line: 101, entity: "CIRCLE" },
    data: {},
  },
];

const PROOF: PlanJson["proof"] = {
  proven: true,
  checks: [
    {
      code: "overcut",
      passed: true,
      worst: 0.0021,
      limit: 0.01,
      unit: "mm",
      at: [60, 45],
      sheet: "carbon-4",
      plate: "arm",
    },
    {
      code: "rapid-height",
      passed: true,
      worst: 6,
      limit: 0,
      unit: "mm",
      program: { file: "01-carbon-4-router-2.nc", line: 88 },
    },
  ],
  overcutMm: 0.0021,
  leftMm2: 0,
  cornerMm2: 1.2,
  cornerMm: 0.4,
};

export function samplePlan(): PlanJson {
  const origin = { at: "lower-left", z: "sheet-top" } as const;
  return {
    weftcut: 1,
    name: "mudflat survey quad",
    units: "mm",
    origin,
    machine: {
      name: "small router",
      travel: [400, 300, 80],
      maxFeed: [3000, 3000, 1000],
      acceleration: [250, 250, 120],
      junctionDeviation: 0.01,
      spindle: { min: 8000, max: 24000, powerW: 500, spinUpS: 6 },
      decimals: 4,
      lineLength: 70,
      dwell: "seconds",
      comments: "parentheses",
      repeatMotion: false,
      workOffset: "G54",
      arcs: true,
      blocksPerSecond: 250,
    },
    cutting: {
      tabs: { width: 4, height: 0.8, spacing: 140, least: 3 },
      throughDepth: 0.25,
      finish: { stock: 0.1 },
      direction: "climb",
      rampDeg: 3,
      clearance: 6,
      hop: 1,
    },
    throughDepth: 0.25,
    sheets: demoLayouts().map((l) =>
      withOffcuts(sheetJson(l, { tabs: tabsOf(l.sheet.name, l.placements), origin }), []),
    ),
    cutters: ["router-2", "router-1.5"].map((name) => ({
      name,
      kind: "diamond-router",
      diameter: name === "router-2" ? 2 : 1.5,
      effectiveDiameter: name === "router-2" ? 1.97 : 1.5,
      fluteLength: 8,
      overhang: 14,
      flutes: 2,
      cutMetres: 6.912,
      lifeUsed: 1.728,
      chip: { least: 0.02, most: 0.06 },
    })),
    programs: [
      program("01-carbon-4-router-2.nc", "carbon-4", "router-2"),
      program("02-carbon-2-router-1.5.nc", "carbon-2", "router-1.5"),
      program("03-carbon-2-router-2.nc", "carbon-2", "router-2"),
    ],
    findings: FINDINGS,
    proof: PROOF,
    estimate: {
      seconds: 2262,
      cuttingSeconds: 2100,
      rapidSeconds: 140,
      dwellSeconds: 22,
      cost: 45.67,
      currency: "EUR",
      assumptions: ["Machine time at 30 EUR an hour, without set-up."],
    },
  };
}
