import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { isMap, isScalar, LineCounter, parse, parseDocument, visit } from "yaml";
import { parseJob } from "../../src/core/job/parse.ts";
import { besideJobs, jobText } from "./read-fixture.ts";

const FULL = jobText("full.yaml");

function read(text: string) {
  return parseJob({ name: "job.yaml", text }, besideJobs);
}

interface Spot {
  readonly offset: number;
  readonly end: number;
  readonly line: number;
  readonly column: number;
  readonly text: string;
}

/** Every key and every scalar value of the full job, found by walking it with another reader's eyes. */
function spots(): { keys: Spot[]; values: Spot[] } {
  const lines = new LineCounter();
  const document = parseDocument(FULL, { lineCounter: lines });
  const keys: Spot[] = [];
  const values: Spot[] = [];
  const spotOf = (range: readonly number[] | null | undefined): Spot => {
    const [offset = 0, end = 0] = range ?? [];
    const { line, col } = lines.linePos(offset);
    return { offset, end, line, column: col, text: FULL.slice(offset, end) };
  };
  visit(document, {
    Pair(_, pair) {
      if (isScalar(pair.key)) keys.push(spotOf(pair.key.range));
      if (isScalar(pair.value)) values.push(spotOf(pair.value.range));
    },
  });
  expect(isMap(document.contents)).toBe(true);
  return { keys, values };
}

const { keys, values } = spots();

function replaced(spot: Spot, text: string): string {
  return FULL.slice(0, spot.offset) + text + FULL.slice(spot.end);
}

describe("a job file", () => {
  test("with every key is read whole", () => {
    const { value, findings } = read(FULL);
    expect(findings).toEqual([]);
    expect(value?.name).toBe("mudflat survey quad");
    expect(value?.machine.name).toBe("small router");
    expect(value?.plates.map((p) => p.count)).toEqual([4, 1]);
    expect(value?.plates[0]?.layers.cut).toEqual(["CUT", "0"]);
    expect(value?.sheets[0]?.keepOuts).toEqual([
      { kind: "disc", at: { x: 8, y: 8 }, diameter: 16 },
      { kind: "box", box: { min: { x: 0, y: 90 }, max: { x: 12, y: 110 } } },
    ]);
    expect(value?.cutters[0]?.place).toEqual({ file: "job.yaml", line: 29, column: 13 });
  });

  test("that is JSON says the same as in YAML", () => {
    const plain = (text: string) => {
      const withoutPlaces = (key: string, value: unknown) =>
        /place$/i.test(key) ? undefined : value;
      return JSON.parse(JSON.stringify(read(text).value, withoutPlaces));
    };
    expect(plain(JSON.stringify(parse(FULL), null, 1))).toEqual(plain(FULL));
    expect(plain(JSON.stringify(parse(FULL), null, "\t"))).toEqual(plain(FULL));
  });

  test("may leave out all but machine, sheets, plates and cutters", () => {
    const { value, findings } = read(jobText("least.yaml"));
    expect(findings).toEqual([]);
    expect(value?.name).toBe("job");
    expect(value?.origin).toEqual({ at: "lower-left", z: "sheet-top" });
    expect(value?.cutting).toEqual(read(FULL.replace(/passDepth: 0.5, /, "")).value?.cutting);
    expect(value?.plates[0]).toMatchObject({ count: 1, fixed: [], mates: [] });
  });

  test("keys that have no default are told, each at what lacks it", () => {
    const { findings } = read("weftcut: 1\nsheets: [ {} ]\n");
    expect(findings.map((f) => [f.code, f.data["path"], f.drawing?.line])).toEqual([
      ["missing-key", "machine", 1],
      ["missing-key", "plates", 1],
      ["missing-key", "cutters", 1],
      ["missing-key", "sheets[0].name", 2],
      ["missing-key", "sheets[0].material", 2],
      ["missing-key", "sheets[0].thickness", 2],
    ]);
  });
});

describe("laws over every key and value of the full job", () => {
  test("there is something to range over", () => {
    expect(keys.length).toBeGreaterThan(60);
    expect(values.length).toBeGreaterThan(30);
  });

  test.each(keys.filter((k) => k.text !== "POCKET"))(
    "a misspelt $text ($line:$column) is told there, and set right",
    (spot) => {
      const typo = `${spot.text}q`;
      const { value, findings } = read(replaced(spot, typo));
      expect(value).toBeUndefined();
      const found = findings.filter((f) => f.code === "unknown-key");
      expect(found).toHaveLength(1);
      expect(found[0]?.data).toMatchObject({ key: typo, line: spot.line, column: spot.column });
      // A key that another alternative of a union lacks too may stay beside it, never the misspelt one.
      expect(found[0]?.data["meant"]).toBe(spot.text);
      expect(findings.filter((f) => f.data["key"] === spot.text)).toEqual([]);
      expect(found[0]?.message).toContain(`line ${spot.line}, column ${spot.column}`);
    },
  );

  test.each(values)("a list in place of $text ($line:$column) is told there", (spot) => {
    const { value, findings } = read(replaced(spot, "[[]]"));
    expect(value).toBeUndefined();
    expect(findings.length).toBeGreaterThan(0);
    const places = new Set(findings.map((f) => `${f.data["line"]}:${f.data["column"]}`));
    expect([...places]).toEqual([`${spot.line}:${spot.column}`]);
    expect(findings.every((f) => f.severity === "stop")).toBe(true);
  });

  test("problems far apart are all told at once", () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.constantFrom(...values), { maxLength: 8 }), (chosen) => {
        let text = FULL;
        // Same length, so that no place moves.
        for (const spot of chosen) {
          const filler = spot.text.length < 2 ? "~" : `{${" ".repeat(spot.text.length - 2)}}`;
          text = text.slice(0, spot.offset) + filler + text.slice(spot.end);
        }
        const told = new Set(
          read(text).findings.map((f) => `${f.data["line"]}:${f.data["column"]}`),
        );
        for (const spot of chosen) expect(told).toContain(`${spot.line}:${spot.column}`);
      }),
    );
  });
});

describe("any text at all", () => {
  const well = (text: string) => {
    const { value, findings } = read(text);
    const stopped = findings.some((f) => f.severity === "stop");
    expect(value === undefined).toBe(stopped);
    for (const f of findings) {
      expect(f.drawing?.line).toBeGreaterThanOrEqual(1);
      expect(Number(f.data["column"])).toBeGreaterThanOrEqual(1);
      expect(f.message).not.toMatch(/undefined|\[object|NaN/);
      expect(f.hint).not.toBe("");
    }
  };

  test("gives a job or a reason, and never throws", () => {
    fc.assert(fc.property(fc.string({ unit: "binary" }), well));
    fc.assert(fc.property(fc.json(), well));
  });

  test("cut, doubled and stirred job files too", () => {
    const offset = fc.nat({ max: FULL.length });
    const piece = fc.oneof(
      fc.constantFrom(
        "",
        ":",
        "-",
        "[",
        "]",
        "{",
        "}",
        "&a ",
        "*a",
        "\n",
        "\t",
        "#",
        "!x ",
        "'",
        "~",
      ),
      fc.string({ maxLength: 6 }),
    );
    fc.assert(
      fc.property(offset, fc.nat({ max: 30 }), piece, (at, length, put) => {
        well(FULL.slice(0, at) + put + FULL.slice(at + length));
      }),
    );
  });

  test.each([
    ["nothing", ""],
    ["a comment alone", "# soon\n"],
    ["many brackets", "[".repeat(20_000)],
    [
      "aliases of aliases",
      `a: &a [x]\n${"bcdefghi".replace(/./g, (c, i) => `${c}: &${c} [${`*${String.fromCharCode(97 + i)}, `.repeat(9)}]\n`)}`,
    ],
    ["a list that holds itself", "&a [*a]"],
    ["__proto__", '{"__proto__": {"weftcut": 1}, "constructor": 3}'],
    ["two documents", "weftcut: 1\n---\nweftcut: 1\n"],
  ])("%s", (_, text) => {
    well(text);
    expect(read(text).value).toBeUndefined();
  });
});

describe("messages", () => {
  const cases: [string, string, string, RegExp, RegExp | undefined][] = [
    [
      "a decimal comma",
      "thickness: 3\n",
      "thickness: 3,06\n",
      /thickness of sheet "carbon-3" wants a number in mm from 0\.1 to 25, found the text "3,06" \(line 9, column 16\)/,
      /point/,
    ],
    [
      "a unit in the value",
      "diameter: 2,",
      "diameter: 2mm,",
      /diameter of cutter "router-2" wants a number in mm/,
      /without a unit/,
    ],
    [
      "a negative price",
      "price: 38",
      "price: -38",
      /price of sheet "carbon-3" wants a number from 0/,
      undefined,
    ],
    [
      "a zero thickness",
      "thickness: 3\n",
      "thickness: 0\n",
      /from 0\.1 to 25, found the number 0/,
      undefined,
    ],
    [
      "a material nearly right",
      "carbon-woven",
      "carbon-wovn",
      /did you mean "carbon-woven"/,
      undefined,
    ],
    ["a number as a name", "name: arm", "name: 12", /name of plate 1 wants text/, /quotes/],
    [
      "a word for true",
      "flipped: false",
      "flipped: no",
      /wants true or false, found the text "no"/,
      /without quotes/,
    ],
    [
      "half a plate",
      "count: 4",
      "count: 1.5",
      /count of plate "arm" wants a whole number from 1 to 1000, found the number 1\.5/,
      undefined,
    ],
    [
      "a size of one",
      "size: [300, 200]",
      "size: [300]",
      /size of sheet "carbon-3" wants a list of 2 numbers in mm, found a list of 1/,
      undefined,
    ],
    ["another version", "weftcut: 1", "weftcut: 2", /version 1, found the number 2/, /weftcut: 1/],
    ["a value left out", "price: 38", "price:", /found nothing/, /take the key away/],
  ];
  test.each(cases)("%s", (_, from, to, message, hint) => {
    expect(FULL).toContain(from);
    const { findings } = read(FULL.replace(from, to));
    expect(findings.map((f) => f.message).join("\n")).toMatch(message);
    expect(findings).toHaveLength(1);
    if (hint !== undefined) expect(findings[0]?.hint).toMatch(hint);
  });
});
