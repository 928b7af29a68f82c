/** Start and end lines of the user's own: what is refused, why and where; and what goes into every program. */
import { describe, expect, test } from "vitest";
import { JOB_YAML, MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import { airRun } from "../../src/core/air/air.ts";
import { parseJob, parseMachine } from "../../src/core/job/parse.ts";
import { jobSheet } from "../../src/core/jobsheet/sheet.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { isFeed } from "../../src/core/program/read/trace.ts";
import { restart } from "../../src/core/restart/restart.ts";
import { inputFor, starterBench } from "../restart/support.ts";
import { starterFile } from "./starter-plan.ts";

const profile = (start: readonly string[], end: readonly string[] = [], more = ""): string =>
  `${MACHINE_YAML.replace("startLines: []", `startLines: ${JSON.stringify(start)}`).replace(
    "endLines: []",
    `endLines: ${JSON.stringify(end)}`,
  )}${more}`;

const lineOf = (key: string): number =>
  1 + MACHINE_YAML.split("\n").findIndex((l) => l.startsWith(key));

const refused = (text: string) => {
  const { value, findings } = parseMachine({ name: "machine.yaml", text });
  expect(value === undefined).toBe(findings.some((f) => f.severity === "stop"));
  return findings;
};

describe.each([
  ["G0 X0", /moves the machine/],
  ["G1 Z-5 F100", /moves the machine/],
  ["G28", /is not understood: G28/],
  ["G38.2 Z-10 F50", /is not understood: G38\.2/],
  ["G53 G0 Z0", /changes zero/],
  ["G92 X0 Y0", /changes zero/],
  ["G55", /changes zero/],
  ["G20", /changes the units/],
  ["G91", /changes the distance mode/],
  ["G93", /changes the feed mode/],
  ["G18", /is not understood: G18/],
  ["M3 S12000", /sets the spindle/],
  ["M4", /sets the spindle/],
  ["S500", /sets the spindle/],
  ["M2", /ends the program/],
  ["M30", /ends the program/],
  ["HOME", /is not understood/],
  ["M7 (extractor on!)", /has "!"/],
  ["G4", /is not understood/],
  ["M7 M8 (a comment of more characters than such a controller reads in one line)", /has 7\d char/],
] as const)("%s", (line, why) => {
  test("is refused with its place and a way out", () => {
    for (const [key, text] of [
      ["startLines", profile(["M7", line])],
      ["endLines", profile([], ["M9", line])],
    ] as const) {
      const findings = refused(text);
      expect(findings.map((f) => f.code)).toEqual(["own-line-refused"]);
      expect(findings[0]?.message).toMatch(why);
      expect(findings[0]?.message).toContain(`line 2 of ${key}, "${line}"`);
      expect(findings[0]?.hint).toMatch(/\w{3}.*\.$/);
      expect(findings[0]?.drawing).toEqual({ file: "machine.yaml", line: lineOf(key) });
      expect(Number(findings[0]?.data["column"])).toBeGreaterThan(10);
    }
  });
});

test.each([
  "M7",
  "M8",
  "M9",
  "G64",
  "G54",
  "G40 G49 G80",
  "T1 M6",
  "G4 P2",
  "M0",
  "(extractor on)",
  "F500",
])("%s is taken", (line) => {
  expect(refused(profile([line], [line]))).toEqual([]);
});

test("what the profile says counts: its own work offset, its comments, its line length", () => {
  const g55 = profile(["G55"]).replace("workOffset: G54", "workOffset: G55");
  expect(refused(g55)).toEqual([]);
  const none = profile(["(extractor on)"]).replace("comments: parentheses", "comments: none");
  expect(refused(none)[0]?.message).toMatch(/comments are: none/);
  const semicolon = profile(["M7 ; on"]).replace("comments: parentheses", "comments: semicolon");
  expect(refused(semicolon)).toEqual([]);
  const wrong = profile(["(on)"]).replace("comments: parentheses", "comments: semicolon");
  expect(refused(wrong)[0]?.message).toMatch(/comments are: semicolon/);
});

test("a machine inside the job says it at its place there", () => {
  const inside = `machine: { name: a, travel: [300, 200, 60], maxFeed: [3000, 3000, 1000], acceleration: [200, 200, 100], spindle: { min: 8000, max: 24000 }, endLines: ["G91"] }`;
  const text = JOB_YAML.replace(/^machine: .*$/m, inside);
  const line = 1 + text.split("\n").findIndex((l) => l.startsWith("machine:"));
  const { value, findings } = parseJob({ name: "job.yaml", text }, starterFile);
  expect(value).toBeUndefined();
  expect(findings.map((f) => [f.code, f.drawing])).toEqual([
    ["own-line-refused", { file: "job.yaml", line }],
  ]);
});

describe("in every program, the cut, the restart and the air run", () => {
  const bench = starterBench((text) =>
    text
      .replace("startLines: []", 'startLines: ["M7", "G4 P1"]')
      .replace("endLines: []", 'endLines: ["M9"]')
      .replace("programEnd: M2", "programEnd: none")
      .replace("percentLines: false", "percentLines: true")
      .replace("start: program", "start: hand-at-stop"),
  );
  const [program] = bench.programs;
  if (program === undefined) throw new Error("no program");
  const line = program.trace.steps.filter(isFeed)[30]?.line ?? 1;
  const taken = restart(inputFor(bench, program.file, { line, ahead: 0 }));
  const air = airRun({ plan: bench.plan, program, out: "air.nc" });

  test.each([
    ["restart", taken.value?.text ?? ""],
    ["air run", air.value?.text ?? ""],
  ])("%s", (_, text) => {
    const lines = text.trimEnd().split("\n");
    expect(lines[0]).toBe("%");
    expect(lines.slice(-3)).toEqual(["M5", "M9", "%"]);
    const start = lines.indexOf("M7");
    expect(lines.slice(start, start + 3)).toEqual(["M7", "G4 P1", "G21"]);
  });

  test("the restart waits for the hand again, the air run has nothing for it to do", () => {
    expect(taken.value?.proofs.map((p) => p.proven)).toEqual([true, true]);
    const lines = (taken.value?.text ?? "").split("\n");
    const on = lines.findIndex((l) => / M3$/.test(l));
    expect(lines[on + 1]).toMatch(/^\(spindle by hand: start it now at \d+ rpm/);
    expect(lines.slice(on + 2, on + 5)).toContain("M0");
    expect(air.value?.proven).toBe(true);
    expect(air.value?.text).not.toMatch(/M3|M0|by hand/);
  });

  test("the job sheet says when to start it, and how fast", () => {
    const html = jobSheet(bench.plan);
    const { rpm } = bench.plan.programs[0] ?? {};
    expect(html).toContain(`Start the spindle by hand at ${rpm} rpm when the program stops for it`);
    expect(jobSheet(starterBench().plan)).not.toContain("by hand at");
  });

  test("is read as such a controller reads it", () => {
    const plain = readProgram("r.nc", taken.value?.text ?? "", { endless: true });
    expect(plain.findings).toEqual([]);
  });
});
