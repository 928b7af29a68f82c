/** What was found goes into the job's files with its date, and nothing else of them changes. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import { measuredTemplate } from "../../src/core/coupon/form.ts";
import type { CouponFound } from "../../src/core/coupon/found.ts";
import { withCutterFound, withMachineFound } from "../../src/core/coupon/write-back.ts";
import { parseMeasured } from "../../src/core/job/keys/measured.ts";
import { parseJob, parseMachine } from "../../src/core/job/parse.ts";
import { withKey } from "../../src/core/job/source/edit.ts";
import { couponFor, jobOf, jobText } from "./job.ts";

const FOUND: CouponFound = {
  diameter: { value: 1.96149, plusMinus: 0.0042 },
  scaleX: { value: 1.0020041, plusMinus: 0.00011 },
  scaleY: { value: 0.999, plusMinus: 0.0002 },
  fitOffset: { value: -0.0394, plusMinus: 0.018 },
  residuals: [],
};

const read = (name: string) =>
  name === "machine.yaml" ? new TextEncoder().encode(MACHINE_YAML) : undefined;

describe("the cutter in the job", () => {
  const [cutter] = jobOf().cutters;
  if (cutter === undefined) throw new Error("no cutter");
  const once = withCutterFound(jobText(), { cutter, index: 0 }, FOUND, "2026-03-01") ?? "";

  test("gets its measures; the job still reads, and comments stay", () => {
    const job = parseJob({ name: "job.yaml", text: once }, read).value;
    expect(job?.cutters[0]).toMatchObject({ measuredDiameter: 1.961, fitOffset: -0.039 });
    expect(job?.cutters[0]?.coupons).toEqual([
      {
        date: "2026-03-01",
        measuredDiameter: 1.961,
        plusMinus: 0.004,
        fitOffset: -0.039,
        fitPlusMinus: 0.018,
      },
    ]);
    expect(once).toContain("# The one in the collet.");
    const lines = (text: string) => text.split("\n");
    const changed = lines(jobText()).filter((l, i) => l !== lines(once)[i]);
    expect(changed.length).toBe(1);
  });

  test("a second coupon keeps what the first one found", () => {
    const now = parseJob({ name: "job.yaml", text: once }, read).value?.cutters[0];
    if (now === undefined) throw new Error("no cutter");
    const second = { ...FOUND, diameter: { value: 1.95, plusMinus: 0.003 } };
    const twice = withCutterFound(once, { cutter: now, index: 0 }, second, "2026-04-01") ?? "";
    const later = parseJob({ name: "job.yaml", text: twice }, read).value?.cutters[0];
    expect(later?.measuredDiameter).toBe(1.95);
    expect(later?.coupons?.map((c) => [c.date, c.measuredDiameter, c.before])).toEqual([
      ["2026-03-01", 1.961, undefined],
      ["2026-04-01", 1.95, 1.961],
    ]);
  });
});

test("the machine's profile gets both axes, in block style beside its comments", () => {
  const machine = parseMachine({ name: "machine.yaml", text: MACHINE_YAML }).value;
  if (machine === undefined) throw new Error("no machine");
  const text = withMachineFound(MACHINE_YAML, [], machine, FOUND, "2026-03-01") ?? "";
  const now = parseMachine({ name: "machine.yaml", text });
  expect(now.findings).toEqual([]);
  expect(now.value?.axisScale).toEqual([1.002, 0.999]);
  expect(now.value?.coupons?.[0]).toMatchObject({
    date: "2026-03-01",
    plusMinus: [0.00011, 0.0002],
  });
  expect(text.startsWith(MACHINE_YAML.trimEnd())).toBe(true);
});

describe("one key set", () => {
  test.each([
    ["a: 1\n", [], "b", 2, "a: 1\nb: 2\n"],
    ["a: 1", [], "b", 2, "a: 1\nb: 2"],
    ["a: 1 # why\nb:\n  c: 2\n", [], "a", 3, "a: 3 # why\nb:\n  c: 2\n"],
    ["a: { b: 1 }\n", ["a"], "c", 2, "a: { b: 1, c: 2 }\n"],
    ["a: { b: 1, }\n", ["a"], "c", 2, "a: { b: 1, c: 2 }\n"],
    [
      "a:\n  - { b: 1 }\n  - b: 2 # two\n    d: 3\ne: 4\n",
      ["a", 1],
      "c",
      5,
      "a:\n  - { b: 1 }\n  - b: 2 # two\n    d: 3\n    c: 5\ne: 4\n",
    ],
    ['{"a": {"b": 1}}', ["a"], "c", [1, 2], '{"a": {"b": 1, "c": [1, 2] }}'],
    ["a:\nb: 1\n", [], "a", 2, "a: 2\nb: 1\n"],
    ["a: [1,\n  2]\nb: 1\n", [], "a", [3], "a: [3]\nb: 1\n"],
    ["a:\n  - 1\n  - 2\nb: 1\n", [], "a", [3], "a:\n  [3]\nb: 1\n"],
  ] as const)("%j at %j", (text, path, key, value, wanted) => {
    expect(withKey(text, path, key, value)).toBe(wanted);
  });

  test("what cannot be set comes back as nothing", () => {
    expect(withKey("a: [1", [], "b", 2)).toBeUndefined();
    expect(withKey("- 1\n", [], "b", 2)).toBeUndefined();
    expect(withKey("a: 1\n", ["a"], "b", 2)).toBeUndefined();
  });

  test("whatever JSON it is set in, it reads back, with all else as before", () => {
    const key = fc.stringMatching(/^[a-z]{1,6}$/);
    const object = fc.dictionary(key, fc.jsonValue(), { minKeys: 1, noNullPrototype: true });
    fc.assert(
      fc.property(object, key, fc.integer(), fc.boolean(), (o, k, v, pretty) => {
        const text = JSON.stringify(o, null, pretty ? 2 : 0);
        const edited = withKey(text, [], k, v);
        if (edited === undefined) return;
        expect(JSON.parse(edited)).toEqual({ ...JSON.parse(text), [k]: v });
      }),
    );
  });
});

describe("the file of measures", () => {
  const { plan } = couponFor();
  const template = measuredTemplate(plan, "../job.yaml");

  test("reads as it was written, blanks and all", () => {
    const { value, findings } = parseMeasured({ name: "m.yaml", text: template });
    expect(findings).toEqual([]);
    expect(value).toMatchObject({ job: "../job.yaml", cutter: "router", sheet: "carbon" });
    expect(value?.measured.walls).toEqual([]);
    expect(value?.measured.slots).toEqual(plan.slots);
    expect(parse(template).walls.length).toBe(plan.walls.length);
  });

  test("what is filled in counts", () => {
    const filled = template
      .replace("drawn: 125, measured: }", "drawn: 125, measured: 125.21 }")
      .replace("bestSlot: ", "bestSlot: 2.5 ");
    const { value } = parseMeasured({ name: "m.yaml", text: filled });
    expect(value?.measured.walls).toMatchObject([{ id: "A", drawn: 125, measured: 125.21 }]);
    expect(value?.measured.bestSlot).toBe(2.5);
  });

  test("a slip is told with its line", () => {
    const wrong = template.replace("drawn: 125, measured: }", "drawn: 125, measured: wide }");
    const { value, findings } = parseMeasured({ name: "m.yaml", text: wrong });
    expect(value).toBeUndefined();
    expect(findings[0]?.drawing?.line).toBe(
      wrong.split("\n").findIndex((l) => l.includes("wide")) + 1,
    );
    expect(parseMeasured({ name: "m.yaml", text: "walls: [" }).findings[0]?.code).toBe(
      "job-syntax",
    );
  });
});
