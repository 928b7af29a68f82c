import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { PLATE_FILES, platesFrom, redrawn, runOf } from "./support.ts";

describe("where and how a plate is drawn does not matter", () => {
  for (const file of PLATE_FILES) {
    test(`${file}: turned, mirrored and shifted, it is cut with the same length and blocks`, () => {
      const plates = platesFrom(file);
      const base = runOf({ plates });
      expect(base.routed.programs.length).toBeGreaterThan(0);
      fc.assert(
        fc.property(
          fc.integer({ min: 0, max: 359 }),
          fc.boolean(),
          fc.integer({ min: -500, max: 500 }),
          (deg, flipped, shift) => {
            const m = { x: shift, y: shift / 3, angle: (deg * Math.PI) / 180, flipped };
            const again = runOf({ plates: plates.map((p) => redrawn(p, m)) });
            expect(again.blocks).toBe(base.blocks);
            expect(Math.abs(again.cutMetres / base.cutMetres - 1)).toBeLessThan(1e-6);
          },
        ),
        { numRuns: 12 },
      );
    });
  }
});
