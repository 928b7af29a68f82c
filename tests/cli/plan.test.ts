import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { bracketDxf } from "../../src/cli/starter/bracket-dxf.ts";
import { JOB_YAML, MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import { weftcut } from "./run-cli.ts";
import { contentsOf, tempFolder } from "./temp-folder.ts";

const STARTER = { "job.yaml": JOB_YAML, "machine.yaml": MACHINE_YAML, "bracket.dxf": bracketDxf() };

/** The starter job with something in it changed. */
function changed(file: keyof typeof STARTER, from: string | RegExp, to: string) {
  const text = STARTER[file].replace(from, to);
  expect(text).not.toBe(STARTER[file]);
  return { ...STARTER, [file]: text };
}

describe("plan", () => {
  test("plans the starter job into DIR, again over itself, from any folder with the same bytes", () => {
    const cwd = tempFolder(STARTER);
    const first = weftcut(["plan", "job.yaml", "--out", "dir/out"], { cwd });
    expect(first.err).not.toContain("stop ");
    expect(first.code).toBe(0);
    const files = contentsOf(join(cwd, "dir/out"));
    expect(Object.keys(files)).toEqual([
      "01-carbon-2-router-2.nc",
      "border-carbon-2.nc",
      "job-sheet.html",
      "layout-carbon-2.dxf",
      "layout-carbon-2.svg",
      "offcut-carbon-2-1.dxf",
      "plan.json",
    ]);
    expect(first.out).toContain("01-carbon-2-router-2.nc");
    // Whatever the job sheet sends a person to is there.
    const named = files["job-sheet.html"]?.match(/[\w-]+\.(nc|svg)\b/g) ?? [];
    expect(new Set(named)).toEqual(new Set(["01-carbon-2-router-2.nc", "border-carbon-2.nc"]));
    const again = weftcut(["plan", "./job.yaml", "--out", "dir/out"], { cwd });
    expect(again.code).toBe(0);
    const elsewhere = weftcut(["plan", join(cwd, "job.yaml"), "--out", join(cwd, "b")]);
    expect(elsewhere.code).toBe(0);
    expect(contentsOf(join(cwd, "dir/out"))).toEqual(files);
    expect(contentsOf(join(cwd, "b"))).toEqual(files);
  });

  test("--json is one document: the plan, where it went and what was found", () => {
    const cwd = tempFolder(STARTER);
    const { code, out } = weftcut(["plan", "job.yaml", "--out", "out", "--json"], { cwd });
    expect(code).toBe(0);
    const document = JSON.parse(out);
    const plan = JSON.parse(readFileSync(join(cwd, "out/plan.json"), "utf8"));
    expect(document).toMatchObject({ written: true, dir: "out", name: "bracket trial" });
    expect(document.programs).toEqual(plan.programs);
    expect(new Set(document.files)).toEqual(new Set(Object.keys(contentsOf(join(cwd, "out")))));
  });
});

interface Bad {
  readonly what: string;
  readonly files: Readonly<Record<string, string | Uint8Array>>;
  readonly job?: string;
  readonly code: 1 | 2;
  /** The one clear line that must be there. */
  readonly line: RegExp;
}

const BAD: readonly Bad[] = [
  {
    what: "a missing job",
    files: {},
    code: 2,
    line: /^stop file-missing there is no file "job\.yaml"$/m,
  },
  {
    what: "a folder as a job",
    files: { "job.yaml/x": "" },
    code: 2,
    line: /^stop file-is-folder "job\.yaml" is a folder/m,
  },
  {
    what: "an empty job",
    files: { "job.yaml": "" },
    code: 1,
    line: /^job\.yaml:1:1 stop job-empty /m,
  },
  {
    what: "bytes that are no text",
    files: { "job.yaml": Uint8Array.of(0x61, 0x3a, 0x20, 0xff) },
    code: 2,
    line: /^job\.yaml:1:4 stop job-not-text /m,
  },
  {
    what: "an unknown key",
    files: changed("job.yaml", "thickness: 2 ", "thicknes: 2 "),
    code: 1,
    line: /^job\.yaml:16:5 stop unknown-key unknown key "thicknes" in sheet "carbon-2"; did you mean "thickness"\?$/m,
  },
  {
    what: "a wrong type",
    files: changed("job.yaml", "count: 2", "count: two"),
    code: 1,
    line: /^job\.yaml:\d+:12 stop wrong-type count of plate "bracket" wants a whole number from 1 to 1000, found the text "two"$/m,
  },
  {
    what: "a slip of YAML",
    files: changed("job.yaml", "tabs: {", "tabs: {{"),
    code: 1,
    line: /^job\.yaml:\d+:\d+ stop job-syntax not readable as YAML or JSON: /m,
  },
  {
    what: "a missing machine profile",
    files: changed("job.yaml", "machine: machine.yaml", "machine: machin.yaml"),
    code: 2,
    line: /^job\.yaml:7:10 stop machine-file-missing machine profile "machin\.yaml" cannot be read$/m,
  },
  {
    what: "a wrong value in the machine profile",
    files: changed("machine.yaml", "decimals: 4", "decimals: 12"),
    code: 1,
    line: /^machine\.yaml:\d+:11 stop out-of-range decimals wants a whole number from 3 to 6, found the number 12$/m,
  },
  {
    what: "a missing drawing",
    files: changed("job.yaml", "drawing: bracket.dxf", "drawing: braket.dxf"),
    code: 2,
    line: /^job\.yaml:\d+:14 stop drawing-missing .*braket\.dxf/m,
  },
  {
    what: "a folder as a drawing",
    files: { ...changed("job.yaml", "drawing: bracket.dxf", "drawing: d.dxf"), "d.dxf/x": "" },
    code: 2,
    line: /^job\.yaml:\d+:14 stop drawing-missing .*d\.dxf/m,
  },
  {
    what: "something else as a drawing",
    files: { ...STARTER, "bracket.dxf": "<html>not found</html>" },
    code: 1,
    line: /^bracket\.dxf.* stop /m,
  },
  {
    what: "a plate larger than its sheet",
    files: changed("job.yaml", "size: [200, 120]", "size: [60, 120]"),
    code: 1,
    line: /^job\.yaml:\d+:\d+ stop /m,
  },
  {
    what: "no cutter that fits",
    files: changed("job.yaml", "diameter: 2\n", "diameter: 3.175\n"),
    code: 1,
    line: /^(job\.yaml|bracket\.dxf):\d+(:\d+)? stop /m,
  },
  {
    what: "a cutter longer than the machine's reach",
    files: changed("job.yaml", "overhang: 14", "overhang: 70"),
    code: 1,
    line: /^job\.yaml:\d+:11 stop cutter-longer-than-reach cutter "router-2" stands out 70 mm, more than the 60 mm that "my router" moves in Z$/m,
  },
  {
    what: "a missing drawing of a sheet's outline",
    files: changed("job.yaml", "size: [200, 120]", "outline: offcut.dxf"),
    code: 2,
    line: /^job\.yaml:\d+:\d+ stop \S+ .*offcut\.dxf/m,
  },
  {
    what: "a sheet that is not there",
    files: changed("job.yaml", "sheet: carbon-2", "sheet: carbon-3"),
    code: 1,
    line: /^job\.yaml:\d+:12 stop \S+ .*"carbon-3".*did you mean "carbon-2"\?$/m,
  },
  {
    what: "half a drawing",
    files: { ...STARTER, "bracket.dxf": bracketDxf().slice(0, 400) },
    code: 1,
    line: /^bracket\.dxf.* stop /m,
  },
  {
    what: "an empty drawing",
    files: { ...STARTER, "bracket.dxf": "" },
    code: 1,
    line: /^bracket\.dxf.* stop /m,
  },
  {
    what: "plates further apart than the machine moves",
    files: changed("machine.yaml", "travel: [300, 200, 60]", "travel: [60, 200, 60]"),
    code: 1,
    line: /^01-carbon-2-router-2\.nc:\d+ stop travel-x .* 60 mm is allowed\.$/m,
  },
  {
    what: "a job in JSON with a slip",
    files: { ...STARTER, "job.yaml": '{\n  "weftcut": 1,\n  "name": }\n' },
    code: 1,
    line: /^job\.yaml:3:\d+ stop /m,
  },
  {
    what: "flutes shorter than the sheet",
    files: changed("job.yaml", "fluteLength: 8", "fluteLength: 1"),
    code: 1,
    line: /^job\.yaml:\d+:\d+ stop flute-shorter-than-cut /m,
  },
];

describe("bad input: its code, one clear line, an earlier DIR untouched, and no stack", () => {
  test.each(BAD)("$what", ({ files, code, line }) => {
    const earlier = {
      "out/plan.json": '{"weftcut":1,"programs":[{"file":"01.nc"}]}',
      "out/01.nc": "G21",
    };
    const cwd = tempFolder({ ...files, ...earlier });
    const before = contentsOf(cwd);
    const ran = weftcut(["plan", "job.yaml", "--out", "out"], { cwd });
    expect(ran.err).toMatch(line);
    expect(ran.err).not.toMatch(/^\s+at .*\d+:\d+\)?$/m);
    expect(ran.out).toBe("");
    expect(ran.code).toBe(code);
    expect(contentsOf(cwd)).toEqual(before);
  });

  test("every finding stands on one line with its place, and the line that it is about under it", () => {
    const cwd = tempFolder(changed("job.yaml", "count: 2", "count: two"));
    const { err } = weftcut(["check", "job.yaml"], { cwd });
    const [first, hint, excerpt, mark] = err.split("\n");
    expect(first).toMatch(/^job\.yaml:\d+:12 stop wrong-type /);
    const shown = [hint, excerpt, mark].join("\n");
    expect(shown).toMatch(/ \d+ \| +count: two/);
    expect(shown).toMatch(/ \| +\^\^\^$/m);
  });

  test("a DIR that holds others' files, a DIR that is a file, a DIR that cannot be made", () => {
    const cwd = tempFolder({ ...STARTER, "mine/notes.txt": "mine", file: "mine" });
    const before = contentsOf(cwd);
    const into = (dir: string, ...more: string[]) =>
      weftcut(["plan", "job.yaml", "--out", dir, ...more], { cwd });
    const foreign = into("mine");
    expect([foreign.code, foreign.err]).toMatchObject([
      2,
      expect.stringContaining(
        'stop out-not-ours "mine" holds files that are not weftcut\'s (notes.txt)',
      ),
    ]);
    const file = into("file");
    expect([file.code, file.err]).toMatchObject([
      2,
      expect.stringContaining('stop out-is-file "file" is a file'),
    ]);
    const under = into("file/out");
    expect([under.code, under.err]).toMatchObject([
      2,
      expect.stringContaining('stop out-unwritable cannot write into "file/out"'),
    ]);
    expect(contentsOf(cwd)).toEqual(before);
    const forced = into("mine", "--force");
    expect(forced.code).toBe(0);
    expect(contentsOf(join(cwd, "mine"))).toMatchObject({ "notes.txt": "mine" });
  });

  test("--json of a stopped job is one document too", () => {
    const cwd = tempFolder(changed("job.yaml", "thickness: 2 ", "thicknes: 2 "));
    for (const args of [
      ["plan", "job.yaml", "--out", "out"],
      ["check", "job.yaml"],
    ]) {
      const { code, out, err } = weftcut([...args, "--json"], { cwd });
      expect([code, err]).toEqual([1, ""]);
      const [finding] = JSON.parse(out).findings;
      expect(finding).toMatchObject({
        code: "unknown-key",
        severity: "stop",
        drawing: { file: "job.yaml", line: 16 },
        data: { column: 5 },
      });
    }
    const { code, out } = weftcut(["check", "no.yaml", "--json"], { cwd });
    expect(code).toBe(2);
    expect(JSON.parse(out).findings[0].code).toBe("file-missing");
  });
});

describe("check", () => {
  test("says the same as plan and writes nothing", () => {
    const cwd = tempFolder(STARTER);
    const before = contentsOf(cwd);
    const { code, out } = weftcut(["check", "job.yaml", "--json"], { cwd });
    expect(code).toBe(0);
    expect(Object.keys(JSON.parse(out))).toEqual(["findings"]);
    expect(contentsOf(cwd)).toEqual(before);
    const planned = weftcut(["plan", "job.yaml", "--out", "out", "--json"], { cwd });
    expect(JSON.parse(planned.out).findings).toEqual(JSON.parse(out).findings);
    const people = weftcut(["check", "job.yaml"], { cwd });
    expect(people.out).toMatch(/^(no findings|\d+ (warning|note)s?(, \d+ notes?)?)\n$/);
  });
});

describe("prove", () => {
  test("what plan wrote is proven; the same with a pass left out or too deep into a plate is not", () => {
    const cwd = tempFolder(STARTER);
    expect(weftcut(["plan", "job.yaml", "--out", "out"], { cwd }).code).toBe(0);
    const name = "01-carbon-2-router-2.nc";
    const good = weftcut(["prove", "out/plan.json", `out/${name}`, "--json"], { cwd });
    expect(good.code).toBe(0);
    expect(JSON.parse(good.out)).toMatchObject({
      proven: true,
      programs: [{ file: `out/${name}`, proof: { proven: true } }],
    });

    const text = readFileSync(join(cwd, "out", name), "utf8");
    // Everything moved by half a millimetre is in the plates.
    const moved = text.replace(/X(-?[\d.]+)/g, (_, x) => `X${(Number(x) + 0.5).toFixed(4)}`);
    mkdirSync(join(cwd, "edited"));
    writeFileSync(join(cwd, "edited/mine.nc"), moved);
    const bad = weftcut(["prove", "out/plan.json", "edited/mine.nc", "--json"], { cwd });
    expect(bad.code).toBe(1);
    const document = JSON.parse(bad.out);
    expect(document).toMatchObject({
      proven: false,
      programs: [{ file: "edited/mine.nc", proof: { proven: false } }],
    });
    expect(document.programs[0].proof.overcutMm).toBeGreaterThan(0.4);
    expect(document.findings.some((f: { severity: string }) => f.severity === "stop")).toBe(true);
  });

  test.each([
    ["no plan", { "plan.json": "{" }, 1, /plan\.json stop plan-not-json /],
    [
      "another plan",
      { "plan.json": '{"weftcut": 1, "name": "x"}' },
      1,
      /plan\.json stop plan-shape /,
    ],
    ["a missing plan", {}, 2, /stop file-missing there is no file "plan\.json"/],
  ])("%s", (_, files, code, line) => {
    const cwd = tempFolder({ ...files, "a.nc": "M2\n" });
    const ran = weftcut(["prove", "plan.json", "a.nc"], { cwd });
    expect([ran.code, ran.out]).toEqual([code, ""]);
    expect(ran.err).toMatch(line);
  });
});
