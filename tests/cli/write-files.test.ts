import { existsSync, mkdirSync, readdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { outFinding, writeFolder, writeWhole } from "../../src/cli/write-files.ts";
import { contentsOf, tempFolder } from "./temp-folder.ts";

function planText(programs: readonly string[], sheets: readonly string[] = []): string {
  return JSON.stringify({
    weftcut: 1,
    sheets: sheets.map((name) => ({ name, offcuts: [{ file: "offcut-1.dxf" }] })),
    programs: programs.map((file) => ({ file })),
  });
}

function planned(programs: readonly string[]): Map<string, string> {
  return new Map([
    ["plan.json", planText(programs)],
    ...programs.map((file): [string, string] => [file, `program ${file}`]),
  ]);
}

describe("a folder written by weftcut", () => {
  test("is new, with its parents", () => {
    const dir = join(tempFolder(), "a", "b");
    expect(outFinding(dir, false)).toBeUndefined();
    expect(writeFolder(dir, planned(["01.nc"]))).toBeUndefined();
    expect(Object.keys(contentsOf(dir))).toEqual(["01.nc", "plan.json"]);
    expect(readdirSync(join(dir, ".."))).toEqual(["b"]);
  });

  test("takes its own earlier files away and leaves the user's, even of like names", () => {
    const dir = tempFolder({
      "plan.json": planText(["01.nc", "02.nc"], ["carbon 3"]),
      "01.nc": "old",
      "02.nc": "old",
      "03.nc": "the user's",
      "layout-carbon-3.svg": "old",
      "layout-sketch.svg": "the user's",
      "offcut-1.dxf": "old",
      "offcut-2.dxf": "the user's",
      "notes.txt": "the user's",
      "sub/01.nc": "the user's",
    });
    expect(outFinding(dir, false)).toBeUndefined();
    expect(writeFolder(dir, planned(["01.nc"]))).toBeUndefined();
    expect(contentsOf(dir)).toEqual({
      "plan.json": planText(["01.nc"]),
      "01.nc": "program 01.nc",
      "03.nc": "the user's",
      "layout-sketch.svg": "the user's",
      "offcut-2.dxf": "the user's",
      "notes.txt": "the user's",
      "sub/01.nc": "the user's",
    });
  });

  test("is refused where it holds others' files, and --force writes beside them", () => {
    const dir = tempFolder({ "notes.txt": "the user's" });
    expect(outFinding(dir, false)).toMatchObject({
      code: "out-not-ours",
      data: { holds: "notes.txt" },
    });
    expect(outFinding(dir, true)).toBeUndefined();
    expect(writeFolder(dir, planned(["01.nc"]))).toBeUndefined();
    expect(Object.keys(contentsOf(dir))).toEqual(["01.nc", "notes.txt", "plan.json"]);
  });

  test("a plan.json of something else does not make it weftcut's", () => {
    for (const text of ["{", "[]", "null", '{"name": "x"}', '"weftcut"']) {
      const dir = tempFolder({ "plan.json": text });
      expect(outFinding(dir, false)).toMatchObject({ code: "out-not-ours" });
    }
  });

  test("never deletes by a path that an old plan names", () => {
    const folder = tempFolder({
      "out/plan.json": planText(["../precious.nc", "sub/deep.nc", "sub"]),
      "out/sub/deep.nc": "the user's",
      "precious.nc": "the user's",
    });
    expect(writeFolder(join(folder, "out"), planned(["01.nc"]))).toBeUndefined();
    expect(Object.keys(contentsOf(folder))).toEqual([
      "out/01.nc",
      "out/plan.json",
      "out/sub/deep.nc",
      "precious.nc",
    ]);
  });

  test("is as it was where writing fails half way", () => {
    const dir = tempFolder({
      "plan.json": planText(["01.nc", "02.nc"]),
      "01.nc": "old",
      "02.nc": "old",
    });
    mkdirSync(join(dir, "zz.nc"));
    writeFileSync(join(dir, "zz.nc", "kept"), "the user's");
    const before = contentsOf(dir);
    // The folder is met only after the old files have been moved out.
    const blocked = planned(["01.nc", "zz.nc"]);
    expect(writeFolder(dir, blocked)).toMatchObject({
      code: "out-unwritable",
      data: { why: '"zz.nc" is a folder there' },
    });
    expect(contentsOf(dir)).toEqual(before);
    const dangerous = new Map([...planned(["01.nc"]), ["../outside.nc", "no"]]);
    expect(writeFolder(dir, dangerous)).toMatchObject({ code: "out-unwritable" });
    expect(contentsOf(dir)).toEqual(before);
    expect(existsSync(join(dir, "..", "outside.nc"))).toBe(false);
    expect(readdirSync(dir).filter((name) => name.startsWith("."))).toEqual([]);
  });

  test("follows a link to where it points", () => {
    const folder = tempFolder({ "real/plan.json": planText(["01.nc"]), "real/01.nc": "old" });
    symlinkSync(join(folder, "real"), join(folder, "link"));
    expect(writeFolder(join(folder, "link"), planned(["02.nc"]))).toBeUndefined();
    expect(Object.keys(contentsOf(join(folder, "real")))).toEqual(["02.nc", "plan.json"]);
  });

  test("a file is no folder, nor is what lies under one", () => {
    const folder = tempFolder({ file: "x" });
    expect(outFinding(join(folder, "file"), true)).toMatchObject({ code: "out-is-file" });
    expect(outFinding(join(folder, "file", "out"), false)).toMatchObject({
      code: "out-unwritable",
    });
    expect(writeFolder(join(folder, "file", "out"), planned([]))).toMatchObject({
      code: "out-unwritable",
    });
    expect(contentsOf(folder)).toEqual({ file: "x" });
  });
});

test("one file is not replaced unless it is said", () => {
  const folder = tempFolder({ "a.svg": "old" });
  const file = join(folder, "a.svg");
  expect(writeWhole(file, "new", false)).toMatchObject({ code: "file-in-the-way" });
  expect(contentsOf(folder)).toEqual({ "a.svg": "old" });
  expect(writeWhole(file, "new", true)).toBeUndefined();
  expect(contentsOf(folder)).toEqual({ "a.svg": "new" });
  expect(writeWhole(join(folder, "no", "b.svg"), "x", false)).toMatchObject({
    code: "file-unwritable",
  });
});
