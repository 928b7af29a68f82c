/**
 * Offsets against values from outside: a published compensated path, and closed formulas (Steiner: a
 * convex shape of area A and perimeter P grown by d has area A + Pd + πd² and perimeter P + 2πd).
 */
import { describe, expect, test } from "vitest";
import {
  bounds,
  perimeter,
  polygon,
  rectangle,
  reversedContour,
  signedArea,
} from "../../src/core/geometry/contour.ts";
import { offsetRings, offsetWithReport } from "../../src/core/geometry/offset.ts";
import { rejoin } from "../../src/core/geometry/offsetting/rejoin.ts";
import { areaOf } from "../../src/core/geometry/region.ts";
import { arc, circle, line } from "../../src/core/geometry/segment.ts";
import type { Contour, Point, Segment } from "../../src/core/geometry/shape.ts";
import { points, roundedBox, slot } from "./corpus.ts";

const one = (rings: readonly Contour[]): Contour => {
  expect(rings).toHaveLength(1);
  return rings[0] as Contour;
};

const relative = (found: number, wanted: number): number => Math.abs(found / wanted - 1);

describe("NISTIR 6556 (Kramer, Proctor, Messina 2000) App. B, Tables 12 and 13", () => {
  // The edge contour of Table 12 after its entry, clockwise as printed.
  const p = points(2, 3, 3, 2, 3, -1, 2, -2, -2, -2, -2.6, -0.2, 1.4, 2.8) as Point[];
  const [a, b, c, d, e, f, g] = p as [Point, Point, Point, Point, Point, Point, Point];
  const edge: Contour = {
    segments: [
      arc(a, b, { x: 2, y: 2 }, false),
      line(b, c),
      arc(c, d, { x: 2, y: -1 }, false),
      line(d, e),
      arc(e, f, { x: -2, y: -1 }, false),
      line(f, g),
      arc(g, a, { x: 2, y: 2 }, false),
    ],
  };
  // The path of Table 13: ends, and the centres of the clockwise arcs.
  const path: readonly [Point, Point | undefined][] = [
    [
      { x: 3.5, y: 2 },
      { x: 2, y: 2 },
    ],
    [{ x: 3.5, y: -1 }, undefined],
    [
      { x: 2, y: -2.5 },
      { x: 2, y: -1 },
    ],
    [{ x: -2, y: -2.5 }, undefined],
    [
      { x: -2.9, y: 0.2 },
      { x: -2, y: -1 },
    ],
    [{ x: 1.1, y: 3.2 }, undefined],
    [
      { x: 2, y: 3.5 },
      { x: 2, y: 2 },
    ],
  ];

  test("offset by 0.5 is the printed path", () => {
    const grown = one(offsetRings([reversedContour(edge)], 0.5));
    const found = reversedContour(grown).segments;
    expect(found).toHaveLength(path.length);
    const first = found.findIndex((s) => Math.hypot(s.to.x - 3.5, s.to.y - 2) < 1e-6);
    path.forEach(([to, centre], k) => {
      const s = found[(first + k) % found.length] as Segment;
      expect(s.to.x).toBeCloseTo(to.x, 6);
      expect(s.to.y).toBeCloseTo(to.y, 6);
      expect(s.kind).toBe(centre === undefined ? "line" : "arc");
      if (s.kind !== "arc" || centre === undefined) return;
      expect(s.centre.x).toBeCloseTo(centre.x, 6);
      expect(s.centre.y).toBeCloseTo(centre.y, 6);
      expect(s.radius).toBeCloseTo(1.5, 6);
      expect(s.sweep).toBeLessThan(0);
    });
  });
});

describe("closed formulas", () => {
  test.each([0.0137, 0.5, 1, 3.175, 40])("rounded plate grown by %d", (d) => {
    const plate = roundedBox(-30, 12, 90, 50, 7);
    const grown = one(offsetRings([plate], d));
    const area = 90 * 50 - (4 - Math.PI) * 49;
    const around = 2 * (90 + 50) - (8 - 2 * Math.PI) * 7;
    expect(relative(signedArea(grown), area + around * d + Math.PI * d * d)).toBeLessThan(1e-9);
    expect(relative(perimeter(grown), around + 2 * Math.PI * d)).toBeLessThan(1e-9);
    expect(grown.segments).toHaveLength(8);
  });

  test.each([0.0137, 0.5, 1, 3.175, 6.9])(
    "rounded plate shrunk by %d, less than its radius",
    (d) => {
      const shrunk = one(offsetRings([roundedBox(-30, 12, 90, 50, 7)], -d));
      const r = 7 - d;
      const w = 90 - 2 * d;
      const h = 50 - 2 * d;
      expect(relative(signedArea(shrunk), w * h - (4 - Math.PI) * r * r)).toBeLessThan(1e-9);
      expect(relative(perimeter(shrunk), 2 * (w + h) - (8 - 2 * Math.PI) * r)).toBeLessThan(1e-9);
      expect(shrunk.segments).toHaveLength(8);
    },
  );

  test.each([7, 7.001, 9, 24.9])(
    "rounded plate shrunk by %d, past its radius: sharp corners",
    (d) => {
      const shrunk = one(offsetRings([roundedBox(-30, 12, 90, 50, 7)], -d));
      expect(relative(signedArea(shrunk), (90 - 2 * d) * (50 - 2 * d))).toBeLessThan(1e-9);
      expect(shrunk.segments).toHaveLength(4);
      expect(shrunk.segments.every((s) => s.kind === "line")).toBe(true);
    },
  );

  test("rounded plate shrunk to nothing", () => {
    expect(offsetRings([roundedBox(0, 0, 90, 50, 7)], -25.01)).toEqual([]);
  });

  test("a circle gives one full circle, out and in, ccw and cw, and nothing past its radius", () => {
    for (const ccw of [true, false]) {
      const ring = { segments: [circle({ x: 3, y: 4 }, 5, ccw, 1)] };
      for (const d of [2, -2, 4.99, -4.99]) {
        const [s, ...more] = one(offsetRings([ring], d)).segments;
        expect(more).toEqual([]);
        expect(s).toMatchObject({ kind: "arc", centre: { x: 3, y: 4 } });
        if (s?.kind !== "arc") return;
        expect(s.radius).toBeCloseTo(ccw ? 5 + d : 5 - d, 12);
        expect(s.sweep).toBe(ccw ? 2 * Math.PI : -2 * Math.PI);
        expect(s.to).toBe(s.from);
      }
      expect(offsetRings([ring], ccw ? -5.1 : 5.1)).toEqual([]);
    }
  });

  test("a slot's centre path is a slot", () => {
    const path = one(offsetRings([slot(5, 5, 20, 6)], -1));
    expect(relative(signedArea(path), 14 * 4 + Math.PI * 4)).toBeLessThan(1e-9);
    expect(relative(perimeter(path), 28 + 4 * Math.PI)).toBeLessThan(1e-9);
    expect(path.segments.map((s) => s.kind).sort()).toEqual(["arc", "arc", "line", "line"]);
  });

  test("a slot as wide as the cutter has no path; a hair wider it has none or one", () => {
    expect(offsetRings([slot(0, 0, 20, 2)], -1)).toEqual([]);
    expect(offsetRings([slot(0, 0, 20, 2.02)], -1)).toHaveLength(1);
  });

  test("an annulus keeps two rings until the wall is used up", () => {
    const ring = [
      { segments: [circle({ x: 0, y: 0 }, 15, true)] },
      { segments: [circle({ x: 0, y: 0 }, 5, false)] },
    ];
    const shrunk = offsetRings(ring, -4.9);
    expect(shrunk).toHaveLength(2);
    expect(areaOf(shrunk)).toBeCloseTo(Math.PI * (10.1 ** 2 - 9.9 ** 2), 9);
    expect(offsetRings(ring, -5.01)).toEqual([]);
  });

  test("two discs grown until they touch: one ring or two, the area of both", () => {
    const discs = [0, 14].map((x) => ({ segments: [circle({ x, y: 0 }, 5, true)] }));
    const rings = offsetRings(discs, 2);
    expect([1, 2]).toContain(rings.length);
    expect(relative(areaOf(rings), 2 * Math.PI * 49)).toBeLessThan(1e-6);
  });

  test("holes alone lie in endless material: grown together they become one", () => {
    const holes = [0, 9].map((x) => ({ segments: [circle({ x, y: 0 }, 5, false)] }));
    const apart = offsetRings(holes, 1);
    expect(apart.map((r) => r.segments.length)).toEqual([1, 1]);
    expect(areaOf(apart)).toBeCloseTo(-2 * Math.PI * 16, 9);
    const together = one(offsetRings(holes, -1));
    expect(together.segments).toHaveLength(2);
    expect(signedArea(together)).toBeLessThan(-2 * Math.PI * 25);
  });

  test("two discs grown into each other: lens formula", () => {
    const r = 5;
    const gap = 12;
    const discs = [0, gap].map((x) => ({ segments: [circle({ x, y: 0 }, r, true)] }));
    const grown = one(offsetRings(discs, 2));
    const R = r + 2;
    const lens =
      2 * R * R * Math.acos(gap / (2 * R)) - (gap / 2) * Math.sqrt(4 * R * R - gap * gap);
    expect(relative(signedArea(grown), 2 * Math.PI * R * R - lens)).toBeLessThan(1e-9);
    expect(grown.segments).toHaveLength(2);
  });
});

describe("necks, corners and tips (values by formula, checked with two general-purpose libraries)", () => {
  const neck = polygon(
    points(
      0,
      -10,
      20,
      -10,
      20,
      -2.5,
      60,
      -2.5,
      60,
      -10,
      80,
      -10,
      80,
      10,
      60,
      10,
      60,
      2.5,
      20,
      2.5,
      20,
      10,
      0,
      10,
    ),
  );

  test("a neck of 5 mm offset by −2: one loop, 559.4337 by formula", () => {
    // Two pads of 16 × 16, a neck of 44 × 1, and four squares of 2 less their quarter discs.
    const rings = offsetRings([neck], -2);
    expect(rings).toHaveLength(1);
    expect(areaOf(rings)).toBeCloseTo(2 * 256 + 44 + 4 * (4 - Math.PI), 9);
  });

  test("a neck of 5 mm offset by −3: two loops, 395.9766 by formula", () => {
    // Two pads of 14 × 14, and on each what of the neck's mouth lies over 3 from both its corners.
    const half = Math.sqrt(9 - 2.5 * 2.5);
    const under = (u: number): number => (u * Math.sqrt(9 - u * u) + 9 * Math.asin(u / 3)) / 2;
    const mouth = 2 * (2.5 * (3 - half) - (under(3) - under(half)));
    const rings = offsetRings([neck], -3);
    expect(rings).toHaveLength(2);
    expect(areaOf(rings)).toBeCloseTo(2 * (196 + mouth), 9);
    // The two libraries' value, of chords: within their 0.002 mm².
    expect(Math.abs(areaOf(rings) - 395.9766)).toBeLessThan(0.002);
  });

  test("the same at forty times the size, 3.2 m: coarser units, same formula", () => {
    const big = polygon(neck.segments.map((s) => ({ x: 40 * s.from.x, y: 40 * s.from.y })));
    const small = areaOf(offsetRings([neck], -3));
    const rings = offsetRings([big], -120);
    expect(rings).toHaveLength(2);
    expect(relative(areaOf(rings), 1600 * small)).toBeLessThan(1e-9);
  });

  test("offset by −10.5 nothing is left", () => {
    expect(offsetRings([neck], -10.5)).toEqual([]);
  });

  test("a neck exactly used up leaves the two pads", () => {
    const rings = offsetRings([neck], -2.5);
    expect([1, 2]).toContain(rings.length);
    // Two squares of 15 less, at the neck's two corners each, what lies within 2.5 of a corner.
    const pads = 2 * (15 * 15 + 2.5 * 5 - (Math.PI * 2.5 * 2.5) / 2);
    expect(Math.abs(areaOf(rings) - pads)).toBeLessThan(0.01);
  });

  test("a square grown by 3 has round corners: 400 + 240 + 9π in 8 segments", () => {
    const grown = one(offsetRings([rectangle(0, 0, 20, 20)], 3));
    expect(signedArea(grown)).toBeCloseTo(668.2743, 4);
    expect(grown.segments).toHaveLength(8);
  });

  test("an acute tip is rounded: nothing lies further than the distance from the part", () => {
    const { rings, kept } = offsetWithReport([polygon(points(0, 0, 60, -2, 60, 2))], 1.5);
    const grown = one(rings);
    expect(kept).toBe(0);
    expect(signedArea(grown)).toBeCloseTo(313.1685, 3);
    const { min, max } = bounds(grown);
    expect([min.x, min.y, max.x, max.y].map((v) => Math.round(v * 1e6) / 1e6)).toEqual([
      -1.5, -3.5, 61.5, 3.5,
    ]);
  });
});

test("runs that no source explains stay the lines they were, beside exact ones", () => {
  const [a, b, c] = points(0, 0, 10, 0, 10, 10) as [Point, Point, Point];
  const exact = line({ x: 0, y: 0 }, { x: 10, y: 0 });
  const pieces = [{ exact, trimmed: exact, corner: false }];
  const runs = [
    { piece: 0, points: [a, b] },
    { piece: -1, points: [b, c, a] },
  ];
  const joined = rejoin(runs, pieces, 1);
  expect(joined?.kept).toBe(2);
  expect(joined?.from).toEqual([0, -1, -1]);
  expect(joined?.contour.segments.map((s) => [s.from, s.to])).toEqual([
    [a, b],
    [b, c],
    [c, a],
  ]);
});

describe("odd input gives no throw and no path", () => {
  test("no rings, no number, nothing left of a ring", () => {
    const box = rectangle(0, 0, 10, 10);
    expect(offsetRings([], 1)).toEqual([]);
    expect(offsetRings([box], Number.NaN)).toEqual([]);
    expect(offsetRings([{ segments: [] }], 1)).toEqual([]);
    expect(offsetRings([polygon(points(0, 0, 1, 1))], -1)).toEqual([]);
    expect(offsetRings([polygon(points(0, 0, Number.NaN, 1, 4, 4))], 1)).toEqual([]);
    expect(offsetRings([box], 0)).toHaveLength(1);
  });

  test("origin rides along: sides keep theirs, a corner's arc has that of the side before it", () => {
    const segments = rectangle(0, 0, 10, 10).segments.map((s, i) => ({
      ...s,
      origin: { file: "a.dxf", line: i },
    }));
    const grown = one(offsetRings([{ segments }], 1));
    const lines = grown.segments.map((s) => `${s.kind} ${s.origin?.line}`);
    expect(lines.sort()).toEqual([0, 1, 2, 3].flatMap((i) => [`arc ${i}`, `line ${i}`]).sort());
    grown.segments.forEach((s, i) => {
      if (s.kind === "arc") expect(grown.segments.at(i - 1)?.origin).toBe(s.origin);
    });
  });
});
