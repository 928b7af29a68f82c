import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { weftcut, weftcutUnread } from "./run-cli.ts";
import { contentsOf, ROOT, tempFolder } from "./temp-folder.ts";

const MACHINE = readFileSync(join(ROOT, "fixtures/machines/medium-router.yaml"), "utf8");
const PROGRAM =
  "G21\nG90\nG17\nG94\nG0 Z5\nG0 X0 Y0\nS10000 M3\nG4 P8\nG1 Z-1 F600\nG1 X100\nG0 Z5\nM5\nM2\n";

describe("usage", () => {
  test("help names every command and ends well", () => {
    const { code, out, err } = weftcut(["--help"]);
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(/^Usage: weftcut/);
  });

  test("every command has --json, and help with an example that it would take", () => {
    const names = [...weftcut(["--help"]).out.matchAll(/^ {2}([a-z]+) \[options\]/gm)].map(
      (m) => m[1],
    );
    expect(names.length).toBeGreaterThan(1);
    for (const name of names) {
      const { code, out } = weftcut([String(name), "--help"]);
      expect(code).toBe(0);
      expect(out).toContain("--json");
      expect(out).toMatch(new RegExp(`Example:\\n {2}weftcut ${name} `));
    }
  });

  test("the version is the package's", () => {
    const { version } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));
    expect(weftcut(["--version"]).out).toBe(`${version}\n`);
  });

  test.each([
    ["no command", []],
    ["an unknown command", ["plam"]],
    ["an unknown option", ["new", "x", "--forse"]],
    ["no argument", ["new"]],
    ["a needed option left out", ["time", "a.nc"]],
  ])("%s is 2, on stderr alone, without a stack", (_, args) => {
    const { code, out, err } = weftcut(args, { cwd: tempFolder() });
    expect(code).toBe(2);
    expect(out).toBe("");
    expect(err).not.toBe("");
    expect(err).not.toMatch(/^\s+at /m);
  });
});

describe("new", () => {
  test("writes a job of which every line is explained", () => {
    const folder = tempFolder();
    const { code, out } = weftcut(["new", "first"], { cwd: folder });
    expect(code).toBe(0);
    const files = contentsOf(join(folder, "first"));
    expect(Object.keys(files)).toEqual(["bracket.dxf", "job.yaml", "machine.yaml"]);
    expect(out).toContain("weftcut plan first/job.yaml --out first/out");
    const machine = files["machine.yaml"] ?? "";
    const unexplained = machine
      .split("\n")
      .filter((line) => /:\s+\S/.test(line) && !line.includes("#"));
    expect(unexplained).toEqual(["name: my router"]);
    expect(parse(files["job.yaml"] ?? "")).toMatchObject({ weftcut: 1, machine: "machine.yaml" });
  });

  test("does not touch what is there", () => {
    const folder = tempFolder({ "first/job.yaml": "mine" });
    const before = contentsOf(folder);
    const { code, err } = weftcut(["new", "first"], { cwd: folder });
    expect(code).toBe(2);
    expect(err).toMatch(/^stop file-in-the-way "first\/job.yaml" is there already/);
    expect(contentsOf(folder)).toEqual(before);
    expect(weftcut(["new", "first", "--force"], { cwd: folder }).code).toBe(0);
  });

  test("writes beside the user's other files", () => {
    const folder = tempFolder({ "first/notes.txt": "mine" });
    expect(weftcut(["new", "first"], { cwd: folder }).code).toBe(0);
    expect(Object.keys(contentsOf(join(folder, "first")))).toHaveLength(4);
  });
});

test("a reader who has gone away changes neither files nor exit code", async () => {
  const folder = tempFolder();
  expect(await weftcutUnread(["new", "first"], folder)).toBe(0);
  expect(Object.keys(contentsOf(join(folder, "first")))).toHaveLength(3);
  expect(await weftcutUnread(["new", "first"], folder)).toBe(2);
  expect(await weftcutUnread(["--help"], folder)).toBe(0);
});

test("no colour goes into a pipe, whatever the environment says", () => {
  const folder = tempFolder({ "first/job.yaml": "mine" });
  for (const env of [{}, { NO_COLOR: "1" }, { FORCE_COLOR: "1" }]) {
    const { err } = weftcut(["new", "first"], { cwd: folder, env });
    expect(err).toMatch(/^stop file-in-the-way/);
  }
});

describe("rates", () => {
  const options = ["--material", "carbon-woven", "--machine", "m.yaml"];

  test("says every figure with its formula and source, for people and as JSON", () => {
    const cwd = tempFolder({ "m.yaml": MACHINE });
    const people = weftcut(["rates", ...options, "--cutter", "2"], { cwd });
    expect(people.code).toBe(0);
    expect(people.out).toMatch(/spindle \d+ rpm, feed \d+ mm\/min/);
    const json = JSON.parse(weftcut(["rates", ...options, "--cutter", "2", "--json"], { cwd }).out);
    expect(json).toMatchObject({ material: "carbon-woven", cutter: { diameter: 2 } });
    // vf = f n and vc = pi D n / 1000: Mitsubishi Materials, Formulas for Milling.
    expect(json.feed).toBeCloseTo(json.feedPerRev * json.rpm, 0);
    expect(json.surfaceSpeed).toBeCloseTo((Math.PI * 2 * json.rpm) / 1000, 6);
    for (const step of json.steps) expect(step.source).not.toBe("");
  });

  test("takes a cutter from a file, and says where that is wrong", () => {
    const cutter = "name: r\nkind: two-flute\ndiameter: 1.5\nfluteLength: 6\noverhang: 12\n";
    const cwd = tempFolder({
      "m.yaml": MACHINE,
      "c.yaml": cutter,
      "bad.yaml": cutter.replace("kind", "kid"),
    });
    const { code, out } = weftcut(["rates", ...options, "--cutter", "c.yaml", "--json"], { cwd });
    expect([code, JSON.parse(out).cutter.flutes]).toEqual([0, 2]);
    const bad = weftcut(["rates", ...options, "--cutter", "bad.yaml"], { cwd });
    expect([bad.code, bad.out]).toEqual([1, ""]);
    expect(bad.err).toMatch(/^bad\.yaml:2:1 stop unknown-key unknown key "kid" .*"kind"/);
    expect(weftcut(["rates", ...options, "--cutter", "no.yaml"], { cwd }).code).toBe(2);
    expect(weftcut(["rates", ...options, "--cutter", "2", "--thickness", "x"], { cwd }).code).toBe(
      2,
    );
    expect(weftcut(["rates", ...options, "--cutter", "0"], { cwd }).code).toBe(1);
  });
});

describe("time", () => {
  test("says how long, for people and as JSON", () => {
    const cwd = tempFolder({ "a.nc": PROGRAM, "m.yaml": MACHINE });
    const people = weftcut(["time", "a.nc", "--machine", "m.yaml"], { cwd });
    expect(people.code).toBe(0);
    expect(people.out).toContain("a.nc");
    const json = weftcut(["time", "a.nc", "--machine", "m.yaml", "--json"], { cwd });
    const [program] = JSON.parse(json.out).programs;
    expect(Object.keys(program)).toEqual([
      "file",
      "seconds",
      "cuttingSeconds",
      "rapidSeconds",
      "dwellSeconds",
      "cutMetres",
      "rapidMetres",
      "blocks",
      "byMotion",
      "plates",
    ]);
    // 106 mm at 600 mm/min are 10.6 s at least (6 mm down, 100 mm along).
    expect(program.cuttingSeconds).toBeGreaterThan(10.6);
    expect(program.cuttingSeconds).toBeLessThan(12);
    expect(program.dwellSeconds).toBe(8);
    expect(program.cutMetres).toBeCloseTo(0.106, 6);
  });

  test("goes on past a file that is not there, and ends with 2", () => {
    const cwd = tempFolder({ "a.nc": PROGRAM, "m.yaml": MACHINE });
    const { code, out, err } = weftcut(["time", "no.nc", "a.nc", ".", "--machine", "m.yaml"], {
      cwd,
    });
    expect(code).toBe(2);
    expect(out).toContain("a.nc");
    expect(err).toMatch(/stop file-missing there is no file "no.nc"/);
    expect(err).toMatch(/stop file-is-folder "." is a folder/);
  });

  test("a bad profile is told with file, line and column", () => {
    const cwd = tempFolder({
      "a.nc": PROGRAM,
      "m.yaml": MACHINE.replace("travel: [400, 400, 80]", "travl: [400, 400, 80]"),
    });
    const { code, err } = weftcut(["time", "a.nc", "--machine", "m.yaml"], { cwd });
    expect(code).toBe(1);
    expect(err).toMatch(
      /^m\.yaml:4:1 stop unknown-key unknown key "travl" .*did you mean "travel"\?\n/,
    );
  });
});
