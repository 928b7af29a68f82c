/** Cost by hand, and that its parts add up. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { type CostInput, costOf } from "../../../src/core/motion/cost/cost.ts";

const JOB: CostInput = {
  plates: [
    {
      plate: "arm",
      copy: 1,
      sheet: "carbon-4",
      area: 2000,
      seconds: 300,
      lifeUsed: [{ cutter: "r2", share: 0.2 }],
    },
    {
      plate: "arm",
      copy: 2,
      sheet: "carbon-4",
      area: 2000,
      seconds: 300,
      lifeUsed: [{ cutter: "r2", share: 0.2 }],
    },
    {
      plate: "top",
      copy: 1,
      sheet: "carbon-2",
      area: 5000,
      seconds: 600,
      lifeUsed: [{ cutter: "r2", share: 0.3 }],
    },
  ],
  sheets: [
    { name: "carbon-4", price: 40, area: 60_000, offcutArea: 30_000 },
    { name: "carbon-2", price: 20, area: 20_000, offcutArea: 0 },
  ],
  cutters: [{ name: "r2", price: 9.5 }],
  perHour: 30,
  currency: "EUR",
  seconds: 1500,
  setupMinutes: 20,
  offcutValue: 0.5,
};

test("by hand", () => {
  const cost = costOf(JOB);
  // 40 less a half of half of it, and 20 whole.
  expect(cost.sheet).toBeCloseTo(30 + 20, 9);
  // 1500 s at 30 an hour.
  expect(cost.machine).toBeCloseTo(12.5, 9);
  expect(cost.cutter).toBeCloseTo(0.7 * 9.5, 9);
  // 20 min.
  expect(cost.setup).toBeCloseTo(10, 9);
  expect(cost.total).toBeCloseTo(50 + 12.5 + 6.65 + 10, 9);
  const arm = cost.plates[0];
  expect(arm?.sheet).toBeCloseTo(15, 9);
  // A quarter of what the plates own, of the whole time.
  expect(arm?.machine).toBeCloseTo(12.5 / 4, 9);
  expect(arm?.setup).toBeCloseTo(10 / 3, 9);
  expect(cost.currency).toBe("EUR");
});

test("what has no price costs nothing and is named", () => {
  const cost = costOf({
    ...JOB,
    sheets: [{ name: "carbon-4", area: 60_000, offcutArea: 0 }],
    cutters: [{ name: "r2" }],
  });
  expect(cost.sheet).toBe(0);
  expect(cost.cutter).toBe(0);
  expect(cost.assumptions.join(" ")).toContain("sheet carbon-4, cutter r2");
});

test("no plates, no cost and no NaN", () => {
  const cost = costOf({ ...JOB, plates: [] });
  expect(cost.total).toBe(0);
});

test("the plates' costs add up to the set's, and every price that is used is shared out", () => {
  const amount = fc.double({ min: 0, max: 1000, noNaN: true });
  const plate = fc.record({
    plate: fc.constant("p"),
    copy: fc.nat(9),
    sheet: fc.constantFrom("a", "b"),
    area: amount,
    seconds: amount,
    lifeUsed: fc.array(fc.record({ cutter: fc.constant("r"), share: amount }), { maxLength: 2 }),
  });
  fc.assert(
    fc.property(
      fc.array(plate, { minLength: 1, maxLength: 9 }),
      amount,
      amount,
      amount,
      (plates, price, seconds, perHour) => {
        const cost = costOf({
          plates,
          sheets: ["a", "b"].map((name) => ({ name, price, area: 1e4, offcutArea: 0 })),
          cutters: [{ name: "r", price }],
          perHour,
          currency: "",
          seconds,
          setupMinutes: 30,
          offcutValue: 0.5,
        });
        expect(cost.plates.reduce((sum, p) => sum + p.total, 0)).toBeCloseTo(cost.total, 6);
        expect(cost.machine).toBeCloseTo((seconds / 3600) * perHour, 6);
        expect(cost.setup).toBeCloseTo(perHour / 2, 6);
        const used = new Set(plates.filter((p) => p.area > 0).map((p) => p.sheet));
        expect(cost.sheet).toBeGreaterThanOrEqual(used.size * price * (1 - 1e-9));
      },
    ),
  );
});
