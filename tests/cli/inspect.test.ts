import { join } from "node:path";
import { expect, test } from "vitest";
import { bracketDxf } from "../../src/cli/starter/bracket-dxf.ts";
import { weftcut } from "./run-cli.ts";
import { contentsOf, tempFolder } from "./temp-folder.ts";

// Of the bracket as it is drawn: 60 × 24 with corners of radius 4, two holes of 3.2, a slot of 3 × 20.
const OUTER = 60 * 24 - (4 - Math.PI) * 16;
const HOLES = 2 * Math.PI * 1.6 ** 2;
const SLOT = 17 * 3 + Math.PI * 1.5 ** 2;

test("says what is in a drawing, for people and as JSON", () => {
  const cwd = tempFolder({ "bracket.dxf": bracketDxf() });
  const people = weftcut(["inspect", "bracket.dxf"], { cwd });
  expect([people.code, people.err]).toEqual([0, ""]);
  expect(people.out).toContain("bracket");
  const { code, out } = weftcut(["inspect", "bracket.dxf", "--json"], { cwd });
  expect(code).toBe(0);
  const document = JSON.parse(out);
  expect(document).toMatchObject({
    file: "bracket.dxf",
    format: "dxf",
    units: { declared: "mm", used: "mm", factor: 1, assumed: false },
    bounds: { min: [0, 0], max: [60, 24] },
    openChains: [],
    findings: [],
  });
  expect(document.plates).toHaveLength(1);
  const [plate] = document.plates;
  expect(plate.area).toBeCloseTo(OUTER - HOLES - SLOT, 3);
  const features: { kind: string; at: number[] }[] = plate.features;
  const byKind = (kind: string) => features.filter((f) => f.kind === kind);
  expect(byKind("hole")).toMatchObject([{ diameter: 3.2 }, { diameter: 3.2 }]);
  expect(byKind("slot")).toMatchObject([{ at: [30, 12], width: 3, length: 20, angleDeg: 0 }]);
});

test("--units overrides what the drawing says", () => {
  const cwd = tempFolder({ "bracket.dxf": bracketDxf() });
  const { out } = weftcut(["inspect", "bracket.dxf", "--units", "in", "--json"], { cwd });
  expect(JSON.parse(out)).toMatchObject({
    units: { declared: "mm", used: "in", factor: 25.4 },
    bounds: { max: [1524, 609.6] },
  });
  expect(weftcut(["inspect", "bracket.dxf", "--units", "cubits"], { cwd }).code).toBe(2);
});

test("--picture draws it, whole or not at all", () => {
  const cwd = tempFolder({ "bracket.dxf": bracketDxf(), "there.svg": "mine" });
  expect(weftcut(["inspect", "bracket.dxf", "--picture", "p.svg"], { cwd }).code).toBe(0);
  expect(contentsOf(cwd)["p.svg"]).toMatch(/^<svg[\s\S]*<\/svg>\s*$/);
  expect(weftcut(["inspect", "bracket.dxf", "--picture", "there.svg"], { cwd }).code).toBe(2);
  expect(contentsOf(cwd)["there.svg"]).toBe("mine");
  const several = weftcut(["inspect", "bracket.dxf", "bracket.dxf", "--picture", "q.svg"], { cwd });
  expect([several.code, several.err]).toMatchObject([
    2,
    expect.stringContaining("picture-of-several"),
  ]);
});

test("a folder is gone through to its end, past what is no drawing, and ends with 1", () => {
  const cwd = tempFolder({
    "d/a.dxf": "<html>not found</html>",
    "d/b.dxf": bracketDxf(),
    "d/notes.txt": "no drawing",
  });
  const people = weftcut(["inspect", "d"], { cwd });
  expect(people.code).toBe(1);
  expect(people.err).toMatch(/d\/a\.dxf.* stop /);
  expect(people.out).toContain(join("d", "b.dxf"));
  const { code, out } = weftcut(["inspect", "d", "--json"], { cwd });
  expect(code).toBe(1);
  const files = JSON.parse(out).drawings.map((d: { file: string }) => d.file);
  expect(files).toEqual([join("d", "a.dxf"), join("d", "b.dxf")]);
});

test("what a folder holds that cannot be read is told, and ends with 1", () => {
  const cwd = tempFolder({
    "d/a.dxf/inside.txt": "a folder by the name of a drawing",
    "d/b.dxf": bracketDxf(),
  });
  const people = weftcut(["inspect", "d"], { cwd });
  expect(people.code).toBe(1);
  expect(people.out).toContain(join("d", "b.dxf"));
  expect(people.err).toContain("file-is-folder");
});

test("for people: the size first, then plates, repairs, what was left out, and questions", () => {
  const drawn = bracketDxf().replace(
    "ENTITIES\n",
    "ENTITIES\n  0\nTEXT\n  8\nNOTES\n  0\nCIRCLE\n  8\n0\n 10\n30\n 20\n60\n 40\n5\n  0\nCIRCLE\n  8\n0\n 10\n30\n 20\n60\n 40\n5\n  0\nLINE\n  8\n0\n 10\n90\n 20\n0\n 11\n99\n 21\n9\n",
  );
  const cwd = tempFolder({ "bracket.dxf": drawn });
  const { code, out } = weftcut(["inspect", "bracket.dxf"], { cwd });
  expect(code).toBe(0);
  const order = [
    "60 × 65 mm",
    "bracket-1:",
    "slot",
    "Open:",
    "Mended",
    "duplicates-removed",
    "Left out",
    "TEXT",
    "Questions",
    "open-chain",
  ];
  const places = order.map((word) => out.indexOf(word));
  expect(places.every((p) => p >= 0)).toBe(true);
  expect(places).toEqual(places.toSorted((a, b) => a - b));
});

test("a file that is not there is told among those that are, and ends with 2", () => {
  const cwd = tempFolder({ "b.dxf": bracketDxf(), "empty/x.txt": "" });
  const people = weftcut(["inspect", "no.dxf", "b.dxf"], { cwd });
  expect(people.code).toBe(2);
  expect(people.err).toMatch(/^stop file-missing there is no file "no\.dxf"$/m);
  expect(people.out).toContain("b.dxf");
  const one = weftcut(["inspect", "no.dxf", "--json"], { cwd });
  expect(one.code).toBe(2);
  expect(JSON.parse(one.out)).toMatchObject({
    file: "no.dxf",
    findings: [{ code: "file-missing" }],
  });
  const empty = weftcut(["inspect", "empty"], { cwd });
  expect([empty.code, empty.err]).toMatchObject([
    2,
    expect.stringContaining("folder-without-drawings"),
  ]);
});
