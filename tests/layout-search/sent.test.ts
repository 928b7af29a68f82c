/** A search made elsewhere, from a copy of what it asks for, lays out as one made here. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { rectangle } from "../../src/core/geometry/contour.ts";
import { circle } from "../../src/core/geometry/segment.ts";
import { layPlates, type StartSearch } from "../../src/core/layout/place.ts";
import { foundAgain, searchSent, sendable } from "../../src/core/layout/search/sheets/sent.ts";
import { plateOf, sheetOf } from "../layout/support.ts";
import { type Job, job } from "./jobs.ts";

const elsewhere: StartSearch = (task) => {
  const sent = sendable(task);
  const found = structuredClone(searchSent(structuredClone(sent)));
  return () => foundAgain(sent, found);
};

/** Discs that find room in a window alone. */
const ring = plateOf("ring", rectangle(0, 0, 180, 120), [rectangle(15, 15, 165, 105)]);
const disc = plateOf("disc", { segments: [circle({ x: 0, y: 0 }, 15, true)] });
const windowed: Job = {
  sheet: sheetOf(rectangle(0, 0, 200, 140)),
  plates: [
    { plate: ring, sheet: "s", count: 1, gap: 6 },
    { plate: disc, sheet: "s", count: 5, gap: 6 },
  ],
  widestCutter: 1.97,
  seed: 1,
};

test("seeded jobs with fixed plates, plates in windows and plates that find no place", () => {
  const seen = { fixed: 0, inside: 0, missing: 0 };
  fc.assert(
    fc.property(job, (j) => {
      const search = { effort: "quick" as const, seed: j.seed, steps: 4000 };
      const input = { ...j, sheets: [j.sheet], search };
      const here = layPlates(input);
      const there = layPlates({ ...input, starting: elsewhere });
      expect(there).toEqual(here);
      // The very plates, by which later stages know them again.
      const plates = new Set(j.plates.map((order) => order.plate));
      const placements = there.value.flatMap((layout) => layout.placements);
      expect(placements.every((p) => plates.has(p.plate))).toBe(true);
      seen.fixed += j.plates.filter((order) => order.place !== undefined).length;
      seen.inside += placements.filter((p) => p.inside !== undefined).length;
      seen.missing += there.findings.filter((f) => f.code === "sheet-full").length;
    }),
    { numRuns: 30, seed: 11, examples: [[windowed]] },
  );
  for (const count of Object.values(seen)) expect(count).toBeGreaterThan(0);
});
