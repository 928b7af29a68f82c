import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { draftData, draftText, PRESETS, presetData, presetText } from "./drafted.ts";

const text = presetText("saltmarsh-240.yaml");
const told = (t: string) =>
  draftText(t)
    .findings.filter((f) => f.severity === "stop")
    .map((f) => [f.code, f.drawing?.line]);
const lineOf = (t: string, words: string) => t.split("\n").findIndex((l) => l.includes(words)) + 1;

describe("what is wrong is told with its line", () => {
  test("a misspelt key names the nearest", () => {
    const bad = text.replace("fillet: 14", "filet: 14");
    const [f] = draftText(bad).findings.filter((x) => x.code === "unknown-key");
    expect(f?.message).toContain('did you mean "fillet"');
    expect(f?.drawing?.line).toBe(lineOf(bad, "filet: 14"));
  });

  test("all problems at once, the job's keys too", () => {
    const bad = text
      .replace("layout: x", "layout: y")
      .replace("material: carbon-woven, thickness: 5", "material: carbon, thickness: 5");
    expect(told(bad).map(([code]) => code)).toEqual(["unknown-word", "unknown-word"]);
  });

  test("a sheet that is not there", () => {
    const bad = text.replace("sheet: carbon-5", "sheet: carbon-9");
    expect(told(bad)).toEqual([["sheet-unknown", lineOf(bad, "carbon-9")]]);
  });

  test("plates have no place in it", () => {
    expect(told(`${text}plates: []\n`).map(([code]) => code)).toEqual(["unknown-key"]);
  });

  test("no airframe at all, no YAML, nothing", () => {
    for (const bad of ["", "[]", "5", "weftcut: 1", "a: [", "airframe: 3", "\u0000"]) {
      expect(told(bad).length, JSON.stringify(bad)).toBeGreaterThan(0);
    }
  });

  test("a machine that is not there", () => {
    const bad = text.replace("medium-router", "no-router");
    expect(told(bad).map(([code]) => code)).toEqual(["machine-file-missing"]);
  });
});

describe("each number that cannot be is told by its key", () => {
  // biome-ignore lint/suspicious/noExplicitAny: a file's content, to be changed at will.
  const cases: readonly [string, string, (a: any) => void][] = [
    ["propellers-meet", "wheelbase", (a) => (a.wheelbase = 180)],
    ["motor-pattern", "motor", (a) => (a.motor.side = 12)],
    ["pad-small", "motor.pad", (a) => (a.motor.pad = 22)],
    ["tip-over-root", "arms.tip", (a) => (a.arms.tip = 20)],
    ["arm-over-pad", "arms.root", (a) => Object.assign(a.arms, { shape: "straight", root: 31 })],
    ["root-narrow", "arms.root", (a) => Object.assign(a.arms, { root: 9, tip: 8 })],
    ["top-unsupported", "standoffs.rows", (a) => (a.standoffs.rows = [])],
    ["camera-without-top", "camera", (a) => delete a.top],
    ["camera-high", "standoffs.height", (a) => (a.standoffs.height = 12)],
    ["clamp-without-arms", "clamp", (a) => (a.construction = "one-piece")],
    ["outside-plate", "straps.across", (a) => (a.straps.across = 60)],
    ["web-thin", "antenna.at", (a) => (a.antenna.at = [13, -53])],
    ["too-narrow", "arms.wireSlot", (a) => (a.arms.wireSlot.width = 1.5)],
    [
      "standoff-in-way",
      "standoffs.rows",
      (a) =>
        (a.standoffs.rows = [
          { at: 57, across: 24 },
          { at: -57, across: 30 },
        ]),
    ],
    ["propeller-through-plate", "wheelbase", (a) => (a.wheelbase = 222)],
  ];
  test.each(cases)("%s at %s", (code, parameter, change) => {
    const file = presetData("saltmarsh-240.yaml");
    delete file.airframe.lighten;
    change(file.airframe);
    const stops = draftData(file).findings.filter((f) => f.severity === "stop");
    expect(stops.map((f) => [f.code, f.data["parameter"]])).toContainEqual([code, parameter]);
    for (const f of stops) expect(f.hint).toContain("airframe.");
  });
});

test("nothing throws, whatever the text", () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 80 }), fc.nat({ max: text.length }), (junk, at) => {
      draftText(junk);
      draftText(text.slice(0, at) + junk);
    }),
    { numRuns: 40 },
  );
});

test("a number of every preset changed at random: a draft or findings, never a throw", () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...PRESETS),
      fc.nat(),
      fc.double({ min: -2, max: 4 }),
      (p, n, k) => {
        const lines = presetText(p);
        const numbers = [...lines.matchAll(/(?<=[:[,] )-?\d+(\.\d+)?/g)];
        const hit = numbers[n % numbers.length];
        if (hit?.index === undefined) return;
        const value = Number((Number(hit[0]) * k).toFixed(2));
        const d = draftText(
          `${lines.slice(0, hit.index)}${value}${lines.slice(hit.index + hit[0].length)}`,
        );
        expect(d.files.size > 0 || d.findings.some((f) => f.severity === "stop")).toBe(true);
      },
    ),
    { numRuns: 8 },
  );
});
