/** Plates moved by hand: what the page says of a place is what the layout says of it once it stands in the job. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { placePoint } from "../../src/core/geometry/segment.ts";
import type { FixedPlace } from "../../src/core/job/job.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import type { SheetJson } from "../../src/core/job/plan-json.ts";
import { gather } from "../../src/core/job/planning/gather.ts";
import { rigidOf } from "../../src/core/layout/fixed.ts";
import { layPlates } from "../../src/core/layout/place.ts";
import {
  collider,
  fibreOf,
  type Lying,
  lyingOn,
  outlineAt,
  sheetAsLying,
  turnedBy,
  turnedOver,
  undoing,
  widestOf,
  withoutPlaces,
  withPlace,
} from "../../src/page/seen/lying.ts";
import type { Work } from "../../src/page/state/work.ts";
import { demoWork, plannedWork, readIn, viewOf } from "./demo-work.ts";

const work = demoWork();
const view = viewOf(work);
const { plan } = plannedWork(work);
if (plan === undefined) throw new Error("the demo has no plan");
const sheet = plan.sheets[0] as SheetJson;
const all = lyingOn(view, sheet);
const one = all[0] as Lying;
const widest = widestOf(plan, view);

const place: fc.Arbitrary<FixedPlace> = fc.record({
  x: fc.integer({ min: -20, max: 320 }),
  y: fc.integer({ min: -20, max: 220 }),
  rotationDeg: fc.constantFrom(0, 90, 180, 270, 37),
  flipped: fc.boolean(),
});

/** What the layout finds against the places that a job names. */
function saidByLayout(changed: Work): string[] {
  const { value: job } = parseJob(changed.job ?? { name: "", text: "" }, readIn(changed));
  if (job === undefined) throw new Error("the job does not read");
  const { sheets, orders } = gather(job, readIn(changed));
  const { findings } = layPlates({
    sheets: sheets.slice(0, 1),
    plates: orders.filter((o) => o.sheet === sheet.name),
    widestCutter: widest,
  });
  return findings.filter((f) => f.code.startsWith("place-")).map((f) => f.message);
}

/** One sentence of two plates may name either first. */
const inEitherOrder = (message: string): string =>
  message.replace(/the fixed places of (.+) and (.+) on sheet/, (_, a, b) =>
    [a, b].sort((p, q) => (p < q ? -1 : 1)).join(" and "),
  );

describe("what stands against a plate at a place", () => {
  const collide = collider(sheet, all, one, { widest, fibreDeg: fibreOf(view, "arm") });

  test("is what the layout says of it", () => {
    let stopped = 0;
    fc.assert(
      fc.property(place, (to) => {
        const changed = withPlace(view, all, one, to);
        if (changed === undefined) throw new Error("the text took no place");
        const here = collide(to).map((f) => inEitherOrder(f.message));
        if (here.length > 0) stopped++;
        expect(new Set(here)).toEqual(new Set(saidByLayout(changed).map(inEitherOrder)));
      }),
      { numRuns: 25 },
    );
    expect(stopped).toBeGreaterThan(5);
  });

  test("is nothing where the layout itself put it", () => {
    expect(collide(one.place)).toEqual([]);
  });
});

describe("a place", () => {
  test("in the job's text is where the plan has the plate, the others where they lay", () => {
    const to = { x: 30, y: 120, rotationDeg: 0, flipped: false };
    const changed = withPlace(view, all, one, to) as Work;
    const replanned = plannedWork(changed).plan?.sheets[0]?.placements ?? [];
    const wanted = all.map((l) => (l === one ? to : l.place));
    const got = replanned.map(({ x, y, rotationDeg, flipped }) => ({ x, y, rotationDeg, flipped }));
    expect(got).toEqual(wanted);
    // And back again, to the letter.
    const view2 = viewOf(changed);
    expect(lyingOn(view2, sheet)[0]?.place).toMatchObject(to);
    expect(withoutPlaces(view2, { sheet: sheet.name })?.job?.text).toBe(work.job?.text);
  });

  test("is turned and turned over about the plate's middle, and four quarters are none", () => {
    fc.assert(
      fc.property(place, fc.constantFrom(15, 90, -90), (from, by) => {
        const middle = (p: typeof from) => placePoint(one.middle, rigidOf(p));
        for (const to of [turnedBy(one, from, by), turnedOver(one, from)]) {
          expect(middle(to).x).toBeCloseTo(middle(from).x, 5);
          expect(middle(to).y).toBeCloseTo(middle(from).y, 5);
        }
        let round = from;
        for (let i = 0; i < 4; i++) round = turnedBy(one, round, 90);
        expect(round.x).toBeCloseTo(from.x, 5);
        expect(round.rotationDeg).toBeCloseTo(from.rotationDeg, 6);
      }),
      { numRuns: 40 },
    );
  });

  test("is undone by the motion that undoes it", () => {
    const point = fc.record({
      x: fc.integer({ min: -99, max: 99 }),
      y: fc.integer({ min: -99, max: 99 }),
    });
    fc.assert(
      fc.property(place, point, (to, p) => {
        const there = placePoint(p, rigidOf(to));
        const back = placePoint(there, undoing(rigidOf(to)));
        expect(back.x).toBeCloseTo(p.x, 9);
        expect(back.y).toBeCloseTo(p.y, 9);
      }),
    );
  });

  test("shows in the picture's sheet before it is planned; what has not moved is untouched", () => {
    const to = { x: 30, y: 120, rotationDeg: 180, flipped: true };
    const moved = all.map((l) => (l === one ? { ...l, place: to } : l));
    const shown = sheetAsLying(sheet, moved);
    expect(shown.placements[0]).toMatchObject(to);
    expect(shown.placements.slice(1)).toEqual(sheet.placements.slice(1));
    expect(shown.tabs.some((t) => t.copy === one.placement.copy)).toBe(false);
    expect(sheetAsLying(sheet, all)).toBe(sheet);
    expect(outlineAt(one)).toHaveLength(1 + one.placement.inner.length);
  });
});
