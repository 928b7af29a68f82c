/**
 * The whole way, for every drawing of a plate: what is planned is proven by reading it back, inner features
 * come before outlines, and the same job gives the same bytes.
 */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { writeDxf } from "../../src/core/drawing/write-dxf.ts";
import { polygon } from "../../src/core/geometry/contour.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";

const FIXTURES = new URL("../../fixtures/", import.meta.url);

/** Drawings with true outlines and features. */
const PLATES = [
  "cases/02-ocs-arc-lwpolyline-minus-z.dxf",
  "cases/04-bulge-signs.dxf",
  "cases/05-bulge-over-one.dxf",
  "cases/07-bulge-circle-two-vertices.dxf",
  "cases/10-line-group-order.dxf",
  "cases/16-arc-crossing-zero.dxf",
  "cases/18-insert-nested-rot-scale.dxf",
  "cases/28-duplicate-edges.dxf",
  "cases/42-islands.dxf",
  "cases/54-svg-arc-flags-glued.svg",
  "cases/55-svg-relative-m-after-z.svg",
  "cases/57-svg-mirrored-arc.svg",
  "cases/59-svg-rect-radii.svg",
];

const read = (file: string): Uint8Array => new Uint8Array(readFileSync(new URL(file, FIXTURES)));

const jobFor = (drawing: string, cutting: string): string => `
weftcut: 1
name: one plate
machine: demo/small-router.yaml
sheets: [{ name: carbon-3, material: carbon-woven, thickness: 3, size: [400, 300], fibreDeg: 0, margin: 6 }]
plates: [{ name: plate, drawing: ${drawing}, units: mm, sheet: carbon-3 }]
cutters:
  - { name: router-2, kind: diamond-router, diameter: 2, measuredDiameter: 1.97, fluteLength: 8, overhang: 14, flutes: 2 }
  - { name: router-1, kind: diamond-router, diameter: 1, fluteLength: 5, overhang: 10, flutes: 2 }
cutting: ${cutting}
`;

function planned(drawing: string, cutting = "{}"): Planned {
  const { value, findings } = parseJob({ name: "job.yaml", text: jobFor(drawing, cutting) }, read);
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return planJob(value, read);
}

describe.each(PLATES)("%s", (drawing) => {
  const plan = planned(drawing);

  test("is planned and proven", () => {
    expect(plan.findings.filter((f) => f.severity === "stop")).toEqual([]);
    expect(plan.plan?.proof.proven).toBe(true);
    expect(plan.plan?.proof.overcutMm).toBeLessThan(0.01);
    expect(plan.files.has("plan.json")).toBe(true);
    expect([...plan.files.keys()].filter((f) => /^\d\d-.*\.nc$/.test(f)).length).toBeGreaterThan(0);
  });

  test("gives the same bytes again", () => {
    expect([...planned(drawing).files]).toEqual([...plan.files]);
  });
});

test.each([
  ["conventional cutting", "{ direction: conventional }"],
  ["no finishing pass", "{ finish: { stock: 0 } }"],
  ["one pass for all", "{ passDepth: 4 }"],
  ["a steep ramp", "{ rampDeg: 8 }"],
  ["many low tabs", "{ tabs: { width: 3, height: 0.4, spacing: 40, least: 4 } }"],
])("%s is proven too", (_what, cutting) => {
  for (const drawing of ["demo/camera-side.dxf", "demo/bottom-plate.dxf"]) {
    const plan = planned(drawing, cutting);
    expect(plan.findings.filter((f) => f.severity === "stop")).toEqual([]);
    expect(plan.plan?.proof.proven).toBe(true);
  }
});

/** Ø1.97 enters, and with 0.1 mm left on each side for finishing it does not. */
test("a notch that the cutter just enters is roughed to size, and the rest finished", () => {
  const corners = [
    [0, 0],
    [60, 0],
    [60, 40],
    [31.03, 40],
    [31.03, 36],
    [28.97, 36],
    [28.97, 40],
    [0, 40],
  ];
  const outer = polygon(corners.map(([x = 0, y = 0]) => ({ x, y })));
  const dxf = new TextEncoder().encode(writeDxf([{ name: "CUT", contours: [outer] }]));
  const drawn = (file: string) => (file === "notch.dxf" ? dxf : read(file));
  const text = jobFor("notch.dxf", "{}").replace(/\n.*router-1,.*/, "");
  const { value } = parseJob({ name: "job.yaml", text }, drawn);
  if (value === undefined) throw new Error("no job");
  const { plan, findings } = planJob(value, drawn);
  expect(findings.filter((f) => f.severity === "stop")).toEqual([]);
  expect(findings.map((f) => f.code)).not.toContain("cut-without-finishing");
  expect(plan?.proof.proven).toBe(true);
});
