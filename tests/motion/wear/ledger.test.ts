/** The ledger survives torn writes and mixed ones, and its sums are those of its records. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  alreadyRecorded,
  type CutRecord,
  type LedgerRecord,
  ledgerFindings,
  readLedger,
  recordText,
  totalsOf,
} from "../../../src/core/motion/wear/ledger.ts";

const cut = (change: Partial<CutRecord> = {}): CutRecord => ({
  kind: "cut",
  time: "2026-03-01T10:00:00Z",
  id: "a",
  plan: "p1",
  program: "01-carbon-3-router-2.nc",
  cutter: "router-2",
  seconds: 600,
  cutMetres: 6,
  edgeMetres: 1.5,
  wearMetres: 2,
  lifeMetres: 4,
  ...change,
});

const name = fc.constantFrom("router-2", "router-1", 'grün { "2" }', "a\nb");
const amount = fc.double({ min: 0, max: 1e5, noNaN: true });
const record: fc.Arbitrary<LedgerRecord> = fc.oneof(
  fc.record({
    kind: fc.constant("cut" as const),
    time: fc.constant("2026-03-01T10:00:00Z"),
    id: fc.string(),
    plan: fc.constantFrom("p1", "p2"),
    program: fc.constantFrom("01.nc", "02.nc"),
    cutter: name,
    seconds: amount,
    cutMetres: amount,
    edgeMetres: amount,
    wearMetres: amount,
    lifeMetres: fc.double({ min: 0.1, max: 100, noNaN: true }),
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
    [JSON.stringify({ ...cut(), lifeMetres: 0 })],
    [JSON.stringify({ ...cut(), id: undefined })],
    [JSON.stringify({ kind: "renew", time: "t", cutter: "a", trueMetres: "many" })],
  ])("%s is no record", (line) => {
    expect(readLedger(line)).toEqual({ records: [], unread: [1] });
  });
});

test("sums since the last renewal, cutter by cutter; a new cutter put in for a program begins anew", () => {
  const ledger = readLedger(
    [
      cut(),
      cut({ program: "03.nc", cutter: "router-1", edgeMetres: 0.5 }),
      cut({ program: "02.nc" }),
      { kind: "renew", time: "t", cutter: "router-1" } as const,
      cut({ program: "04.nc", cutter: "router-1", edgeMetres: 0.25 }),
      cut({ program: "05.nc", cutter: "router-3", edgeMetres: 3, wearMetres: 3 }),
      cut({ program: "06.nc", cutter: "router-3", newCutter: true, lifeMetres: 5 }),
    ]
      .map(recordText)
      .join(""),
  );
  const common = { cutMetres: 6, seconds: 600, wearMetres: 2, lifeMetres: 4 };
  expect(totalsOf(ledger)).toEqual([
    {
      cutter: "router-2",
      programs: 2,
      seconds: 1200,
      cutMetres: 12,
      edgeMetres: 3,
      wearMetres: 4,
      lifeMetres: 4,
    },
    { ...common, cutter: "router-1", programs: 1, edgeMetres: 0.25 },
    { ...common, cutter: "router-3", programs: 1, edgeMetres: 1.5, lifeMetres: 5 },
  ]);
  expect(alreadyRecorded(ledger, "p1").length).toBe(6);
  expect(alreadyRecorded(ledger, "p2")).toEqual([]);
});

test("a program of a plan counts once, however often it was recorded, unless it says again", () => {
  fc.assert(
    fc.property(fc.array(record, { maxLength: 12 }), fc.nat(12), (records, at) => {
      const text = (list: readonly LedgerRecord[]): string => list.map(recordText).join("");
      const sum = (list: readonly LedgerRecord[]): number =>
        totalsOf(readLedger(text(list))).reduce((n, t) => n + t.wearMetres, 0);
      const first = records.find((r) => r.kind === "cut");
      fc.pre(first !== undefined);
      const where = records.indexOf(first) + 1 + (at % (records.length - records.indexOf(first)));
      const twice = [...records.slice(0, where), first, ...records.slice(where)];
      expect(sum(twice)).toBeCloseTo(sum(records), 6);
    }),
  );
  const again = readLedger([cut(), cut({ again: true })].map(recordText).join(""));
  expect(totalsOf(again)[0]?.wearMetres).toBe(4);
});

test("records of different programs written in any order by several hands sum to the same", () => {
  const cuts = fc.array(record.filter((r) => r.kind === "cut"));
  fc.assert(
    fc.property(cuts, (records) => {
      const own = records.map((r, i) => ({ ...r, program: `${i}.nc` }));
      const sum = (list: readonly LedgerRecord[]): number =>
        totalsOf(readLedger(list.map(recordText).join(""))).reduce((s, t) => s + t.edgeMetres, 0);
      expect(sum([...own].reverse())).toBeCloseTo(sum(own), 4);
    }),
  );
});
