/** Laws of the search over seeded jobs, judged by brute force on points of the exact contours. */
import process from "node:process";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rectangle } from "../../src/core/geometry/contour.ts";
import { circle } from "../../src/core/geometry/segment.ts";
import { degrees } from "../../src/core/geometry/trig.ts";
import type { Placement, SheetLayout } from "../../src/core/layout/layout.ts";
import { layPlates, leastGap, webGap } from "../../src/core/layout/place.ts";
import type { PlateOrder } from "../../src/core/layout/riders.ts";
import {
  inPolygon,
  ORACLE_TOLERANCE,
  points,
  polygonDistance,
  shapeDistance,
} from "../layout/support.ts";
import { type Job, job } from "./jobs.ts";

const long = process.env["WEFTCUT_LONG"] !== undefined;
const runs = long ? 500 : 20;
const steps = long ? 60_000 : 10_000;

/** Chords against exact arcs on two contours, and the last digits. */
const SLOP = 2 * ORACLE_TOLERANCE + 1e-5;

interface Laid {
  readonly layouts: readonly SheetLayout[];
  readonly codes: readonly string[];
  readonly stopped: boolean;
}

function lay(j: Job): Laid {
  const search = { effort: "quick" as const, seed: j.seed, steps };
  const { value, findings } = layPlates({ ...j, sheets: [j.sheet], search });
  return {
    layouts: value,
    codes: findings.map((f) => f.code),
    stopped: findings.some((f) => f.severity === "stop"),
  };
}

function orderOf(j: Job, p: Placement): PlateOrder {
  return j.plates.find((o) => o.plate === p.plate) as PlateOrder;
}

function isFixed(j: Job, p: Placement): boolean {
  return p.copy <= (orderOf(j, p).place?.length ?? 0);
}

function keepsToSheet(j: Job, p: Placement): void {
  const edge = points(j.sheet.outline);
  const on = points(p.outer);
  expect(on.every((q) => inPolygon(q, edge))).toBe(true);
  const margin = Math.max(j.sheet.margin, j.widestCutter + 1);
  expect(polygonDistance(on, edge)).toBeGreaterThan(margin - SLOP);
  for (const k of j.sheet.keepOuts) {
    const shape = points(
      k.kind === "disc"
        ? { segments: [circle(k.at, k.diameter / 2, true)] }
        : rectangle(k.box.min.x, k.box.min.y, k.box.max.x, k.box.max.y),
    );
    expect(on.some((q) => inPolygon(q, shape))).toBe(false);
    expect(shape.some((q) => inPolygon(q, on))).toBe(false);
    expect(polygonDistance(on, shape)).toBeGreaterThan(1.5 * j.widestCutter - SLOP);
  }
}

function liesAlongFibres(j: Job, p: Placement): void {
  const { fibreDeg, mayFlip, mayCross } = orderOf(j, p);
  const { angle, flipped } = p.plateToSheet;
  if (flipped) expect(mayFlip).toBe(true);
  if (fibreDeg === undefined) return;
  const drawn = flipped ? 180 - fibreDeg : fibreDeg;
  const off = ((degrees(angle) + drawn - j.sheet.fibreDeg) * Math.PI) / 180;
  const across = mayCross === true ? Math.sin(2 * off) : Math.sin(off);
  expect(Math.abs(across)).toBeLessThan(1e-9);
}

/** Apart by the gap, or one in a window of the other and apart from its wall. */
function keepsApart(j: Job, a: Placement, b: Placement, floor: number): void {
  const gap = Math.max(floor, orderOf(j, a).gap, orderOf(j, b).gap);
  const distance = shapeDistance(a, b);
  if (distance > gap - SLOP) return;
  const [host, guest] = inPolygon(points(b.outer)[0] as never, points(a.outer)) ? [a, b] : [b, a];
  const on = points(guest.outer);
  const window = host.features.find((f) => on.every((q) => inPolygon(q, points(f.contour))));
  expect(window, `${a.plate.name} and ${b.plate.name} are ${distance} apart`).toBeDefined();
  expect(
    polygonDistance(on, points((window as NonNullable<typeof window>).contour)),
  ).toBeGreaterThan(gap - SLOP);
  expect(guest.inside?.feature).toBe(window?.id);
}

function keepsCount(j: Job, { layouts, stopped }: Laid): void {
  const placed = layouts.flatMap((l) => l.placements);
  const wanted = j.plates.reduce((sum, p) => sum + p.count, 0);
  expect(placed.length === wanted || stopped).toBe(true);
  expect(new Set(placed.map((p) => `${p.plate.name} ${p.copy}`)).size).toBe(placed.length);
  expect(layouts.length).toBeLessThanOrEqual(j.sheet.count ?? 1);
  expect(new Set(layouts.map((l) => l.sheet.name)).size).toBe(layouts.length);
}

/** How many placements were judged: those that the job fixed are judged by findings instead. */
function keepsRules(j: Job, placements: readonly Placement[], floor: number): number {
  const free = placements.filter((p) => !isFixed(j, p));
  const fixed = placements.filter((p) => isFixed(j, p));
  for (const [i, p] of free.entries()) {
    keepsToSheet(j, p);
    liesAlongFibres(j, p);
    for (const other of [...fixed, ...free.slice(i + 1)]) keepsApart(j, p, other, floor);
  }
  return free.length;
}

describe("the search, over seeded jobs", () => {
  it("keeps gap, margin, keep-outs, fibres, flips, windows and count", () => {
    let searched = 0;
    fc.assert(
      fc.property(job, (j) => {
        const laid = lay(j);
        keepsCount(j, laid);
        const narrow = laid.codes.includes("gap-narrow");
        const floor = narrow ? leastGap(j.widestCutter) : webGap(j.widestCutter);
        for (const { placements } of laid.layouts) searched += keepsRules(j, placements, floor);
      }),
      { numRuns: runs },
    );
    expect(searched).toBeGreaterThan(runs);
  });

  it("keeps fixed places", () => {
    fc.assert(
      fc.property(job, (j) => {
        for (const p of lay(j).layouts.flatMap((l) => l.placements)) {
          if (!isFixed(j, p)) continue;
          const place = orderOf(j, p).place?.[p.copy - 1];
          expect(p.plateToSheet).toEqual({ x: place?.x, y: place?.y, angle: 0, flipped: false });
        }
      }),
      { numRuns: Math.ceil(runs / 4) },
    );
  });

  it("gives the same layout for the same seed and steps, whatever the clock", () => {
    fc.assert(
      fc.property(job, (j) => {
        const search = { effort: "quick" as const, seed: j.seed, steps: 5000 };
        const once = layPlates({ ...j, sheets: [j.sheet], search });
        const again = layPlates({
          ...j,
          sheets: [j.sheet],
          search: { ...search, over: () => false },
        });
        expect(JSON.stringify(again)).toBe(JSON.stringify(once));
      }),
      { numRuns: Math.ceil(runs / 4) },
    );
  });

  it("places no fewer plates, on no more sheets, than rows and boxes", () => {
    fc.assert(
      fc.property(job, (j) => {
        const rows = layPlates({ ...j, sheets: [j.sheet] }).value;
        const { layouts } = lay(j);
        const count = (ls: readonly SheetLayout[]) =>
          ls.reduce((n, l) => n + l.placements.length, 0);
        expect(count(layouts)).toBeGreaterThanOrEqual(count(rows));
        if (count(layouts) === count(rows)) expect(layouts.length).toBeLessThanOrEqual(rows.length);
      }),
      { numRuns: Math.ceil(runs / 4) },
    );
  });
});
