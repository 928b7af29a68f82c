import fc from "fast-check";
import { expect, test } from "vitest";
import { contains, distanceTo } from "../../src/core/geometry/contour.ts";
import { arc, line } from "../../src/core/geometry/segment.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";
import { curveOf } from "../../src/core/proof/removal/curve.ts";
import { insideRing } from "../../src/core/proof/removal/inside.ts";

/** A slot's contour, turned by quarter turns and run either way: its chords lie along the axes. */
function slot(turns: number, reversed: boolean): Contour {
  const turn = (p: Point): Point => {
    let q = p;
    for (let i = 0; i < turns; i++) q = { x: -q.y, y: q.x };
    return q;
  };
  const p = (x: number, y: number): Point => turn({ x, y });
  const segments = [
    arc(p(-1, 0), p(1, 0), p(0, 0), true),
    line(p(1, 0), p(1, 4)),
    arc(p(1, 4), p(-1, 4), p(0, 4), true),
    line(p(-1, 4), p(-1, 0)),
  ];
  if (!reversed) return { segments };
  return {
    segments: [
      line(p(-1, 0), p(-1, 4)),
      arc(p(-1, 4), p(1, 4), p(0, 4), false),
      line(p(1, 4), p(1, 0)),
      arc(p(1, 0), p(-1, 0), p(0, 0), false),
    ],
  };
}

// A path along a slot's end once began on the chord of that end, and was taken for one in the plate.
test("a point on a chord is inside as its neighbours are, whichever way the ring runs", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 3 }),
      fc.boolean(),
      fc.integer({ min: -30, max: 30 }),
      fc.integer({ min: -60, max: 60 }),
      (turns, reversed, i, j) => {
        const ring = slot(turns, reversed);
        const at = { x: i / 10, y: j / 10 };
        fc.pre(distanceTo(ring, at) > 1e-9);
        expect(insideRing(ring.segments.map(curveOf), at.x, at.y)).toBe(contains(ring, at));
      },
    ),
    { numRuns: 500 },
  );
});
