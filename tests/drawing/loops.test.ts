/**
 * Loops out of what people draw: gaps, doubles, near-doubles, strays, branches, touches, crossings, borders.
 * All areas follow from the figures drawn.
 * Long: one kind of fault after another.
 */
import { describe, expect, test } from "vitest";
import {
  arc,
  box,
  circle,
  DOWN,
  dxf,
  found,
  line,
  looseBox,
  lwpolyline,
  on,
  regular,
  see,
} from "./support/pen.ts";

describe("gaps", () => {
  /** A square of 20 whose last corner stays open by `gap` along X. */
  const open = (gap: number, at = 0) => [
    line(at, 0, at + 20, 0),
    line(at + 20, 0, at + 20, 20),
    line(at + 20, 20, at, 20),
    line(at, 20, at, gap),
  ];

  test.each([0.0005, 0.004, 0.0099])("of %f mm are joined and told", (gap) => {
    const s = see(dxf(open(gap)));
    expect(s.drawing.openChains).toEqual([]);
    expect(s.area).toBeCloseTo(400, 3);
    expect(found(s, "ends-joined").data["widest"]).toBeCloseTo(gap, 6);
  });

  test.each([0.018, 0.036, 0.092, 0.19])(
    "of %f mm are named, and closed only on request",
    (gap) => {
      const s = see(dxf(open(gap)));
      expect([s.plates.length, s.drawing.openChains.length]).toEqual([0, 1]);
      const f = found(s, "gap");
      expect([f.severity, f.at]).toMatchObject([
        "stop",
        [expect.closeTo(0, 6), expect.any(Number)],
      ]);
      expect(f.data["gap"]).toBeCloseTo(gap, 6);
      const closed = see(dxf(open(gap)), { closeGaps: 0.2 });
      expect([closed.plates.length, closed.drawing.openChains.length]).toEqual([1, 0]);
      expect(found(closed, "gap-closed").data["gap"]).toBeCloseTo(gap, 6);
      expect(closed.area).toBeCloseTo(400, 0);
    },
  );

  test("wider than 0.2 mm stay open, whatever is asked below their width", () => {
    const s = see(dxf(open(0.5)), { closeGaps: 0.2 });
    expect(s.drawing.openChains).toMatchObject([{ gap: expect.closeTo(0.5, 9) }]);
    expect(s.codes).toContain("open-outline");
  });

  test("are judged in double precision 10 m away from the origin", () => {
    for (const [gap, chains] of [
      [0.009, 0],
      [0.011, 1],
    ] as const) {
      const s = see(dxf(open(gap, 10_000)));
      expect(s.drawing.openChains.length).toBe(chains);
    }
  });

  test("between separate outlines join nothing", () => {
    const s = see(dxf([box(0, 0, 10, 10), box(10.005, 0, 10, 10), ...looseBox(0, 10.005, 10, 10)]));
    expect([s.plates.length, s.drawing.openChains.length]).toEqual([3, 0]);
  });

  test("a chain of steps shorter than the join stays a chain", () => {
    const steps = Array.from({ length: 300 }, (_, i) => line(i * 0.008, 0, (i + 1) * 0.008, 0));
    const s = see(dxf([...steps, line(2.4, 0, 2.4, 5), line(2.4, 5, 0, 5), line(0, 5, 0, 0)]));
    expect(s.drawing.openChains).toEqual([]);
    expect(s.area).toBeCloseTo(12, 6);
  });
});

describe("doubles", () => {
  const r = 3;
  const disc = Math.PI * r * r;

  test.each([
    [
      "lines, either direction",
      [...looseBox(0, 0, 20, 10), line(20, 0, 0, 0), line(0, 10, 0, 0)],
      2,
    ],
    ["a line that covers a part", [...looseBox(0, 0, 20, 10), line(5, 0, 12, 0)], 1],
    [
      "two that overlap in part",
      [line(0, 0, 14, 0), line(8, 0, 20, 0), ...looseBox(0, 0, 20, 10).slice(1)],
      0,
    ],
    [
      "pieces beneath a whole line",
      [...looseBox(0, 0, 20, 10), line(0, 0, 7, 0), line(7, 0, 20, 0)],
      2,
    ],
    ["a closed outline over loose lines", [...looseBox(0, 0, 20, 10), box(0, 0, 20, 10)], 1],
    [
      "a closed outline that begins elsewhere and runs back",
      [
        box(0, 0, 20, 10),
        lwpolyline([
          [20, 10],
          [20, 0],
          [0, 0],
          [0, 10],
        ]),
      ],
      1,
    ],
    [
      "an outline with a vertex more",
      [
        box(0, 0, 20, 10),
        lwpolyline([
          [0, 0],
          [9, 0],
          [20, 0],
          [20, 10],
          [0, 10],
        ]),
      ],
      1,
    ],
  ])("%s", (_, entities, count) => {
    const s = see(dxf(entities));
    expect([s.plates.length, s.drawing.openChains.length]).toEqual([1, 0]);
    expect(s.area).toBeCloseTo(200, 6);
    expect(found(s, "duplicates-removed").data["count"]).toBe(count);
  });

  test.each([
    ["the same circle", [circle(5, 5, r), circle(5, 5, r)]],
    ["a circle seen from below", [circle(5, 5, r), circle(-5, 5, r, ...DOWN)]],
    [
      "a circle over its two halves",
      [circle(5, 5, r), arc(5, 5, r, [0, 180]), arc(5, 5, r, [180, 360])],
    ],
    ["a circle over three quarters of it", [circle(5, 5, r), arc(5, 5, r, [45, 315])]],
    ["arcs that overlap", [arc(5, 5, r, [0, 200]), arc(5, 5, r, [150, 30])]],
    [
      "a circle and its polyline",
      [
        circle(5, 5, r),
        lwpolyline([
          [2, 5, 1],
          [8, 5, 1],
        ]),
      ],
    ],
    [
      "four arcs, one of them twice",
      [
        arc(5, 5, r, [0, 90]),
        arc(5, 5, r, [90, 180]),
        arc(5, 5, r, [180, 270]),
        arc(5, 5, r, [270, 0]),
        arc(5, 5, r, [100, 170]),
      ],
    ],
  ])("%s", (_, entities) => {
    const s = see(dxf(entities));
    expect([s.plates.length, s.drawing.openChains.length]).toEqual([1, 0]);
    expect(s.area).toBeCloseTo(disc, 6);
    expect(s.codes).toContain("duplicates-removed");
  });

  test("concentric holes and parallel edges that do not coincide are none", () => {
    const s = see(
      dxf([box(0, 0, 40, 40), circle(20, 20, 5), circle(20, 20, 5.5), circle(20, 20, 9)]),
    );
    expect(s.codes).not.toContain("duplicates-removed");
    expect(s.drawing.loops.length).toBe(4);
  });

  test.each([
    ["an edge", [...looseBox(0, 0, 10, 10), ...looseBox(10, 0, 10, 10)], [100, 100]],
    ["a part of an edge", [...looseBox(0, 0, 10, 10), ...looseBox(10, 0, 10, 6)], [100, 60]],
    ["the middle of an edge", [...looseBox(0, 0, 10, 10), ...looseBox(10, 2, 10, 6)], [100, 60]],
    ["edges in a row", [0, 10, 20].flatMap((x) => looseBox(x, 0, 10, 10)), [100, 100, 100]],
    [
      "edges of a grid",
      [0, 10].flatMap((x) => [0, 10].flatMap((y) => looseBox(x, y, 10, 10))),
      [100, 100, 100, 100],
    ],
    [
      "edges that are not level",
      [...looseBox(0, 0, 10, 10), ...looseBox(10, 5, 10, 10)],
      [100, 100],
    ],
    [
      "edges of a ring round nothing",
      [0, 10, 20].flatMap((x) =>
        [0, 10, 20].flatMap((y) => (x === 10 && y === 10 ? [] : looseBox(x, y, 10, 10))),
      ),
      Array.from({ length: 8 }, () => 100),
    ],
  ])("%s that plates share, each drawn in full, stays with both", (_, entities, areas) => {
    const s = see(dxf([...entities, line(40, 0, 50, 0), line(50, 0, 40, 0)]));
    expect(s.plates.map((p) => Math.round(p.area * 1e6) / 1e6)).toEqual(areas);
    expect(s.codes).not.toContain("branch");
    // The stray line was drawn twice, too, and is told once.
    expect(s.drawing.openChains).toHaveLength(1);
  });
});

describe("near-duplicates", () => {
  test.each([0.02, 0.05, 0.09])("%f mm apart are named, and resolved only when asked", (d) => {
    const drawn = dxf([box(0, 0, 60, 40), circle(20, 20, 3), circle(20 + d, 20, 3)]);
    const s = see(drawn);
    const f = found(s, "near-duplicate");
    expect(f.severity).toBe("stop");
    expect(f.data["distance"]).toBeCloseTo(d, 2);
    const resolved = see(drawn, { dropNearDuplicates: true });
    expect([resolved.holes, resolved.codes]).toEqual([1, ["near-duplicate-dropped"]]);
  });

  test("outlines 0.05 mm larger all round", () => {
    const drawn = dxf([box(0, 0, 60, 40), box(-0.05, -0.05, 60.1, 40.1)]);
    expect(see(drawn).codes).toContain("near-duplicate");
    const resolved = see(drawn, { dropNearDuplicates: true });
    expect(resolved.area).toBeCloseTo(2400, 6);
  });

  test("loose lines beside an outline are told and not cut", () => {
    const s = see(dxf([...looseBox(0, 0, 60, 40), line(0.5, 0.04, 59.5, 0.04)]));
    expect([s.plates.length, s.area]).toEqual([1, expect.closeTo(2400, 6)]);
    expect(s.codes).toContain("near-duplicate-line");
  });

  test("a ring of 0.15 mm is a ring", () => {
    const s = see(dxf([circle(0, 0, 10), circle(0, 0, 9.85)]));
    expect([s.holes, s.codes]).toEqual([1, []]);
  });
});

describe("strays and branches", () => {
  test("free ends are pruned off an outline", () => {
    const s = see(dxf([...looseBox(0, 0, 20, 10), line(20, 10, 26, 14), line(26, 14, 30, 14)]));
    expect([s.plates.length, s.drawing.openChains.length]).toEqual([1, 1]);
    expect(s.plates[0]?.bounds.max.x).toBeCloseTo(20, 9);
  });

  test("a bridge between two outlines belongs to neither", () => {
    const s = see(
      dxf([...looseBox(0, 0, 10, 10), ...looseBox(20, 0, 10, 10), line(10, 10, 20, 10)]),
    );
    expect([s.plates.length, s.drawing.openChains.length]).toEqual([2, 1]);
    expect(s.area).toBeCloseTo(200, 6);
  });

  test("a line across an outline from corner to corner is a branch", () => {
    const s = see(dxf([...looseBox(0, 0, 20, 10), line(0, 0, 20, 10)]));
    const spots = s.findings.filter((f) => f.code === "branch").map((f) => f.at);
    expect(spots).toHaveLength(2);
    expect(found(s, "branch").severity).toBe("stop");
  });
});

describe("touches and crossings", () => {
  test("loose squares that share a corner are two", () => {
    const s = see(dxf([...looseBox(0, 0, 10, 10), ...looseBox(10, 10, 10, 10)]));
    expect(s.plates.map((p) => p.area)).toEqual([expect.closeTo(100, 6), expect.closeTo(100, 6)]);
    expect(found(s, "loops-touch").at).toEqual([expect.closeTo(10, 6), expect.closeTo(10, 6)]);
  });

  test("one outline that passes a point twice touches itself there", () => {
    const s = see(
      dxf([
        lwpolyline([
          [0, 0],
          [10, 0],
          [10, 10],
          [20, 10],
          [20, 20],
          [10, 20],
          [10, 10],
          [0, 10],
        ]),
      ]),
    );
    expect(found(s, "self-touching").at).toEqual([10, 10]);
    expect(s.area).toBeCloseTo(200, 6);
  });

  test("an outline that touches its own edge", () => {
    const s = see(
      dxf([
        lwpolyline([
          [0, 0],
          [20, 0],
          [20, 10],
          [12, 10],
          [10, 0],
          [8, 10],
          [0, 10],
        ]),
      ]),
    );
    expect(found(s, "self-touching").at).toEqual([expect.closeTo(10, 6), expect.closeTo(0, 6)]);
  });

  test.each([
    [
      "between edges",
      lwpolyline([
        [0, 0],
        [20, 20],
        [20, 0],
        [0, 20],
      ]),
      [10, 10],
    ],
    [
      "at a vertex",
      lwpolyline([
        [0, 0],
        [10, 10],
        [20, 20],
        [20, 0],
        [10, 10],
        [0, 20],
      ]),
      [10, 10],
    ],
    [
      "by an arc",
      lwpolyline([
        [0, 0],
        [20, 0, 1],
        [0, 10],
        [30, 10],
      ]),
      undefined,
    ],
  ])("a bow tie %s", (_, e, at) => {
    const f = found(see(dxf([e])), "self-crossing");
    expect(f.severity).toBe("stop");
    if (at !== undefined) expect(f.at).toEqual([expect.closeTo(10, 6), expect.closeTo(10, 6)]);
  });

  test("a bow tie of loose lines", () => {
    const s = see(
      dxf([line(0, 0, 20, 20), line(20, 20, 20, 0), line(20, 0, 0, 20), line(0, 20, 0, 0)]),
    );
    expect(found(s, "self-crossing").at).toEqual([expect.closeTo(10, 6), expect.closeTo(10, 6)]);
  });

  test("a hole over the plate's edge crosses it; one that is tangent touches", () => {
    const crossing = see(dxf([box(0, 0, 40, 20), circle(40, 10, 3)]));
    expect(crossing.findings.filter((f) => f.code === "loops-cross")).toHaveLength(2);
    const tangent = see(dxf([box(0, 0, 40, 20), circle(37, 10, 3)]));
    expect(tangent.codes).toEqual(["loops-touch"]);
    expect(found(tangent, "loops-touch").at).toEqual([
      expect.closeTo(40, 3),
      expect.closeTo(10, 2),
    ]);
    const overlapping = see(dxf([circle(0, 0, 5), circle(8, 0, 5)]));
    expect(overlapping.codes).toEqual(["loops-cross", "loops-cross"]);
  });
});

describe("containment", () => {
  test("goes by depth, not by direction, order or layer", () => {
    const rings = [40, 30, 20, 10, 5].map((r, i) => {
      const v = regular(4, 0, 0, r, Math.PI / 4);
      return on(`L${i % 2}`, lwpolyline(i % 3 === 0 ? v : v.reverse()));
    });
    for (const order of [rings, [...rings].reverse()]) {
      const s = see(dxf(order));
      const squares = [40, 30, 20, 10, 5].map((r) => 2 * r * r);
      expect(s.plates.length).toBe(3);
      expect(s.holes).toBe(2);
      const area = squares.reduce((sum, a, i) => sum + (i % 2 === 0 ? a : -a), 0);
      // Coordinates are taken to 0.1 µm.
      expect(s.area).toBeCloseTo(area, 2);
      expect(s.plates.filter((p) => p.drawnInside !== undefined)).toHaveLength(2);
    }
  });
});

describe("sheet borders", () => {
  const plate = [box(100, 100, 60, 40), circle(110, 110, 2), circle(150, 130, 2)];
  const note = (x: number, y: number) =>
    [
      [0, "TEXT"],
      [10, x],
      [20, y],
      [40, 3],
      [1, "plate"],
    ] as const;

  test.each([
    ["A3 with an inner frame", [box(0, 0, 420, 297), box(10, 10, 400, 277)]],
    ["A4 across, with text", [box(0, 0, 297, 210), note(200, 20)]],
    ["on a layer that says so", [on("BORDER", box(0, 0, 333, 222))]],
    ["of four loose lines, with text", [...looseBox(0, 0, 420, 297), note(300, 20)]],
  ])("%s", (_, paper) => {
    const s = see(dxf([...paper, ...plate]));
    expect(s.plates.length).toBe(1);
    expect(s.area).toBeCloseTo(2400 - 8 * Math.PI, 6);
    expect(s.codes).toContain("sheet-border");
  });

  test("a title block within the frame is none of the plates", () => {
    const paper = [
      box(0, 0, 420, 297),
      box(10, 10, 400, 277),
      box(230, 10, 180, 40),
      line(230, 30, 410, 30),
      line(320, 10, 320, 50),
      note(240, 15),
      note(330, 15),
    ];
    const s = see(dxf([...paper, ...plate]));
    expect(s.plates.length).toBe(1);
    expect(s.area).toBeCloseTo(2400 - 8 * Math.PI, 6);
  });

  test("a plate with a window in it is no border", () => {
    const s = see(dxf([box(0, 0, 120, 80), box(20, 20, 50, 40), circle(100, 40, 3)]));
    expect([s.plates.length, s.holes, s.codes]).toEqual([1, 2, []]);
  });

  test("plates inside a window, without text or paper size, are plates", () => {
    const s = see(dxf([box(0, 0, 120, 80), box(20, 20, 50, 40), circle(45, 40, 5)]));
    expect(s.drawing.loops.length).toBe(3);
  });
});
