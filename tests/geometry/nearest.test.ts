/** The grid index answers what asking every segment in turn would. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { meetings, parameterOf } from "../../src/core/geometry/intersect.ts";
import { segmentIndex } from "../../src/core/geometry/nearest.ts";
import {
  boxOf,
  circle,
  distance,
  line,
  nearestOn,
  pointAt,
} from "../../src/core/geometry/segment.ts";
import type { Segment } from "../../src/core/geometry/shape.ts";
import { points, roundedBox, sample } from "./corpus.ts";

const seeds = fc.integer({ min: 0, max: 1e6 });
const spot = fc.record({
  x: fc.double({ min: -60, max: 120, noNaN: true }),
  y: fc.double({ min: -60, max: 90, noNaN: true }),
});

describe("segment index", () => {
  test("nearest is the nearest of all, near and far, and obeys its limit", () => {
    fc.assert(
      fc.property(seeds, fc.array(spot, { minLength: 1, maxLength: 20 }), (seed, spots) => {
        const { rings } = sample(seed);
        const index = segmentIndex(rings);
        for (const p of spots) {
          const all = index.segments.map((s) => nearestOn(s, p).distance);
          const wanted = Math.min(...all);
          const found = index.nearest(p);
          // To the last bits: a box may rule out what is nearer by a rounding.
          expect(index.distance(p)).toBeCloseTo(wanted, 12);
          expect(all[found?.index ?? -1]).toBeCloseTo(wanted, 12);
          expect(distance(found?.point ?? p, p)).toBeCloseTo(wanted, 12);
          if (wanted < 1e-6) continue;
          expect(index.distance(p, wanted * 1.001)).toBeCloseTo(wanted, 12);
          expect(index.distance(p, wanted * 0.999)).toBe(Number.POSITIVE_INFINITY);
        }
      }),
    );
  });

  test("hits are those of every segment, sorted", () => {
    fc.assert(
      fc.property(seeds, spot, spot, (seed, from, to) => {
        fc.pre(distance(from, to) > 1e-3);
        const index = segmentIndex(sample(seed).rings);
        const ray = line(from, to);
        const wanted = index.segments
          .flatMap((s) => meetings(ray, s, 1e-9).map((m) => m.ta * distance(from, to)))
          .sort((a, b) => a - b);
        const found = index.hits(from, to);
        expect(index.crosses(from, to)).toBe(found.length > 0);
        expect(found.map((h) => h.along)).toEqual(wanted);
        for (const h of found) expect(nearestOn(h.segment, h.point).distance).toBeLessThan(1e-9);
      }),
    );
  });

  test("near finds every segment that comes into the box, and none whose box does not", () => {
    fc.assert(
      fc.property(seeds, spot, spot, (seed, a, b) => {
        const index = segmentIndex(sample(seed).rings);
        const box = boxOf(line(a, b));
        const found = new Set(index.near(box));
        const { min, max } = box;
        index.segments.forEach((s, i) => {
          const o = boxOf(s);
          const apart = o.min.x > max.x || o.max.x < min.x || o.min.y > max.y || o.max.y < min.y;
          const comesIn = Array.from({ length: 33 }, (_, k) => pointAt(s, k / 32)).some(
            (p) => p.x >= min.x && p.x <= max.x && p.y >= min.y && p.y <= max.y,
          );
          if (comesIn) expect(found).toContain(i);
          if (apart) expect(found).not.toContain(i);
        });
      }),
    );
  });

  test("the wall between a hole and a plate's edge, by a ray from the hole", () => {
    const index = segmentIndex([
      roundedBox(0, 0, 40, 30, 5),
      { segments: [circle({ x: 35, y: 15 }, 2, false)] },
    ]);
    const along = index.hits({ x: 35, y: 15 }, { x: 60, y: 15 }).map((h) => h.along);
    expect(along).toEqual([2, 5]);
  });

  test("nothing to find", () => {
    const index = segmentIndex([]);
    expect(index.nearest({ x: 0, y: 0 })).toBeUndefined();
    expect(index.distance({ x: 0, y: 0 })).toBe(Number.POSITIVE_INFINITY);
    expect(index.hits({ x: 0, y: 0 }, { x: 1, y: 1 })).toEqual([]);
  });
});

describe("meetings", () => {
  test("two circles, two lines, line and circle by hand", () => {
    const a = circle({ x: 0, y: 0 }, 5, true);
    const b = circle({ x: 6, y: 0 }, 5, false);
    const ys = meetings(a, b).map((m) => m.point);
    expect(ys.map((p) => [p.x, Math.abs(p.y)])).toEqual([
      [3, 4],
      [3, 4],
    ]);
    const [from, to] = points(-10, 3, 10, 3) as [
      { x: number; y: number },
      { x: number; y: number },
    ];
    expect(
      meetings(line(from, to), a)
        .map((m) => m.point.x)
        .sort((p, q) => p - q),
    ).toEqual([-4, 4]);
    expect(meetings(line(from, to), line({ x: 1, y: 0 }, { x: 1, y: 2 }))).toEqual([]);
    expect(meetings(line(from, to), line({ x: 1, y: 0 }, { x: 1, y: 4 }))[0]?.point).toEqual({
      x: 1,
      y: 3,
    });
  });

  test("a meeting lies on both segments, where its parameters say, and is the same the other way round", () => {
    fc.assert(
      fc.property(seeds, fc.nat(100), fc.nat(100), (seed, i, j) => {
        const all = sample(seed).rings.flatMap((r) => r.segments);
        const a = all[i % all.length] as Segment;
        const b = all[j % all.length] as Segment;
        const found = meetings(a, b);
        // A meeting at an end may fall a rounding beyond it when asked the other way.
        expect(meetings(b, a, 1e-9).length).toBeGreaterThanOrEqual(found.length);
        for (const m of found) {
          expect(nearestOn(a, m.point).distance).toBeLessThan(1e-6);
          expect(nearestOn(b, m.point).distance).toBeLessThan(1e-6);
          expect(parameterOf(a, m.point)).toBe(m.ta);
          expect(parameterOf(b, m.point)).toBe(m.tb);
        }
      }),
    );
  });
});
