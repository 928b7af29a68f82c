import { expect, test } from "vitest";
import type { Io } from "../../src/cli/io.ts";
import { countsOf, printFindings } from "../../src/cli/print-findings.ts";
import type { Finding } from "../../src/core/finding/finding.ts";
import { parseJob } from "../../src/core/job/parse.ts";

function printed(findings: readonly Finding[], text: string, colourErr = false): string {
  let all = "";
  const io: Io = {
    out: () => {},
    err: (piece) => {
      all += piece;
    },
    colourOut: false,
    colourErr,
    watched: false,
  };
  printFindings(io, findings, { pathOf: (file) => `there/${file}`, textOf: () => text });
  return all;
}

function note(over: Partial<Finding>): Finding {
  return { code: "x", severity: "note", message: "m", data: {}, ...over };
}

test("place, severity, code, message; the way out; the line with what it is about marked", () => {
  const text = "weftcut: 1\nmachine: m.yaml\nsheets: []\nplats: []\n";
  const { findings } = parseJob({ name: "job.yaml", text }, () => undefined);
  const unknown = findings.filter((f) => f.code === "unknown-key");
  const [said, hint, ...shown] = printed(unknown, text).split("\n");
  expect(said).toBe(
    'there/job.yaml:4:1 stop unknown-key unknown key "plats" in the job; did you mean "plates"?',
  );
  expect(hint).toMatch(/^ {2}Known here: weftcut, (\w+, )*plates, .*\.$/);
  expect(shown).toEqual(["     4 | plats: []", "       | ^^^^^", ""]);
});

test("stops come first, then by file and line; many alike are counted", () => {
  const at = (line: number, severity: Finding["severity"]) =>
    note({ severity, code: `c-${severity}`, drawing: { file: "a", line } });
  const many = Array.from({ length: 20 }, (_, i) => at(100 - i, "warn"));
  const text = printed([at(9, "note"), ...many, at(7, "stop"), at(3, "stop")], "");
  const lines = text.trim().split("\n");
  expect(lines.slice(0, 3)).toEqual([
    "there/a:3 stop c-stop m",
    "there/a:7 stop c-stop m",
    "there/a:81 warn c-warn m",
  ]);
  expect(lines.at(-2)).toMatch(/^warn c-warn and 14 more/);
  expect(lines.at(-1)).toBe("there/a:9 note c-note m");
  expect(lines).toHaveLength(2 + 6 + 1 + 1);
});

test("a program's line is shown too, and a plate's point where there is no file", () => {
  const program = note({ program: { file: "p.nc", line: 2 }, data: { column: 4 } });
  expect(printed([program], "G21\nG1 X1\n")).toContain("     2 | G1 X1\n       |    ^^\n");
  expect(printed([note({ plate: "arm", at: [1.23456, 2] })], "")).toBe("arm@1.235,2 note x m\n");
});

test("control characters of a file do not reach the terminal", () => {
  const hostile = note({ message: "a\u001b[2Jb\nc", drawing: { file: "\u0007", line: 1 } });
  const text = printed([hostile], "x\u001b]0;y\u0007");
  // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what must not be there.
  expect(text.replace(/\n/g, "")).not.toMatch(/[\u0000-\u001f\u007f]/);
});

test("colour only when it is asked for", () => {
  expect(printed([note({ severity: "stop" })], "", true)).toContain("\u001b[31;1mstop\u001b[0m");
  expect(printed([note({ severity: "stop" })], "")).not.toContain("\u001b");
});

test("counts in words", () => {
  expect(countsOf([])).toBe("no findings");
  expect(countsOf([note({}), note({ severity: "stop" }), note({})])).toBe("1 stop, 2 notes");
});
