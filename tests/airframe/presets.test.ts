import process from "node:process";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { boundsOfAll } from "../../src/core/geometry/contour.ts";
import { parseJob } from "../../src/core/job/parse.ts";
import { gather } from "../../src/core/job/planning/gather.ts";
import {
  checkedLayout,
  checkedPlates,
  draftText,
  netArea,
  PRESETS,
  presetText,
  readBack,
  stopsOf,
} from "./drafted.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;

test("there are presets in three sizes or more, each marked as what it is", () => {
  expect(PRESETS.length).toBeGreaterThanOrEqual(3);
  const propellers = PRESETS.map((p) => parse(presetText(p)).airframe.propeller.diameter);
  expect(new Set(propellers).size).toBeGreaterThanOrEqual(3);
  for (const p of PRESETS) expect(presetText(p)).toMatch(/^(#.*\n)*weftcut: 1\nairframe:\n/);
});

describe.each(PRESETS)("%s", (preset) => {
  const d = draftText(presetText(preset));

  test("drafts without a stop or a warning", () => {
    expect(d.findings.filter((f) => f.severity !== "note").map((f) => f.message)).toEqual([]);
    expect(stopsOf(d)).toEqual([]);
  });

  test("drawings read back as the plates, feature for feature", () => {
    for (const p of d.airframe?.plates ?? []) {
      for (const kind of ["dxf", "svg"]) {
        const { plates, problems } = readBack(d, `${p.name}.${kind}`);
        expect(problems).toEqual([]);
        expect(plates).toHaveLength(1);
        expect(plates[0]?.features).toHaveLength(p.cutouts.length);
        expect(plates[0]?.area).toBeCloseTo(netArea(p), 1);
        const holes = plates[0]?.features.filter((f) => f.kind === "hole").length;
        const circles = p.cutouts.filter((c) => c.contour.segments.length === 1).length;
        expect(holes, "circles stay circles").toBe(circles);
      }
    }
  });

  test("its job reads, and names every plate, its count and its mates", () => {
    const text = String(d.files.get("job.yaml"));
    const { value: job, findings } = parseJob({ name: "job.yaml", text }, () => undefined);
    expect(findings.filter((f) => f.severity !== "note")).toEqual([]);
    const plates = d.airframe?.plates ?? [];
    expect(job?.plates.map((p) => [p.name, p.count])).toEqual(
      plates.map((p) => [p.name, p.stands.length]),
    );
    expect(job?.plates.map((p) => p.mates.length)).toEqual(plates.map((p) => p.mates.length));
  });

  test("passes every check of the plates and of their layout, with the cutter that the file names", () => {
    const said = [...checkedPlates(d), ...checkedLayout(d)].filter((f) => f.severity !== "note");
    expect(said.map((f) => `${f.code}: ${f.message}`)).toEqual([]);
  });

  test("the fits that its job asks for find slots and tabs as they would make them", () => {
    const text = String(d.files.get("job.yaml"));
    const { value: job } = parseJob({ name: "job.yaml", text }, () => undefined);
    if (job === undefined) throw new Error("no job");
    const bytes = (name: string): Uint8Array | undefined => {
      const file = d.files.get(name);
      return file === undefined ? undefined : new TextEncoder().encode(String(file));
    };
    const { changes, mating } = gather(job, bytes);
    expect([...mating.values()].reduce((n, slots) => n + slots.size, 0)).toBe(
      job.plates.reduce((n, p) => n + p.mates.length, 0),
    );
    expect(changes).toEqual([]);
  });

  test("every plate has three named points or more, on the plate's box", () => {
    for (const p of d.airframe?.plates ?? []) {
      expect(p.points.length, p.name).toBeGreaterThanOrEqual(3);
      expect(new Set(p.points.map((q) => q.name)).size).toBe(p.points.length);
      const { min, max } = boundsOfAll([p.outer]);
      for (const { at, name } of p.points) {
        expect(at.x >= min.x - 1 && at.x <= max.x + 1, `${p.name} ${name}`).toBe(true);
        expect(at.y >= min.y - 1 && at.y <= max.y + 1, `${p.name} ${name}`).toBe(true);
      }
    }
  });

  test("its sheet tells masses, estimates, limits and the cautions, and needs no other file", () => {
    const sheet = String(d.files.get("airframe-sheet.html"));
    for (const words of [
      "local aviation rules",
      "Test unloaded first",
      "first bending",
      "Limits",
    ]) {
      expect(sheet).toContain(words);
    }
    expect(sheet).not.toMatch(/(src|href)="(?!#)/);
    const csv = String(d.files.get("parts.csv")).split("\r\n");
    expect(csv.length).toBeGreaterThan(8);
    expect(d.estimate?.platesMass).toBeGreaterThan(5);
    for (const a of d.estimate?.arms ?? []) {
      expect(a.deflection).toBeGreaterThan(0);
      expect(a.frequency).toBeGreaterThan(20);
      expect(a.narrowest).toBeGreaterThan(3);
    }
  });

  test("alike arms bend alike, and a symmetric airframe balances on its middle line", () => {
    const arms = d.estimate?.arms ?? [];
    const lengths = new Map<string, number[]>();
    for (const a of arms) {
      const key = `${a.free.toFixed(2)} ${a.offFibreDeg.toFixed(1)}`;
      lengths.set(key, [...(lengths.get(key) ?? []), a.deflection]);
    }
    for (const list of lengths.values()) {
      expect(Math.max(...list) / Math.min(...list)).toBeLessThan(1.02);
    }
    expect(Math.abs(d.estimate?.centreOfPlates.x ?? 1)).toBeLessThan(0.05);
  });
});

test.each(LONG ? PRESETS : PRESETS.slice(-1))("%s: same file, same bytes", (preset) => {
  const [one, two] = [draftText(presetText(preset)), draftText(presetText(preset))];
  expect([...two.files]).toEqual([...one.files]);
});
