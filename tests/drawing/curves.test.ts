/**
 * Ellipses and splines become arcs within 5 µm; facets and splined rounds become the circles and arcs that they
 * stand for, and it is said by how much they were drawn smaller.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { segmentsOf } from "../../src/core/drawing/curve/segments.ts";
import { bezier, conic } from "../../src/core/drawing/curve/stroke.ts";
import { distanceTo } from "../../src/core/geometry/contour.ts";
import { tangentAt } from "../../src/core/geometry/segment.ts";
import type { Point, Segment } from "../../src/core/geometry/shape.ts";
import { CURVE } from "../../src/core/geometry/tolerance.ts";
import {
  box,
  circle,
  dxf,
  type Entity,
  found,
  line,
  lwpolyline,
  type Pair,
  regular,
  see,
  type Vertex,
} from "./support/pen.ts";

const coordinate = fc.double({ min: -80, max: 80, noNaN: true });
const point = fc.record({ x: coordinate, y: coordinate });

function farthest(points: readonly Point[], segments: readonly Segment[]): number {
  return Math.max(...points.map((p) => distanceTo({ segments }, p)));
}

/** A curve may use its 5 µm up: what doubles add at 100 mm from zero, mm. */
const ROUNDING = 1e-12;

describe("within 5 µm", () => {
  test("ellipses of any shape, by their own formula", () => {
    const half = fc.double({ min: 0.5, max: 60, noNaN: true });
    fc.assert(
      fc.property(
        half,
        half,
        coordinate,
        fc.double({ min: 0, max: 6, noNaN: true }),
        (a, b, x, turn) => {
          const [c, s] = [Math.cos(turn), Math.sin(turn)];
          const u = { x: a * c, y: a * s };
          const v = { x: -b * s, y: b * c };
          const { segments } = segmentsOf(conic({ x, y: 3 }, u, v, 0, 2 * Math.PI), undefined);
          const points = Array.from({ length: 240 }, (_, i) => {
            const t = (i * Math.PI) / 120;
            return {
              x: x + u.x * Math.cos(t) + v.x * Math.sin(t),
              y: 3 + u.y * Math.cos(t) + v.y * Math.sin(t),
            };
          });
          expect(farthest(points, segments)).toBeLessThan(CURVE);
          const bows = segments.reduce(
            (sum, g) =>
              sum + (g.kind === "arc" ? g.radius ** 2 * (g.sweep - Math.sin(g.sweep)) : 0),
            0,
          );
          const chords = segments.reduce(
            (sum, g) => sum + g.from.x * g.to.y - g.to.x * g.from.y,
            0,
          );
          // On average an arc leans an eightieth of a micrometre to one side, 12.5 nm, of a perimeter below this.
          const around = 2 * Math.PI * Math.sqrt((a * a + b * b) / 2);
          expect(Math.abs((bows + chords) / 2 - Math.PI * a * b)).toBeLessThan(1.3e-5 * around);
        },
      ),
    );
  });

  test("Bézier curves, by de Casteljau's construction", () => {
    fc.assert(
      fc.property(fc.array(point, { minLength: 3, maxLength: 4 }), (p) => {
        const { segments } = segmentsOf(bezier(p), undefined);
        if (segments.length === 0) return;
        const points = Array.from({ length: 201 }, (_, i) => casteljau(p, i / 200));
        expect(farthest(points, segments)).toBeLessThan(CURVE + ROUNDING);
      }),
    );
  });

  test("arcs in a row go on in one direction", () => {
    const { segments } = segmentsOf(
      conic({ x: 0, y: 0 }, { x: 30, y: 0 }, { x: 0, y: 12 }, 0, 2 * Math.PI),
      undefined,
    );
    segments.forEach((s, i) => {
      const a = tangentAt(s, 1);
      const b = tangentAt(segments[(i + 1) % segments.length] as Segment, 0);
      expect(Math.abs(a.x * b.y - a.y * b.x)).toBeLessThan(1e-3);
    });
  });
});

function casteljau(points: readonly Point[], t: number): Point {
  let p = [...points];
  while (p.length > 1)
    p = p.slice(1).map((q, i) => {
      const o = p[i] as Point;
      return { x: o.x + t * (q.x - o.x), y: o.y + t * (q.y - o.y) };
    });
  return p[0] as Point;
}

describe("facets", () => {
  const plate = box(-40, -40, 80, 80);

  test.each([
    [12, 3],
    [16, 5],
    [24, 8],
    [36, 12],
    [72, 30],
  ])("%i round a hole of %f mm are that hole", (n, d) => {
    const drawn = regular(n, 1, 2, d / 2, 0.1).map(
      ([x, y]): Vertex => [Number(x.toFixed(4)), Number(y.toFixed(4))],
    );
    const s = see(dxf([plate, lwpolyline(drawn)]));
    expect(s.diameters).toEqual([expect.closeTo(d, 3)]);
    const f = found(s, "round-from-facets");
    expect(f.data["facets"]).toBe(n);
    expect(f.data["smaller"]).toBeCloseTo(d * (1 - Math.cos(Math.PI / n)), 3);
    // Of the drawing it is the facets' area that is told.
    expect(s.area).toBeCloseTo(6400 - (n / 8) * d * d * Math.sin((2 * Math.PI) / n), 2);
  });

  test("loose lines round a hole, too", () => {
    const v = regular(24, 0, 0, 4);
    const lines = v.map(([x, y], i) =>
      line(x, y, ...((v[(i + 1) % 24] as Vertex).slice(0, 2) as [number, number])),
    );
    expect(see(dxf([plate, ...lines])).diameters).toEqual([expect.closeTo(8, 4)]);
  });

  test.each([
    ["a hexagon for a nut", lwpolyline(regular(6, 0, 0, 3.2))],
    ["an octagon", lwpolyline(regular(8, 0, 0, 5))],
    ["a large plate of twelve sides", lwpolyline(regular(12, 0, 0, 35))],
    ["a square", lwpolyline(regular(4, 0, 0, 3))],
    [
      "a star",
      lwpolyline(
        regular(24, 0, 0, 5).map(
          ([x, y], i): Vertex => (i % 2 === 0 ? [x, y] : [x * 0.8, y * 0.8]),
        ),
      ),
    ],
  ])("%s stays what it is", (_, e) => {
    const s = see(dxf([plate, e]));
    expect([s.diameters, s.codes]).toEqual([[], []]);
  });

  test("faceted corners of an outline become arcs", () => {
    const corners = [
      [1, 1, 0],
      [-1, 1, 1],
      [-1, -1, 2],
      [1, -1, 3],
    ] as const;
    const v = corners.flatMap(([sx, sy, q]) =>
      Array.from({ length: 9 }, (_, i): Vertex => {
        const a = ((q + i / 8) * Math.PI) / 2;
        return [sx * 20 + 6 * Math.cos(a), sy * 10 + 6 * Math.sin(a)];
      }),
    );
    const s = see(dxf([lwpolyline(v)]));
    const arcs = s.plates[0]?.outer.segments.filter((g) => g.kind === "arc") ?? [];
    expect(arcs.map((a) => a.kind === "arc" && Math.round(a.radius * 1e3) / 1e3)).toEqual([
      6, 6, 6, 6,
    ]);
    expect(s.codes).toEqual(["arcs-from-facets"]);
  });

  test("a slot of facets is a slot", () => {
    const end = (x: number, from: number) =>
      Array.from({ length: 13 }, (_, i): Vertex => {
        const a = from + (i / 12) * Math.PI;
        return [x + 2 * Math.cos(a), 2 * Math.sin(a)];
      });
    const s = see(dxf([plate, lwpolyline([...end(10, -Math.PI / 2), ...end(-10, Math.PI / 2)])]));
    expect(s.plates[0]?.features).toMatchObject([
      {
        kind: "slot",
        width: expect.closeTo(4, 2),
        length: expect.closeTo(24, 2),
        angle: expect.closeTo(0, 3),
      },
    ]);
  });
});

describe("splined rounds", () => {
  test("four Béziers are the circle that they stand for, and how far they are off it is said", () => {
    const k = 0.5522847498;
    const r = 4;
    const at = (x: number, y: number): Pair[] => [
      [10, x * r],
      [20, y * r],
    ];
    const e: Entity = [
      [0, "SPLINE"],
      [70, 8],
      [71, 3],
      ...[0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4, 4].map((v): Pair => [40, v]),
      ...[
        at(1, 0),
        at(1, k),
        at(k, 1),
        at(0, 1),
        at(-k, 1),
        at(-1, k),
        at(-1, 0),
        at(-1, -k),
        at(-k, -1),
        at(0, -1),
        at(k, -1),
        at(1, -k),
        at(1, 0),
      ].flat(),
    ];
    const s = see(dxf([box(-20, -20, 40, 40), e]));
    expect(s.diameters).toEqual([expect.closeTo(8, 2)]);
    // 2.73e-4 of the radius, computed from the usual constant.
    const off = found(s, "round-from-curves").data["off"];
    expect(off).toBeGreaterThan(0.0002);
    expect(off).toBeLessThan(0.0012);
  });

  test("an ellipse that is nearly a circle is an ellipse", () => {
    const e: Entity = [
      [0, "ELLIPSE"],
      [10, 0],
      [20, 0],
      [11, 10],
      [21, 0],
      [40, 0.98],
      [41, 0],
      [42, 2 * Math.PI],
    ];
    expect(see(dxf([box(-20, -20, 40, 40), e, circle(15, 15, 1)])).diameters).toEqual([2]);
  });

  test("an ellipse of equal axes is a circle", () => {
    const e: Entity = [
      [0, "ELLIPSE"],
      [10, 0],
      [20, 0],
      [11, 3],
      [21, 4],
      [40, 1],
      [41, 0],
      [42, 2 * Math.PI],
    ];
    expect(see(dxf([box(-20, -20, 40, 40), e])).diameters).toEqual([10]);
  });
});
