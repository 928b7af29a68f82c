import { describe, expect, test } from "vitest";
import { fileSlug } from "../../src/core/job/job.ts";
import { parseCutter, parseJob, parseMachine, textOf } from "../../src/core/job/parse.ts";
import { besideJobs, jobText } from "./read-fixture.ts";

const FULL = jobText("full.yaml");

function read(text: string) {
  return parseJob({ name: "job.yaml", text }, besideJobs);
}

/** What is changed in the full job; what is then found, and in which line of it. */
const CASES: [string, string | RegExp, string, string, number][] = [
  ["a sheet that is not there", "sheet: carbon-3\n", "sheet: carbon-4\n", "unknown-name", 20],
  [
    "two plates of one name",
    "cutters:\n",
    "  - { name: arm, drawing: b.dxf, sheet: carbon-3 }\ncutters:\n",
    "name-twice",
    28,
  ],
  ["a mate that is not there", "of: camera-side", "of: camera-sid", "unknown-name", 25],
  ["a mate of itself", "of: camera-side", "of: arm", "mate-of-itself", 25],
  [
    "more places than copies",
    "count: 4",
    "count: 1\n    place: [{x: 1, y: 1}, {x: 2, y: 2}]",
    "more-places-than-copies",
    17,
  ],
  [
    "size and outline",
    "size: [300, 200]",
    "size: [300, 200]\n    outline: a.dxf",
    "sheet-with-two-shapes",
    12,
  ],
  ["neither", /size: .*/, "", "sheet-without-shape", 7],
  ["a margin beyond the middle", "margin: 6", "margin: 100", "margins-fill-sheet", 7],
  ["a keep-out without width", "from: [12, 110]", "from: [0, 110]", "empty-keep-out", 7],
  ["a cutter beyond the machine", "overhang: 14", "overhang: 60", "cutter-longer-than-reach", 29],
  ["flutes in the collet", "fluteLength: 8", "fluteLength: 20", "flutes-longer-than-overhang", 29],
  ["a rapid above the machine", "clearance: 6", "clearance: 60", "z-travel-too-short", 7],
  ["a recess through", "POCKET: 1.0", "POCKET: 3.5", "recess-through-sheet", 17],
  ["a layer cut and ignored", "ignore: [NOTES]", "ignore: [CUT]", "layer-in-two-roles", 17],
  [
    "a machine that is not there",
    "small-router.yaml",
    "smal-router.yaml",
    "machine-file-missing",
    4,
  ],
  [
    "cutters of one file name",
    "cutters:\n",
    "cutters:\n  - { name: Router 2, kind: drill, diameter: 2, fluteLength: 8, overhang: 14 }\n",
    "names-make-one-file",
    30,
  ],
];

describe("keys that must go together", () => {
  test.each(CASES)("%s", (_, from, to, code, line) => {
    const text = FULL.replace(
      /\n {4}place: .*/,
      code === "more-places-than-copies" ? "" : "$&",
    ).replace(from, to);
    expect(text).not.toBe(FULL);
    const { value, findings } = read(text);
    expect(value).toBeUndefined();
    expect(findings.map((f) => [f.code, f.severity, f.drawing?.line])).toEqual([
      [code, "stop", line],
    ]);
    expect(findings[0]?.message).toContain(`(line ${line}, column ${findings[0]?.data["column"]})`);
  });

  test("two sheets of one name", () => {
    const again =
      "  - { name: carbon-3, material: glass-epoxy, thickness: 2, size: [50, 50] }\nplates:\n";
    const { findings } = read(FULL.replace("plates:\n", again));
    expect(findings.map((f) => f.code)).toEqual(["name-twice"]);
  });

  test("a name nearly right is offered", () => {
    const { findings } = read(FULL.replace("sheet: carbon-3\n", "sheet: carbon3\n"));
    expect(findings[0]?.message).toContain('did you mean "carbon-3"?');
  });

  test("a mate may be one outline of a drawing of several", () => {
    expect(read(FULL.replace("of: camera-side", "of: camera-side-2")).findings).toEqual([]);
  });

  test("a measured value far off is a warning, and the job goes on", () => {
    const { value, findings } = read(
      FULL.replace("measuredThickness: 3.06", "measuredThickness: 2.06"),
    );
    expect(value).toBeDefined();
    expect(findings.map((f) => [f.code, f.severity])).toEqual([
      ["measured-far-from-nominal", "warn"],
    ]);
  });

  test("a sheet from which nothing is cut is told", () => {
    const more =
      "  - { name: spare, material: glass-epoxy, thickness: 2, size: [50, 50] }\nplates:\n";
    const { value, findings } = read(FULL.replace("plates:\n", more));
    expect(value).toBeDefined();
    expect(findings.map((f) => [f.code, f.severity])).toEqual([["sheet-without-plates", "note"]]);
  });
});

describe("a machine profile in a file of its own", () => {
  const profile = "name: x\ntravel: [1, 2]\nmaxfeed: [1, 1, 1]\n";
  const beside = (path: string) =>
    path === "m.yaml" ? new TextEncoder().encode(profile) : undefined;

  test("its problems carry its own name, beside the job's", () => {
    const text = jobText("full.yaml")
      .replace("../machines/small-router.yaml", "m.yaml")
      .replace("count: 4", "count: 0");
    const { findings } = parseJob({ name: "job.yaml", text }, beside);
    expect(findings.map((f) => [f.drawing?.file, f.drawing?.line, f.code])).toEqual([
      ["job.yaml", 21, "out-of-range"],
      ["m.yaml", 1, "missing-key"],
      ["m.yaml", 1, "missing-key"],
      ["m.yaml", 2, "out-of-range"],
      ["m.yaml", 3, "unknown-key"],
    ]);
  });

  test("a spindle whose least is above its most", () => {
    const text =
      "name: x\ntravel: [9, 9, 9]\nmaxFeed: [9, 9, 9]\nacceleration: [9, 9, 9]\nspindle: { min: 9000, max: 8000 }\n";
    const { value, findings } = parseMachine({ name: "m.yaml", text });
    expect(value).toBeUndefined();
    expect(findings.map((f) => [f.code, f.drawing?.line])).toEqual([["spindle-range-reversed", 5]]);
  });

  test.each(["small", "medium", "large"])("the %s one is well", (size) => {
    const name = `../machines/${size}-router.yaml`;
    const text = textOf(name, besideJobs(name) ?? new Uint8Array());
    const { value, findings } = parseMachine({ name, text: String(text) });
    expect(findings).toEqual([]);
    // Ranges seen on hobby routers: travel 125-840 mm, rates 300-10 000 mm/min, acceleration 10-600 mm/s2,
    // spindle 3 000-30 000 rpm, spin-up 5-31 s. Common practice, no source.
    expect(Math.max(...(value?.travel ?? []))).toBeLessThanOrEqual(840);
    expect(Math.min(...(value?.maxFeed ?? []))).toBeGreaterThanOrEqual(300);
    expect(Math.max(...(value?.maxFeed ?? []))).toBeLessThanOrEqual(10_000);
    expect(Math.min(...(value?.acceleration ?? []))).toBeGreaterThanOrEqual(10);
    expect(Math.max(...(value?.acceleration ?? []))).toBeLessThanOrEqual(600);
    expect(value?.spindle.min).toBeGreaterThanOrEqual(3000);
    expect(value?.spindle.max).toBeLessThanOrEqual(30_000);
    expect(value?.spindle.spinUpS).toBeGreaterThanOrEqual(5);
    expect(value?.spindle.spinUpS).toBeLessThanOrEqual(31);
  });
});

test("a cutter in a file of its own", () => {
  const text = "name: r\nkind: two-flute\ndiameter: 1.5\nfluteLength: 6\noverhang: 12\n";
  const { value } = parseCutter({ name: "c.yaml", text });
  expect(value).toEqual({
    name: "r",
    kind: "two-flute",
    diameter: 1.5,
    fluteLength: 6,
    overhang: 12,
    flutes: 2,
    coating: "none",
  });
  expect(
    parseCutter({ name: "c.yaml", text: text.replace("1.5", "-1") }).findings.map((f) => f.code),
  ).toEqual(["out-of-range"]);
});

test("bytes that are no text say where", () => {
  const bad = textOf("x", Uint8Array.of(0x61, 0x0a, 0x62, 0xff, 0x63));
  expect(bad).toMatchObject({ code: "job-not-text", data: { line: 2, column: 2 } });
});

test("names as parts of file names", () => {
  expect(fileSlug("carbon 3 mm")).toBe("carbon-3-mm");
  expect(fileSlug("../../etc/passwd")).toBe("etc-passwd");
  expect(fileSlug("Flügel")).toBe("Flugel");
  expect(fileSlug("…")).toBe("unnamed");
});
