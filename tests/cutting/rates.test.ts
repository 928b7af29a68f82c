/** Rates by hand, and what holds for all of them. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Cutter, RateStep } from "../../src/core/cutting/cutter.ts";
import { chooseRates } from "../../src/core/cutting/rates.ts";
import { ratesJson, ratesText } from "../../src/core/cutting/rates-text.ts";
import { ask, cutter, router, spindle } from "./ask.ts";

function step(steps: readonly RateStep[], quantity: string): number {
  const found = steps.find((s) => s.quantity === quantity);
  if (found === undefined) throw new Error(`no step ${quantity}`);
  return found.value;
}

/** J/mm³ at a chip between 0.005 and 0.05: straight lines on log-log paper through 2, 1.05, 0.6. */
function energyByHand(chip: number): number {
  const [h0, u0, h1, u1] = chip < 0.02 ? [0.01, 2, 0.02, 1.05] : [0.02, 1.05, 0.05, 0.6];
  const slope = (Math.log10(u1) - Math.log10(u0)) / (Math.log10(h1) - Math.log10(h0));
  return 10 ** (Math.log10(u0) + slope * (Math.log10(chip) - Math.log10(h0)));
}

/**
 * Ø, spindle range → rpm, feed, light or thinned finishing feed, by hand: n = 120 000 ÷ (π D) in range, to
 * tens; f 0.01875, 0.03857, 0.06350 mm/rev (SGS p. 13, the first by proportion); f light at Ø2 0.09,
 * at Ø3.175 0.14817; at Ø1 0.1 mm is 10 % of the diameter: × 1.6667 for the chip, × 0.5 because 3.25 mm is
 * 2.17 times 1.5 D (1 − 0.25·1.167 = 0.708).
 */
const BY_HAND = [
  { d: 1, min: 6000, max: 12_000, rpm: 12_000, feed: 225, finish: 265 },
  { d: 1, min: 8000, max: 24_000, rpm: 24_000, feed: 450, finish: 531 },
  { d: 1, min: 10_000, max: 30_000, rpm: 30_000, feed: 562, finish: 664 },
  { d: 2, min: 6000, max: 12_000, rpm: 12_000, feed: 462, finish: 1080 },
  { d: 2, min: 8000, max: 24_000, rpm: 19_100, feed: 736, finish: 1719 },
  { d: 2, min: 10_000, max: 30_000, rpm: 19_100, feed: 736, finish: 1719 },
  { d: 3.175, min: 6000, max: 12_000, rpm: 12_000, feed: 762, finish: 1778 },
  { d: 3.175, min: 8000, max: 24_000, rpm: 12_030, feed: 763, finish: 1782 },
  { d: 3.175, min: 10_000, max: 30_000, rpm: 12_030, feed: 763, finish: 1782 },
] as const;

describe.each(BY_HAND)("Ø$d on $min–$max rpm in carbon", ({ d, min, max, rpm, feed, finish }) => {
  const tool = cutter({ diameter: d, fluteLength: 4 * d, overhang: 4 * d + 6 });
  const outcome = chooseRates(ask({ cutter: tool, machine: spindle(min, max) }));
  const rates = outcome.value;

  test("speed and feeds", () => {
    expect(rates.rpm).toBe(rpm);
    expect(rates.feed).toBe(feed);
    expect(rates.finishFeed).toBe(finish);
    expect(rates.feedPerRev).toBeCloseTo(feed / rpm, 12);
    expect(rates.surfaceSpeed).toBeCloseTo((Math.PI * d * rpm) / 1000, 9);
    // Two teeth: half; Z could do 600.
    expect(rates.rampFeed).toBe(Math.floor(feed / 2));
    expect(rates.plungeFeed).toBe(Math.floor(feed / 2));
  });

  test("power, force, deflection, stress", () => {
    const chip = (feed / rpm / 2) * (2 / Math.PI);
    const u = energyByHand(chip);
    const power = (u * d * rates.passDepth * feed) / 60;
    const force = (power * 60) / ((Math.PI * d * rpm) / 1000);
    const flute = 4 * d;
    const overhang = 4 * d + 6;
    const i1 = (Math.PI * (0.8 * d) ** 4) / 64;
    const i2 = (Math.PI * 3.175 ** 4) / 64;
    const y = (force / (3 * 600_000)) * (flute ** 3 / i1 + (overhang ** 3 - flute ** 3) / i2);
    expect(rates.powerW).toBeCloseTo(power, 6);
    expect(step(rates.steps, "specific energy")).toBeCloseTo(u, 6);
    expect(step(rates.steps, "cutting force")).toBeCloseTo(force, 6);
    expect(rates.deflectionMm).toBeCloseTo(y, 8);
    expect(rates.deflectionMm).toBeLessThanOrEqual(0.025);
    const stress = Math.max(
      (32 * force * flute) / (Math.PI * (0.8 * d) ** 3),
      (32 * force * overhang) / (Math.PI * 3.175 ** 3),
    );
    expect(step(rates.steps, "cutter stress")).toBeCloseTo(stress, 6);
    expect(rates.passDepth).toBeLessThanOrEqual(d / 2);
  });

  test("every step has formula, unit, source with its tag", () => {
    for (const s of rates.steps) {
      expect(s.formula.length).toBeGreaterThan(3);
      expect(s.unit).not.toBe("");
      expect(s.source.length).toBeGreaterThan(5);
      expect(Number.isFinite(s.value)).toBe(true);
    }
    const perRev = rates.steps.find((s) => s.quantity === "feed per revolution");
    expect(perRev?.formula).toContain(d < 1.6 ? "extrapolated" : "interpolated");
    expect(perRev?.source).toMatch(d < 1.6 ? /\(derived\)$/ : /\(printed\)$/);
  });

  test("what the spindle changes is said", () => {
    const wanted = 120_000 / (Math.PI * d);
    const codes = outcome.findings.map((f) => f.code);
    expect(codes.includes("spindle-far-below-wanted")).toBe(max < 0.6 * wanted);
    expect(codes.includes("spindle-below-wanted")).toBe(max < wanted && max >= 0.6 * wanted);
    expect(rates.limitedBy.includes("spindle maximum")).toBe(max < wanted);
  });
});

describe("limits, each just outside and just inside", () => {
  const codesOf = (change: Parameters<typeof ask>[0]): readonly string[] =>
    chooseRates(ask(change)).findings.map((f) => f.code);

  test.each([
    ["flute-shorter-than-cut", { fluteLength: 3.24 }, { fluteLength: 3.25 }],
    ["overhang-shorter-than-cut", { overhang: 3.25 }, { overhang: 3.26 }],
    ["rates-measure-invalid", { diameter: 0 }, { diameter: 0.5 }],
    ["rates-measure-invalid", { diameter: Number.NaN }, { diameter: 12 }],
    ["chip-load-extrapolated", { diameter: 1.59 }, { diameter: 1.6 }],
    ["chip-load-extrapolated", { diameter: 12.1 }, { diameter: 12 }],
    ["chip-load-not-published", { kind: "two-flute" }, { kind: "diamond-router" }],
    ["drill-deep", { kind: "drill", diameter: 0.64 }, { kind: "drill", diameter: 0.66 }],
  ] as const)("%s", (code, outside, inside) => {
    const machine = spindle(100, 100_000);
    expect(codesOf({ cutter: cutter(outside), machine })).toContain(code);
    expect(codesOf({ cutter: cutter(inside), machine })).not.toContain(code);
  });

  // Ø2 wants 19 098.6 rpm; 300 m/min, 1.2 times the fastest printed speed, are 47 746.5.
  test.each([
    ["spindle-minimum-above-wanted", spindle(19_099, 60_000), spindle(19_098, 60_000)],
    ["spindle-too-fast", spindle(47_747, 60_000), spindle(47_746, 60_000)],
    ["spindle-below-wanted", spindle(1000, 19_098), spindle(1000, 19_099)],
    ["spindle-far-below-wanted", spindle(1000, 11_300), spindle(1000, 11_500)],
    ["spindle-range-invalid", spindle(9000, 8999), spindle(9000, 9000)],
    [
      "machine-feed-limits",
      router({ maxFeed: [736, 3000, 600] }),
      router({ maxFeed: [737, 3000, 600] }),
    ],
  ])("%s", (code, outside, inside) => {
    expect(codesOf({ machine: outside })).toContain(code);
    expect(codesOf({ machine: inside })).not.toContain(code);
  });

  test.each([
    ["pass-depth-derated", 2.01, 2],
    ["pass-depth-bends-cutter", 1.09, 1.08],
  ])("%s", (code, outside, inside) => {
    expect(codesOf({ passDepth: outside })).toContain(code);
    expect(codesOf({ passDepth: inside })).not.toContain(code);
  });

  test("a pass deeper than three diameters, more stress than carbide bears, more power than there is", () => {
    const thick = { thickness: 7, cutter: cutter({}) };
    expect(codesOf({ ...thick, passDepth: 6.1 })).toContain("pass-depth-beyond-chart");
    expect(codesOf({ ...thick, passDepth: 6 })).not.toContain("pass-depth-beyond-chart");
    expect(codesOf({ ...thick, passDepth: 6 })).toContain("pass-depth-stresses-cutter");
    expect(codesOf({ passDepth: 1, machine: spindle(8000, 24_000, 50) })).toContain(
      "power-above-spindle",
    );
    expect(codesOf({ passDepth: 1, machine: spindle(8000, 24_000, 51) })).not.toContain(
      "power-above-spindle",
    );
  });

  test("finishing stock beyond half the cutter; a slender cutter in the finishing pass", () => {
    expect(codesOf({ finishStock: 1.01 })).toContain("finish-stock-wide");
    expect(codesOf({ finishStock: 1 })).not.toContain("finish-stock-wide");
    expect(codesOf({ cutter: cutter({ diameter: 1 }) })).toContain("finish-bends-cutter");
    expect(codesOf({ finishStock: 0, cutter: cutter({ diameter: 1 }) })).not.toContain(
      "finish-bends-cutter",
    );
  });

  test("a cutter so slender that no pass is shallow enough", () => {
    const thin = cutter({ diameter: 0.6, fluteLength: 12, overhang: 20 });
    expect(codesOf({ cutter: thin })).toContain("cutter-too-slender");
    expect(chooseRates(ask({ cutter: thin })).value.passDepth).toBe(0.05);
  });

  test("a compression cutter in shallow passes", () => {
    const tool = cutter({ kind: "compression" });
    expect(codesOf({ cutter: tool, passDepth: 1.99 })).toContain("compression-pass-shallow");
    expect(codesOf({ cutter: tool, passDepth: 2 })).not.toContain("compression-pass-shallow");
  });
});

describe("a slow machine", () => {
  test("lowers the spindle to keep the chip, and then the chip", () => {
    const some = chooseRates(ask({ machine: router({ maxFeed: [500, 900, 300] }) })).value;
    expect(some.feed).toBe(500);
    expect(some.rpm).toBe(Math.ceil(500 / (0.03 + (0.03 * 0.4) / 1.4) / 10) * 10);
    expect(some.feedPerRev).toBeCloseTo(0.0386, 3);
    const slow = chooseRates(ask({ machine: router({ maxFeed: [900, 100, 300] }) }));
    expect(slow.value.rpm).toBe(8000);
    expect(slow.value.feed).toBe(100);
    expect(slow.findings.map((f) => f.code)).toContain("chip-thinner-than-table");
    const crawl = chooseRates(ask({ machine: router({ maxFeed: [20, 20, 20] }) }));
    expect(crawl.findings.map((f) => f.code)).toContain("chip-thinner-than-edge");
    expect(crawl.value.limitedBy).toContain("chip thinner than the edge");
  });
  test("Z bounds plunge and ramp alone", () => {
    const rates = chooseRates(ask({ machine: router({ maxFeed: [3000, 3000, 10] }) })).value;
    expect(rates.plungeFeed).toBe(10);
    expect(rates.rampFeed).toBe(Math.floor(10 / Math.sin((3 * Math.PI) / 180)));
    expect(rates.feed).toBe(736);
  });
});

test("a drill goes straight down at its feed per revolution, within Z's rate", () => {
  const tool = cutter({ kind: "drill", diameter: 3 });
  const free = chooseRates(ask({ cutter: tool })).value;
  // 80 m/min at Ø3: 8488 rpm; 0.036 mm/rev.
  expect(free.rpm).toBe(8490);
  expect(free.plungeFeed).toBe(Math.floor(0.036 * 8490));
  expect(free.passDepth).toBeCloseTo(3.25, 12);
  const slow = chooseRates(
    ask({ cutter: tool, machine: router({ maxFeed: [3000, 3000, 200] }) }),
  ).value;
  expect(slow.plungeFeed).toBe(200);
});

test("deep passes of the user's are fed slower, by the chart for them", () => {
  const tool = cutter({ diameter: 1.6, fluteLength: 10 });
  const feed = (passDepth: number): number =>
    chooseRates(ask({ cutter: tool, passDepth, thickness: 6, machine: spindle(1000, 50_000) }))
      .value.feed;
  expect(feed(3.2) / feed(1.6)).toBeCloseTo(0.75, 2);
  expect(feed(4.8) / feed(1.6)).toBeCloseTo(0.5, 2);
});

const anyCutter: fc.Arbitrary<Cutter> = fc.record({
  name: fc.constant("any"),
  kind: fc.constantFrom("diamond-router", "two-flute", "compression", "drill"),
  diameter: fc.double({ min: 0.4, max: 12, noNaN: true }),
  fluteLength: fc.double({ min: 1, max: 30, noNaN: true }),
  overhang: fc.double({ min: 1, max: 50, noNaN: true }),
  flutes: fc.integer({ min: 1, max: 6 }),
  coating: fc.constantFrom("none", "dlc", "diamond"),
});

const anyQuestion = fc.record({
  cutter: anyCutter,
  material: fc.constantFrom("carbon-woven", "carbon-quasi-isotropic", "glass-epoxy"),
  thickness: fc.double({ min: 0.3, max: 8, noNaN: true }),
  throughDepth: fc.double({ min: 0, max: 1, noNaN: true }),
  finishStock: fc.double({ min: 0, max: 2, noNaN: true }),
  rampDeg: fc.double({ min: 0.5, max: 45, noNaN: true }),
  passDepth: fc.option(fc.double({ min: 0.05, max: 10, noNaN: true }), { nil: undefined }),
  min: fc.integer({ min: 0, max: 20_000 }),
  span: fc.integer({ min: 0, max: 40_000 }),
  powerW: fc.integer({ min: 0, max: 2000 }),
  feeds: fc.tuple(
    fc.integer({ min: 20, max: 9000 }),
    fc.integer({ min: 20, max: 9000 }),
    fc.integer({ min: 20, max: 3000 }),
  ),
});

describe("for all cutters, materials and machines", () => {
  test("inside the spindle's range, the machine's rates and the chart; JSON carries it all", () => {
    fc.assert(
      fc.property(anyQuestion, (q) => {
        const max = Math.max(1, q.min + q.span);
        const machine = { ...spindle(q.min, max, q.powerW), maxFeed: q.feeds };
        const { value, findings } = chooseRates({ ...q, machine });
        for (const f of findings) expect(f.message).not.toMatch(/NaN|undefined|Infinity/);
        if (findings.some((f) => f.code === "rates-measure-invalid")) return;
        const [x, y, z] = q.feeds;
        expect(value.rpm).toBeGreaterThanOrEqual(q.min);
        expect(value.rpm).toBeLessThanOrEqual(max);
        for (const feed of [value.feed, value.finishFeed]) {
          // A drill moves along Z alone.
          expect(feed).toBeLessThanOrEqual(q.cutter.kind === "drill" ? z : Math.min(x, y));
        }
        expect(value.plungeFeed).toBeLessThanOrEqual(z);
        if (q.cutter.kind !== "drill") {
          expect(value.rampFeed * Math.sin((q.rampDeg * Math.PI) / 180)).toBeLessThanOrEqual(
            z * (1 + 1e-9),
          );
        }
        expect(value.feedPerRev).toBeLessThanOrEqual(
          step(value.steps, "feed per revolution") * (1 + 1e-9),
        );
        if (q.passDepth !== undefined && q.cutter.kind !== "drill") {
          expect(value.passDepth).toBe(q.passDepth);
        }
        const json = JSON.stringify(ratesJson(q.material, q.cutter, value));
        expect(json).not.toMatch(/null|NaN/);
        expect(ratesText(q.material, q.cutter, value)).not.toMatch(/NaN|undefined/);
      }),
    );
  });

  test("a depth of weftcut's own keeps deflection, stress and power within their limits", () => {
    fc.assert(
      fc.property(anyQuestion, (q) => {
        fc.pre(q.cutter.kind !== "drill");
        const machine = spindle(q.min, q.min + q.span + 1, q.powerW);
        const { value, findings } = chooseRates({ ...q, machine, passDepth: undefined });
        const none = ["cutter-too-slender", "spindle-too-weak"];
        fc.pre(!findings.some((f) => f.severity === "stop" || none.includes(f.code)));
        expect(value.deflectionMm).toBeLessThanOrEqual(0.025 * (1 + 1e-9));
        expect(step(value.steps, "cutter stress")).toBeLessThanOrEqual(800 * (1 + 1e-9));
        if (q.powerW > 0) expect(value.powerW).toBeLessThanOrEqual(0.8 * q.powerW * (1 + 1e-9));
        expect(value.passDepth).toBeLessThanOrEqual(
          Math.min(q.cutter.diameter / 2, q.cutter.fluteLength) + 1e-9,
        );
      }),
    );
  });
});

test("the text for people shows every quantity with its source", () => {
  const q = ask();
  const { value } = chooseRates(q);
  const text = ratesText(q.material, q.cutter, value);
  for (const s of value.steps) expect(text).toContain(s.source);
  expect(text).toContain("19100 rpm");
});
