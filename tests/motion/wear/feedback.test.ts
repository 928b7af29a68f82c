/** What was measured at the end of cutters, by hand. */
import { expect, test } from "vitest";
import { feedbackOf, minutesAssumption } from "../../../src/core/motion/wear/feedback.ts";
import {
  type CutRecord,
  type LedgerRecord,
  readLedger,
  recordText,
} from "../../../src/core/motion/wear/ledger.ts";

let number = 0;
function cut(change: Partial<CutRecord>): CutRecord {
  number++;
  return {
    kind: "cut",
    time: "2026-03-01T10:00:00Z",
    id: `${number}`,
    plan: "p",
    program: `${number}.nc`,
    cutter: "router-2",
    seconds: 600,
    cutMetres: 6,
    edgeMetres: 1.5,
    wearMetres: 1.5,
    lifeMetres: 4,
    ...change,
  };
}
const renew = { kind: "renew", time: "t", cutter: "router-2" } as const;
const read = (records: readonly LedgerRecord[]) =>
  feedbackOf(readLedger(records.map(recordText).join("")));

test("minutes: true over planned, over all cutters; metres: the mean of this cutter's lives", () => {
  const feedback = read([
    cut({ seconds: 600 }),
    { ...renew, trueMinutes: 15, trueMetres: 5 },
    cut({ seconds: 1200 }),
    { ...renew, trueMinutes: 21, trueMetres: 7 },
    cut({ cutter: "router-1", seconds: 600 }),
    { ...renew, cutter: "router-1", trueMinutes: 24, trueMetres: 1 },
    cut({ wearMetres: 2.25 }),
  ]);
  expect(feedback.minutesRatio).toBeCloseTo((15 + 21 + 24) / (10 + 20 + 10), 12);
  expect(feedback.minutesFrom).toBe(3);
  expect(feedback.lives.get("router-2")).toEqual({ metres: 6, from: 2 });
  expect(feedback.lives.get("router-1")).toEqual({ metres: 1, from: 1 });
  expect(feedback.worn.get("router-2")).toBe(2.25);
  expect(feedback.worn.get("router-1")).toBe(0);
  expect(minutesAssumption(feedback)).toEqual([
    "Times are 1.50 times the reckoned ones, as measured at the end of 3 cutters.",
  ]);
});

test("true metres in thick sheet count for what they are in sheets of 2–3 mm", () => {
  const feedback = read([cut({ edgeMetres: 1.5, wearMetres: 3 }), { ...renew, trueMetres: 2.5 }]);
  expect(feedback.lives.get("router-2")?.metres).toBeCloseTo(5, 12);
});

test("a program recorded twice is in the planned minutes once", () => {
  const one = cut({ seconds: 600 });
  const feedback = read([one, { ...one, id: "other" }, { ...renew, trueMinutes: 20 }]);
  expect(feedback.minutesRatio).toBeCloseTo(2, 12);
});

test("nothing measured, nothing claimed", () => {
  const feedback = read([cut({}), renew]);
  expect(feedback.minutesRatio).toBeUndefined();
  expect(feedback.lives.size).toBe(0);
  expect(minutesAssumption(feedback)).toEqual([]);
  // Minutes without a plan to hold against say nothing.
  expect(read([{ ...renew, trueMinutes: 60 }]).minutesRatio).toBeUndefined();
});
