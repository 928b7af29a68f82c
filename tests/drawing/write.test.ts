/**
 * Writing: what is written reads back without loss, by our own reader and by libraries that did not write it
 * (dxf-parser for DXF; saxes for XML and svgpath for path data).
 */
import DxfParser from "dxf-parser/dist/dxf-parser.js";
import { SaxesParser } from "saxes";
import svgPath from "svgpath";
import { describe, expect, test } from "vitest";
import { writeDxf } from "../../src/core/drawing/write-dxf.ts";
import { writeSvg } from "../../src/core/drawing/write-svg.ts";
import { bounds, boundsOfAll, signedArea } from "../../src/core/geometry/contour.ts";
import type { Contour, Segment } from "../../src/core/geometry/shape.ts";
import { CASES } from "./support/corpus.ts";
import { type Seen, see, seeSvg } from "./support/pen.ts";

const drawn = CASES.flatMap((c) => {
  const s = see(c.bytes, { units: "mm" }, c.file);
  const contours = s.plates.flatMap((p) => [p.outer, ...p.features.map((f) => f.contour)]);
  return contours.length === 0 || c.file.startsWith("45") ? [] : [[c.file, contours] as const];
});

const areas = (list: readonly Contour[]): number[] =>
  list.map((c) => Math.abs(signedArea(c))).sort((a, b) => a - b);

function sameShapes(s: Seen, contours: readonly Contour[], digits: number): void {
  const back = s.plates.flatMap((p) => [p.outer, ...p.features.map((f) => f.contour)]);
  expect(back.length).toBe(contours.length);
  expect(areas(back)).toEqual(areas(contours).map((a) => expect.closeTo(a, digits)));
  const kinds = (list: readonly Contour[]) =>
    list.flatMap((c) => c.segments).filter((x) => x.kind === "arc").length;
  expect(kinds(back)).toBe(kinds(contours));
}

/** Bulge b on a chord c: the area of the segment of the circle, (θ − sin θ) r²/2 with θ = 4 atan b. */
function bulgedArea(vertices: readonly { x: number; y: number; bulge?: number }[]): number {
  return vertices.reduce((sum, p, i) => {
    const q = vertices[(i + 1) % vertices.length] as { x: number; y: number };
    const theta = 4 * Math.atan(p.bulge ?? 0);
    const chord = Math.hypot(q.x - p.x, q.y - p.y);
    const r = theta === 0 ? 0 : chord / (2 * Math.sin(theta / 2));
    return sum + (p.x * q.y - q.x * p.y + r * r * (theta - Math.sin(theta))) / 2;
  }, 0);
}

describe.each(drawn)("%s", (_, contours) => {
  test("as DXF", () => {
    const written = writeDxf([
      { name: "CUT", contours, labels: [{ text: "Ä <1>", at: { x: 1, y: 2 }, height: 3 }] },
    ]);
    const s = see(written);
    expect([s.drawing.units.declared, s.drawing.openChains.length]).toEqual(["mm", 0]);
    sameShapes(s, contours, 6);
    // The same text again, word for word: reading and writing is a fixed point.
    const again = s.drawing.loops.map((l) => l.contour);
    expect(areas(again)).toEqual(areas(contours).map((a) => expect.closeTo(a, 6)));

    const other = new DxfParser().parse(written);
    const theirs = (other?.entities ?? []).flatMap((e) => {
      const { type, radius, vertices } = e as unknown as {
        type: string;
        radius: number;
        vertices: { x: number; y: number }[];
      };
      if (type === "CIRCLE") return [Math.PI * radius * radius];
      return type === "LWPOLYLINE" ? [Math.abs(bulgedArea(vertices))] : [];
    });
    expect(theirs.sort((a, b) => a - b)).toEqual(areas(contours).map((a) => expect.closeTo(a, 6)));
    expect((other as { header?: Record<string, unknown> } | null)?.header?.["$INSUNITS"]).toBe(4);
  });

  test("as SVG", () => {
    const page = boundsOfAll(contours);
    const written = writeSvg([{ name: "cut", contours }], page, "Ä <1>");
    const s = seeSvg(written);
    expect([s.drawing.units.declared, s.codes.includes("xml-broken")]).toEqual(["mm", false]);
    sameShapes(s, contours, 3);

    expect(theirAreas(written)).toEqual(areas(contours).map((a) => expect.closeTo(a, 3)));
  });
});

/** Areas of the shapes by another XML reader, and by another reader of path data. */
function theirAreas(source: string): number[] {
  const found: number[] = [];
  const parser = new SaxesParser();
  parser.on("error", (e) => {
    throw e;
  });
  parser.on("opentag", ({ name, attributes }) => {
    const a = attributes as unknown as Record<string, string>;
    if (name === "circle") found.push(Math.PI * Number(a["r"]) ** 2);
    if (name === "path") found.push(pathArea(a["d"] ?? ""));
  });
  parser.write(source).close();
  return found.sort((x, y) => x - y);
}

/** Chords, and over each arc the segment of its circle, r² (θ − sin θ)/2. */
function pathArea(d: string): number {
  let at: readonly [number, number] = [0, 0];
  let area = 0;
  svgPath(d)
    .abs()
    .iterate((segment) => {
      const n = segment.slice(1).map(Number);
      const end = [n.at(-2) ?? 0, n.at(-1) ?? 0] as const;
      if (segment[0] === "Z") return;
      if (segment[0] !== "M") area += (at[0] * end[1] - end[0] * at[1]) / 2;
      if (segment[0] === "A") {
        const [r = 0, , , large, positive] = n;
        const half = Math.asin(Math.min(1, Math.hypot(end[0] - at[0], end[1] - at[1]) / (2 * r)));
        const theta = large === 1 ? 2 * (Math.PI - half) : 2 * half;
        area += ((positive === 1 ? 1 : -1) * r * r * (theta - Math.sin(theta))) / 2;
      }
      at = end;
    });
  return Math.abs(area);
}

describe("of any shape", () => {
  const arc = (sweep: number): Segment => ({
    kind: "arc",
    from: { x: 5, y: 0 },
    to: { x: 5 * Math.cos(sweep), y: 5 * Math.sin(sweep) },
    centre: { x: 0, y: 0 },
    radius: 5,
    sweep,
  });

  test.each([0.3, 1.6, 3.1, Math.PI, 3.2, 4.8, 6, 6.2, -0.3, -3.13, -5.9])(
    "an arc of %f rad and its chord",
    (sweep) => {
      const a = arc(sweep);
      const contour: Contour = { segments: [a, { kind: "line", from: a.to, to: a.from }] };
      const area = Math.abs((25 * (sweep - Math.sin(sweep))) / 2);
      const d = see(writeDxf([{ name: "a", contours: [contour] }]));
      expect(d.area).toBeCloseTo(area, 6);
      const g = seeSvg(writeSvg([{ name: "a", contours: [contour] }], bounds(contour)));
      expect(g.area).toBeCloseTo(area, 4);
    },
  );

  test("names that the formats have no room for", () => {
    const square = see(writeDxf([{ name: "x", contours: [] }]));
    expect(square.codes).toEqual(["nothing-drawn"]);
    const contour: Contour = {
      segments: [arc(2), { kind: "line", from: arc(2).to, to: arc(2).from }],
    };
    const layers = ["a/b", "A_B", "", "0", "Äß中", "l\nine"].map((name) => ({
      name,
      contours: [contour],
    }));
    const s = see(writeDxf(layers));
    expect(
      s.drawing.loops.length +
        Number(s.findings.find((f) => f.code === "duplicates-removed")?.data["count"] ?? 0),
    ).toBe(6);
    expect(() => new DxfParser().parse(writeDxf(layers))).not.toThrow();
    expect(seeSvg(writeSvg(layers, bounds(contour), "\u0000\ud800<&\"'")).codes).not.toContain(
      "xml-broken",
    );
  });
});
