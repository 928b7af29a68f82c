/** Strip packing: sound layouts by another polygon library, the same twice, and short where the answer is known. */
import { describe, expect, it } from "vitest";
import type { Turn } from "../../src/core/layout/search/contact/forms.ts";
import { packStrip, type StripLayout } from "../../src/core/layout/search/strip/strip.ts";
import { type Instance, kindsOf, pieceList } from "../bench/layout/instance.ts";
import { faultsOf } from "../bench/layout/validate.ts";

/** A rectangle of 60 × 40 cut into pieces: it can be put together again, and no strip is shorter. */
const CUT_UP: Instance = {
  name: "cut-up",
  stripWidth: 40,
  totalArea: 2400,
  pieces: [
    {
      id: "a",
      quantity: 1,
      rotations: [0],
      points: [
        [0, 0],
        [25, 0],
        [15, 20],
        [0, 20],
      ],
    },
    {
      id: "b",
      quantity: 1,
      rotations: [0],
      points: [
        [0, 0],
        [35, 0],
        [35, 15],
        [10, 20],
        [-10, 20],
      ],
    },
    {
      id: "c",
      quantity: 1,
      rotations: [0],
      points: [
        [0, 0],
        [15, 0],
        [30, 20],
        [0, 20],
      ],
    },
    {
      id: "d",
      quantity: 1,
      rotations: [0],
      points: [
        [0, 0],
        [20, 0],
        [45, -5],
        [45, 20],
        [15, 20],
      ],
    },
  ],
};

/** Forks that lie into one another, a frame's worth of small squares, and turns. */
const FORKS: Instance = {
  name: "forks",
  stripWidth: 30,
  totalArea: 6 * 112 + 8 * 16,
  pieces: [
    {
      id: "fork",
      quantity: 6,
      rotations: [0, 180],
      points: [
        [0, 0],
        [12, 0],
        [12, 12],
        [8, 12],
        [8, 4],
        [4, 4],
        [4, 12],
        [0, 12],
      ].map(([x, y]) => [x, y] as [number, number]),
    },
    {
      id: "square",
      quantity: 8,
      rotations: [0],
      points: [
        [0, 0],
        [4, 0],
        [4, 4],
        [0, 4],
      ],
    },
  ],
};

function pack(instance: Instance, seed: number, steps: number): StripLayout {
  const layout = packStrip({
    width: instance.stripWidth,
    kinds: kindsOf(instance),
    pieces: pieceList(instance),
    seed,
    spent: (s) => s / steps,
  });
  if (layout === undefined) throw new Error("fits no strip");
  return layout;
}

describe("strip packing", () => {
  it("puts a cut-up rectangle together again", () => {
    const layout = pack(CUT_UP, 1, 1_000_000);
    expect(faultsOf(CUT_UP, layout)).toEqual([]);
    expect(layout.length).toBeLessThan(60 * 1.01);
    expect(layout.length).toBeGreaterThan(60 - 1e-6);
  });

  it("is sound for any seed and budget, and shorter for a larger one", () => {
    for (let seed = 1; seed <= 6; seed++) {
      const short = pack(FORKS, seed, 3000);
      const long = pack(FORKS, seed, 60_000);
      expect(faultsOf(FORKS, short)).toEqual([]);
      expect(faultsOf(FORKS, long)).toEqual([]);
      const used = long.length * FORKS.stripWidth;
      expect(used).toBeGreaterThan(FORKS.totalArea - 1e-6);
      // Rows of boxes reach 0.74: two forks high, three wide, the squares in a row above.
      expect(FORKS.totalArea / used).toBeGreaterThan(0.8);
    }
  });

  it("gives the same layout twice for one seed, and others for others", () => {
    const once = pack(FORKS, 3, 20_000);
    expect(pack(FORKS, 3, 20_000)).toEqual(once);
    expect(pack(FORKS, 4, 20_000).places).not.toEqual(once.places);
  });

  it("has no answer where a piece is wider than the strip in every turn", () => {
    const turns: Turn[] = [{ deg: 0, flipped: false }];
    const outline = { outer: [0, 0, 5, 0, 5, 50, 0, 50], holes: [] };
    const kinds = [{ outline, grown: new Map([[0, outline]]), level: 0, turns }];
    expect(packStrip({ width: 40, kinds, pieces: [0], seed: 1, spent: () => 1 })).toBeUndefined();
  });

  it("finds a fault in a layout that has one", () => {
    const layout = pack(FORKS, 1, 3000);
    const [first, ...others] = layout.places;
    if (first === undefined) throw new Error("empty");
    const second = others.find((p) => p.kind === first.kind) ?? first;
    const onto = { ...layout, places: [{ ...second, x: second.x + 1 }, ...others] };
    expect(faultsOf(FORKS, onto).join()).toContain("overlap");
    const turned = { ...layout, places: [{ ...first, deg: 90 }, ...others] };
    expect(faultsOf(FORKS, turned).join()).toContain("turned");
    const lost = { ...layout, places: others };
    expect(faultsOf(FORKS, lost).join()).toContain("copies");
    const out = { ...layout, length: layout.length - 0.1 };
    expect(faultsOf(FORKS, out).join()).toContain("outside");
  });
});
