/** Units: declared, overridden, absent, doubtful; and the sizes of SVG pages. */
import { describe, expect, test } from "vitest";
import { box, circle, dxf, found, see, seeSvg, svg } from "./support/pen.ts";

const plate = (k = 1) => [box(0, 0, 76.2 * k, 38.1 * k), circle(10 * k, 10 * k, 1.6 * k)];

describe("of DXF", () => {
  test.each([
    [1, 25.4, "in"],
    [2, 304.8, "ft"],
    [4, 1, "mm"],
    [5, 10, "cm"],
    [6, 1000, "m"],
    [9, 0.0254, "mil"],
    [13, 0.001, "um"],
  ])("$INSUNITS %i is %f mm", (code, factor, name) => {
    const s = see(dxf(plate(1 / factor), { units: code }));
    expect(s.drawing.units).toEqual({ declared: name, used: name, factor, assumed: false });
    expect(s.plates[0]?.bounds.max.x).toBeCloseTo(76.2, 9);
    expect([s.diameters, s.codes]).toEqual([[expect.closeTo(3.2, 6)], []]);
  });

  test.each([[null], [0], [17], [99]])("none is said by %j: stops, with both readings", (units) => {
    const s = see(dxf(plate(), { units }));
    const f = found(s, "unit-unknown");
    expect(f.severity).toBe("stop");
    expect(f.message).toContain("76.2 × 38.1 mm, round holes 3.2 mm");
    expect(f.message).toContain("1935.48 × 967.74 mm, round holes 81.28 mm");
    expect(s.drawing.units).toMatchObject({ declared: null, assumed: true });
  });

  test("what the user says settles it", () => {
    for (const units of ["mm", "in"] as const) {
      const s = see(dxf(plate(), { units: null }), { units });
      expect(s.codes).toEqual([]);
      expect(s.drawing.units).toMatchObject({ used: units, assumed: false });
    }
    const s = see(dxf(plate(), { units: 1 }), { units: "mm" });
    expect([s.codes, s.drawing.units.declared, s.drawing.units.factor]).toEqual([[], "in", 1]);
  });

  test("declared inch and drawn in mm is doubtful", () => {
    const s = see(dxf(plate(), { units: 1 }));
    const f = found(s, "unit-doubtful");
    expect([f.severity, f.data["declared"], f.data["other"]]).toEqual(["warn", "in", "mm"]);
    expect(f.message).toContain("round holes 81.28 mm");
    expect(f.message).toContain("round holes 3.2 mm");
  });

  test.each([
    ["a small plate with small holes", [box(0, 0, 30, 20), circle(5, 5, 1)], 1],
    ["a plate without holes", [box(0, 0, 120, 90)], 1],
    ["inches drawn, mm said", [box(0, 0, 4.5, 2.25), circle(0.5, 0.5, 0.0625)], 4],
  ])("%s in the wrong unit", (_, entities, units) => {
    expect(see(dxf(entities, { units })).codes).toEqual(["unit-doubtful"]);
  });

  test.each([
    ["an inch plate", [box(0, 0, 4.5, 2.25), circle(0.5, 0.5, 0.0625)], 1],
    ["a large inch plate", [box(0, 0, 24, 12), circle(2, 2, 0.125), circle(8, 6, 2)], 1],
    ["a plate in mm", plate(), 4],
    ["a long arm in mm", [box(0, 0, 400, 20), circle(10, 10, 1.5)], 4],
  ])("%s in its unit is not", (_, entities, units) => {
    expect(see(dxf(entities, { units })).codes).toEqual([]);
  });
});

describe("of SVG", () => {
  const drawn = '<rect x="10" y="10" width="60" height="40"/>';
  const sizeOf = (page: string, options = {}) => {
    const s = seeSvg(svg(drawn, page), options);
    const b = s.drawing.bounds;
    const size = [b.max.x - b.min.x, b.max.y - b.min.y].map((v) => Math.round(v * 1e4) / 1e4);
    return { size, codes: s.codes, s };
  };

  test.each([
    ['width="100mm" height="60mm" viewBox="0 0 100 60"', [60, 40]],
    ['width="10cm" height="6cm" viewBox="0 0 100 60"', [60, 40]],
    ['width="1in" height="0.6in" viewBox="0 0 100 60"', [15.24, 10.16]],
    ['width="72pt" height="43.2pt" viewBox="0 0 100 60"', [15.24, 10.16]],
    ['width="6pc" height="3.6pc" viewBox="0 0 100 60"', [15.24, 10.16]],
    ['width="400Q" height="240Q" viewBox="0 0 100 60"', [60, 40]],
    ['width="200mm" viewBox="0 0 100 60"', [120, 80]],
    ['height="120mm" viewBox="0 0 100 60"', [120, 80]],
    // Aspect: the smaller scale by default, the larger for slice, both for none.
    ['width="200mm" height="60mm" viewBox="0 0 100 60"', [60, 40]],
    [
      'width="200mm" height="60mm" viewBox="0 0 100 60" preserveAspectRatio="xMinYMax slice"',
      [120, 80],
    ],
    ['width="200mm" height="60mm" viewBox="0 0 100 60" preserveAspectRatio="none"', [120, 40]],
    ['width="100mm" height="60mm" viewBox="-20,-20,100,60"', [60, 40]],
  ])("%s", (page, size) => {
    expect(sizeOf(page)).toMatchObject({ size, codes: [] });
  });

  test("px at 96, told, with the other readings", () => {
    for (const page of [
      'width="378" height="227" viewBox="0 0 378 227"',
      'width="378px" height="227px"',
    ]) {
      const { size, s } = sizeOf(page);
      expect(size).toEqual([15.875, 10.5833]);
      const f = found(s, "px-assumed");
      expect([f.severity, f.data["perInch"]]).toEqual(["warn", 96]);
      for (const reading of ["15.875 × 10.583", "16.933 × 11.289", "21.167 × 14.111", "60 × 40"])
        expect(f.message).toContain(`${reading} mm`);
    }
  });

  test.each([
    [
      90,
      'width="378" height="227" viewBox="0 0 378 227" xmlns:own="urn:own" own:version="0.48.4 r9939"',
    ],
    [72, 'width="378" height="227" viewBox="0 0 378 227" enable-background="new 0 0 378 227"'],
    [96, 'width="378" height="227" viewBox="0 0 378 227" xmlns:own="urn:own" own:version="1.2.2"'],
  ])("px at %i where the file shows it", (perInch, page) => {
    const { size, s } = sizeOf(page);
    expect(size[0]).toBeCloseTo((60 * 25.4) / perInch, 3);
    expect(found(s, "px-assumed").data["perInch"]).toBe(perInch);
  });

  test("px at 72 where a comment says so", () => {
    const s = seeSvg(`<!-- exported at 72 dpi -->${svg(drawn, 'width="378" height="227"')}`);
    expect(found(s, "px-assumed").data["perInch"]).toBe(72);
  });

  test.each([
    'viewBox="0 0 100 60"',
    "",
    'width="100%" height="100%" viewBox="0 0 100 60"',
    'width="auto"',
  ])("no size (%s): asks", (page) => {
    const { s } = sizeOf(page);
    expect(found(s, "unit-unknown").severity).toBe("stop");
    expect(sizeOf(page, { units: "mm" })).toMatchObject({ size: [60, 40], codes: [] });
    expect(sizeOf(page, { units: "in" }).size).toEqual([1524, 1016]);
  });

  test("--units says what one user unit is", () => {
    const page = 'width="378" height="227" viewBox="0 0 378 227"';
    expect(sizeOf(page, { units: "mm" })).toMatchObject({ size: [60, 40], codes: [] });
  });
});
