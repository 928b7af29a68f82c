/** Mates that do not go together, fits by name, the coupon's offset, what is chosen, and what is proposed. */
import { describe, expect, test } from "vitest";
import { fitMates } from "../../src/core/fit/apply.ts";
import { FITS } from "../../src/core/fit/fits.ts";
import type { FitInput, FitPlate } from "../../src/core/fit/mate.ts";
import { bounds, isCircle } from "../../src/core/geometry/contour.ts";
import type { Plate } from "../../src/core/plate/plate.ts";
import { assignCutters } from "../../src/core/toolpath/choose/assign.ts";
import { box, hole, plateOf, poly } from "../check/build.ts";
import { assembly, bottom, CLEARANCE, CUTTER, side, THICK, THIN, top } from "./assembly.ts";

const codes = (input: FitInput) => fitMates(input).findings.map((f) => f.code);

function changed(i: number, by: (p: FitPlate) => Partial<FitPlate>): FitInput {
  const input = assembly();
  return { ...input, plates: input.plates.map((p, k) => (k === i ? { ...p, ...by(p) } : p)) };
}

function find(input: FitInput, code: string) {
  const finding = fitMates(input).findings.find((f) => f.code === code);
  expect(finding, code).toBeDefined();
  expect(finding?.severity).toBe("warn");
  expect(finding?.hint).toBeTruthy();
  expect(finding?.plate).toBeTruthy();
  return finding;
}

describe("what cannot be fitted", () => {
  test("a point without a slot", () => {
    const f = find(
      changed(1, (p) => ({ mates: p.mates.map((m) => ({ ...m, slot: { x: 30, y: 0 } })) })),
      "mate-without-slot",
    );
    expect(f?.at).toEqual([30, 0]);
  });

  test("a slot for which there is no tenon", () => {
    const long = plateOf(box(0, 0, 80, 60, 5), [box(0, 0, 20, 2.1)], "top");
    const mates = [{ slot: { x: 0, y: 0 }, of: "side", clearance: 0.1 }];
    find(
      changed(1, () => ({ plates: [long], mates })),
      "mate-without-tenon",
    );
  });

  test.each([
    [2.94, false],
    [2.96, true],
  ])("a tenon of %d in a host of 3 mm: measured against what reaches", (below, reaches) => {
    const plates = [plateOf(side(below), [], "side")];
    const input = changed(2, () => ({ plates }));
    const exact = { ...input, plates: input.plates.map((p) => ({ ...p, sheet: nominal(p) })) };
    const said = fitMates(exact).findings.filter((f) => f.code === "tenon-too-short");
    expect(said.length).toBe(reaches ? 0 : 2);
    if (!reaches) expect(said[0]?.data).toMatchObject({ found: below, wanted: 3 });
  });

  test.each([
    [3, 3.06],
    [3.06, 3.06],
    [2.9, 2.96],
    // Nearer to the measured thickness than to the nominal one: drawn by it.
    [3.1, 3.1],
    [3.6, 3.6],
  ])("a tenon of %d in a host of 3, measured 3.06: reaches %d", (below, reach) => {
    const plates = [plateOf(side(below), [], "side")];
    const fitted = fitMates(changed(2, () => ({ plates })));
    const [made] = fitted.plates[2] ?? [];
    expect(made === undefined ? 0 : -bounds(made.outer).min.y).toBeCloseTo(reach, 9);
  });

  test("fewer slots named than there are tenons", () => {
    const f = find(
      changed(0, (p) => ({ mates: p.mates.slice(1) })),
      "tenon-without-slot",
    );
    expect(f?.data).toMatchObject({ found: 5, wanted: 6 });
  });

  test("a slot that was drawn for another sheet stays as drawn", () => {
    const wide = plateOf(box(0, 0, 80, 60, 5), [box(0, 20, 8.2, 5), box(0, -20, 8.2, 2.1)], "top");
    const input = changed(1, () => ({ plates: [wide] }));
    const f = find(input, "mate-slot-unlike");
    expect(f?.data["found"]).toBeCloseTo(5, 9);
    expect(fitMates(input).plates[1]?.[0]?.features[0]?.area).toBeCloseTo(41, 6);
  });

  test("an opening that is no rectangle stays as drawn", () => {
    const odd = poly([-4, 19], [4, 19], [4, 21], [0, 21.4], [-4, 21]);
    const plates = [plateOf(box(0, 0, 80, 60, 5), [odd, box(0, -20, 8.2, 2.1)], "top")];
    find(
      changed(1, () => ({ plates })),
      "mate-slot-odd",
    );
  });

  test("a shoulder too narrow for the relief", () => {
    const narrow = poly(
      [0, 0],
      [0.9, 0],
      [0.9, -3],
      [8.9, -3],
      [8.9, 0],
      [30, 0],
      [30, 30],
      [0, 30],
    );
    const plates = [plateOf(narrow, [], "side")];
    find(
      changed(2, () => ({ plates })),
      "tenon-root-tight",
    );
  });
});

function nominal({ sheet }: FitPlate) {
  const { measuredThickness: _, ...rest } = sheet;
  return rest;
}

describe("fits", () => {
  test.each(Object.entries(FITS))("%s leaves %d mm in all", (fit, clearance) => {
    const input = assembly({ clearance });
    const slot = fitMates(input).plates[0]?.[0]?.features[0];
    expect(slot?.width).toBeCloseTo(1.93 + clearance, 4);
    expect(["press", "snug", "free"]).toContain(fit);
  });

  test("the coupon's offset is added, and told", () => {
    const made = fitMates(assembly({ cutterFitOffset: 0.03 }));
    expect(made.plates[0]?.[0]?.features[0]?.width).toBeCloseTo(1.93 + CLEARANCE + 0.03, 4);
    expect(made.findings.find((f) => f.code === "slot-fitted")?.message).toContain("coupon");
  });

  test("an unmeasured sheet counts by its name", () => {
    const input = assembly();
    const plates = input.plates.map((p) => ({ ...p, sheet: nominal(p) }));
    const slot = fitMates({ ...input, plates }).plates[0]?.[0]?.features[0];
    expect(slot?.width).toBeCloseTo(2 + CLEARANCE, 4);
  });

  test("whatever is fitted can be cut by the cutter that it was fitted for", () => {
    for (const plate of fitMates(assembly()).plates.flat()) {
      const { features, findings } = assignCutters(plate, [CUTTER]);
      expect(features.size).toBe(plate.features.length);
      expect(findings.map((f) => f.code)).not.toContain("curve-tighter-than-cutter");
    }
  });

  test("nothing but mating slots changes, and area and bounds follow", () => {
    const extra = plateOf(box(0, 0, 80, 60, 5), [hole(30, 0, 3.2), box(0, 20, 8.2, 2.1)], "top");
    const input = changed(1, (p) => ({ plates: [extra], mates: p.mates.slice(0, 1) }));
    const fitted = fitMates(input).plates[1]?.[0] as Plate;
    const round = fitted.features.find((f) => isCircle(f.contour));
    expect(round?.diameter).toBeCloseTo(3.2, 9);
    const openings = fitted.features.reduce((a, f) => a + f.area, 0);
    expect(fitted.area + openings).toBeCloseTo(extra.area + 8.2 * 2.1 + Math.PI * 1.6 ** 2, 3);
  });
});

describe("relief is chosen by what stays", () => {
  const wideSlot = (webAtEnd: number): FitInput => {
    // A tenon of a 6 mm sheet: the slot is wide enough for relief in each corner.
    const six = { ...THICK, name: "six", thickness: 6, measuredThickness: 6 };
    const end = 8.2 / 2 + webAtEnd + 1.5;
    const host = plateOf(
      box(0, 0, 80, 60, 5),
      [box(0, 0, 8.2, 6.1), box(end, 0, 3, 20, 1.2), box(-end, 0, 3, 20, 1.2)],
      "host",
    );
    return {
      plates: [
        {
          name: "host",
          plates: [host],
          sheet: THIN,
          count: 1,
          mates: [{ slot: { x: 0, y: 0 }, of: "leg", clearance: 0.1 }],
          relief: [],
        },
        {
          name: "leg",
          plates: [plateOf(side(2, 2), [], "leg")],
          sheet: six,
          count: 2,
          mates: [],
          relief: [],
        },
      ],
      cutters: [CUTTER],
      propose: false,
    };
  };
  const wayOf = (input: FitInput) =>
    fitMates(input).changes.find((c) => c.what === "slot")?.relief?.way;

  test("along the longer walls where the ends have web enough", () => {
    expect(wayOf(wideSlot(6))).toBe("along-wall");
  });

  test("on the bisectors where the web at the ends is thin", () => {
    expect(wayOf(wideSlot(1.8))).toBe("bisector");
  });

  test("round ends where the corners of an end would run together", () => {
    expect(fitMates(assembly()).changes[0]?.relief?.way).toBe("round-ends");
  });

  test("at a tenon's root the tenon keeps its width", () => {
    const tenon = fitMates(assembly()).changes.find((c) => c.what === "tenon");
    expect(tenon?.relief?.way).toBe("along-wall");
    expect(tenon?.relief?.bite).toBeCloseTo(1.05 * 0.9, 9);
    const wished = fitMates(assembly({ relief: "bisector" })).changes.find(
      (c) => c.what === "tenon",
    );
    expect(wished?.relief?.way).toBe("bisector");
    expect(fitMates(assembly({ relief: "none" })).changes.some((c) => c.relief !== undefined)).toBe(
      false,
    );
  });
});

describe("found mates", () => {
  const unnamed = (propose: boolean): FitInput => {
    const input = assembly();
    return { ...input, propose, plates: input.plates.map((p) => ({ ...p, mates: [] })) };
  };

  test("are proposed, one for each slot, when the job asks; nothing is changed for them", () => {
    const made = fitMates(unnamed(true));
    expect(made.findings.map((f) => [f.code, f.plate])).toEqual([
      ...Array.from({ length: 4 }, () => ["mate-proposed", "bottom"]),
      ...Array.from({ length: 2 }, () => ["mate-proposed", "top"]),
    ]);
    expect(made.findings[0]?.hint).toContain("of: side");
    expect(made.changes).toEqual([]);
    expect(made.plates[0]?.[0]?.features[0]?.contour).toEqual(bottom().features[0]?.contour);
    expect(made.plates[1]?.[0]?.outer).toEqual(top().outer);
  });

  test("are not looked for otherwise, nor where they are named", () => {
    expect(codes(unnamed(false))).toEqual([]);
    expect(codes({ ...assembly(), propose: true })).not.toContain("mate-proposed");
  });
});

test("edges of tenons are kept for the toolpath, on the outline as it now is", () => {
  const [plate] = fitMates(assembly()).plates[2] ?? [];
  expect(plate?.matingEdges?.length).toBe(9);
  const ys = plate?.matingEdges?.flatMap((e) => [e.from.y, e.to.y]) ?? [];
  expect(Math.min(...ys)).toBeCloseTo(-3.06, 4);
  expect(Math.max(...ys)).toBeCloseTo(31.93, 4);
});
