/** The demo's drawings: what the generator draws, cuttable as its head promises, and read without a word. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { drawings, drawn } from "../../fixtures/demo/make.ts";
import { readDrawing } from "../../src/core/drawing/read.ts";
import { signedArea } from "../../src/core/geometry/contour.ts";
import type { Arc, Contour } from "../../src/core/geometry/shape.ts";
import { boxed, curveDistance } from "../../src/core/layout/clearance.ts";
import { recognise } from "../../src/core/plate/recognise.ts";
import { contourOf } from "./support.ts";

const file = (name: string): URL => new URL(`../../fixtures/demo/${name}`, import.meta.url);
const names = Object.keys(drawings());

describe.each(names)("%s", (name) => {
  const contours = drawn()[name]?.entities.map(contourOf) ?? [];
  const [outer, ...inner] = contours as [Contour, ...Contour[]];

  it("is what make.ts writes", () => {
    expect(readFileSync(file(name), "utf8")).toBe(drawings()[name]);
  });

  it("leaves webs of 2 mm and more", () => {
    const shapes = contours.map(boxed);
    for (const [i, a] of shapes.entries()) {
      for (const b of shapes.slice(i + 1)) {
        expect(curveDistance(a, b, 2)).toBeGreaterThanOrEqual(2);
      }
    }
  });

  it("has no inside radius that a 2 mm cutter cannot follow", () => {
    const arcs = (c: Contour): Arc[] => c.segments.filter((s) => s.kind === "arc");
    const ccw = (c: Contour): boolean => signedArea(c) > 0;
    const bends = [
      ...arcs(outer).filter((a) => a.sweep > 0 !== ccw(outer)),
      ...inner.flatMap((c) => arcs(c).filter((a) => a.sweep > 0 === ccw(c))),
    ];
    for (const bend of bends) expect(bend.radius).toBeGreaterThan(1);
  });

  it("is read whole, without a repair or a finding", () => {
    const drawing = readDrawing(name, readFileSync(file(name)));
    expect(drawing.units).toMatchObject({ declared: "mm", used: "mm", factor: 1, assumed: false });
    expect([drawing.repairs, drawing.findings, drawing.openChains, drawing.ignored]).toEqual([
      [],
      [],
      [],
      [],
    ]);
    expect(drawing.loops.length).toBe(contours.length);
    const area = (c: Contour): number => Math.abs(signedArea(c));
    const sorted = (list: number[]): number[] => list.sort((a, b) => a - b);
    const read = sorted(drawing.loops.map((l) => area(l.contour)));
    // Coordinates snap to 0.1 µm: under 1e-4 mm on either side of an outline of half a metre.
    sorted(contours.map(area)).forEach((a, i) => {
      expect(Math.abs((read[i] ?? 0) - a)).toBeLessThan(0.05);
    });
  });

  it("becomes one plate with all its openings", () => {
    const drawing = readDrawing(name, readFileSync(file(name)));
    const { value, findings } = recognise(drawing, "p");
    expect(findings).toEqual([]);
    expect(value.length).toBe(1);
    expect(value[0]?.features.length).toBe(inner.length);
  });
});

describe("the parts fit each other", () => {
  it("arm screws, stack and motor pattern lie where the next plate has them", () => {
    const holes = (name: string): string[] =>
      (drawn()[name]?.entities ?? []).flatMap((e) =>
        e.kind === "circle" ? [`${e.x.toFixed(3)} ${e.y.toFixed(3)} ${e.d}`] : [],
      );
    const arm = holes("arm.dxf");
    // Along the arm, 30.5/√2 and 42 mm from the airframe's middle; in the plates at 45°.
    expect(arm).toContain("21.567 0.000 3.4");
    expect(arm).toContain("42.000 0.000 3.4");
    expect(holes("bottom-plate.dxf")).toContain("15.250 15.250 3.4");
    expect(holes("bottom-plate.dxf")).toContain("29.698 29.698 3.4");
    expect(holes("top-plate.dxf")).toContain("29.698 -29.698 3.4");
    // Motor: four holes 16 mm across.
    const motor = (drawn()["arm.dxf"]?.entities ?? []).flatMap((e) =>
      e.kind === "circle" && e.d === 3.4 && e.x > 100 ? [Math.hypot(e.x - 125, e.y)] : [],
    );
    expect(motor.length).toBe(4);
    for (const r of motor) expect(r).toBeCloseTo(8, 9);
  });
});
