/** Which cutter for a plate: what it cannot make, and that the numbers move the right way. */
import { describe, expect, test } from "vitest";
import { circle, line } from "../../../src/core/geometry/segment.ts";
import type { Contour, Point } from "../../../src/core/geometry/shape.ts";
import {
  type CompareInput,
  compareCutters,
  usualRouters,
} from "../../../src/core/motion/cost/compare.ts";
import { compareText } from "../../../src/core/motion/cost/compare-text.ts";
import type { Feature, Plate } from "../../../src/core/plate/plate.ts";
import { machine } from "../program.ts";

function loop(points: readonly (readonly [number, number])[]): Contour {
  const at = points.map(([x, y]): Point => ({ x, y }));
  return {
    segments: at.map((p, i) => line(p, at[(i + 1) % at.length] as Point)),
  };
}

function hole(id: number, x: number, y: number, diameter: number): Feature {
  return {
    id,
    kind: "hole",
    contour: { segments: [circle({ x, y }, diameter / 2, false)] },
    at: { x, y },
    diameter,
    area: (Math.PI * diameter ** 2) / 4,
  };
}

function window(id: number, x: number, y: number, w: number, h: number): Feature {
  const contour = loop([
    [x, y],
    [x, y + h],
    [x + w, y + h],
    [x + w, y],
  ]);
  return { id, kind: "window", contour, at: { x: x + w / 2, y: y + h / 2 }, area: w * h };
}

const PLATE: Plate = {
  name: "bottom",
  drawing: "bottom.dxf",
  outer: loop([
    [0, 0],
    [80, 0],
    [80, 40],
    [0, 40],
  ]),
  features: [
    hole(0, 10, 10, 3.2),
    hole(1, 10, 30, 2.2),
    window(2, 30, 10, 20, 1.8),
    window(3, 30, 20, 20, 12),
  ],
  area: 3200,
  perimeter: 240,
  bounds: { min: { x: 0, y: 0 }, max: { x: 80, y: 40 } },
};

const INPUT: CompareInput = {
  plates: [{ plate: PLATE, count: 1 }],
  cutters: usualRouters(2.25),
  material: "carbon-woven",
  machine: machine({
    spindle: { min: 6000, max: 30_000, powerW: 800, spinUpS: 5 },
    blocksPerSecond: 250,
  }),
  thickness: 2,
  options: {
    tabs: { width: 4, height: 0.8, spacing: 140, least: 3 },
    throughDepth: 0.25,
    finish: { stock: 0.1 },
    direction: "climb",
    rampDeg: 3,
    clearance: 6,
    hop: 6,
  },
  perHour: 30,
};

const rows = compareCutters(INPUT).rows;
const row = (diameter: number): (typeof rows)[number] => {
  const found = rows.find((r) => r.diameter === diameter);
  if (found === undefined) throw new Error(`no row for ${diameter}`);
  return found;
};

describe("what a cutter cannot make", () => {
  test.each([
    [1, []],
    [1.5, []],
    // The window of 1.8 mm.
    [2, ["window"]],
    // And the hole of 2.2.
    [2.5, ["hole", "window"]],
    // And, 0.025 wider than the cutter: 3.2 can still be bored.
    [3.175, ["hole", "window"]],
  ])("Ø%d: %j", (diameter, kinds) => {
    expect(row(diameter).cannot.map((c) => c.kind)).toEqual(kinds);
  });
  test("corners that it leaves: (1 − π/4) r² each, within a hundredth", () => {
    // Ø2 makes the large window alone: four corners. Ø1 both windows: eight.
    expect(row(2).leftMm2).toBeCloseTo(4 * (1 - Math.PI / 4) * 1, 2);
    expect(row(1).leftMm2).toBeCloseTo(8 * (1 - Math.PI / 4) * 0.25, 2);
  });
});

describe("numbers", () => {
  test("round an outline larger cutters are quicker; in a hole little wider than the cutter slower", () => {
    const minutes = (features: readonly Feature[]): readonly number[] => {
      const plate = { ...PLATE, features };
      return compareCutters({ ...INPUT, plates: [{ plate, count: 1 }] }).rows.map((r) => r.minutes);
    };
    const outline = minutes([]);
    const bored = minutes([hole(0, 10, 10, 2.2)]).map((m, i) => m - (outline[i] ?? 0));
    // From 1 to 2.5 mm the passes halve; neighbours with as many passes each are about alike.
    expect(outline[3]).toBeLessThan((outline[0] ?? 0) / 1.5);
    for (let i = 1; i < 5; i++) expect(outline[i]).toBeLessThan(1.2 * (outline[i - 1] ?? 0));
    // Ø1 must clear the hole; Ø2 has 0.1 mm to go round in, and a ramp's angle makes many turns of that.
    expect(bored[2]).toBeGreaterThan(bored[1] ?? 0);
  });
  test("no row is below its cut length at the slotting feed", () => {
    for (const r of rows) {
      const fastest = Math.max(r.rates.feed, r.rates.finishFeed);
      expect(r.minutes).toBeGreaterThan((r.cutMetres * 1000) / fastest);
      expect(r.deflectionMm).toBeLessThanOrEqual(0.025);
    }
  });
  test("twice the plates: twice the edge, and twice the minutes but for one rapid", () => {
    const twice = compareCutters({ ...INPUT, plates: [{ plate: PLATE, count: 2 }] }).rows;
    rows.forEach((r, i) => {
      expect(twice[i]?.edgeMetres).toBeCloseTo(2 * r.edgeMetres, 9);
      expect(Math.abs((twice[i]?.minutes ?? 0) / (2 * r.minutes) - 1)).toBeLessThan(0.02);
    });
  });
  test("edge for Ø2 by hand: what is cleared, over the cutter's width", () => {
    // Outline: a slot of 2 round 80 × 40. Holes: all of them. Window of 12: a slot inside its wall.
    const cleared = 2 * 240 + Math.PI * 4 + Math.PI * (1.6 ** 2 + 1.1 ** 2) + 2 * 56;
    // Tabs stay, lead-ins add: a few per cent.
    expect(Math.abs(row(2).edgeMetres / (cleared / 2 / 1000) - 1)).toBeLessThan(0.05);
    expect(row(2).lifeUsed).toBeCloseTo(row(2).edgeMetres / 4, 9);
    expect(row(2).cost).toBeCloseTo((row(2).minutes / 60) * 30, 9);
  });
});

test("a cutter that is refused makes nothing and says why", () => {
  const short = { ...(usualRouters(2.25)[2] as (typeof INPUT.cutters)[number]), fluteLength: 1 };
  const refused = compareCutters({ ...INPUT, cutters: [short] }).rows[0];
  expect(refused?.minutes).toBe(0);
  expect(refused?.cannot.length).toBe(5);
  expect(refused?.findings.map((f) => f.code)).toContain("flute-shorter-than-cut");
});

test("a drill makes the hole of its own size alone", () => {
  const drill = {
    ...(usualRouters(2.25)[2] as (typeof INPUT.cutters)[number]),
    kind: "drill" as const,
    diameter: 3.2,
    fluteLength: 20,
    overhang: 26,
  };
  const made = compareCutters({ ...INPUT, cutters: [drill] }).rows[0];
  expect(made?.cannot.map((c) => c.kind)).toEqual(["hole", "window", "window", "outline"]);
});

test("the table has a line for each cutter and names what it cannot make", () => {
  const text = compareText(compareCutters(INPUT), "EUR");
  for (const r of rows) expect(text).toContain(`${r.cutter} `);
  expect(text.match(/cannot make bottom: hole of 2.2/g)?.length).toBe(2);
  expect(text).not.toMatch(/NaN|undefined/);
});
