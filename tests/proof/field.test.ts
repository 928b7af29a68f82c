/** The stock moment by moment, against places along the way by brute force; and cuts whose size is known. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type Bounds,
  type Engagement,
  engage,
  newRun,
  steps,
} from "../../src/core/proof/checks/engage.ts";
import { arcCurve, type Curve, lineCurve, xAt, yAt } from "../../src/core/proof/removal/curve.ts";
import { GENTLE, mill, newField, newMet } from "../../src/core/proof/removal/field.ts";
import { type Stroke, zAt } from "../../src/core/proof/removal/stroke.ts";

const BOX = [0, 0, 24, 24] as const;

function stroke(curve: Curve, z0: number, z1: number, radius = 1): Stroke {
  const rest = {
    rapid: false,
    feed: 500,
    rpm: 18000,
    drill: false,
    bend: Number.POSITIVE_INFINITY,
    program: 0,
    line: 1,
    unknown: 0,
  };
  return { curve, z0, z1, radius, ...rest };
}

const coordinate = fc.double({ min: 4, max: 20, noNaN: true });
const depth = fc.double({ min: -3, max: -0.2, noNaN: true });
const angle = fc.double({ min: -6.2, max: 6.2, noNaN: true }).filter((a) => Math.abs(a) > 0.05);

const anyStroke: fc.Arbitrary<Stroke> = fc
  .record({
    kind: fc.constantFrom("line", "arc", "plunge"),
    x: coordinate,
    y: coordinate,
    to: fc.tuple(coordinate, coordinate),
    r: fc.double({ min: 0.2, max: 3, noNaN: true }),
    from: angle,
    sweep: angle,
    z0: depth,
    z1: depth,
    level: fc.boolean(),
  })
  .map(({ kind, x, y, to, r, from, sweep, z0, z1, level }) => {
    const end = level ? z0 : z1;
    if (kind === "plunge") return stroke(lineCurve(x, y, x, y), z0, end);
    if (kind === "line") return stroke(lineCurve(x, y, ...to), z0, end);
    const at = (a: number): [number, number] => [x + r * Math.cos(a), y + r * Math.sin(a)];
    return stroke(arcCurve([...at(from), ...at(from + sweep)], x, y, r, sweep), z0, end);
  });

/** Lowest tip over a point, from places a hundredth of a millimetre apart; and how near the rim it was. */
function bruteTop(list: readonly Stroke[], x: number, y: number): { top: number; sure: boolean } {
  let top = 0;
  let sure = true;
  for (const s of list) {
    const n = Math.ceil(s.curve.length / 0.01) + 1;
    for (let i = 0; i <= n; i++) {
      const d = Math.hypot(x - xAt(s.curve, i / n), y - yAt(s.curve, i / n));
      if (Math.abs(d - s.radius) < 0.006) sure = false;
      if (d <= s.radius) top = Math.min(top, zAt(s, i / n));
    }
  }
  return { top, sure };
}

describe("the field", () => {
  test("is as low as the lowest tip that passed over, and no lower", () => {
    fc.assert(
      fc.property(fc.array(anyStroke, { minLength: 1, maxLength: 4 }), (list) => {
        const field = newField(BOX, 2);
        for (const s of list) for (const step of steps(s)) mill(field, step, 1, newMet());
        for (let i = 3; i < field.tops.length; i += 1597) {
          const x = field.x + ((i % field.columns) + 0.5) * field.pitch;
          const y = field.y + (Math.floor(i / field.columns) + 0.5) * field.pitch;
          const { top, sure } = bruteTop(list, x, y);
          if (!sure) continue;
          // A step of a helix counts as level at its lowest; a hundredth of a way is 0.02 of a steep fall.
          expect(field.tops[i]).toBeGreaterThan(top - GENTLE - 0.02);
          expect(field.tops[i]).toBeLessThan(top + 0.02);
        }
      }),
      { numRuns: 60 },
    );
  });
});

test("passes that share their curves cut what passes with curves of their own cut", () => {
  fc.assert(
    fc.property(fc.array(anyStroke, { minLength: 1, maxLength: 4 }), (list) => {
      const passes = [0, -0.4, -0.4, -0.9].flatMap((by) =>
        list.map((s) => ({ ...s, z0: s.z0 + by, z1: s.z1 + by })),
      );
      const shared = newField(BOX, 2);
      const own = newField(BOX, 2);
      const cuttings = new Map();
      const [a, b] = [newMet(), newMet()];
      for (const s of passes) {
        const copies = steps({ ...s, curve: { ...s.curve } });
        for (const [i, step] of steps(s, cuttings).entries()) {
          mill(shared, step, 0.6, a);
          mill(own, copies[i] as Stroke, 0.6, b);
          expect(a).toEqual(b);
        }
      }
      expect(shared.tops.findIndex((top, i) => top !== own.tops[i])).toBe(-1);
    }),
    { numRuns: 25 },
  );
});

const bounds = (): Bounds => ({ rampAngle: 0.06, light: 0.3, deepest: 0.62, run: newRun() });

/** The last step of the last stroke: in the midst of the cut. */
function cut(list: readonly Stroke[]): readonly Engagement[] {
  const field = newField(BOX, 2);
  const limits = bounds();
  const met = newMet();
  return list.map((s) => {
    const all = steps(s).map((step) => engage(field, step, limits, met));
    return all[Math.floor(all.length / 2)] as Engagement;
  });
}

describe("engagement", () => {
  test("a slot has the cutter's width and the pass's depth", () => {
    const [slot] = cut([stroke(lineCurve(3, 5.03, 20, 9.4), -0.6, -0.6)]);
    expect(slot?.edge?.width).toBeCloseTo(2, 1);
    expect(slot?.depth).toBeCloseTo(0.6, 6);
    expect(slot?.edge?.speed).toBe(1);
  });

  test("a pass beside a slot has the width that it is set over by", () => {
    for (const by of [0.1, 0.2, 0.5, 1.2]) {
      const field = newField(BOX, 2);
      const beside = stroke(lineCurve(2, 5 + by, 21, 5.7 + by), -0.5, -0.5);
      mill(field, stroke(lineCurve(2, 5, 21, 5.7), -0.5, -0.5), 1, newMet());
      const widths = steps(beside).map(
        (step) => engage(field, step, bounds(), newMet()).edge?.width ?? 0,
      );
      // Where a way begins, the cutter's other half stands in the cut, too.
      widths.shift();
      const mean = widths.reduce((sum, w) => sum + w, 0) / widths.length;
      // Points are 0.125 mm apart, and the slope of the way brings all their places against the wall.
      expect(Math.abs(mean - by * Math.cos(Math.atan2(0.7, 19)))).toBeLessThan(0.03);
      for (const w of widths) expect(Math.abs(w - by)).toBeLessThan(1.5 * field.pitch);
    }
  });

  test("on an arc the edge is that of the wall that still has stock", () => {
    const ring = (r: number, z: number): Stroke =>
      stroke(arcCurve([12 + r, 12, 12 + r, 12], 12, 12, r, 2 * Math.PI), z, z);
    const [slot, outwards] = cut([ring(4, -0.6), ring(4.1, -0.6)]);
    expect(slot?.edge?.speed).toBeCloseTo(1, 1);
    expect(outwards?.edge?.width).toBeCloseTo(0.1, 1);
    expect(outwards?.edge?.speed).toBeCloseTo((4.1 + 1) / 4.1, 2);
    const [, inwards] = cut([ring(4, -0.6), ring(3.9, -0.6)]);
    expect(inwards?.edge?.speed).toBeCloseTo((3.9 - 1) / 3.9, 2);
  });

  test("a step aside is free, a wide cut at full depth is not, nor one that creeps", () => {
    const hole = stroke(lineCurve(20, 5, 20, 5), -0.6, -2);
    const aside = [stroke(lineCurve(3, 5, 20, 5), -0.6, -0.6), hole];
    aside.push(stroke(lineCurve(20, 5, 20, 5.2), -2, -2));
    expect(cut(aside)[2]?.depth).toBe(0);
    const wide = [stroke(lineCurve(3, 5, 20, 5), -2, -2)];
    expect(cut(wide)[0]?.depth).toBeCloseTo(2, 6);
    const crumbs = Array.from({ length: 300 }, (_, i) =>
      stroke(lineCurve(3 + i / 20, 5, 3 + (i + 1) / 20, 5), -2, -2),
    );
    expect(cut(crumbs).at(-1)?.depth).toBeCloseTo(2, 6);
    const light = [stroke(lineCurve(3, 5, 20, 5), -0.6, -0.6)];
    for (const z of [-1.2, -1.8]) light.push(stroke(lineCurve(3, 5, 20, 5), z, z));
    light.push(stroke(lineCurve(3, 5.15, 20, 5.15), -1.8, -1.8));
    expect(cut(light).map((e) => e.depth > 0.62)).toEqual([false, false, false, false]);
  });

  test("a steep fall is an entry where it meets material under the cutter, and not in a hole", () => {
    const plunge = stroke(lineCurve(8, 8, 8, 8), 0, -0.5);
    expect(cut([plunge])[0]?.entry).toBeCloseTo(Math.PI / 2, 6);
    const again = stroke(lineCurve(8, 8, 8, 8), 0, -0.5);
    expect(cut([plunge, again])[1]?.entry).toBe(0);
    const ramp = stroke(lineCurve(4, 8, 14, 8), 0, -0.5);
    expect(cut([ramp])[0]?.entry).toBeCloseTo(Math.atan2(0.5, 10), 6);
  });
});
