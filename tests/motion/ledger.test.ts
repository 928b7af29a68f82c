/** The ledger survives torn writes and mixed ones, and its sums are those of its records. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  alreadyRecorded,
  type CutRecord,
  feedbackOf,
  type LedgerRecord,
  ledgerFindings,
  measuredSeconds,
  readLedger,
  recordText,
  totalsOf,
} from "../../src/core/motion/ledger.ts";

const cut = (change: Partial<CutRecord> = {}): CutRecord => ({
  kind: "cut",
  time: "2026-03-01T10:00:00Z",
  plan: "p1",
  program: "01-carbon-3-router-2.nc",
  cutter: "router-2",
  seconds: 600,
  cutMetres: 6,
  edgeMetres: 1.5,
  ...change,
});

const name = fc.constantFrom("router-2", "router-1", 'grün { "2" }', "a\nb");
const amount = fc.double({ min: 0, max: 1e5, noNaN: true });
const record: fc.Arbitrary<LedgerRecord> = fc.oneof(
  fc.record({
    kind: fc.constant("cut" as const),
    time: fc.constant("2026-03-01T10:00:00Z"),
    plan: fc.constantFrom("p1", "p2"),
    program: fc.constantFrom("01.nc", "02.nc"),
    cutter: name,
    seconds: amount,
    cutMetres: amount,
    edgeMetres: amount,
  }),
  fc.record({
    kind: fc.constant("renew" as const),
    time: fc.constant("2026-03-01T10:00:00Z"),
    cutter: name,
  }),
);

/** JSON knows no −0. */
const plain = (records: readonly LedgerRecord[]): unknown => JSON.parse(JSON.stringify(records));

describe("reading", () => {
  test("gives back what was written", () => {
    fc.assert(
      fc.property(fc.array(record), (records) => {
        const ledger = readLedger(records.map(recordText).join(""));
        expect(ledger.records).toEqual(plain(records));
        expect(ledger.unread).toEqual([]);
      }),
    );
  });

  test("torn at any byte, it loses the torn record alone; what is written after it counts", () => {
    const before = [cut(), cut({ program: "02.nc", cutter: "grün" })].map(recordText).join("");
    const torn = new TextEncoder().encode(recordText(cut({ program: "03.nc", cutter: "grün" })));
    for (let n = 0; n <= torn.length; n++) {
      const text = before + new TextDecoder().decode(torn.slice(0, n));
      const ledger = readLedger(text);
      expect(ledger.records.length).toBe(n >= torn.length - 1 ? 3 : 2);
      expect(ledgerFindings("ledger.jsonl", ledger).length).toBe(ledger.unread.length > 0 ? 1 : 0);
      const after = readLedger(text + recordText(cut({ program: "04.nc" })));
      expect(after.records.at(-1)).toMatchObject({ program: "04.nc" });
      expect(after.records.length).toBe(ledger.records.length + 1);
    }
  });

  test("takes any text", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 200 }), (text) => {
        const ledger = readLedger(text + recordText(cut()));
        expect(ledger.records.length).toBeGreaterThanOrEqual(1);
      }),
    );
  });

  test.each([
    ["null"],
    ["[]"],
    ['{"kind":"cut"}'],
    [JSON.stringify({ ...cut(), seconds: -1 })],
    [JSON.stringify({ ...cut(), edgeMetres: "2" })],
    [JSON.stringify({ kind: "renew", time: "t", cutter: "a", trueMetres: "many" })],
  ])("%s is no record", (line) => {
    expect(readLedger(line)).toEqual({ records: [], unread: [1] });
  });
});

test("sums since the last renewal, cutter by cutter", () => {
  const ledger = readLedger(
    [
      cut(),
      cut({ cutter: "router-1", edgeMetres: 0.5 }),
      cut({ program: "02.nc" }),
      { kind: "renew", time: "t", cutter: "router-1" } as const,
      cut({ cutter: "router-1", edgeMetres: 0.25 }),
    ]
      .map(recordText)
      .join(""),
  );
  expect(totalsOf(ledger)).toEqual([
    { cutter: "router-2", programs: 2, seconds: 1200, cutMetres: 12, edgeMetres: 3 },
    { cutter: "router-1", programs: 1, seconds: 600, cutMetres: 6, edgeMetres: 0.25 },
  ]);
  expect(alreadyRecorded(ledger, "p1")).toEqual(["01-carbon-3-router-2.nc", "02.nc"]);
  expect(alreadyRecorded(ledger, "p2")).toEqual([]);
});

test("records written in any order by several hands sum to the same", () => {
  fc.assert(
    fc.property(fc.array(record.filter((r) => r.kind === "cut")), (records) => {
      const sum = (list: readonly LedgerRecord[]): number =>
        totalsOf(readLedger(list.map(recordText).join(""))).reduce((s, t) => s + t.edgeMetres, 0);
      expect(sum([...records].reverse())).toBeCloseTo(sum(records), 4);
    }),
  );
});

describe("what was measured", () => {
  const renew = { kind: "renew", time: "t", cutter: "router-2" } as const;
  test("minutes: true over planned, over all cutters; metres: the mean of this cutter's lives", () => {
    const ledger = readLedger(
      [
        cut({ seconds: 600 }),
        { ...renew, trueMinutes: 15, trueMetres: 5 },
        cut({ seconds: 1200 }),
        { ...renew, trueMinutes: 21, trueMetres: 7 },
        cut({ cutter: "router-1", seconds: 600 }),
        { ...renew, cutter: "router-1", trueMinutes: 24, trueMetres: 1 },
        cut(),
      ]
        .map(recordText)
        .join(""),
    );
    const feedback = feedbackOf(ledger, "router-2");
    expect(feedback.minutesRatio).toBeCloseTo((15 + 21 + 24) / (10 + 20 + 10), 12);
    expect(feedback.lifeMetres).toBeCloseTo(6, 12);
    expect(feedback.minutesFrom).toBe(3);
    expect(feedback.metresFrom).toBe(2);
    expect(feedback.assumptions.length).toBe(2);
  });
  test("nothing measured, nothing claimed", () => {
    const feedback = feedbackOf(readLedger(recordText(cut()) + recordText(renew)), "router-2");
    expect(feedback).toMatchObject({ minutesFrom: 0, metresFrom: 0, assumptions: [] });
    expect(feedback.minutesRatio).toBeUndefined();
    expect(measuredSeconds(90, feedback)).toBe(90);
    expect(measuredSeconds(90, { ...feedback, minutesRatio: 1.5 })).toBe(135);
  });
});
