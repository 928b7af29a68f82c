/** Depth and way out, against polygons clipped by another library. */
import { areaPaths, Clipper, FillRule, type Path64, type Paths64 } from "clipper2-ts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { contactsOf, depthAt } from "../../src/core/layout/search/contact/contacts.ts";
import { convexParts, ringArea, tidyRing } from "../../src/core/layout/search/contact/convex.ts";
import {
  formsOf,
  type Kind,
  type Outline,
  turnRing,
} from "../../src/core/layout/search/contact/forms.ts";

/** A star-shaped polygon with corners at whole numbers: simple, and seldom convex. */
const star: fc.Arbitrary<number[]> = fc
  .array(fc.integer({ min: 8, max: 40 }), { minLength: 3, maxLength: 9 })
  .map((radii) =>
    radii.flatMap((r, i) => {
      const a = (2 * Math.PI * i) / radii.length;
      return [Math.round(r * Math.cos(a)), Math.round(r * Math.sin(a))];
    }),
  )
  .filter((ring) => ringArea(ring) > 50)
  .map((ring) => tidyRing(ring, true, 1e-9))
  .filter((ring) => ring.length >= 6);

const square = (r: number): number[] => [-r, -r, -r, r, r, r, r, -r];

/** A star, or a square with a square hole. */
const outline: fc.Arbitrary<Outline> = fc.oneof(
  star.map((outer) => ({ outer, holes: [] })),
  fc.tuple(fc.integer({ min: 20, max: 40 }), fc.integer({ min: 5, max: 18 })).map(([r, h]) => ({
    outer: [...square(r)]
      .reverse()
      .flatMap((_, i, all) => (i % 2 === 0 ? [all[i + 1] as number, all[i] as number] : [])),
    holes: [square(h)],
  })),
);

function kindOf(o: Outline, degs: readonly number[]): Kind {
  const turns = degs.flatMap((deg) => [
    { deg, flipped: false },
    { deg, flipped: true },
  ]);
  return { outline: o, grown: new Map([[0, o]]), level: 0, turns };
}

const UNITS = 1e5;

function path(ring: readonly number[], dx: number, dy: number): Path64 {
  const out: Path64 = [];
  for (let i = 0; i < ring.length; i += 2) {
    out.push({
      x: Math.round(((ring[i] as number) + dx) * UNITS),
      y: Math.round(((ring[i + 1] as number) + dy) * UNITS),
    });
  }
  return out;
}

function common(a: Paths64, b: Paths64): number {
  return Math.abs(areaPaths(Clipper.intersect(a, b, FillRule.NonZero))) / UNITS ** 2;
}

describe("convex parts", () => {
  it("cover the polygon and no more, and are convex", () => {
    fc.assert(
      fc.property(outline, ({ outer, holes }) => {
        const parts = convexParts(outer, holes);
        const whole = [outer, ...holes].reduce((sum, r) => sum + ringArea(r), 0);
        expect(parts.reduce((sum, p) => sum + ringArea(p), 0)).toBeCloseTo(whole, 6);
        for (const p of parts) {
          const n = p.length / 2;
          for (let i = 0; i < n; i++) {
            const at = (k: number): [number, number] => [
              p[2 * (k % n)] as number,
              p[2 * (k % n) + 1] as number,
            ];
            const [a, b, c] = [at(i), at(i + 1), at(i + 2)];
            const turn = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
            expect(turn).toBeGreaterThanOrEqual(0);
          }
        }
      }),
    );
  });
});

describe("depth", () => {
  it("is above 0 exactly where clipped polygons have an area in common, and its way leads out", () => {
    fc.assert(
      fc.property(
        outline,
        outline,
        fc.array(
          fc.tuple(
            fc.double({ min: -90, max: 90, noNaN: true }),
            fc.double({ min: -90, max: 90, noNaN: true }),
          ),
          {
            minLength: 5,
            maxLength: 5,
          },
        ),
        fc.constantFrom(0, 15, 90, 180, 222),
        (a, b, places, deg) => {
          const forms = formsOf([kindOf(a, [0]), kindOf(b, [deg])]);
          const contacts = contactsOf(forms);
          const count = forms.list.length;
          const g = forms.ofKind[1]?.[0] as number;
          const { turn } = forms.list[g] as { turn: { deg: number; flipped: boolean } };
          const [outer, ...holes] = [b.outer, ...b.holes].map((r) => turnRing(r, turn));
          const there = (dx: number, dy: number): Paths64 =>
            [outer as number[], ...holes].map((r) => path(r, dx, dy));
          const here = [a.outer, ...a.holes].map((r) => path(r, 0, 0));
          for (const [dx, dy] of places) {
            const depth = depthAt(contacts, 0 * count + g, dx, dy);
            // Slivers thinner than the clipper's units tell nothing.
            const area = common(here, there(dx, dy));
            if (depth === 0) expect(area).toBeLessThan(1e-2);
            else {
              if (depth > 1e-3) expect(area).toBeGreaterThan(0);
              const [wx, wy] = contacts.way as unknown as [number, number];
              expect(Math.hypot(wx, wy)).toBeCloseTo(depth, 6);
              expect(common(here, there(dx + wx * (1 + 1e-9), dy + wy * (1 + 1e-9)))).toBeLessThan(
                1e-2,
              );
              // No shorter way: a step of nine tenths in any of 16 directions leaves an overlap.
              for (let k = 0; k < 16; k++) {
                const r = 0.9 * depth;
                const x = dx + r * Math.cos((k * Math.PI) / 8);
                const y = dy + r * Math.sin((k * Math.PI) / 8);
                expect(depthAt(contacts, g, x, y)).toBeGreaterThan(0);
              }
            }
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  it("of a turned pair is that of the pair turned, and the other way round it is the same", () => {
    fc.assert(
      fc.property(
        outline,
        outline,
        fc.constantFrom(30, 90, 135),
        fc.tuple(fc.integer({ min: -40, max: 40 }), fc.integer({ min: -40, max: 40 })),
        (a, b, deg, [dx, dy]) => {
          const forms = formsOf([kindOf(a, [0, deg]), kindOf(b, [0, deg])]);
          const find = (kind: number, d: number): number =>
            forms.list.findIndex((f) => f.kind === kind && f.turn.deg === d && !f.turn.flipped);
          // Shapes that look the same turned are kept once.
          fc.pre(find(0, deg) >= 0 && find(1, deg) >= 0);
          const count = forms.list.length;
          const pair = (f: number, g: number): number => f * count + g;
          const contacts = contactsOf(forms);
          const c = Math.cos((deg * Math.PI) / 180);
          const s = Math.sin((deg * Math.PI) / 180);
          const straight = depthAt(contacts, pair(find(0, 0), find(1, 0)), dx, dy);
          const turned = depthAt(
            contacts,
            pair(find(0, deg), find(1, deg)),
            c * dx - s * dy,
            s * dx + c * dy,
          );
          const back = depthAt(contacts, pair(find(1, 0), find(0, 0)), -dx, -dy);
          expect(back).toBeCloseTo(straight, 9);
          // On the very edge the last digits decide.
          if (straight > 1e-6) expect(turned).toBeCloseTo(straight, 6);
        },
      ),
      { numRuns: 100 },
    );
  });

  it("lets a piece into a hole that it fills exactly, and nowhere else", () => {
    const frame = {
      outer: [0, 0, 30, 0, 30, 30, 0, 30],
      holes: [[10, 10, 10, 20, 20, 20, 20, 10]],
    };
    const plug = { outer: [0, 0, 10, 0, 10, 10, 0, 10], holes: [] };
    const one = (o: Outline): Kind => ({ ...kindOf(o, [0]), turns: [{ deg: 0, flipped: false }] });
    const contacts = contactsOf(formsOf([one(frame), one(plug)]));
    // The boundary is kept within 1e-9 of the size.
    expect(depthAt(contacts, 1, 10, 10)).toBe(0);
    expect(depthAt(contacts, 1, 10.5, 10)).toBeCloseTo(0.5, 6);
    expect(depthAt(contacts, 1, 10.3, 9.6)).toBeCloseTo(0.5, 6);
    expect(depthAt(contacts, 1, -10, 5)).toBe(0);
    expect(depthAt(contacts, 1, -9, 5)).toBeCloseTo(1, 6);
  });
});
