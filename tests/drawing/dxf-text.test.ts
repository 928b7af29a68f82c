/**
 * DXF as text and bytes: line ends, order, counts, end marks, encodings, binary files, damage, and files that are
 * no drawing at all.
 */
import { describe, expect, test } from "vitest";
import type { ReadOptions } from "../../src/core/drawing/drawing.ts";
import { binaryDxf } from "./support/binary.ts";
import {
  arc,
  box,
  circle,
  dxf,
  found,
  line,
  lwpolyline,
  on,
  polyline,
  see,
  text,
} from "./support/pen.ts";

const PLATE = dxf([
  on("Cut", box(0, 0, 40, 20)),
  on("Cut", circle(10, 10, 2)),
  on("Cut", arc(30, 10, 3, [0, 180])),
  on("Cut", arc(30, 10, 3, [180, 0])),
]);
const AREA = 800 - 13 * Math.PI;
const utf8 = (s: string): Uint8Array => new TextEncoder().encode(s);

function right(content: string | Uint8Array, options: ReadOptions = {}): void {
  const s = see(content, options);
  expect([s.plates.length, s.holes, s.drawing.openChains.length]).toEqual([1, 2, 0]);
  expect(s.area).toBeCloseTo(AREA, 4);
}

describe("reads the same", () => {
  test.each([
    ["with LF", PLATE],
    ["with CR LF", PLATE.replaceAll("\n", "\r\n")],
    ["with CR", PLATE.replaceAll("\n", "\r")],
    ["with CR CR LF", PLATE.replaceAll("\n", "\r\r\n")],
    ["with blanks about codes and values", PLATE.replaceAll("\n", " \t\n  ")],
    ["after a byte order mark", `\ufeff${PLATE}`],
    ["after comments", `999\nmade by hand\n999\nagain\n${PLATE}`],
    ["after empty lines", `\n\n${PLATE}`],
    [
      "in lower case",
      PLATE.replace(/LWPOLYLINE|CIRCLE|ARC|SECTION|ENTITIES/g, (w) => w.toLowerCase()),
    ],
    ["without an end mark", PLATE.replace(/ {2}0\nEOF\n$/, "")],
    ["without the sections' ends", PLATE.replaceAll("  0\nENDSEC\n", "")],
    ["without a last line end", PLATE.trimEnd()],
    ["with zeros after the end", `${PLATE}${"\0".repeat(50)}`],
    [
      "with numbers in exponents",
      PLATE.replaceAll("\n40\n", "\n4.0E+01\n").replaceAll("\n20\n", "\n+20.\n"),
    ],
  ])("%s", (_, content) => {
    right(content);
    right(utf8(content));
  });

  test("in UTF-16", () => {
    const units = [0xfeff, ...[...PLATE].map((c) => c.charCodeAt(0))];
    right(Uint8Array.from(units.flatMap((u) => [u & 255, u >> 8])));
    right(Uint8Array.from(units.flatMap((u) => [u >> 8, u & 255])));
  });

  test("as binary, codes of one byte and of two", () => {
    right(binaryDxf(PLATE, 2));
    right(binaryDxf(PLATE, 1));
  });

  test("with groups in any order", () => {
    const swapped = line(0, 0, 10, 0);
    const [head, x0, y0, x1, y1] = swapped as [never, never, never, never, never];
    const drawn = dxf([
      [head, x0, x1, y0, y1],
      [
        [0, "LINE"],
        [21, 8],
        [11, 10],
        [20, 0],
        [10, 10],
      ],
      line(10, 8, 0, 8),
      line(0, 8, 0, 0),
    ]);
    expect(see(drawn).area).toBeCloseTo(80, 6);
  });
});

describe("damage", () => {
  test("a decimal comma is a decimal point, and told", () => {
    const s = see(PLATE.replaceAll("\n40\n", "\n40,0\n"));
    expect(found(s, "comma-decimals").data["count"]).toBe(2);
    expect(s.area).toBeCloseTo(AREA, 4);
  });

  test("a number that is none stops, with its line", () => {
    const drawn = dxf([box(0, 0, 10, 10), circle(5, 5, 2)]).replace(/\n 40\n2\n/, "\n 40\ntwo\n");
    const f = found(see(drawn), "number-unreadable");
    expect(f.severity).toBe("stop");
    expect(drawn.split("\n")[(f.drawing?.line ?? 0) - 1]).toBe("two");
  });

  test("a stray line costs one line, and stops", () => {
    const s = see(PLATE.replace("  0\nCIRCLE", "oops\n  0\nCIRCLE"));
    expect(s.area).toBeCloseTo(AREA, 4);
    expect(found(s, "lines-skipped").severity).toBe("stop");
  });

  test("polylines without SEQEND end where another entity begins", () => {
    const open = (x: number) =>
      polyline([
        [x, 0],
        [x + 10, 0],
        [x + 10, 10],
        [x, 10],
      ]).slice(0, -1);
    const s = see(dxf([open(0), circle(50, 5, 2), open(20), open(70)]));
    expect(s.plates.length).toBe(4);
    expect(found(s, "polyline-unended").data["count"]).toBe(3);
  });

  test("a file cut in the middle of an entity keeps what was whole, and stops", () => {
    const cut = PLATE.slice(0, PLATE.lastIndexOf("ARC") + 20);
    const s = see(cut);
    expect(s.holes).toBe(1);
    expect(found(s, "drawing-cut-short")).toMatchObject({
      severity: "stop",
      drawing: { entity: "ARC" },
    });
  });

  test("entities that lack what makes them are told by line", () => {
    const s = see(
      dxf([
        box(0, 0, 10, 10),
        [
          [0, "CIRCLE"],
          [10, 5],
          [20, 5],
        ],
      ]),
    );
    expect(found(s, "entity-incomplete").drawing?.entity).toBe("CIRCLE");
    expect(s.area).toBe(100);
  });

  test("groups of applications and embedded objects are no part of a shape", () => {
    const e = [...circle(5, 5, 2), [1001, "APP"], [1010, 99], [40, 7]] as const;
    expect(see(dxf([box(0, 0, 10, 10), e])).diameters).toEqual([4]);
  });

  test("names of the language are names", () => {
    const drawn = dxf(
      [
        on("__proto__", box(0, 0, 10, 10)),
        [
          [0, "INSERT"],
          [2, "constructor"],
          [10, 5],
          [20, 5],
        ],
      ],
      {
        layers: [["__proto__"], ["ENDTAB"]],
        blocks: { constructor: [on("toString", circle(0, 0, 2))] },
      },
    );
    const s = see(drawn);
    expect([s.holes, s.codes]).toEqual([1, []]);
    expect(s.drawing.loops.map((l) => l.layer)).toEqual(["__proto__", "toString"]);
  });
});

describe("encodings", () => {
  const named = (name: number[], page: string, version = "AC1015") => {
    const head = text([
      [0, "SECTION"],
      [2, "HEADER"],
      [9, "$ACADVER"],
      [1, version],
      [9, "$DWGCODEPAGE"],
      [3, page],
      [9, "$INSUNITS"],
      [70, 4],
      [0, "ENDSEC"],
    ]);
    const body = dxf([on("@@", box(0, 0, 10, 10))], { units: null });
    const [before, after] = `${head}${body}`.split("@@") as [string, string];
    return Uint8Array.from([...utf8(before), ...name, ...utf8(after)]);
  };
  const layerOf = (bytes: Uint8Array, options: ReadOptions = {}) =>
    see(bytes, options).drawing.loops[0]?.layer;

  test.each([
    ["ANSI_1252", [0xfc], "ü"],
    ["ANSI_1251", [0xc4], "Д"],
    ["ANSI_1250", [0xb9], "ą"],
    ["ansi_1253", [0xe1], "α"],
    ["dos850", [0x81], "ü"],
  ])("of one byte: %s", (page, bytes, name) => {
    expect(layerOf(named(bytes, page))).toBe(name);
  });

  test("UTF-8 from 2007 on, whatever the page says", () => {
    expect(layerOf(named([0xc3, 0xbc], "ANSI_1252", "AC1021"))).toBe("ü");
  });

  test("escapes", () => {
    expect(layerOf(named([...utf8("\\U+00E4\\U+4E2D")], "ANSI_1252"))).toBe("ä中");
  });

  test("of two bytes, by the shell's decoder; without one the shape is not affected", () => {
    const bytes = named([0xa4, 0xa4], "ANSI_950");
    const decodeText = (b: Uint8Array, encoding: string) => new TextDecoder(encoding).decode(b);
    expect(layerOf(bytes, { decodeText })).toBe("中");
    const s = see(bytes);
    expect([s.area, s.codes]).toEqual([100, ["names-undecoded"]]);
  });

  test("any byte in any name leaves the geometry alone", () => {
    for (let b = 128; b < 256; b++) expect(see(named([b], "ANSI_1252")).area).toBe(100);
  });
});

describe("no drawing", () => {
  test.each([
    ["a web page", "<!DOCTYPE html><html><body>404</body></html>"],
    ["a pointer", "version https://git-lfs.github.com/spec/v1\noid sha256:00\nsize 123\n"],
    ["a PDF", "%PDF-1.7\n%"],
    ["a ZIP archive", "PK\u0003\u0004junk"],
    ["an empty file", ""],
    ["a file of blanks", " \n\n  \t\n"],
    ["no DXF", "hello there\n"],
    ["no DXF", '{"json": true}'],
    ["a picture", Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10])],
    ["a STEP file", "ISO-10303-21;\nHEADER;"],
    ["other XML", '<?xml version="1.0"?><project/>'],
    ["a DWG", "AC1027\0\0\0\0\0\0\u0001junk"],
  ])("%s", (what, content) => {
    const s = see(content);
    const f = found(s, "not-a-drawing");
    expect([f.severity, s.drawing.loops]).toEqual(["stop", []]);
    expect(f.message).toContain(what);
    expect(f.hint).toBeDefined();
  });

  test("an SVG by the name of DXF is read as what it is", () => {
    const s = see(
      '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"><rect width="9" height="9"/></svg>',
    );
    expect([s.drawing.format, s.area]).toEqual(["svg", 81]);
  });
});

test("a polyline's lines are named in what is said of it", () => {
  const drawn = dxf([
    box(0, 0, 10, 10),
    lwpolyline(
      [
        [0, 0],
        [30, 0],
        [30, 20],
      ],
      false,
    ),
  ]);
  const f = see(drawn).findings.find((x) => x.code === "open-chain" || x.code === "open-outline");
  expect(drawn.split("\n")[f?.drawing?.line ?? 0]).toBe("LWPOLYLINE");
});
