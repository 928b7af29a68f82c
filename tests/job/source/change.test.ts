/** What a form writes into a job's text: the one change, and nothing else. */
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { JOB_YAML } from "../../../src/cli/starter/texts.ts";
import { parseJob } from "../../../src/core/job/parse.ts";
import { changed, withItem } from "../../../src/core/job/source/change.ts";
import { plateOf, startJob, TO_SET } from "../../../src/core/job/source/start-job.ts";
import type { Path } from "../../../src/core/job/source/yaml-source.ts";

const DEMO = readFileSync("fixtures/demo/job.yaml", "utf8");
const TEXTS = [DEMO, JOB_YAML, JSON.stringify(parse(DEMO)), startJob("x", ["a.dxf"])];

type Json = Record<PropertyKey, unknown>;

/** The same change made on the value, by the test's own walk. */
function changedValue(value: unknown, [step, ...rest]: Path, to: unknown): unknown {
  if (step === undefined) return to;
  const copy = (Array.isArray(value) ? [...value] : { ...Object(value) }) as Json;
  if (rest.length > 0) copy[step] = changedValue(copy[step], rest, to);
  else if (to !== undefined) copy[step] = to;
  else if (Array.isArray(copy)) copy.splice(Number(step), 1);
  else delete copy[step];
  return copy;
}

function pathsOf(value: unknown, path: Path = []): Path[] {
  if (typeof value !== "object" || value === null) return [path];
  return [
    path,
    ...Object.entries(value).flatMap(([k, v]) => pathsOf(v, [...path, keyOf(value, k)])),
  ];
}

const keyOf = (holder: object, key: string) => (Array.isArray(holder) ? Number(key) : key);
const comments = (text: string) =>
  [...text.matchAll(/#.*/g)].map(([c]) => c.trim()).sort((a, b) => (a < b ? -1 : 1));

const anything = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }).map((n) => n + 0),
  fc.string({ maxLength: 12 }),
  fc.boolean(),
  fc.array(fc.integer(), { maxLength: 3 }),
);

test("setting or taking out whatever there is changes that alone", () => {
  const spots = TEXTS.flatMap((text) =>
    pathsOf(parse(text))
      .filter((path) => path.length > 0)
      .map((path) => ({ text, path })),
  );
  expect(spots.length).toBeGreaterThan(300);
  fc.assert(
    fc.property(fc.constantFrom(...spots), fc.option(anything, { nil: undefined }), (spot, to) => {
      const text = changed(spot.text, spot.path, to);
      expect(text).toBeDefined();
      expect(parse(String(text))).toEqual(changedValue(parse(spot.text), spot.path, to));
    }),
    { numRuns: 150 },
  );
});

test("comments stay when a single figure is set", () => {
  const numbers = pathsOf(parse(JOB_YAML)).filter((path) => {
    const value = path.reduce((v: unknown, step) => Object(v)[step], parse(JOB_YAML));
    return typeof value === "number";
  });
  expect(numbers.length).toBeGreaterThan(20);
  for (const path of numbers) {
    expect(comments(String(changed(JOB_YAML, path, 7.25)))).toEqual(comments(JOB_YAML));
  }
});

describe("by hand", () => {
  test("keys that stand nowhere yet are made with what they stand in", () => {
    const text = startJob("x", ["a.dxf"]);
    const once = String(changed(text, ["cutting", "tabs", "width"], 5));
    expect(parse(once).cutting).toEqual({ tabs: { width: 5 } });
    expect(parse(String(changed(once, ["cutting", "tabs", "width"], undefined))).cutting).toEqual({
      tabs: {},
    });
    expect(once.startsWith(text.trimEnd())).toBe(true);
  });

  test("a plate is added as a line of its own, and taken out again to the letter", () => {
    const plate = plateOf("b.dxf", "carbon-2", new Set());
    const more = String(withItem(DEMO, ["plates"], plate));
    expect(parse(more).plates).toEqual([...parse(DEMO).plates, plate]);
    expect(more.split("\n")).toHaveLength(DEMO.split("\n").length + 1);
    expect(changed(more, ["plates", 4], undefined)).toBe(DEMO);
  });

  test("a text that is none is not changed", () => {
    expect(changed("plates: [}", ["name"], "x")).toBeUndefined();
    expect(withItem("plates: [}", ["plates"], {})).toBeUndefined();
  });
});

describe("a job for drawings that have none", () => {
  test("reads without a stop whatever the drawings are called, and says what is to be set", () => {
    const text = startJob('odd "name" # here', [
      "<script>.dxf",
      "a: b # c.svg",
      "a: b # c.dxf",
      ".dxf",
    ]);
    const { findings, value } = parseJob({ name: "job.yaml", text }, () => undefined);
    expect(findings.filter((f) => f.severity === "stop")).toEqual([]);
    expect(value?.plates.map((p) => p.name)).toEqual([
      "<script>",
      "a: b # c",
      "a: b # c 2",
      "plate",
    ]);
    expect(text.split(TO_SET)).toHaveLength(4);
  });
});
