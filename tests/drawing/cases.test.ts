/**
 * Every drawing of the corpus against its ledger. The ledger's values follow from formulas and were checked with
 * two general-purpose libraries; tolerances are the ledger's: 0.002 mm² or 2e-6 of the area, 0.002 mm.
 */
import { describe, expect, test } from "vitest";
import { boundsOfAll, signedArea } from "../../src/core/geometry/contour.ts";
import { offsetRings } from "../../src/core/geometry/offset.ts";
import { CASES, type Case, caseOf } from "./support/corpus.ts";
import { found, type Seen, see } from "./support/pen.ts";

function circlesOf(s: Seen): number[] {
  const contours = s.plates.flatMap((p) => [p.outer, ...p.features.map((f) => f.contour)]);
  return contours.flatMap((c) => {
    const only = c.segments[0];
    return c.segments.length === 1 && only?.kind === "arc" ? [2 * only.radius] : [];
  });
}

function agrees(s: Seen, x: Case["expect"]): void {
  expect({
    loops: s.drawing.loops.length,
    outers: s.plates.length,
    holes: s.holes,
    chains: s.drawing.openChains.length,
  }).toEqual({ loops: x.closed_loops, outers: x.outers, holes: x.holes, chains: x.open_chains });
  if (x.area_mm2 !== null)
    expect(Math.abs(s.area - x.area_mm2)).toBeLessThan(Math.max(0.002, 2e-6 * x.area_mm2));
  if (x.bbox_mm === null) return;
  const { min, max } = s.drawing.bounds;
  const [x0, y0, x1, y1] = x.bbox_mm;
  // The ledger keeps SVG's Y, which runs down: of those the size is compared.
  const mine =
    s.drawing.format === "dxf" ? [min.x, min.y, max.x, max.y] : [min.x, 0, max.x, max.y - min.y];
  const right = s.drawing.format === "dxf" ? [x0, y0, x1, y1] : [x0, 0, x1, y1 - y0];
  for (const [i, v] of mine.entries())
    expect(Math.abs(v - (right[i] as number))).toBeLessThan(0.002);
}

describe("as drawn", () => {
  test.each(CASES.map((c) => [c.file, c] as const))("%s", (file, c) => {
    const s = see(c.bytes, {}, file);
    agrees(s, c.expect);
    const circles = circlesOf(s);
    const wanted = { ...c.expect.circle_diams_mm, ...c.expect.fitted_diams_mm };
    for (const [diameter, count] of Object.entries(wanted)) {
      // Fitted ones are said to a thousandth, or as a range of a few.
      const near = circles.filter((d) => Math.abs(d - Number(diameter)) < 0.0035);
      expect([diameter, near.length]).toEqual([diameter, count]);
    }
  });
});

describe("with answers", () => {
  test("no unit: as inches", () => {
    const c = caseOf("23b");
    const s = see(c.bytes, { units: "in" });
    expect(s.area).toBeCloseTo(c.as_inch?.area_mm2 ?? 0, 1);
    expect(s.drawing.bounds.max).toEqual({
      x: expect.closeTo(76.2, 6),
      y: expect.closeTo(38.1, 6),
    });
    expect(s.diameters).toEqual([expect.closeTo(3.002, 3)]);
  });

  test("hidden layers, named", () => {
    const c = caseOf("24");
    const hidden = see(c.bytes).drawing.ignored.flatMap((i) =>
      i.layer === undefined ? [] : [i.layer],
    );
    const shown = see(c.bytes).drawing.loops.map((l) => l.layer);
    agrees(see(c.bytes, { cutLayers: [...hidden, ...shown] }), c.with_hidden as Case["expect"]);
  });

  test("gaps, closed up to a distance", () => {
    const c = caseOf("27");
    const at = (closeGaps: number) => see(c.bytes, { closeGaps }).drawing.loops.length;
    expect([at(0.01), at(0.1), at(0.5)]).toEqual([3, 4, 5]);
    expect([c.at_tolerance?.["0.01"], c.at_tolerance?.["0.1"], c.at_tolerance?.["0.5"]]).toEqual([
      3, 4, 5,
    ]);
    const gaps = see(c.bytes).drawing.openChains.map((o) => o.gap);
    expect(gaps).toEqual([expect.closeTo(0.05, 6), expect.closeTo(0.3, 6)]);
  });
});

describe("what is said", () => {
  test.each([
    ["17", "arc-start-equals-end", "warn"],
    ["23b", "unit-unknown", "stop"],
    ["25", "paper-space", "note"],
    ["27", "gap", "stop"],
    ["29", "open-chain", "warn"],
    ["30", "width-ignored", "note"],
    ["32", "polyline-unended", "note"],
    ["33", "end-missing", "warn"],
    ["38", "comma-decimals", "note"],
    ["39", "open-outline", "stop"],
    ["40", "vertex-repeated", "note"],
    ["44", "loops-touch", "warn"],
    ["45", "self-crossing", "stop"],
    ["51", "px-assumed", "warn"],
    ["61", "layer-hidden", "warn"],
    ["64", "unit-unknown", "stop"],
    ["80", "not-a-drawing", "stop"],
    ["81", "not-a-drawing", "stop"],
  ])("%s: %s", (start, code, severity) => {
    const c = caseOf(start);
    expect(found(see(c.bytes, {}, c.file), code).severity).toBe(severity);
  });

  test("how many were doubled, and how much smaller a faceted hole was drawn", () => {
    expect(found(see(caseOf("28").bytes), "duplicates-removed").data["count"]).toBe(7);
    const round = found(see(caseOf("10").bytes), "round-from-facets").data;
    expect([round["diameter"], round["facets"]]).toEqual([expect.closeTo(6, 6), 12]);
    expect(round["smaller"]).toBeCloseTo(6 * (1 - Math.cos(Math.PI / 12)), 6);
  });

  test("names in the page's encoding", () => {
    const layers = see(caseOf("35").bytes).drawing.loops.map((l) => l.layer);
    expect(new Set(layers)).toEqual(new Set(["Découpe ü", "Fläche"]));
  });
});

describe("offsets", () => {
  test.each(
    CASES.flatMap((c) =>
      (c.offset ?? []).flatMap((o) =>
        o.join === "round" ? [[c.file, o.delta, c, o] as const] : [],
      ),
    ),
  )("%s by %f mm", (file, delta, c, o) => {
    const plate = see(c.bytes, {}, file).plates[0];
    if (plate === undefined) throw new Error("no plate");
    const rings = offsetRings([plate.outer], delta);
    expect(rings.length).toBe(o.loops);
    const area = rings.reduce((sum, ring) => sum + signedArea(ring), 0);
    expect(Math.abs(area - o.area_mm2)).toBeLessThan(0.002);
    if (o.bbox_mm === undefined) return;
    const { min, max } = boundsOfAll(rings);
    for (const [i, v] of [min.x, min.y, max.x, max.y].entries())
      expect(v).toBeCloseTo(o.bbox_mm[i] as number, 2);
  });
});
