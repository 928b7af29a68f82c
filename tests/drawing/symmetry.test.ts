/**
 * A law over the whole corpus: turned, mirrored, shifted by 10 m, shuffled, reversed, or drawn in the other unit,
 * a drawing holds the same plates and is spoken of in the same words.
 */
import { describe, expect, test } from "vitest";
import type { ReadOptions } from "../../src/core/drawing/drawing.ts";
import { binaryTags } from "../../src/core/drawing/dxf/tags.ts";
import { CASES, type Case } from "./support/corpus.ts";
import {
  mirrored,
  parse,
  reversed,
  scaled,
  shifted,
  shuffled,
  type Text,
  turned,
  write,
} from "./support/moves.ts";
import { type Seen, see } from "./support/pen.ts";

const latin = (bytes: Uint8Array): string =>
  Array.from(bytes, (b) => String.fromCharCode(b)).join("");

function textOf(c: Case): Text {
  if (!c.file.startsWith("34")) return shifted(parse(latin(c.bytes)), 0, 0);
  const { codes, values } = binaryTags(c.bytes, latin);
  return parse(codes.map((code, i) => `${code}\n${values[i]}\n`).join(""));
}

/** Areas of drawings are round numbers: a little more keeps them clear of where rounding turns. */
const OFF = 0.0123;

/** What may not change, rounded to what the ledger promises. */
function essence(s: Seen): unknown {
  const round = (v: number | undefined, digits: number) =>
    v === undefined ? undefined : Number(v.toFixed(digits));
  const sorted = <T>(list: readonly T[]): T[] =>
    list.toSorted((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
  return {
    plates: sorted(
      s.plates.map((p) => ({
        area: round(p.area + OFF, 1),
        perimeter: round(p.perimeter, 1),
        features: sorted(
          p.features.map((f) => [f.kind, round(f.diameter ?? f.length, 2), round(f.width, 2)]),
        ),
      })),
    ),
    area: round(s.area + OFF, 1),
    gaps: sorted(s.drawing.openChains.map((c) => round(c.gap, 3))),
    loops: s.drawing.loops.length,
    ignored: sorted(s.drawing.ignored.map((i) => [i.type, i.layer, i.why, i.count])),
    codes: s.codes,
  };
}

function same(c: Case, other: string, options: ReadOptions = {}, before: ReadOptions = {}): void {
  const s = see(c.bytes, before, c.file);
  const o = see(other, options, c.file);
  expect(essence(o)).toEqual(essence(s));
  expect(Math.abs(o.area - s.area)).toBeLessThan(Math.max(0.002, 2e-6 * s.area));
}

// What is not written by tags that stand for themselves cannot be turned: its names, ends and numbers are the case.
const NO_DRAWING = /^(80|81)-/;
const DXF = CASES.filter((c) => c.file.endsWith(".dxf") && !NO_DRAWING.test(c.file)).map(
  (c) => [c.file, c] as const,
);

/** Rewriting loses decimal commas: both sides are without them. */
const plain = (c: Case): Case => ({
  ...c,
  bytes: Uint8Array.from(write(textOf(c)), (ch) => ch.charCodeAt(0)),
});

describe.each(DXF)("%s", (_, raw) => {
  const c = plain(raw);
  const drawn = textOf(raw);

  test("turned", () => {
    for (const a of [90, 180, 33.3, -71]) same(c, write(turned(drawn, a)));
  });
  test("mirrored", () => {
    same(c, write(mirrored(drawn)));
    same(c, write(mirrored(turned(mirrored(drawn), 20))));
  });
  test("shifted by 10 m", () => {
    same(c, write(shifted(drawn, 10_000, -10_000)));
  });
  test("shuffled", () => {
    for (const seed of [1, 2, 3]) same(c, write(shuffled(drawn, seed)));
  });
  test("reversed", () => {
    same(c, write(reversed(drawn)));
    same(c, write(reversed(shuffled(drawn, 4))));
  });
  test("in the other unit", () => {
    const code = drawn.before.find((_t, i) => drawn.before[i - 1]?.value === "$INSUNITS")?.value;
    if (code === "4") same(c, write(scaled(drawn, 1 / 25.4, 1)));
    else if (code === "1") same(c, write(scaled(drawn, 25.4, 4)));
    else same(c, write(scaled(drawn, 1 / 25.4, undefined)), { units: "in" }, { units: "mm" });
  });
});

const SVG = CASES.filter((c) => c.file.endsWith(".svg")).map((c) => [c.file, c] as const);

describe.each(SVG)("%s", (_, c) => {
  const source = latin(c.bytes);
  const [open = ""] = /<svg[^>]*>/.exec(source) ?? [];
  const body = source.slice(source.indexOf(open) + open.length, source.lastIndexOf("</svg>"));
  const within = (inner: string, root = open): string => source.replace(open + body, root + inner);

  test("moved", () => {
    // 10 m in user units of any size that the corpus has.
    for (const move of [
      "rotate(90)",
      "rotate(33.3)",
      "scale(-1 1)",
      "translate(37800 -37800)",
      "matrix(0 1 1 0 0 0)",
    ])
      same(c, within(`<g transform="${move}">${body}</g>`));
  });
  test("shuffled", () => {
    const parts = body.match(/<(\w+)\b[^>]*(?:\/>|>[\s\S]*?<\/\1>)/g) ?? [];
    expect(parts.join("").replace(/\s/g, "")).toBe(body.replace(/<!--[\s\S]*?-->|\s/g, ""));
    same(c, within([...parts].reverse().join("\n")));
  });
  test("reversed", () => {
    const back = body.replace(/points="([^"]*)"/g, (_m, list: string) => {
      const pairs = (list.match(/[^\s,]+[\s,]+[^\s,]+/g) ?? []).reverse();
      return `points="${pairs.join(" ")}"`;
    });
    const lines = back.replace(
      /\b([xy])([12])=/g,
      (_m, axis: string, n: string) => `${axis}${n === "1" ? 2 : 1}=`,
    );
    same(c, within(lines));
  });
  test("in the other unit", () => {
    const inches = open.replace(
      /\b(width|height)="([\d.]+)mm"/g,
      (_m, name: string, v: string) => `${name}="${Number(v) / 25.4}in"`,
    );
    same(c, within(body, inches));
  });
});
