/** What stays of a sheet, by hand. */
import { expect, test } from "vitest";
import { polygon, rectangle } from "../../../src/core/geometry/contour.ts";
import type { Box } from "../../../src/core/geometry/shape.ts";
import { offcutOf } from "../../../src/core/motion/cost/offcut.ts";

const SHEET = rectangle(0, 0, 300, 200);
const box = (x0: number, y0: number, x1: number, y1: number): Box => ({
  min: { x: x0, y: y0 },
  max: { x: x1, y: y1 },
});

test("the larger of the strips beside the plates, a kerf away from them", () => {
  // Right: 300 − 102 by 200; above: 300 by 200 − 92.
  const offcut = offcutOf(SHEET, [box(10, 10, 60, 90), box(60, 20, 100, 40)], 2);
  expect(offcut?.box).toEqual(box(102, 0, 300, 200));
  expect(offcut?.area).toBeCloseTo(198 * 200, 3);
});

test("strips that no arm fits on are waste, and so is a sheet full of plates", () => {
  expect(offcutOf(SHEET, [box(6, 6, 255, 155)], 2)).toBeUndefined();
  expect(offcutOf(SHEET, [box(6, 6, 248, 155)], 2)?.area).toBeCloseTo(50 * 200, 3);
  expect(offcutOf(SHEET, [], 2)).toBeUndefined();
});

test("on a sheet that is no rectangle only what is there counts", () => {
  const triangle = polygon([
    { x: 0, y: 0 },
    { x: 400, y: 0 },
    { x: 0, y: 400 },
  ]);
  // Right of x = 100: a triangle with legs of 300; above y = 100 as much: the first found.
  expect(offcutOf(triangle, [box(6, 6, 98, 98)], 2)?.area).toBeCloseTo((300 * 300) / 2, 2);
});
