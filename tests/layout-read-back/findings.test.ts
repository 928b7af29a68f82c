/** Moves of any kind are found, and what is no move is told, by small plates whose shape is known. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { polygon, rectangle } from "../../src/core/geometry/contour.ts";
import { circle, placePoint } from "../../src/core/geometry/segment.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";
import { layeredDxf } from "../../src/core/layout/drawn/layout-dxf.ts";
import { rigidOf } from "../../src/core/layout/fixed.ts";
import { withDrawnPlaces } from "../../src/core/layout/read-back/drawn-places.ts";
import type { PlateOrder } from "../../src/core/layout/riders.ts";
import { plateOf, sheetOf } from "../layout/support.ts";
import { layersOf, type Move, moveDxf } from "./move-dxf.ts";

const disc = (x: number, y: number, d: number): Contour => ({
  segments: [circle({ x, y }, d / 2, true)],
});

/** Looks the same from no side. */
const HOOK = polygon(
  [
    [0, 0],
    [40, 0],
    [40, 10],
    [12, 10],
    [12, 30],
    [0, 26],
  ].map(([x = 0, y = 0]) => ({ x, y })),
);
const SHEET = rectangle(0, 0, 300, 200);

function order(
  outer: Contour,
  windows: readonly Contour[],
  more: Partial<PlateOrder> = {},
): PlateOrder {
  return { plate: plateOf("part", outer, windows), sheet: "s", count: 1, gap: 6, ...more };
}

function drawnAs(of: PlateOrder, layers: readonly string[] = ["PLATE part 1"]): string {
  const contours = [of.plate.outer, ...of.plate.features.map((f) => f.contour)];
  return layeredDxf([
    { name: "SHEET", colour: 8, contours: [SHEET] },
    ...layers.map((name) => ({ name, colour: 5, contours })),
  ]);
}

function read(of: PlateOrder, bytes: string, fibreDeg = 0): ReturnType<typeof withDrawnPlaces> {
  const sheet = sheetOf(SHEET, { fibreDeg });
  return withDrawnPlaces({ file: "hand.dxf", bytes, sheet, orders: [of] });
}

function codes(of: PlateOrder, bytes: string): string[] {
  return read(of, bytes).findings.map((f) => f.code);
}

const onPlates =
  (move: Move) =>
  (layer: string): Move | undefined =>
    layer.startsWith("PLATE") ? move : undefined;

/** Where a point of the plate must be, by the drawing program's own reckoning. */
function movedTo(p: Point, move: Move): Point {
  const a = (move.turn * Math.PI) / 180;
  const x = move.mirrored === true ? -p.x : p.x;
  return {
    x: x * Math.cos(a) - p.y * Math.sin(a) + move.x,
    y: x * Math.sin(a) + p.y * Math.cos(a) + move.y,
  };
}

describe("a plate's place as drawn", () => {
  const shapes: Readonly<Record<string, PlateOrder>> = {
    hook: order(HOOK, []),
    "square with one hole off its middle": order(rectangle(-20, -20, 20, 20), [disc(11, 3, 5)]),
    "disc with holes": order(disc(5, 5, 60), [disc(20, 5, 4), disc(5, 12, 6), disc(-9, 5, 4)]),
    "disc with a hook in its middle": order(disc(20, 13, 90), [HOOK]),
  };
  it.each(Object.entries(shapes))("is that of any move: %s", (_, of) => {
    const moves = fc.record({
      turn: fc.double({ min: -360, max: 360, noNaN: true }),
      x: fc.double({ min: -500, max: 500, noNaN: true }),
      y: fc.double({ min: -500, max: 500, noNaN: true }),
    });
    const habits = fc.record({
      start: fc.nat(7),
      reversed: fc.boolean(),
      exploded: fc.boolean(),
      decimals: fc.constantFrom(3, 6, 9),
    });
    fc.assert(
      fc.property(moves, habits, (move, habit) => {
        const { value, findings } = read(of, moveDxf(drawnAs(of), onPlates(move), habit));
        expect(findings.map((f) => f.code)).toEqual(["layout-read"]);
        const place = value[0]?.place?.[0];
        if (place === undefined) throw new Error("no place");
        for (const p of [of.plate.bounds.min, of.plate.bounds.max]) {
          const [a, b] = [placePoint(p, rigidOf(place)), movedTo(p, move)];
          // Coordinates come on a grid of 1e-4; three decimals are 5e-4 off each way, more at the edge than at the holes that tell the turn.
          expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeLessThan(
            habit.decimals === 3 ? 0.004 : 1e-3,
          );
        }
      }),
      { numRuns: 60 },
    );
  });

  it("is turned over only where nothing else lays it there, and the job allows it", () => {
    const move: Move = { turn: 33, x: 80, y: 70, mirrored: true };
    const may = order(HOOK, [disc(6, 6, 4)], { mayFlip: true });
    const { value, findings } = read(may, moveDxf(drawnAs(may), onPlates(move)));
    expect(findings.map((f) => f.code)).toEqual(["layout-read"]);
    expect(value[0]?.place?.[0]?.flipped).toBe(true);
    const mayNot = order(HOOK, [disc(6, 6, 4)]);
    expect(codes(mayNot, moveDxf(drawnAs(mayNot), onPlates(move)))).toContain("layout-turned-over");
    const even = order(rectangle(0, 0, 30, 10), [disc(15, 5, 4)], { mayFlip: true });
    const laid = read(even, moveDxf(drawnAs(even), onPlates(move))).value[0]?.place?.[0];
    expect(laid?.flipped).toBe(false);
  });

  it("is along the fibres where its turns look alike", () => {
    const square = order(rectangle(-10, -10, 10, 10), [], { fibreDeg: 0 });
    for (const fibreDeg of [0, 90]) {
      const { value } = read(
        square,
        moveDxf(drawnAs(square), onPlates({ turn: 90, x: 50, y: 50 })),
        fibreDeg,
      );
      expect(value[0]?.place?.[0]?.rotationDeg).toBeCloseTo(fibreDeg, 6);
    }
    const round = order(disc(0, 0, 30), [disc(0, 0, 5)], { fibreDeg: 20 });
    const { value } = read(round, moveDxf(drawnAs(round), onPlates({ turn: 7, x: 50, y: 50 })), 50);
    expect(value[0]?.place?.[0]?.rotationDeg).toBeCloseTo(30, 6);
  });

  it("is told from the sheet's corner, wherever the drawing has it", () => {
    const hook = order(HOOK, []);
    const all = moveDxf(drawnAs(hook), () => ({ turn: 0, x: -713, y: 96 }));
    const place = read(hook, all).value[0]?.place?.[0];
    expect(place?.x).toBeCloseTo(0, 6);
    expect(place?.y).toBeCloseTo(0, 6);
  });
});

describe("what is no move of a plate", () => {
  const hook = order(HOOK, [disc(6, 6, 4)], { count: 2 });
  const one = drawnAs(hook);

  it("is a plate of another size", () => {
    const { findings } = read(hook, moveDxf(one, onPlates({ turn: 5, x: 40, y: 40, scale: 25.4 })));
    const scaled = findings.find((f) => f.code === "layout-scaled");
    expect(scaled?.severity).toBe("stop");
    expect(scaled?.data["scale"]).toBeCloseTo(25.4, 3);
    expect(scaled?.drawing?.file).toBe("hand.dxf");
    expect(scaled?.hint).toBeDefined();
  });

  it("is another outline", () => {
    const other = drawnAs(order(rectangle(0, 0, 40, 18), []));
    expect(codes(hook, other)).toEqual(["layout-no-match"]);
    const nearly = order(
      polygon(HOOK.segments.map(({ from: p }) => ({ ...p, x: p.x === 12 ? 12.05 : p.x }))),
      [],
    );
    expect(codes(hook, drawnAs(nearly))).toEqual(["layout-no-match"]);
  });

  it("is a plate drawn twice", () => {
    const again = moveDxf(one, onPlates({ turn: 90, x: 150, y: 90 }));
    const entities = again.slice(again.indexOf("ENTITIES\n") + 9);
    const both = moveDxf(one, () => undefined).replace(
      "ENTITIES\n",
      `ENTITIES\n${entities.slice(0, entities.indexOf("0\nENDSEC"))}`,
    );
    expect(layersOf(both)).toContain("PLATE part 1");
    const { findings, value } = read(hook, both);
    expect(findings.map((f) => f.code)).toEqual(["layout-drawn-twice"]);
    expect(value[0]?.place?.some((p) => p !== undefined) ?? false).toBe(false);
  });

  it("is a layer of another name, or of a copy too many", () => {
    expect(codes(hook, drawnAs(hook, ["PLATE prat 1"]))).toEqual(["layout-unknown-plate"]);
    expect(codes(hook, drawnAs(hook, ["PLATE part 3"]))).toEqual(["layout-unknown-copy"]);
    expect(codes(hook, drawnAs(hook, ["plate_PART_2"]))).toEqual(["layout-read"]);
    expect(codes(hook, drawnAs(hook, ["other"]))).toEqual(["layout-empty"]);
  });

  it("is what lies beside it, open, or inside it otherwise", () => {
    const layer = (contours: readonly Contour[]): string =>
      layeredDxf([{ name: "PLATE part 1", colour: 5, contours }]);
    expect(codes(hook, layer([HOOK, disc(6, 6, 4), disc(90, 90, 8)]))).toContain("layout-stray");
    expect(codes(hook, layer([HOOK]))).toEqual(["layout-other-openings", "layout-read"]);
    expect(codes(hook, layer([HOOK, disc(7, 6, 4)]))).toContain("layout-other-openings");
    const open = moveDxf(layer([HOOK]), () => undefined).replace(/\n70\n1\n/, "\n70\n0\n");
    expect(codes(hook, open)).toContain("layout-without-outline");
  });

  it("is a place that the job has already, where it is another one", () => {
    const own = { x: 20, y: 30, rotationDeg: 15, flipped: false };
    const fixed = order(HOOK, [], { place: [own] });
    const there = moveDxf(drawnAs(fixed), onPlates({ turn: 15, x: 20, y: 30 }));
    expect(codes(fixed, there)).toEqual(["layout-read"]);
    const { value, findings } = read(fixed, drawnAs(fixed));
    expect(findings.map((f) => f.code)).toContain("layout-and-place");
    expect(value[0]?.place).toEqual([own]);
  });

  it("is no drawing at all, or one of another sheet", () => {
    expect(codes(hook, "not a drawing")).toContain("not-a-drawing");
    const other = one.replaceAll("\n300\n", "\n280\n");
    expect(codes(hook, other)).toEqual(["layout-other-sheet", "layout-read"]);
  });
});
