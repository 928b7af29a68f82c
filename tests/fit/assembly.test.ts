/** Sheets of 1.93 and 3.06 mm by measure: slots and tenons, swept from the programs, fit with the clearance that was asked. */
import { describe, expect, test } from "vitest";
import { placePoint } from "../../src/core/geometry/segment.ts";
import type { Point } from "../../src/core/geometry/shape.ts";
import type { Placement } from "../../src/core/layout/layout.ts";
import { assembly, CLEARANCE, CUTTER, planned, TENON } from "./assembly.ts";
import { deepMoves, openUntil } from "./sweep.ts";

const made = planned(assembly());
const RADIUS = CUTTER.measuredDiameter / 2;

function placed(plate: string): { placement: Placement; thickness: number }[] {
  return made.layouts.flatMap(({ sheet, placements }) =>
    placements
      .filter((p) => p.plate.name === plate)
      .map((placement) => ({ placement, thickness: sheet.measuredThickness ?? sheet.thickness })),
  );
}

const deep = new Map(
  made.traces.map(({ sheet, trace }) => {
    const thickness = sheet.measuredThickness ?? sheet.thickness;
    return [thickness, deepMoves(trace, -thickness)] as const;
  }),
);

function movesFor(placement: Placement, thickness: number) {
  const moves = deep.get(thickness);
  if (moves === undefined) throw new Error(`no program for ${placement.plate.name}`);
  return moves;
}

/** Distance between the swept walls through a point of the plate, along a direction of the plate. */
function acrossAt(placement: Placement, thickness: number, at: Point, along: Point): number {
  const o = placePoint(at, placement.plateToSheet);
  const e = placePoint({ x: at.x + along.x, y: at.y + along.y }, placement.plateToSheet);
  const u = { x: e.x - o.x, y: e.y - o.y };
  const moves = movesFor(placement, thickness);
  const one = openUntil(moves, o, u, RADIUS, 20);
  const two = openUntil(moves, o, { x: -u.x, y: -u.y }, RADIUS, 20);
  return one + two;
}

/** Material left between the cutter's passes on both sides of a tenon. */
function tenonWidth(placement: Placement, thickness: number, y: number, middle: number): number {
  // From the open on the left and on the right towards the tenon.
  const moves = movesFor(placement, thickness);
  const walls = [-1, 1].map((way) => {
    const start = { x: middle + way * (TENON / 2 + RADIUS), y };
    const o = placePoint(start, placement.plateToSheet);
    const e = placePoint({ x: start.x - way, y }, placement.plateToSheet);
    const open = openUntil(moves, o, { x: e.x - o.x, y: e.y - o.y }, RADIUS, 5);
    return start.x - way * open;
  });
  return (walls[1] as number) - (walls[0] as number);
}

const SLOTS: readonly (readonly [plate: string, x: number, y: number])[] = [
  ["bottom", -14, 20],
  ["bottom", 14, 20],
  ["bottom", -14, -20],
  ["bottom", 14, -20],
  ["top", 0, 20],
  ["top", 0, -20],
];

describe.each(SLOTS)("the slot of %s at (%d, %d)", (plate, x, y) => {
  const [{ placement, thickness } = {} as never] = placed(plate);

  test("is as wide as the side's sheet and the clearance, within 0.01 mm", () => {
    const width = acrossAt(placement, thickness, { x, y }, { x: 0, y: 1 });
    expect(Math.abs(width - 1.93 - CLEARANCE)).toBeLessThan(0.01);
  });

  test("is as long between its corners as the tenon and the clearance", () => {
    // Along the wall where a square edge of the sheet sits: a hair inside it.
    const off = (1.93 + CLEARANCE) / 2 - 0.004;
    for (const v of [off, -off]) {
      const length = acrossAt(placement, thickness, { x, y: y + v }, { x: 1, y: 0 });
      expect(length).toBeGreaterThan(TENON + CLEARANCE - 0.01);
    }
    const feature = placement.plate.features.find((f) => Math.hypot(f.at.x - x, f.at.y - y) < 0.01);
    expect((feature?.length ?? 0) - (feature?.width ?? 0)).toBeCloseTo(TENON + CLEARANCE, 3);
  });
});

test("tenons come out as wide as they are drawn, within 0.01 mm", () => {
  const sides = placed("side");
  expect(sides.length).toBe(2);
  for (const { placement, thickness } of sides) {
    for (const [y, middle] of [
      [-1.5, 16],
      [-1.5, 44],
      [31, 30],
    ] as const) {
      expect(Math.abs(tenonWidth(placement, thickness, y, middle) - TENON)).toBeLessThan(0.01);
    }
  }
});

test("tenons reach through their hosts as measured, and no further", () => {
  const [{ placement } = {} as never] = placed("side");
  const { min, max } = placement.plate.bounds;
  expect(-min.y).toBeCloseTo(3.06, 4);
  expect(max.y - 30).toBeCloseTo(1.93, 4);
});

test("nothing sits in the way of a shoulder: the roots are open to where the host's face comes", () => {
  for (const { placement, thickness } of placed("side")) {
    const moves = movesFor(placement, thickness);
    // The corner of shoulder and side is reached by the cutter, which a sharp root would not let it.
    for (const [x, y, out] of [
      [12, 0, { x: -1, y: -1 }],
      [20, 0, { x: 1, y: -1 }],
      [26, 30, { x: -1, y: 1 }],
      [34, 30, { x: 1, y: 1 }],
    ] as const) {
      const p = { x: x + out.x * 0.002, y: y + out.y * 0.002 };
      const o = placePoint(p, placement.plateToSheet);
      expect(openUntil(moves, o, { x: 1, y: 0 }, RADIUS + 1e-4, 0.001)).toBeGreaterThan(0);
    }
  }
});

test("every change is told, with what was before and after", () => {
  const { changes, findings } = made.fitted;
  expect(changes.filter((c) => c.what === "slot").length).toBe(6);
  expect(changes.filter((c) => c.what === "tenon").length).toBe(3);
  expect(changes.filter((c) => c.what === "tenon").map((c) => c.with)).toEqual(
    expect.arrayContaining(["bottom", "bottom", "top"]),
  );
  const told = findings.filter((f) => f.code === "slot-fitted" || f.code === "tenon-fitted");
  // Slots or tenons of one plate that were changed alike share a finding.
  const counts = told.map((f) => Number(f.data["slots"] ?? f.data["tenons"] ?? 1));
  expect(counts.reduce((n, count) => n + count, 0)).toBe(changes.length);
  expect(findings.filter((f) => f.severity !== "note")).toEqual([]);
});
