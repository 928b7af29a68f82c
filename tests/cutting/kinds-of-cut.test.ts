/** Profiling and light passes by hand, and the user's own figures in the chart's place. */
import { describe, expect, test } from "vitest";
import { chipBand } from "../../src/core/cutting/chip-band.ts";
import { feedPerRevAt, rowFor } from "../../src/core/cutting/data/chip-load.ts";
import { chooseRates } from "../../src/core/cutting/rates.ts";
import { ask, cutter, router, spindle } from "./ask.ts";

/** J/mm³: straight lines on log-log paper through the planning values. */
function energyByHand(chip: number): number {
  const points = [
    [0.01, 2],
    [0.02, 1.05],
    [0.05, 0.6],
    [0.1, 0.3],
  ] as const;
  const k = chip < 0.02 ? 1 : chip < 0.05 ? 2 : 3;
  const [h0, u0] = points[k - 1] ?? [1, 1];
  const [h1, u1] = points[k] ?? [1, 1];
  return (
    10 ** (Math.log10(u0) + (Math.log10(u1 / u0) * Math.log10(chip / h0)) / Math.log10(h1 / h0))
  );
}

/** mm of deflection, N/mm² and W for each mm of depth: the same beam and energy, written out anew. */
function perMm(d: number, width: number, feed: number, rpm: number) {
  const q = width / d;
  const chip = (2 * q * (feed / rpm / 2)) / Math.acos(1 - 2 * q);
  const power = (energyByHand(chip) * width * feed) / 60;
  const force = (60 * power) / ((Math.PI * d * rpm) / 1000);
  const [flute, overhang] = [4 * d, 4 * d + 6];
  const i1 = (Math.PI * (0.8 * d) ** 4) / 64;
  const i2 = (Math.PI * 3.175 ** 4) / 64;
  const bends = (force / 1_800_000) * (flute ** 3 / i1 + (overhang ** 3 - flute ** 3) / i2);
  const stress = Math.max(
    (32 * force * flute) / (Math.PI * (0.8 * d) ** 3),
    (32 * force * overhang) / (Math.PI * 3.175 ** 3),
  );
  return { bends, stress, power };
}

/** Feed per revolution of the rows profile and light (SGS p. 13); Ø1 by proportion from Ø1.6. */
const ROWS = [
  { d: 1, profile: 0.01875, light: 0.04375 },
  { d: 2, profile: 0.03 + (0.4 / 1.4) * 0.03, light: 0.07 + (0.4 / 1.4) * 0.07 },
  { d: 3.175, profile: 0.06 + (0.175 / 3) * 0.06, light: 0.14 + (0.175 / 3) * 0.14 },
] as const;

const SPINDLES = [
  [6000, 12_000],
  [8000, 24_000],
  [10_000, 30_000],
] as const;

describe.each(SPINDLES)("on %d–%d rpm in carbon", (min, max) => {
  test.each(ROWS)("Ø$d: profile and light", ({ d, profile, light }) => {
    const tool = cutter({ diameter: d, fluteLength: 4 * d, overhang: 4 * d + 6 });
    const value = chooseRates(ask({ cutter: tool, machine: spindle(min, max) })).value;
    const of = (operation: string) => value.passes?.find((p) => p.operation === operation);
    const kinds = [
      // Rows: ae ≤ 0.5 D, ap ≤ 1.5 D, half of it taken; ae ≤ 0.05 D, the whole flute, through 3.25 mm of sheet.
      { operation: "profile", perRev: profile, width: d / 2, charted: 0.75 * d },
      { operation: "light", perRev: light, width: d / 20, charted: 3.25 },
    ];
    for (const { operation, perRev, width, charted } of kinds) {
      const feed = Math.floor(Math.min(2500, perRev * value.rpm) + 1e-9);
      expect(of(operation)?.feed).toBe(feed);
      const load = perMm(d, width, feed, value.rpm);
      const limits = [
        charted,
        4 * d,
        0.025 / load.bends,
        800 / load.stress,
        (0.8 * 500) / load.power,
      ];
      const depth = Math.floor(100 * Math.min(...limits, 3.25) + 1e-9) / 100;
      expect(of(operation)?.passDepth).toBeCloseTo(depth, 9);
      expect(of(operation)?.deflectionMm).toBeCloseTo(depth * load.bends, 9);
      expect(of(operation)?.powerW).toBeCloseTo(depth * load.power, 6);
      expect(of(operation)?.widest).toBeCloseTo(width, 12);
    }
    expect(of("slot")).toMatchObject({ feed: value.feed, passDepth: value.passDepth });
  });
});

test("every kind of cut has its feed and depth explained, with what limits them", () => {
  const { value } = chooseRates(ask());
  for (const operation of ["profile", "light"]) {
    const feed = value.steps.find((s) => s.quantity === `feed, ${operation} cut`);
    const depth = value.steps.find((s) => s.quantity === `pass depth, ${operation} cut`);
    expect(feed?.source).toMatch(/SGS .*\(printed\)$/);
    expect(depth?.formula).toMatch(
      /table .*flute length .*deflection .*cutter stress .*spindle power/,
    );
  }
  const slow = chooseRates(ask({ machine: router({ maxFeed: [1000, 1000, 600] }) })).value;
  expect(slow.passes?.find((p) => p.operation === "light")?.limitedBy).toContain("machine feed");
});

test("the centre's feed in a bore of 1.6 D is 0.6/1.6 of the slot's (Sandvik p. 117)", () => {
  const { value } = chooseRates(ask());
  const bore = value.steps.find((s) => s.quantity.startsWith("centre feed in a bore"));
  expect(bore?.value).toBe(Math.floor(736 * 0.375));
});

test("the row's validity stands with the figure taken from it", () => {
  const { value } = chooseRates(ask());
  const step = value.steps.find((s) => s.quantity === "feed per revolution");
  expect(step?.formula).toBe(
    "row slot (ae to 1 D, ap to 1 D, Ø1.6–12), interpolated from Ø1.6 and Ø3",
  );
});

describe("the user's own figures", () => {
  const own = cutter({ kind: "two-flute", feedPerRev: 0.05, surfaceSpeed: 100 });

  test("take the chart's place, and are said to be the user's", () => {
    const { value, findings } = chooseRates(ask({ cutter: own, machine: spindle(1000, 60_000) }));
    // n = 100 000 ÷ (2π), to tens; f n.
    expect(value.rpm).toBe(15_920);
    expect(value.feed).toBe(796);
    expect(findings.map((f) => f.code)).not.toContain("chip-load-not-published");
    const step = value.steps.find((s) => s.quantity === "feed per revolution");
    expect(step?.source).toContain("(the user's own)");
  });

  test("light cuts keep the chart's ratio to a slot", () => {
    const light = rowFor(own, "carbon-woven", "light");
    expect(feedPerRevAt(light, 2).value).toBeCloseTo((0.05 * 0.07) / 0.03, 9);
    expect(light.surfaceSpeed).toBeCloseTo((100 * 250) / 120, 9);
  });

  test("a blunt edge wants a thicker chip", () => {
    const band = (edgeRadius: number): number =>
      chipBand(cutter({ edgeRadius }), "carbon-woven").least;
    expect(band(0.02)).toBeCloseTo(0.3 * 0.02 * 2, 12);
    expect(band(0.02) / band(0.005)).toBeCloseTo(4, 9);
  });

  test("figures that are none are refused", () => {
    for (const bad of [{ feedPerRev: 0 }, { surfaceSpeed: Number.NaN }, { edgeRadius: -1 }]) {
      const { findings } = chooseRates(ask({ cutter: cutter(bad) }));
      expect(findings.map((f) => f.code)).toEqual(["rates-measure-invalid"]);
    }
  });
});
