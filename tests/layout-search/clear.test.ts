/** The largest clear rectangle among boxes, against every rectangle that their sides make. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Box } from "../../src/core/geometry/shape.ts";
import { clearArea } from "../../src/core/layout/search/sheets/clear.ts";

const boxOf = (x: number, y: number, w: number, h: number): Box => ({
  min: { x, y },
  max: { x: x + w, y: y + h },
});

const box: fc.Arbitrary<Box> = fc
  .tuple(
    fc.integer({ min: -4, max: 22 }),
    fc.integer({ min: -4, max: 16 }),
    fc.integer({ min: 1, max: 9 }),
    fc.integer({ min: 1, max: 9 }),
  )
  .map(([x, y, w, h]) => boxOf(x, y, w, h));

const ALL = boxOf(0, 0, 20, 14);

function bruteForce(taken: readonly Box[]): number {
  let best = 0;
  for (let x0 = 0; x0 < 20; x0++) {
    for (let x1 = x0 + 1; x1 <= 20; x1++) {
      for (let y0 = 0; y0 < 14; y0++) {
        for (let y1 = y0 + 1; y1 <= 14; y1++) {
          if ((x1 - x0) * (y1 - y0) <= best) continue;
          const free = taken.every(
            ({ min, max }) => max.x <= x0 || min.x >= x1 || max.y <= y0 || min.y >= y1,
          );
          if (free) best = (x1 - x0) * (y1 - y0);
        }
      }
    }
  }
  return best;
}

describe("clear area", () => {
  it("is that of the largest of all rectangles between whole numbers", () => {
    fc.assert(
      fc.property(fc.array(box, { maxLength: 8 }), (taken) => {
        expect(clearArea(ALL, taken)).toBe(bruteForce(taken));
      }),
      { numRuns: 60 },
    );
  });

  it("of an empty box is the box, of a full one nothing", () => {
    expect(clearArea(ALL, [])).toBe(280);
    expect(clearArea(ALL, [ALL])).toBe(0);
  });
});
