/** Which cutter makes what, in which order, and what is refused. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Cutter } from "../../src/core/cutting/cutter.ts";
import { oriented, rectangle, signedArea } from "../../src/core/geometry/contour.ts";
import { offsetRings } from "../../src/core/geometry/offset.ts";
import { seeded } from "../../src/core/geometry/seeded.ts";
import { arc, circle, line } from "../../src/core/geometry/segment.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";
import { fitOf, wallOf } from "../../src/core/toolpath/choose/fit.ts";
import { filleted, starPoints } from "../geometry/corpus.ts";
import { recogniseFeatures } from "./features.ts";
import { OPTIONS, plateOf, ROUTER, type Run, runOf, SHEET } from "./support.ts";

const SMALL: Cutter = {
  ...ROUTER,
  name: "router-1",
  diameter: 1,
  measuredDiameter: 1,
  fluteLength: 5,
};
const DRILL: Cutter = {
  name: "drill-2.5",
  kind: "drill",
  diameter: 2.5,
  fluteLength: 20,
  overhang: 25,
  flutes: 2,
  coating: "none",
};

const hole = (x: number, y: number, d: number): Contour => ({
  segments: [circle({ x, y }, d / 2, false)],
});

function slot(at: Point, length: number, width: number): Contour {
  const r = width / 2;
  const h = length / 2 - r;
  const p = (x: number, y: number): Point => ({ x: at.x + x, y: at.y + y });
  return oriented(
    {
      segments: [
        line(p(-h, -r), p(h, -r)),
        arc(p(h, -r), p(h, r), p(h, 0), true),
        line(p(h, r), p(-h, r)),
        arc(p(-h, r), p(-h, -r), p(-h, 0), true),
      ],
    },
    false,
  );
}

function cut(inner: readonly Contour[], cutters: readonly Cutter[] = [ROUTER]): Run {
  const outer = rectangle(0, 0, 60, 40);
  return runOf({ plates: [plateOf(outer, recogniseFeatures(inner))], cutters });
}

const codes = (run: Run): string[] => run.routed.findings.map((f) => f.code);
const labels = (run: Run): string[] =>
  run.routed.programs.flatMap((p) =>
    p.blocks.flatMap((b) => b.cuts.map((c) => `${p.cutter.name}: ${c.label}`)),
  );

describe("cutters", () => {
  test("each feature goes to the largest cutter that makes it whole", () => {
    const run = cut(
      [hole(10, 10, 1.5), hole(30, 10, 5), slot({ x: 30, y: 28 }, 12, 3)],
      [ROUTER, SMALL],
    );
    const own = (name: string): string[] => labels(run).filter((l) => l.startsWith(name));
    expect(own("router-1")).toEqual(["router-1: hole 1.5"]);
    expect(own("router-2").some((l) => l.includes("hole"))).toBe(true);
    expect(own("router-2").some((l) => l.includes("slot"))).toBe(true);
    expect(labels(run).at(-1)).toBe("router-2: outline");
  });

  test("programs run drill first, then from small to large, and outlines last of all", () => {
    const run = cut(
      [hole(10, 10, 1.5), hole(20, 10, 2.5), hole(30, 10, 5)],
      [ROUTER, SMALL, DRILL],
    );
    expect(run.routed.programs.map((p) => p.cutter.name)).toEqual([
      "drill-2.5",
      "router-1",
      "router-2",
    ]);
    const all = labels(run);
    expect(all.filter((l) => l.endsWith("outline"))).toEqual(["router-2: outline"]);
    expect(all.at(-1)).toBe("router-2: outline");
  });

  test("only a drill goes straight down", () => {
    const run = cut([hole(20, 10, 2.5)], [ROUTER, DRILL]);
    const drilled = run.routed.programs[0]?.blocks[0]?.cuts[0];
    expect(drilled?.label).toBe("hole 2.5 drilled");
    expect(drilled?.moves.every((m) => m.arc === undefined)).toBe(true);
  });
});

describe("sizes about the cutter's own (1.97 mm measured)", () => {
  test.each([
    [1.9, "slot-narrower-than-cutter"],
    [1.97, "hole-is-cutter-width"],
    [1.985, "hole-is-cutter-width"],
  ])("a %d mm hole is refused", (size, code) => {
    expect(codes(cut([hole(20, 20, size)]))).toContain(code);
  });

  test("a hole a little wider is bored", () => {
    const run = cut([hole(20, 20, 2.0)]);
    expect(codes(run)).toEqual([]);
    expect(labels(run)[0]).toBe("router-2: hole 2");
  });

  test("a narrower slot is refused with the width that would do", () => {
    const run = cut([slot({ x: 30, y: 20 }, 12, 1.9)]);
    const found = run.routed.findings.find((f) => f.code === "slot-narrower-than-cutter");
    expect(found?.severity).toBe("stop");
    expect(found?.data).toMatchObject({ width: expect.closeTo(1.9, 6), diameter: 1.97 });
  });

  test("a slot of the cutter's width is one line, there and back", () => {
    const run = cut([slot({ x: 30, y: 20 }, 12, 1.98)]);
    const one = run.routed.programs[0]?.blocks[0]?.cuts[0];
    expect(one?.label).toBe("slot 1.98");
    expect(
      one?.moves.every((m) => m.arc === undefined && Math.abs(m.to.y - one.start.y) < 1e-9),
    ).toBe(true);
    const ends = new Set(one?.moves.map((m) => m.to.x.toFixed(4)));
    expect(ends.size).toBe(2);
  });
});

describe("bores", () => {
  test("the helix sinks at the ramp angle: its pitch is π d tan ramp a turn", () => {
    const run = cut([hole(20, 20, 3.4)]);
    const bore = run.routed.programs[0]?.blocks[0]?.cuts[0];
    const helix = bore?.moves.filter((m) => m.arc !== undefined) ?? [];
    const first = helix[0];
    const rough = (3.4 - 1.97) / 2 - OPTIONS.finish.stock;
    const pitch = 2 * Math.PI * rough * Math.tan((3 * Math.PI) / 180);
    const turns = Math.ceil((SHEET.thickness + OPTIONS.throughDepth) / pitch);
    expect(first?.z).toBeCloseTo(-(SHEET.thickness + OPTIONS.throughDepth) / turns, 9);
    expect(-(first?.z ?? 0)).toBeLessThanOrEqual(pitch);
  });

  // vf (Dm − Dc) / Dm: Sandvik Coromant, threading catalogue, p. 117.
  test("the centre goes slower than the rim: vf (Dm − Dc) / Dm", () => {
    const run = cut([hole(20, 20, 3.4)]);
    const program = run.routed.programs[0];
    const last = program?.blocks[0]?.cuts[0]?.moves.find(
      (m) =>
        m.arc !== undefined && Math.hypot(m.to.x - m.arc.centre.x, 0) > (3.4 - 1.97) / 2 - 1e-9,
    );
    const feed = ((program?.rates.finishFeed ?? 0) * (3.4 - 1.97)) / 3.4;
    expect(last?.feed).toBeCloseTo(feed, 6);
  });

  test("a small hole is bored out whole; a wide one keeps its slug on tabs; between, the slug is cleared", () => {
    expect(labels(cut([hole(30, 20, 3.5)]))[0]).toBe("router-2: hole 3.5");
    const cleared = cut([hole(30, 20, 8)]);
    expect(codes(cleared)).toContain("slug-cleared");
    const held = cut([hole(30, 20, 26)]);
    expect(codes(held)).not.toContain("slug-cleared");
    expect(held.routed.tabs.filter((t) => t.feature !== undefined).length).toBeGreaterThanOrEqual(
      2,
    );
  });
});

describe("directions, seen with a clockwise spindle", () => {
  test.each(["climb", "conventional"] as const)("%s", (direction) => {
    const outer = rectangle(0, 0, 60, 40);
    const plates = [plateOf(outer, recogniseFeatures([hole(20, 20, 6.5)]))];
    const run = runOf({ plates, options: { direction } });
    const cuts = run.routed.programs.flatMap((p) => p.blocks.flatMap((b) => b.cuts));
    const outline = cuts.at(-1);
    // The shoelace sum of the finishing pass: negative is clockwise.
    const deep = outline?.moves.slice(-30).map((m) => m.to) ?? [];
    const area = deep.reduce((sum, p, i) => {
      const q = deep[(i + 1) % deep.length] as Point;
      return sum + p.x * q.y - q.x * p.y;
    }, 0);
    // Climb milling keeps the plate on the right: clockwise round it, counter-clockwise in its holes.
    expect(Math.sign(area)).toBe(direction === "climb" ? -1 : 1);
    const inside = cuts[0]?.moves.find((m) => Math.abs(m.arc?.sweep ?? 0) > 6);
    expect(Math.sign(inside?.arc?.sweep ?? 0)).toBe(direction === "climb" ? 1 : -1);
  });
});

describe("whether a cutter makes a wall whole", () => {
  const corners = fc.integer({ min: 0, max: 1e6 }).map((seed) => {
    const random = seeded(seed);
    const n = 3 + Math.floor(random() * 5);
    // On a circle, so that the ring bends in nowhere; or anywhere, so that it may.
    const inner = random() < 0.5 ? 12 : 6;
    return { points: starPoints(random, n, inner, 12), fillet: 0.4 + 3 * random() };
  });
  test.each(["inside", "outside"] as const)("%s: as two offsets say it", (side) => {
    let whole = 0;
    fc.assert(
      fc.property(corners, fc.double({ min: 0.5, max: 3, noNaN: true }), (drawn, radius) => {
        const ring = filleted(drawn.points, () => drawn.fillet);
        const fit = fitOf(wallOf(ring, side), radius);
        const d = side === "inside" ? -radius : radius;
        const rings = offsetRings([oriented(ring, true)], d);
        expect(fit.enters).toBe(rings.length > 0);
        if (!fit.whole) return;
        whole++;
        const back = offsetRings(rings, -d).reduce((sum, r) => sum + signedArea(r), 0);
        expect(Math.abs(back - signedArea(oriented(ring, true)))).toBeLessThan(
          fit.cornersMm2 + 2.1e-3,
        );
      }),
      { numRuns: 300 },
    );
    expect(whole).toBeGreaterThan(60);
  });
});
