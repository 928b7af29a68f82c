/** The tables: against their inch twin, between and beyond their rows. */
import { describe, expect, test } from "vitest";
import { chipBand } from "../../src/core/cutting/chip-band.ts";
import type { Cutter } from "../../src/core/cutting/cutter.ts";
import {
  CHIP_ROWS,
  chipRow,
  depthDerating,
  feedPerRevAt,
} from "../../src/core/cutting/data/chip-load.ts";
import { lifeOf } from "../../src/core/cutting/data/life.ts";
import { DENSITY, ENERGY_POINTS, specificEnergy } from "../../src/core/cutting/data/materials.ts";
import { cite } from "../../src/core/cutting/data/source.ts";
import { massOf } from "../../src/core/cutting/mass.ts";
import { chipThinning } from "../../src/core/cutting/physics/formulas.ts";
import { cutter } from "./ask.ts";

const slot = chipRow("carbon-woven", "diamond-router", "slot");
const light = chipRow("carbon-woven", "diamond-router", "light");

describe("SGS composite routers, inch table p. 12 against metric table p. 13", () => {
  const inches = [1 / 16, 1 / 8, 1 / 4, 3 / 8, 1 / 2];
  const slotInch = [0.0012, 0.0024, 0.0048, 0.009, 0.012];
  const lightInch = [0.0028, 0.0056, 0.0111, 0.0207, 0.0276];

  test.each([0, 1, 2, 3, 4])(
    "diameter %d: light over slot is 1/(2√(q(1−q))) at 5 %%, within 2 %",
    (i) => {
      const ratio = (lightInch[i] ?? 0) / (slotInch[i] ?? 1);
      expect(Math.abs(ratio / chipThinning(0.05) - 1)).toBeLessThan(0.02);
    },
  );
  test("the metric rows have the same ratio", () => {
    light.feeds.forEach(([d, f], i) => {
      expect(slot.feeds[i]?.[0]).toBe(d);
      expect(Math.abs(f / (slot.feeds[i]?.[1] ?? 1) / chipThinning(0.05) - 1)).toBeLessThan(0.02);
    });
  });
  test("feeds agree within the rounding of both tables", () => {
    // The metric table stands at 1.6, 3, 6, 10, 12: between them the inch sizes lie on its lines, within 7 %
    // where the printed figure has two digits.
    inches.slice(0, 4).forEach((inch, i) => {
      const metric = feedPerRevAt(slot, inch * 25.4).value;
      expect(Math.abs(metric / ((slotInch[i] ?? 0) * 25.4) - 1)).toBeLessThan(0.07);
    });
  });
  test.each([
    ["carbon-woven", "slot", 400, 120],
    ["carbon-quasi-isotropic", "profile", 500, 150],
    ["carbon-woven", "light", 825, 250],
    ["glass-epoxy", "slot", 320, 100],
    ["glass-epoxy", "profile", 400, 120],
    ["glass-epoxy", "light", 660, 200],
  ] as const)("%s %s: %d ft/min is %d m/min", (material, operation, feet, metres) => {
    const row = chipRow(material, "diamond-router", operation);
    expect(row.surfaceSpeed).toBe(metres);
    expect(Math.abs((feet * 0.3048) / metres - 1)).toBeLessThan(0.03);
    expect(row.speedSource.tag).toBe("printed");
  });
});

describe("between and beyond the rows", () => {
  test.each([
    [1.6, 0.03, "listed"],
    [3, 0.06, "listed"],
    [12, 0.305, "listed"],
    [2, 0.0386, "interpolated"],
    [3.175, 0.0635, "interpolated"],
    [8, 0.175, "interpolated"],
    [1, 0.01875, "extrapolated"],
    [1.5, 0.0281, "extrapolated"],
    [16, 0.305, "extrapolated"],
  ] as const)("Ø%d: %d mm/rev, %s", (diameter, feed, how) => {
    const looked = feedPerRevAt(slot, diameter);
    expect(looked.value).toBeCloseTo(feed, 4);
    expect(looked.how).toBe(how);
  });
  test("feed never falls as the diameter grows, in every row", () => {
    for (const row of CHIP_ROWS) {
      let last = 0;
      for (let d = 0.3; d < 20; d += 0.05) {
        const { value } = feedPerRevAt(row, d);
        expect(value).toBeGreaterThanOrEqual(last);
        last = value;
      }
    }
  });
  test("deep passes: all to 1 D, three quarters at 2 D, half at 3 D and beyond", () => {
    expect([0.2, 1, 1.5, 2, 3, 9].map(depthDerating)).toEqual([1, 1, 0.875, 0.75, 0.5, 0.5]);
  });
});

test("every row says who says so: only the router's chart is printed, trial board's is practice", () => {
  for (const row of CHIP_ROWS) {
    if (row.materials.includes("hardboard")) {
      expect(cite(row.feedSource)).toMatch(/^.{20,}\(common practice, no source\)$/);
      continue;
    }
    expect(cite(row.feedSource)).toMatch(/^.{20,}\((printed|from memory, \d+ % sure)\)$/);
    expect(row.feedSource.tag === "printed").toBe(row.kinds.includes("diamond-router"));
  }
});

test("specific energy passes through its points, falls with the chip and stays finite", () => {
  for (const [chip, u] of ENERGY_POINTS) expect(specificEnergy(chip)).toBeCloseTo(u, 9);
  let last = Number.POSITIVE_INFINITY;
  for (let h = 0.0001; h < 1; h *= 1.3) {
    const u = specificEnergy(h);
    expect(u).toBeLessThanOrEqual(last);
    expect(u).toBeGreaterThan(0);
    last = u;
  }
});

describe("chip band", () => {
  test("the chart's feeds lie inside, slot and light, for all routers, sizes and coats", () => {
    for (const kind of ["diamond-router", "two-flute", "compression"] as const) {
      for (const coating of ["none", "dlc", "diamond"] as const) {
        for (const diameter of [1, 1.5, 2, 3.175, 6]) {
          const c: Cutter = cutter({ kind, coating, diameter });
          const band = chipBand(c, "carbon-woven");
          const f = feedPerRevAt(chipRow("carbon-woven", kind, "slot"), diameter).value;
          const l = feedPerRevAt(chipRow("carbon-woven", kind, "light"), diameter).value;
          // Ramps run at half the slot's feed.
          expect(band.least).toBeLessThan(f / 2);
          expect(band.mostAtFullWidth).toBeGreaterThan(f);
          expect(band.most).toBeGreaterThanOrEqual(l);
        }
      }
    }
  });
  test("a quarter over the chart at full width; a third of the edge radius on each tooth at least", () => {
    const band = chipBand(cutter({ diameter: 3 }), "glass-epoxy");
    expect(band.mostAtFullWidth).toBeCloseTo(0.06 * 1.25, 12);
    expect(band.most).toBeCloseTo(0.14, 12);
    expect(band.least).toBeCloseTo(2 * 0.3 * 0.005, 12);
  });
});

test("life: DLC half as long again as uncoated, diamond ten times, the user's figure before all", () => {
  const bare = lifeOf(cutter({})).metres;
  expect(lifeOf(cutter({ coating: "dlc" })).metres / bare).toBeCloseTo(1.5, 12);
  expect(lifeOf(cutter({ coating: "diamond" })).metres / bare).toBeCloseTo(10, 12);
  expect(5.9 / 1.46).toBeCloseTo(bare, 1);
  const own = lifeOf(cutter({ lifeMetres: 7.5 }));
  expect(own.metres).toBe(7.5);
  expect(own.source.tag).toBe("the user's own");
});

test("mass: 10 000 mm² of 2 mm carbon is 31 g, 29 to 32; of glass 37 g", () => {
  const carbon = massOf(10_000, 2, "carbon-woven");
  expect(carbon.g).toBeCloseTo(31, 9);
  expect([carbon.least, carbon.most]).toEqual([29, 32]);
  expect(massOf(10_000, 2, "glass-epoxy").g).toBeCloseTo(37, 9);
  expect(DENSITY["glass-epoxy"].source.tag).toBe("printed");
});
