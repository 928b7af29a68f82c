/**
 * Any bytes, any truncation and any single changed tag of any case: a drawing with findings, never a throw, never
 * without end. `npm run test:long` runs each ten thousand times.
 */
import process from "node:process";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { inspectJson } from "../../src/core/drawing/inspect/json.ts";
import { inspectSvg } from "../../src/core/drawing/inspect/picture.ts";
import { inspectText } from "../../src/core/drawing/inspect/text.ts";
import { stops } from "../../src/core/finding/finding.ts";
import { CASES } from "./support/corpus.ts";
import { see } from "./support/pen.ts";

const long = process.env["WEFTCUT_LONG"] !== undefined;
const runs = { numRuns: long ? 10_000 : 250 };
const patience = long ? 3_600_000 : 60_000;

/** Reads, and holds what every answer must hold. */
function holds(content: Uint8Array | string, file: string, units?: "mm" | "in"): void {
  const s = see(content, { units }, file);
  const { drawing } = s;
  for (const f of s.findings) {
    // What is quoted is the file's own.
    expect(f.message.replace(/"[^"]*"/g, "")).not.toMatch(/undefined|NaN|\[object/);
    if (f.at !== undefined) expect(f.at.every(Number.isFinite)).toBe(true);
  }
  for (const p of s.plates) {
    expect(Number.isFinite(p.area) && Number.isFinite(p.perimeter)).toBe(true);
    const ends = p.outer.segments;
    expect(ends.at(-1)?.to).toEqual(ends[0]?.from);
  }
  // Nothing is silent: where nothing can be cut, something stops.
  if (s.plates.length === 0) expect(stops(s.findings)).toBe(true);
  expect(JSON.stringify(inspectJson(drawing, s.plates))).not.toContain("null,null");
  expect(inspectText(drawing, s.plates).length).toBeGreaterThan(0);
  expect(inspectSvg(drawing, s.plates)).not.toMatch(/NaN|Infinity|undefined/);
}

const aCase = fc
  .constantFrom(...CASES.map((c) => c.file))
  .map((file) => CASES.find((c) => c.file === file) as (typeof CASES)[number]);
const latin = (bytes: Uint8Array): string =>
  Array.from(bytes, (b) => String.fromCharCode(b)).join("");
const bytesOf = (s: string): Uint8Array => Uint8Array.from(s, (c) => c.charCodeAt(0) & 255);

describe("ends and does not throw on", () => {
  test(
    "any bytes",
    () => {
      const any = fc.uint8Array({ maxLength: 600 });
      const files = fc.constantFrom("x.dxf", "x.svg", "x");
      fc.assert(
        fc.property(any, files, (bytes, file) => holds(bytes, file)),
        runs,
      );
    },
    patience,
  );

  test(
    "any text of the words of the formats",
    () => {
      const words = fc.constantFrom(
        ..."0 SECTION 2 ENTITIES HEADER TABLES BLOCKS BLOCK ENDBLK INSERT LINE ARC CIRCLE LWPOLYLINE POLYLINE VERTEX SEQEND SPLINE ELLIPSE EOF ENDSEC ENDTAB 8 10 20 11 21 40 41 42 50 51 62 66 70 71 72 90 210 230 5 -1 1e308 nan".split(
          " ",
        ),
      );
      const text = fc
        .array(words, { maxLength: 200 })
        .map((w) => `0\nSECTION\n2\nENTITIES\n${w.join("\n")}`);
      fc.assert(
        fc.property(text, (t) => holds(t, "x.dxf", "mm")),
        runs,
      );
      const marks = fc.constantFrom(
        "<g>",
        "</g>",
        "<svg>",
        "<path d='M0 0",
        "L9 9",
        "a1 1 0 0111",
        "z'/>",
        "<use href='#a'/>",
        "<g id='a'>",
        "<rect width='9' height='9'/>",
        "&",
        "<",
        ">",
        "'",
        "<style>",
        "transform='scale(",
        "0)'",
        "<!--",
        "]]>",
      );
      const xml = fc
        .array(marks, { maxLength: 40 })
        .map((w) => `<svg width='9mm' height='9mm' viewBox='0 0 9 9'>${w.join(" ")}`);
      fc.assert(
        fc.property(xml, (t) => holds(t, "x.svg")),
        runs,
      );
    },
    patience,
  );

  test(
    "any truncation of any case",
    () => {
      const cut = fc.tuple(aCase, fc.double({ min: 0, max: 1, noNaN: true }));
      fc.assert(
        fc.property(cut, ([c, at]) =>
          holds(c.bytes.slice(0, Math.floor(at * c.bytes.length)), c.file),
        ),
        runs,
      );
    },
    patience,
  );

  test(
    "any single changed tag of any case",
    () => {
      const value = fc.oneof(
        fc.constantFrom(
          "0",
          "-1",
          "1e308",
          "-1e308",
          "1e-308",
          "NaN",
          "",
          "1,5",
          "999999999",
          "INSERT",
          "EOF",
          "\u0000",
        ),
        fc.double().map(String),
        fc.string({ maxLength: 12 }),
      );
      const change = fc.tuple(aCase, fc.nat(), value, fc.boolean());
      fc.assert(
        fc.property(change, ([c, at, by, gone]) => {
          const text = latin(c.bytes);
          if (c.file.endsWith(".svg")) {
            const parts = text.split(/([\s"'<>=,()]+)/);
            const i = at % parts.length;
            holds(
              bytesOf(
                [...parts.slice(0, i), ...(gone ? [] : [by]), ...parts.slice(i + 1)].join(""),
              ),
              c.file,
            );
            return;
          }
          if (c.file.startsWith("34")) {
            const bytes = c.bytes.slice();
            bytes[at % bytes.length] = by.charCodeAt(0) & 255;
            holds(bytes, c.file);
            return;
          }
          const lines = text.split(/\r\n|\r|\n/);
          const i = at % lines.length;
          lines.splice(i, 1, ...(gone ? [] : [by]));
          holds(bytesOf(lines.join("\n")), c.file, at % 2 === 0 ? "mm" : undefined);
        }),
        runs,
      );
    },
    patience,
  );
});
