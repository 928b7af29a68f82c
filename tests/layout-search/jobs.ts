/** Seeded jobs for the search: plates with windows, odd sheets, keep-outs, fixed places, several sheets. */
import fc from "fast-check";
import { polygon, rectangle } from "../../src/core/geometry/contour.ts";
import { arc, circle, line } from "../../src/core/geometry/segment.ts";
import type { Contour } from "../../src/core/geometry/shape.ts";
import type { KeepOut, Sheet } from "../../src/core/layout/layout.ts";
import type { PlateOrder } from "../../src/core/layout/riders.ts";
import type { Plate } from "../../src/core/plate/plate.ts";
import { plateOf, sheetOf } from "../layout/support.ts";

export interface Job {
  readonly sheet: Sheet;
  readonly plates: PlateOrder[];
  readonly widestCutter: number;
  readonly seed: number;
}

const tenths = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: min * 10, max: max * 10 }).map((i) => i / 10);

function lShape(w: number, h: number, t: number): Contour {
  return polygon([
    { x: 0, y: 0 },
    { x: w, y: 0 },
    { x: w, y: t },
    { x: t, y: t },
    { x: t, y: h },
    { x: 0, y: h },
  ]);
}

function stadium(w: number): Contour {
  const a = { x: 0, y: 0 };
  const b = { x: w, y: 0 };
  const c = { x: w, y: 10 };
  const d = { x: 0, y: 10 };
  return {
    segments: [
      line(a, b),
      arc(b, c, { x: w, y: 5 }, true),
      line(c, d),
      arc(d, a, { x: 0, y: 5 }, true),
    ],
  };
}

/** A frame with one round or square window, wide enough for small plates. */
function framed(w: number, h: number, round: boolean): Plate {
  const least = Math.min(w, h);
  const window = round
    ? { segments: [circle({ x: w / 2, y: h / 2 }, least / 2 - 8, false)] }
    : rectangle(8, 8, w - 8, h - 8);
  return plateOf("framed", rectangle(0, 0, w, h), [window]);
}

const plate: fc.Arbitrary<Plate> = fc.oneof(
  fc
    .tuple(tenths(8, 80), tenths(8, 60))
    .map(([w, h]) => plateOf("r", rectangle(-w / 3, 5, w, 5 + h))),
  tenths(5, 30).map((r) => plateOf("d", { segments: [circle({ x: 40, y: -12 }, r, true)] })),
  fc
    .tuple(tenths(15, 70), tenths(15, 60), tenths(5, 12))
    .map(([w, h, t]) => plateOf("l", lShape(w, h, t))),
  tenths(6, 60).map((w) => plateOf("s", stadium(w))),
  fc
    .tuple(tenths(50, 110), tenths(50, 90), fc.boolean())
    .map(([w, h, round]) => framed(w, h, round)),
);

/** An L-shaped offcut with a round inside corner, or a plain rectangle. */
const sheetOutline: fc.Arbitrary<Contour> = fc.oneof(
  fc.tuple(tenths(120, 320), tenths(100, 240)).map(([w, h]) => rectangle(0, 0, w, h)),
  fc.tuple(tenths(200, 320), tenths(150, 240)).map(([w, h]) => {
    const p = { x: 90, y: 80 };
    const q = { x: 80, y: 90 };
    return {
      segments: [
        line({ x: 0, y: 0 }, { x: w, y: 0 }),
        line({ x: w, y: 0 }, { x: w, y: 80 }),
        line({ x: w, y: 80 }, p),
        arc(p, q, { x: 90, y: 90 }, false),
        line(q, { x: 80, y: h }),
        line({ x: 80, y: h }, { x: 0, y: h }),
        line({ x: 0, y: h }, { x: 0, y: 0 }),
      ],
    };
  }),
);

const keepOut: fc.Arbitrary<KeepOut> = fc.oneof(
  fc.record({
    kind: fc.constant("disc" as const),
    at: fc.record({ x: tenths(0, 120), y: tenths(0, 100) }),
    diameter: tenths(4, 20),
  }),
  fc.tuple(tenths(0, 100), tenths(0, 90), tenths(2, 30), tenths(2, 30)).map(([x, y, w, h]) => ({
    kind: "box" as const,
    box: { min: { x, y }, max: { x: x + w, y: y + h } },
  })),
);

const order = fc.record({
  plate,
  count: fc.integer({ min: 1, max: 5 }),
  gap: tenths(0, 9),
  fibreDeg: fc.constantFrom(undefined, 0, 45, 90),
  mayFlip: fc.boolean(),
  mayCross: fc.boolean(),
  fixed: fc.boolean(),
});

export const job: fc.Arbitrary<Job> = fc
  .record({
    outline: sheetOutline,
    margin: tenths(0, 8),
    fibreDeg: fc.constantFrom(0, 30, 90),
    keepOuts: fc.array(keepOut, { maxLength: 2 }),
    count: fc.integer({ min: 1, max: 3 }),
    plates: fc.array(order, { minLength: 1, maxLength: 4 }),
    widestCutter: fc.constantFrom(1, 1.97, 3.175),
    seed: fc.nat(),
  })
  .map((j) => ({
    sheet: {
      ...sheetOf(j.outline, { margin: j.margin, fibreDeg: j.fibreDeg, keepOuts: j.keepOuts }),
      count: j.count,
    },
    plates: j.plates.map(({ fixed, ...p }, i) => ({
      ...p,
      plate: { ...p.plate, name: `${p.plate.name}${i}` },
      sheet: "s",
      // One fixed place at most, well inside, so that most jobs are not stopped by it.
      place: fixed && i === 0 ? [placeFor(p.plate)] : undefined,
    })),
    widestCutter: j.widestCutter,
    seed: j.seed,
  }));

function placeFor({ bounds }: Plate): {
  x: number;
  y: number;
  rotationDeg: number;
  flipped: boolean;
} {
  return { x: 12 - bounds.min.x, y: 12 - bounds.min.y, rotationDeg: 0, flipped: false };
}
