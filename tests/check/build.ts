/** Plates and jobs for the checks, built as drawings are: loops, recognised. mm. */
import type { CheckInput, CheckPlate } from "../../src/core/check/view.ts";
import type { Cutter } from "../../src/core/cutting/cutter.ts";
import type { Loop } from "../../src/core/drawing/drawing.ts";
import { bounds, polygon, rectangle } from "../../src/core/geometry/contour.ts";
import { arc, circle, line } from "../../src/core/geometry/segment.ts";
import type { Contour, Point, Segment } from "../../src/core/geometry/shape.ts";
import type { Sheet } from "../../src/core/layout/layout.ts";
import type { Machine } from "../../src/core/machine/machine.ts";
import type { Plate } from "../../src/core/plate/plate.ts";
import { recognise } from "../../src/core/plate/recognise.ts";
import type { CuttingOptions } from "../../src/core/toolpath/cut.ts";

export function plateOf(outer: Contour, openings: readonly Contour[] = [], name = "plate"): Plate {
  const loops = [outer, ...openings].map((contour): Loop => ({ contour, layer: "CUT" }));
  const units = { declared: "mm", used: "mm", factor: 1, assumed: false } as const;
  const drawing = {
    file: `${name}.dxf`,
    format: "dxf" as const,
    units,
    bounds: bounds(outer),
    loops,
    openChains: [],
    ignored: [],
    repairs: [],
    findings: [],
  };
  const [plate] = recognise(drawing, name).value;
  if (plate === undefined) throw new Error("no plate");
  return plate;
}

/** A box by its middle, its corners rounded. */
export function box(x: number, y: number, width: number, height: number, r = 0): Contour {
  const [x0, x1, y0, y1] = [x - width / 2, x + width / 2, y - height / 2, y + height / 2];
  if (r === 0) return rectangle(x0, y0, x1, y1);
  return rounded(
    [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ],
    r,
  );
}

/** A convex-cornered or mixed polygon, counter-clockwise, every corner rounded by r. */
export function rounded(corners: readonly (readonly [number, number])[], r: number): Contour {
  const n = corners.length;
  const at = (i: number): Point => {
    const [x, y] = corners[(i + n) % n] as readonly [number, number];
    return { x, y };
  };
  const cut = corners.map((_, i) => fillet(at(i - 1), at(i), at(i + 1), r));
  const segments = cut.flatMap((c, i): Segment[] => {
    const next = cut[(i + 1) % n] as (typeof cut)[number];
    return [c.bow, line(c.bow.to, next.bow.from)];
  });
  return { segments };
}

function fillet(a: Point, p: Point, b: Point, r: number): { bow: Segment } {
  const u = unit(p, a);
  const v = unit(p, b);
  const half = Math.acos(u.x * v.x + u.y * v.y) / 2;
  const back = r / Math.tan(half);
  const from = { x: p.x + u.x * back, y: p.y + u.y * back };
  const to = { x: p.x + v.x * back, y: p.y + v.y * back };
  const k = r / Math.sin(half) / Math.hypot(u.x + v.x, u.y + v.y);
  const centre = { x: p.x + (u.x + v.x) * k, y: p.y + (u.y + v.y) * k };
  const left = -u.x * v.y + u.y * v.x > 0;
  return { bow: arc(from, to, centre, left) };
}

function unit(a: Point, b: Point): Point {
  const d = Math.hypot(b.x - a.x, b.y - a.y);
  return { x: (b.x - a.x) / d, y: (b.y - a.y) / d };
}

export function hole(x: number, y: number, diameter: number): Contour {
  return { segments: [circle({ x, y }, diameter / 2, false)] };
}

/** Lying along X, by its middle; length over all. */
export function slot(x: number, y: number, width: number, length: number): Contour {
  const r = width / 2;
  const h = (length - width) / 2;
  const p = (dx: number, dy: number): Point => ({ x: x + dx, y: y + dy });
  return {
    segments: [
      line(p(-h, -r), p(h, -r)),
      arc(p(h, -r), p(h, r), p(h, 0), true),
      line(p(h, r), p(-h, r)),
      arc(p(-h, r), p(-h, -r), p(-h, 0), true),
    ],
  };
}

export function poly(...points: readonly (readonly [number, number])[]): Contour {
  return polygon(points.map(([x, y]) => ({ x, y })));
}

/** Four holes across opposite corners, turned by 45°: a motor's or a board's pattern. */
export function pattern(x: number, y: number, across: number, diameter: number): Contour[] {
  const k = across / 2 / Math.SQRT2;
  return [
    hole(x + k, y + k, diameter),
    hole(x - k, y + k, diameter),
    hole(x - k, y - k, diameter),
    hole(x + k, y - k, diameter),
  ];
}

export const SHEET: Sheet = {
  name: "carbon",
  material: "carbon-woven",
  thickness: 2,
  outline: rectangle(0, 0, 300, 200),
  fibreDeg: 0,
  margin: 6,
  keepOuts: [],
};

export const ROUTER: Cutter = {
  name: "router-2",
  kind: "diamond-router",
  diameter: 2,
  fluteLength: 8,
  overhang: 14,
  flutes: 2,
  coating: "none",
};

export const MACHINE: Machine = {
  name: "test router",
  travel: [300, 200, 60],
  maxFeed: [3000, 3000, 1000],
  acceleration: [200, 200, 100],
  junctionDeviation: 0.01,
  spindle: { min: 8000, max: 24000, powerW: 400, spinUpS: 6 },
  decimals: 4,
  lineLength: 70,
  dwell: "seconds",
  comments: "parentheses",
  repeatMotion: false,
  workOffset: "G54",
  arcs: true,
  blocksPerSecond: 250,
};

export const CUTTING: CuttingOptions = {
  tabs: { width: 4, height: 0.8, spacing: 140, least: 3 },
  throughDepth: 0.25,
  finish: { stock: 0.1 },
  direction: "climb",
  rampDeg: 3,
  clearance: 6,
  hop: 1,
};

export type Given = Partial<Omit<CheckInput, "plates">> & {
  readonly plates?: readonly (Partial<CheckPlate> & Pick<CheckPlate, "plate">)[];
};

/** A job of one sheet and one cutter, with what is given instead. */
export function jobOf({ plates = [], ...given }: Given): CheckInput {
  const sheet = given.sheets?.[0] ?? SHEET;
  return {
    sheets: [sheet],
    cutters: [ROUTER],
    machine: MACHINE,
    cutting: CUTTING,
    plates: plates.map((p) => ({ sheet, count: 1, ...p })),
    ...given,
  };
}

/** One plate on the usual sheet. */
export function onePlate(outer: Contour, openings: readonly Contour[] = []): CheckInput {
  return jobOf({ plates: [{ plate: plateOf(outer, openings) }] });
}
