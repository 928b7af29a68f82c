/**
 * Each entity of DXF that is cut, in the shapes that programs write it in; and what is left out.
 * Expected figures follow from what is drawn; the meaning of groups is that of the public DXF reference.
 * Long: one entity after another.
 */
import { describe, expect, test } from "vitest";
import {
  arc,
  box,
  circle,
  DOWN,
  dxf,
  type Entity,
  found,
  insert,
  line,
  lwpolyline,
  on,
  type Pair,
  polyline,
  regular,
  see,
} from "./support/pen.ts";

const half = (r: number) => (Math.PI * r * r) / 2;

describe("arcs", () => {
  test.each([
    ["across zero", [270, 90]],
    ["with an end angle below the start", [350, 170]],
    ["with negative angles", [-90, 90]],
    ["beyond 360", [270, 450]],
    ["far beyond 360", [990, 1170]],
  ] as const)("%s", (_, angles) => {
    const [a0, a1] = angles.map((a) => (a * Math.PI) / 180) as [number, number];
    const chord = line(5 * Math.cos(a1), 5 * Math.sin(a1), 5 * Math.cos(a0), 5 * Math.sin(a0));
    const s = see(dxf([arc(0, 0, 5, angles), chord]));
    expect(s.drawing.openChains).toEqual([]);
    // Ends are taken to 0.1 µm.
    expect(s.area).toBeCloseTo(half(5), 2);
  });

  test("seen from below", () => {
    // In the plane: centre (10, 5), from 90° to 270°, the left half.
    const s = see(dxf([arc(-10, 5, 5, [270, 90], ...DOWN), line(10, 0, 10, 10)]));
    expect(s.plates[0]?.bounds).toMatchObject({ min: { x: 5, y: 0 }, max: { x: 10, y: 10 } });
    expect(s.area).toBeCloseTo(half(5), 5);
  });

  test("of equal angles are circles, and doubtful", () => {
    const s = see(dxf([arc(0, 0, 5, [45, 45])]));
    expect([s.codes, s.area]).toEqual([["arc-start-equals-end"], expect.closeTo(2 * half(5), 6)]);
  });
});

describe("extrusions", () => {
  test.each([
    ["a circle", circle(-30, 20, 4, ...DOWN), { min: { x: 26, y: 16 }, max: { x: 34, y: 24 } }],
    [
      "a polyline with bulges",
      lwpolyline(
        [
          [-30, 0],
          [-30, 10, 1],
          [-40, 10],
          [-40, 0],
        ],
        true,
        ...DOWN,
      ),
      // The arc over (30…40, 10) bulges upward, as it does in its own plane.
      { min: { x: 30, y: 0 }, max: { x: 40, y: 15 } },
    ],
    [
      "an old polyline",
      polyline(
        [
          [-30, 0],
          [-40, 0],
          [-40, 10],
          [-30, 10],
        ],
        true,
        ...DOWN,
      ),
      { min: { x: 30, y: 0 }, max: { x: 40, y: 10 } },
    ],
    ["a line keeps its world", [...line(3, 0, 9, 0), ...DOWN], undefined],
  ])("%s", (_, e, bounds) => {
    const s = see(dxf([e]));
    if (bounds === undefined)
      expect(s.drawing.bounds).toMatchObject({ min: { x: 3 }, max: { x: 9 } });
    else expect(s.drawing.bounds).toMatchObject(bounds);
    expect(s.codes).not.toContain("entity-not-flat");
  });

  test("a bulge keeps to the side of the chord that it has in its own plane", () => {
    // Own plane: going left to right along y = 0 the arc lies below it; mirrored it still lies below.
    const own: [number, number, number?][] = [
      [0, 0, 1],
      [10, 0],
      [10, 20],
      [0, 20],
    ];
    const up = see(dxf([lwpolyline(own)]));
    const down = see(dxf([lwpolyline(own, true, ...DOWN)]));
    expect(up.area).toBeCloseTo(200 + half(5), 5);
    expect(down.area).toBeCloseTo(up.area, 9);
    expect(down.plates[0]?.bounds).toMatchObject({ min: { x: -10, y: -5 }, max: { x: 0, y: 20 } });
  });

  test("a circle that stands upright is told and left out", () => {
    const s = see(dxf([box(0, 0, 10, 10), circle(5, 5, 2, [210, 0], [220, 1], [230, 0])]));
    expect([s.holes, s.codes]).toEqual([0, ["entity-not-flat"]]);
  });

  test("an ellipse seen from below runs the other way round its world axis", () => {
    const quarter = (...more: Pair[]): Entity => [
      [0, "ELLIPSE"],
      [10, 0],
      [20, 0],
      [11, 20],
      [21, 0],
      [40, 0.5],
      [41, 0],
      [42, Math.PI / 2],
      ...more,
    ];
    expect(see(dxf([quarter()])).drawing.bounds.max.y).toBeCloseTo(10, 6);
    expect(see(dxf([quarter(...DOWN)])).drawing.bounds.min.y).toBeCloseTo(-10, 6);
  });
});

describe("polylines", () => {
  const square: [number, number][] = [
    [0, 0],
    [10, 0],
    [10, 10],
    [0, 10],
  ];

  test.each([
    ["with the closed flag", lwpolyline(square)],
    ["whose last vertex is the first again", lwpolyline([...square, [0, 0]], false)],
    ["with both", lwpolyline([...square, [0, 0]])],
    [
      "with repeated vertices",
      lwpolyline([
        [0, 0],
        [0, 0],
        [10, 0],
        [10, 0],
        [10, 10],
        [0, 10],
      ]),
    ],
    ["of the old kind", polyline(square)],
    ["of the old kind, without the end mark", polyline(square).slice(0, -1)],
    [
      "with a count that is too large",
      lwpolyline(square).map((p) => (p[0] === 90 ? ([90, 9] as const) : p)),
    ],
    [
      "with a count that is too small",
      lwpolyline(square).map((p) => (p[0] === 90 ? ([90, 2] as const) : p)),
    ],
    ["without a count", lwpolyline(square).filter((p) => p[0] !== 90)],
    [
      "with vertex ids",
      lwpolyline(square).flatMap((p) => (p[0] === 20 ? [p, [91, 7] as const] : [p])),
    ],
    ["with elevation and widths", lwpolyline(square, true, [38, 3], [43, 0.3])],
  ])("%s", (_, e) => {
    const s = see(dxf([e, circle(30, 30, 2)]));
    expect([s.plates.length, s.drawing.openChains.length]).toEqual([2, 0]);
    expect(s.area).toBeCloseTo(100 + 4 * Math.PI, 5);
  });

  test("curve-fit vertices are the curve", () => {
    // A fitted circle: arcs between the vertices, the ones that fitting put in flagged 1.
    const v = regular(8, 0, 0, 10).map(([x, y]) => [x, y, Math.tan(Math.PI / 16)] as const);
    const e = polyline(v, true).map((p) => (p[0] === 70 ? ([70, 3] as const) : p));
    const s = see(dxf([e]));
    expect(s.area).toBeCloseTo(100 * Math.PI, 2);
  });

  test("spline-fit frames are left out, the vertices of the curve kept", () => {
    const frame = [
      [-5, -5],
      [15, -5],
      [15, 15],
      [-5, 15],
    ].map(([x, y]): Pair[] => [
      [0, "VERTEX"],
      [10, x as number],
      [20, y as number],
      [70, 16],
    ]);
    const curve = square.map(([x, y]): Pair[] => [
      [0, "VERTEX"],
      [10, x],
      [20, y],
      [70, 8],
    ]);
    const s = see(
      dxf([[[0, "POLYLINE"], [66, 1], [70, 5], ...frame.flat(), ...curve.flat(), [0, "SEQEND"]]]),
    );
    expect(s.area).toBeCloseTo(100, 6);
  });

  test("a width is told and the centre line cut", () => {
    const s = see(dxf([lwpolyline(square, true, [43, 2])]));
    expect([s.codes, s.area]).toEqual([["width-ignored"], 100]);
  });

  test("meshes are counted, not cut", () => {
    const s = see(
      dxf([polyline(square).map((p) => (p[0] === 70 ? ([70, 16] as const) : p)), box(0, 0, 5, 5)]),
    );
    expect(s.drawing.ignored).toMatchObject([
      { type: "POLYLINE", count: 1, why: "a mesh in space" },
    ]);
    expect(s.area).toBe(25);
  });

  test("two vertices with bulges are a circle, in either direction", () => {
    for (const b of [1, -1]) {
      const s = see(
        dxf([
          box(0, 0, 20, 20),
          lwpolyline([
            [8, 10, b],
            [12, 10, b],
          ]),
        ]),
      );
      expect(s.diameters).toEqual([4]);
    }
  });
});

describe("splines", () => {
  const spline = (...pairs: Pair[]): Entity => [[0, "SPLINE"], ...pairs];
  const controls = (points: readonly (readonly [number, number])[], weights?: readonly number[]) =>
    points.flatMap(([x, y], i): Pair[] => [
      [10, x],
      [20, y],
      ...(weights === undefined ? [] : [[41, weights[i] as number] as const]),
    ]);
  const knots = (values: readonly number[]) => values.map((v): Pair => [40, v]);
  const w = Math.SQRT1_2;
  const ring: [number, number][] = [
    [10, 0],
    [10, 10],
    [0, 10],
    [-10, 10],
    [-10, 0],
    [-10, -10],
    [0, -10],
    [10, -10],
    [10, 0],
  ];

  test("a rational circle is exact (L. Piegl, W. Tiller, The NURBS Book, 1997, sec. 7.5)", () => {
    const e = spline(
      [70, 13],
      [71, 2],
      ...knots([0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]),
      ...controls(ring, [1, w, 1, w, 1, w, 1, w, 1]),
    );
    const s = see(dxf([box(-20, -20, 40, 40), e]));
    expect(s.diameters).toEqual([expect.closeTo(20, 6)]);
  });

  test("a periodic one, control points once or wrapped, is one smooth loop", () => {
    const points = regular(12, 0, 0, 10).map(([x, y]): [number, number] => [x, y]);
    const once = spline(
      [70, 11],
      [71, 3],
      ...knots(Array.from({ length: 16 }, (_, i) => i)),
      ...controls(points),
    );
    const wrapped = spline(
      [70, 11],
      [71, 3],
      ...knots(Array.from({ length: 19 }, (_, i) => i)),
      ...controls([...points, ...points.slice(0, 3)]),
    );
    for (const e of [once, wrapped]) {
      const s = see(dxf([e]));
      expect([s.plates.length, s.drawing.openChains.length]).toEqual([1, 0]);
      // On even knots a cubic B-spline of a regular polygon passes (cos(2π/12) + 2)/3 of the radius out.
      const r = (10 * (Math.cos(Math.PI / 6) + 2)) / 3;
      expect(s.plates[0]?.bounds.max.x).toBeCloseTo(r, 2);
    }
  });

  test("fit points alone are interpolated, and that is told", () => {
    const points = regular(24, 0, 0, 10).map(([x, y]): Pair[] => [
      [11, x],
      [21, y],
    ]);
    const first = points[0] as Pair[];
    const s = see(dxf([spline([70, 11], [71, 3], [74, 25], ...points.flat(), ...first)]));
    expect(s.codes).toContain("spline-from-fit-points");
    expect(s.area / (100 * Math.PI)).toBeCloseTo(1, 4);
  });

  test("a kink stays a corner", () => {
    // Two straight Bézier pieces that meet at a right angle.
    const e = spline(
      [70, 8],
      [71, 3],
      ...knots([0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2]),
      ...controls([
        [0, 0],
        [3, 0],
        [7, 0],
        [10, 0],
        [10, 3],
        [10, 7],
        [10, 10],
      ]),
    );
    const s = see(dxf([e, line(10, 10, 0, 0)]));
    expect(s.area).toBeCloseTo(50, 6);
    expect(s.plates[0]?.outer.segments).toHaveLength(3);
  });

  test("missing weights are 1, missing knots are even, and that is told", () => {
    const points: [number, number][] = [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
      [0, 0],
    ];
    const s = see(dxf([spline([70, 8], [71, 1], ...controls(points))]));
    expect(s.codes).toEqual(["spline-mended"]);
    expect(s.area).toBeCloseTo(100, 6);
  });
});

describe("inserts", () => {
  const blocks = {
    HOLE: [circle(0, 0, 2)],
    SIDE: [
      circle(5, 0, 2),
      lwpolyline([
        [0, 0, 1],
        [2, 0, 1],
      ]),
    ],
  };
  const plate = box(-50, -50, 100, 100);
  const holes = (...entities: Entity[]) => {
    const s = see(
      dxf([plate, ...entities], {
        blocks: { ...blocks, PAIR: [insert("HOLE", 10, 0), insert("HOLE", -10, 0)] },
      }),
    );
    return (
      s.plates[0]?.features.map((f) =>
        [f.at.x, f.at.y, f.diameter].map((v) => Math.round((v ?? 0) * 1e6) / 1e6),
      ) ?? []
    );
  };

  test("an array, turned", () => {
    const found = holes(insert("HOLE", 0, 0, [50, 90], [70, 3], [71, 2], [44, 10], [45, 20]));
    expect(found).toHaveLength(6);
    expect(found).toContainEqual([-20, 20, 4]);
  });

  test("one step of an array is as wide as its scale does not make it", () => {
    expect(holes(insert("HOLE", 0, 0, [41, 2], [42, 2], [70, 2], [44, 10]))).toContainEqual([
      10, 0, 8,
    ]);
  });

  test("nested, turned and mirrored", () => {
    expect(holes(insert("PAIR", 20, 0, [41, -1], [50, 90]))).toContainEqual([20, -10, 4]);
    expect(holes(insert("SIDE", 10, 10, [41, -2], [42, 2]))).toContainEqual([0, 10, 8]);
  });

  test("seen from below", () => {
    expect(holes(insert("SIDE", 10, 20, ...DOWN))).toContainEqual([-15, 20, 4]);
  });

  test("of unequal scales makes ellipses, which are no drill holes", () => {
    const s = see(dxf([plate, insert("HOLE", 0, 0, [41, 3], [42, 1])], { blocks }));
    expect(s.plates[0]?.features).toMatchObject([
      { kind: "window", area: expect.closeTo(12 * Math.PI, 2) },
    ]);
  });

  test("of nothing, of itself, and too many are told", () => {
    const loop = { A: [insert("B", 1, 0)], B: [insert("A", 0, 1), circle(0, 0, 1)] };
    const s = see(dxf([plate, insert("GONE", 0, 0), insert("A", 0, 0)], { blocks: loop }));
    expect(s.codes).toEqual(["insert-left-out", "insert-left-out"]);
    expect(found(s, "insert-left-out").message).toMatch(/block "\w+" .*does not hold it/);
    const many = see(
      dxf([plate, insert("HOLE", 0, 0, [70, 30000], [71, 30000], [44, 1], [45, 1])], { blocks }),
    );
    expect(many.codes).toContain("entity-incomplete");
  });
});

describe("layers", () => {
  const layers = [["OFF", 0, -3], ["ICE", 1], ["CUT"]] as const;
  const drawn = dxf(
    [
      on("CUT", box(0, 0, 50, 30)),
      on("CUT", circle(10, 10, 2)),
      on("OFF", circle(20, 10, 2)),
      on("ICE", circle(30, 10, 2)),
      on("ICE", box(0, 0, 8, 8)),
      [...circle(40, 10, 2), [60, 1]],
    ],
    { layers },
  );

  test("off, frozen and hidden are left out, listed and offered", () => {
    const s = see(drawn);
    expect(s.holes).toBe(1);
    expect(s.drawing.ignored).toEqual([
      { type: "CIRCLE", layer: "OFF", why: "layer is off", count: 1 },
      { type: "CIRCLE", layer: "ICE", why: "layer is frozen", count: 1 },
      { type: "LWPOLYLINE", layer: "ICE", why: "layer is frozen", count: 1 },
      { type: "CIRCLE", layer: "0", why: "hidden", count: 1 },
    ]);
    const offers = s.findings.filter((f) => f.code === "layer-hidden");
    expect(offers.map((f) => f.data)).toEqual([
      { layer: "OFF", count: 1, why: "layer is off" },
      { layer: "ICE", count: 2, why: "layer is frozen" },
      { layer: "0", count: 1, why: "hidden" },
    ]);
  });

  test("named in the job are cut, hidden or not; others and ignored ones are not", () => {
    expect(see(drawn, { cutLayers: ["cut", "off"] }).holes).toBe(2);
    expect(see(drawn, { ignoreLayers: ["CUT"] }).plates).toEqual([]);
  });

  test("a hidden outline leaves nothing, and says where it is", () => {
    const s = see(dxf([on("OFF", box(0, 0, 50, 30))], { layers }));
    expect(s.codes).toEqual(["layer-hidden", "nothing-drawn"]);
  });

  test("things on layer 0 of a block take the layer of their insert", () => {
    const s = see(
      dxf(
        [
          on("CUT", box(0, 0, 50, 30)),
          on("OFF", insert("H", 10, 10)),
          on("CUT", insert("H", 30, 10)),
        ],
        {
          layers,
          blocks: { H: [circle(0, 0, 2)] },
        },
      ),
    );
    expect(s.holes).toBe(1);
  });
});

describe("left out and counted", () => {
  test("what is no outline", () => {
    const other = [
      "TEXT",
      "MTEXT",
      "DIMENSION",
      "POINT",
      "SOLID",
      "TRACE",
      "3DFACE",
      "IMAGE",
      "HATCH",
    ];
    const s = see(
      dxf([
        box(0, 0, 10, 10),
        ...other.map(
          (t): Entity => [
            [0, t],
            [10, 1],
            [20, 1],
          ],
        ),
      ]),
    );
    expect(s.drawing.ignored.map((i) => i.type)).toEqual(other);
    expect([s.area, s.codes]).toEqual([100, []]);
  });

  test("paper space", () => {
    const s = see(dxf([box(0, 0, 10, 10), [...circle(5, 5, 2), [67, 1]]]));
    expect([s.holes, s.codes]).toEqual([0, ["paper-space"]]);
    expect(found(s, "paper-space").data["count"]).toBe(1);
  });

  test.each([
    ["a line of no length", line(5, 5, 5, 5)],
    ["a circle without radius", circle(5, 5, 0)],
    ["a circle of negative radius", circle(5, 5, -2)],
    ["a polyline of one vertex", lwpolyline([[5, 5]])],
    [
      "a polyline whose vertices coincide",
      lwpolyline([
        [5, 5, 1],
        [5, 5],
      ]),
    ],
  ])("%s", (_, e) => {
    const s = see(dxf([box(0, 0, 10, 10), e]));
    expect([s.area, s.drawing.loops.length, s.drawing.ignored.length]).toEqual([100, 1, 1]);
  });
});
