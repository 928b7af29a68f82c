/**
 * The functions that engines round differently, against the engine's own (within the last places that both are
 * allowed), against published values, and against what every engine must give to the bit.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import * as trig from "../../src/core/geometry/trig.ts";

/** Distance from |x| to the next double. */
function lastPlace(x: number): number {
  const bits = new DataView(new ArrayBuffer(8));
  bits.setFloat64(0, Math.abs(x));
  const next = bits.getBigInt64(0) + 1n;
  bits.setBigInt64(0, next);
  return bits.getFloat64(0) - Math.abs(x);
}

const angle = fc.double({ min: -1e6, max: 1e6, noNaN: true });
const turn = fc.double({ min: -7, max: 7, noNaN: true });
const share = fc.double({ min: -1, max: 1, noNaN: true });
const any = fc.double({ min: -1e4, max: 1e4, noNaN: true });

/** Last places between two that are each at most 1 (the engine's) and 1.5 or 2.5 (ours) from the truth. */
const CASES: readonly (readonly [
  string,
  (x: number) => number,
  (x: number) => number,
  fc.Arbitrary<number>,
  number,
])[] = [
  ["sin", trig.sin, Math.sin, angle, 2],
  ["cos", trig.cos, Math.cos, angle, 2],
  ["tan", trig.tan, Math.tan, turn, 3],
  ["asin", trig.asin, Math.asin, share, 3],
  ["acos", trig.acos, Math.acos, share, 3],
  ["atan", trig.atan, Math.atan, any, 2],
  ["exp", trig.exp, Math.exp, fc.double({ min: -700, max: 700, noNaN: true }), 3],
  ["log", trig.log, Math.log, fc.double({ min: 1e-300, max: 1e300, noNaN: true }), 3],
];

describe("within the last places of the engine's own", () => {
  test.each(CASES)("%s", (_, own, engine, args, places) => {
    fc.assert(
      fc.property(args, (x) => {
        const wanted = engine(x);
        expect(Math.abs(own(x) - wanted)).toBeLessThanOrEqual(places * lastPlace(wanted));
      }),
      { numRuns: 2000 },
    );
  });

  test("atan2 in every quadrant, and at its ends", () => {
    const special = [0, -0, 1, -1, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NaN];
    for (const y of special)
      for (const x of special) expect(trig.atan2(y, x)).toBe(Math.atan2(y, x));
    fc.assert(
      fc.property(any, any, (y, x) => {
        const wanted = Math.atan2(y, x);
        expect(Math.abs(trig.atan2(y, x) - wanted)).toBeLessThanOrEqual(3 * lastPlace(wanted));
      }),
      { numRuns: 2000 },
    );
  });

  test("pow of what is used", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
        fc.double({ min: -4, max: 4, noNaN: true }),
        (x, y) => {
          const wanted = x ** y;
          expect(Math.abs(trig.pow(x, y) - wanted)).toBeLessThanOrEqual(1e-14 * wanted);
        },
      ),
    );
  });
});

describe("what must hold to the bit", () => {
  test("zero keeps its sign, and quarter turns end where they should", () => {
    for (const f of [trig.sin, trig.tan, trig.atan, trig.asin]) {
      expect([f(0), f(-0)]).toEqual([0, -0]);
    }
    expect(trig.sin(Math.PI / 2)).toBe(1);
    expect(trig.cos(0)).toBe(1);
    expect(trig.cos(Math.PI)).toBe(-1);
    expect(Math.abs(trig.cos(Math.PI / 2))).toBeLessThan(1e-16);
    expect(trig.atan(1)).toBe(Math.PI / 4);
    expect(trig.exp(0)).toBe(1);
    expect(trig.log(1)).toBe(0);
  });

  test("sine is odd, cosine is even", () => {
    fc.assert(
      fc.property(angle, (x) => {
        expect(trig.sin(-x)).toBe(-trig.sin(x));
        expect(trig.cos(-x)).toBe(trig.cos(x));
      }),
    );
  });
});

/** NIST Digital Library of Mathematical Functions (dlmf.nist.gov), chapter 4 constants and the integer sequences for them. */
test.each([
  ["sin 1", trig.sin(1), 0.8414709848078965],
  ["cos 1", trig.cos(1), 0.5403023058681398],
  ["tan 1", trig.tan(1), 1.5574077246549023],
  ["atan ½", trig.atan(0.5), 0.4636476090008061],
  ["e", trig.exp(1), Math.E],
  ["ln 10", trig.log(10), Math.LN10],
  ["√2", trig.pow(2, 0.5), Math.SQRT2],
])("%s as published", (_, own, published) => {
  expect(Math.abs(own - published)).toBeLessThanOrEqual(lastPlace(published));
});
