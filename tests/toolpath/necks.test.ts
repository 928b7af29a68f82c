/** Openings with necks: what comes loose in several pieces is held piece by piece, or cleared. */
import process from "node:process";
import { Clipper, EndType, JoinType } from "clipper2-ts";
import { describe, expect, test } from "vitest";
import {
  distanceTo,
  flatten,
  oriented,
  polygon,
  rectangle,
} from "../../src/core/geometry/contour.ts";
import { placePoint, unplacePoint } from "../../src/core/geometry/segment.ts";
import type { Point, Rigid } from "../../src/core/geometry/shape.ts";
import { proofInput } from "../../src/core/job/planning/target.ts";
import type { Placement } from "../../src/core/layout/layout.ts";
import type { Plate } from "../../src/core/plate/plate.ts";
import { madeUpNecks } from "../support/made-up-openings.ts";
import { plannedFrom } from "../support/planned.ts";
import { recogniseFeatures } from "./features.ts";
import { plateOf, type Run, redrawn, runOf } from "./support.ts";

const SEEDS = process.env["WEFTCUT_LONG"] === undefined ? 6 : 1500;

interface Held {
  /** Tabs of each piece that comes loose. */
  readonly tabs: readonly number[];
  readonly cleared: boolean;
}

/** The pieces are those of another library's offset. */
function heldOf(seed: number): Held {
  const { job, plan, findings, stopped } = plannedFrom(madeUpNecks(seed));
  expect(
    findings.filter((f) => f.severity === "stop").map((f) => f.message),
    `seed ${seed}`,
  ).toEqual([]);
  if (plan === undefined || stopped) throw new Error(`seed ${seed} was stopped`);
  const has = (code: string): boolean => findings.some((f) => f.code === code);
  const cleared = has("slug-cleared") || has("slug-neck-cleared");
  const [sheet] = proofInput(plan, []).sheets;
  const window = sheet?.plates[0]?.features[0]?.contour;
  const diameter = plan.cutters[0]?.effectiveDiameter ?? 0;
  if (sheet === undefined || window === undefined || diameter === 0) throw new Error("no window");
  const kerf = diameter + (has("cut-without-finishing") ? 0 : job.cutting.finish.stock);
  const wall = [flatten(window, 0.001)];
  const pieces = Clipper.inflatePathsD(wall, -kerf, JoinType.Round, EndType.Polygon, 2, 5, 0.001);
  const held = sheet.tabs.filter((tab) => tab.feature !== undefined);
  const nearest = held.map(({ at }) => {
    const far = pieces.map((piece) => distanceTo(polygon(piece), at));
    return far.indexOf(Math.min(...far));
  });
  return { tabs: pieces.map((_, i) => nearest.filter((n) => n === i).length), cleared };
}

describe("openings with necks", () => {
  test("each piece is on two tabs or more, or the opening is cleared; all is proven", {
    timeout: 3_600_000,
  }, () => {
    let apart = 0;
    for (let seed = 1; seed <= SEEDS; seed++) {
      const { tabs, cleared } = heldOf(seed);
      if (cleared) {
        expect(Math.max(0, ...tabs), `seed ${seed}`).toBe(0);
        continue;
      }
      if (tabs.length > 0)
        expect(Math.min(...tabs), `seed ${seed}: ${tabs}`).toBeGreaterThanOrEqual(2);
      if (tabs.length > 1) apart++;
    }
    expect(apart).toBeGreaterThanOrEqual(SEEDS / 6);
  });

  /** A room of 40 mm by 30 and one of 20 by 18, a neck of this width between them. */
  function necked(neck: number): Plate {
    const corners = [
      [10, 5],
      [50, 5],
      [50, 20 - neck / 2],
      [56, 20 - neck / 2],
      [56, 13],
      [76, 13],
      [76, 31],
      [56, 31],
      [56, 20 + neck / 2],
      [50, 20 + neck / 2],
      [50, 35],
      [10, 35],
    ] as const;
    const window = oriented(polygon(corners.map(([x, y]) => ({ x, y }))), false);
    return plateOf(rectangle(0, 0, 90, 40), recogniseFeatures([window]));
  }
  const runWith = (plate: Plate): Run => runOf({ plates: [plate] });
  /** As the plate is drawn. */
  const tabs = ({ routed, layouts }: Run): Point[] => {
    const [{ plateToSheet }] = layouts.flatMap((l) => l.placements) as [Placement];
    return routed.tabs.flatMap(({ feature, at }) =>
      feature === undefined ? [] : [unplacePoint(at, plateToSheet)],
    );
  };

  // Two kerfs of the cutter's 1.97 mm and 0.1 mm for finishing: 4.14 mm.
  test("two kerfs wide, it leaves two pieces; a little wider, it is cleared; wider still, one piece holds", () => {
    const apart = tabs(runWith(necked(4.1)));
    expect(apart.filter(({ x }) => x < 51)).toHaveLength(3);
    expect(apart.filter(({ x }) => x > 55)).toHaveLength(3);
    const weak = runWith(necked(4.6));
    expect(tabs(weak)).toEqual([]);
    expect(weak.routed.findings.find((f) => f.code === "slug-neck-cleared")?.data).toMatchObject({
      neck: 1,
      most: expect.closeTo(4.14, 9),
      least: expect.closeTo(5.14, 9),
    });
    const whole = runWith(necked(5.2));
    expect(whole.routed.findings.map((f) => f.code)).not.toContain("slug-neck-cleared");
    expect(tabs(whole)).toHaveLength(3);
  });

  test("a mirrored drawing has mirrored tabs", () => {
    const plate = necked(4.1);
    const across: Rigid = { x: 90, y: 0, angle: 0, flipped: true };
    const told = ({ x, y }: Point): string => `${x.toFixed(4)} ${y.toFixed(4)}`;
    const mirrored = tabs(runWith(redrawn(plate, across))).map(told);
    const expected = tabs(runWith(plate)).map((p) => told(placePoint(p, across)));
    expect(new Set(mirrored)).toEqual(new Set(expected));
    expect(mirrored).toHaveLength(6);
  });
});
