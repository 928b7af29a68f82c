import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { PLATE_FILES, platesFrom, type Run, redrawn, runOf } from "./support.ts";

const turned = fc.record({
  deg: fc.integer({ min: 0, max: 359 }),
  flipped: fc.boolean(),
  shift: fc.integer({ min: -500, max: 500 }),
});

/** What differs between a plate's programs and those of the same plate drawn elsewhere. */
function again(
  file: string,
  decimals: number,
  at: { deg: number; flipped: boolean; shift: number },
): Run {
  const m = { x: at.shift, y: -at.shift, angle: (at.deg * Math.PI) / 180, flipped: at.flipped };
  const plates = platesFrom(file).map((p) => redrawn(p, m));
  return runOf({ plates, machine: { decimals } });
}

describe("where and how a plate is drawn does not matter", () => {
  for (const file of PLATE_FILES) {
    test(`${file}: turned, mirrored and shifted, it is cut with the same length and blocks`, () => {
      // Six decimals, so that what is compared is the way and not its rounding.
      const base = runOf({ plates: platesFrom(file), machine: { decimals: 6 } });
      expect(base.routed.programs.length).toBeGreaterThan(0);
      fc.assert(
        fc.property(turned, (at) => {
          const run = again(file, 6, at);
          expect(run.blocks).toBe(base.blocks);
          expect(Math.abs(run.cutMetres / base.cutMetres - 1)).toBeLessThan(1e-6);
        }),
        { numRuns: 8 },
      );
    });

    test(`${file}: so it is at the machine's own decimals`, () => {
      const base = runOf({ plates: platesFrom(file) });
      fc.assert(
        fc.property(turned, (at) => {
          const run = again(file, 4, at);
          expect(run.blocks).toBe(base.blocks);
          expect(Math.abs(run.feedMetres / base.feedMetres - 1)).toBeLessThan(1e-6);
          // The text's own length: square turns round alike. At others each end moves by up to 0.05 µm × √2,
          // and passes repeat it.
          const most =
            at.deg % 90 === 0 ? 1e-6 * base.cutMetres : 2 * Math.SQRT2 * 0.5e-7 * base.blocks;
          expect(Math.abs(run.cutMetres - base.cutMetres)).toBeLessThan(most);
          expect(Math.abs(run.cutMetres - run.feedMetres)).toBeLessThan(
            2 * Math.SQRT2 * 0.5e-7 * run.blocks,
          );
        }),
        {
          numRuns: 8,
          examples: [0, 90, 180, 270].map((deg) => [{ deg, flipped: deg > 90, shift: 7 }]),
        },
      );
    });
  }
});
