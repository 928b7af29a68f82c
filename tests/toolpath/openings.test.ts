/** Whatever is drawn in a plate, it is cut by programs that are proven, or named as what the cutter cannot make. */
import process from "node:process";
import { expect, test } from "vitest";
import { draftText } from "../airframe/drafted.ts";
import { seededFile } from "../airframe/seeded-airframe.ts";
import { madeUpOpenings } from "../support/made-up-openings.ts";
import { plannedFrom } from "../support/planned.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;

/** What is drawn, not how it is cut. */
const DRAWN = new Set(["slot-narrower-than-cutter", "plate-larger-than-sheet"]);

/** Is it proven? It may be stopped for what is drawn alone. */
function isProven(files: ReadonlyMap<string, string>): boolean {
  const { job, plan, findings } = plannedFrom(files);
  const stops = findings.filter((f) => f.severity === "stop" && !DRAWN.has(f.code));
  expect(
    stops.map((f) => `${f.code}: ${f.message}`),
    job.name,
  ).toEqual([]);
  return plan?.proof.proven === true;
}

/** Of `share` of these seeds at least programs must come. */
function expectProven(
  seeds: readonly number[],
  share: number,
  files: (seed: number) => ReadonlyMap<string, string> | undefined,
): void {
  const proven = seeds.filter((seed) => {
    const made = files(seed);
    return made !== undefined && isProven(made);
  });
  expect(proven.length).toBeGreaterThanOrEqual(share * seeds.length);
}

const upTo = (n: number): number[] => Array.from({ length: n }, (_, i) => i + 1);

test("openings that no designer would draw", { timeout: 3_600_000 }, () => {
  expectProven(upTo(LONG ? 1500 : 15), 0.9, madeUpOpenings);
});

/** A lead went on over the end of a short slot, into the plate: seeds of airframes that have such. */
const SHORT_SLOTS = [130];
/** So it was where a slot is just two kerfs wide: a hair was left in its middle. */
const TWO_KERFS = [20];

test("plates of seeded airframes", { timeout: 3_600_000 }, () => {
  const seeds = [...SHORT_SLOTS, ...TWO_KERFS, ...upTo(LONG ? 400 : 5)];
  expectProven(seeds, 0.3, (seed) => {
    const { files, findings } = draftText(seededFile(seed));
    if (findings.some((f) => f.severity === "stop")) return undefined;
    return files as ReadonlyMap<string, string>;
  });
});
