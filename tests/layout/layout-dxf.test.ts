/** The layout's drawing, read back. */
/// <reference path="../../src/core/drawing/dxf/dxf-parser.d.ts" />
import DxfParser from "dxf-parser/dist/dxf-parser.js";
import { describe, expect, it } from "vitest";
import { readDrawing } from "../../src/core/drawing/read.ts";
import { signedArea } from "../../src/core/geometry/contour.ts";
import type { SheetJson } from "../../src/core/job/plan-json.ts";
import { contourOf } from "../../src/core/job/planning/contour-json.ts";
import { layoutDxf } from "../../src/core/layout/picture.ts";
import { samplePlan } from "../jobsheet/sample-plan.ts";

const sheets = samplePlan().sheets;

describe.each(sheets.map((s) => [s.name, s] as const))("sheet %s", (_, sheet) => {
  const drawing = readDrawing("layout.dxf", layoutDxf(sheet));

  it("is read whole, in mm", () => {
    expect(drawing.units).toMatchObject({ declared: "mm", assumed: false });
    expect([drawing.openChains, drawing.repairs]).toEqual([[], []]);
  });

  it("holds every contour on its plate's layer, to the reader's grid", () => {
    for (const p of sheet.placements) {
      const loops = drawing.loops.filter((l) => l.layer === `PLATE ${p.plate} ${p.copy}`);
      const area = (areas: number[]): number[] => areas.map(Math.abs).sort((a, b) => a - b);
      const read = area(loops.map((l) => signedArea(l.contour)));
      const wanted = area([p.outer, ...p.inner].map((c) => signedArea(contourOf(c))));
      expect(read.length).toBe(wanted.length);
      // The grid of 0.1 µm along half a metre of outline.
      for (const [i, a] of wanted.entries())
        expect(Math.abs((read[i] ?? 0) - a)).toBeLessThan(0.05);
    }
    // Named, or the reader takes it for the border of the drawing's paper.
    const border = readDrawing("layout.dxf", layoutDxf(sheet), { cutLayers: ["SHEET"] });
    expect(border.loops.length).toBe(1);
    expect(drawing.loops.filter((l) => l.layer === "KEEP-OUT").length).toBe(sheet.keepOut.length);
  });

  it("is taken by another reader, tabs and all", () => {
    const parsed = new DxfParser().parse(layoutDxf(sheet));
    const types = (parsed?.entities ?? []).map((e) => (e as { type?: string }).type);
    expect(types.filter((t) => t === "POINT").length).toBe(sheet.tabs.length);
    expect(Object.keys(parsed?.tables?.layer?.layers ?? {})).toContain("TABS");
  });
});

describe("names", () => {
  it("that layers cannot hold are replaced, and stay apart", () => {
    const sheet = sheets[0] as SheetJson;
    const [a, b] = sheet.placements;
    if (a === undefined || b === undefined) throw new Error("two placements wanted");
    const named = {
      ...sheet,
      placements: [
        { ...a, plate: "a/b\n0" },
        { ...b, plate: "a:b\n0", copy: 1 },
      ],
    };
    const text = layoutDxf(named);
    const layers = [...text.matchAll(/ {2}8\n(PLATE .*)\n/g)].map((m) => m[1]);
    expect(new Set(layers)).toEqual(new Set(["PLATE a-b-0 1", "PLATE a-b-0 1 (2)"]));
    expect(layoutDxf({ ...sheet, placements: [{ ...a, plate: "Flügel" }] })).toContain(
      "PLATE Fl\\U+00FCgel 1",
    );
  });
});
