import { cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import process from "node:process";
import { expect, test } from "vitest";
import { weftcut } from "../cli/run-cli.ts";
import { contentsOf, ROOT, tempFolder } from "../cli/temp-folder.ts";
import { PRESETS, presetText } from "./drafted.ts";

/** An empty folder with one airframe file and its machine, as a user would begin. */
function begun(preset: string): string {
  const folder = tempFolder();
  mkdirSync(join(folder, "machines"));
  cpSync(join(ROOT, "fixtures/machines"), join(folder, "machines"), { recursive: true });
  writeFileSync(
    join(folder, "airframe.yaml"),
    presetText(preset).replace("../machines/", "machines/"),
  );
  return folder;
}

const PLANNED = process.env["WEFTCUT_LONG"] === undefined ? ["shingle-90.yaml"] : PRESETS;

test.each(PLANNED)("%s: draft, then plan what it wrote, proven", { timeout: 300_000 }, (preset) => {
  const cwd = begun(preset);
  const drafted = weftcut(["draft", "airframe.yaml", "--out", "plates"], { cwd });
  expect(drafted.err).not.toMatch(/stop|warn/);
  expect(drafted.code).toBe(0);
  expect(drafted.out).toContain("next: weftcut plan plates/job.yaml");
  const planned = weftcut(["plan", "plates/job.yaml", "--out", "out", "--json"], { cwd });
  const plan = JSON.parse(planned.out);
  expect(plan.findings.filter((f: { severity: string }) => f.severity === "stop")).toEqual([]);
  expect(planned.code).toBe(0);
  expect(plan.proof.proven).toBe(true);
  const airframe = JSON.parse(readFileSync(join(cwd, "plates/airframe.json"), "utf8"));
  const cut = plan.sheets.flatMap((s: { placements: { plate: string }[] }) => s.placements);
  for (const { name, count } of airframe.plates) {
    expect(cut.filter((p: { plate: string }) => p.plate === name)).toHaveLength(count);
  }
  expectPoints(cut, airframe.plates);
});

type Named = { name: string; at: [number, number] };
type Placed = {
  plate: string;
  x: number;
  y: number;
  rotationDeg: number;
  flipped: boolean;
  points?: Named[];
};

/** Named points of every copy lie where the placement, as the plan's format defines it, takes the plate's own. */
function expectPoints(
  cut: readonly Placed[],
  plates: readonly { name: string; points: Named[] }[],
) {
  for (const p of cut) {
    const own = plates.find((q) => q.name === p.plate)?.points ?? [];
    expect(own.length, p.plate).toBeGreaterThanOrEqual(3);
    expect(p.points?.map((q) => q.name)).toEqual(own.map((q) => q.name));
    const a = (p.rotationDeg * Math.PI) / 180;
    own.forEach(({ at: [ax, y] }, i) => {
      const x = p.flipped ? -ax : ax;
      const [fx, fy] = p.points?.[i]?.at ?? [0, 0];
      expect(fx).toBeCloseTo(p.x + x * Math.cos(a) - y * Math.sin(a), 2);
      expect(fy).toBeCloseTo(p.y + x * Math.sin(a) + y * Math.cos(a), 2);
    });
  }
}

test("change one number and draft again: the folder follows, and what is no longer drawn goes", () => {
  const cwd = begun("hedgerow-150.yaml");
  const run = () => weftcut(["draft", "airframe.yaml", "--out", "plates"], { cwd });
  expect(run().code).toBe(0);
  const before = contentsOf(join(cwd, "plates"));
  expect(run().code).toBe(0);
  expect(contentsOf(join(cwd, "plates"))).toEqual(before);
  const file = join(cwd, "airframe.yaml");
  const without = readFileSync(file, "utf8").replace(/^ {2}camera: .*\n/m, "");
  writeFileSync(file, without);
  writeFileSync(join(cwd, "plates/mine.txt"), "kept");
  expect(run().code).toBe(0);
  expect(existsSync(join(cwd, "plates/camera-side.dxf"))).toBe(false);
  expect(existsSync(join(cwd, "plates/top.dxf"))).toBe(true);
  expect(readFileSync(join(cwd, "plates/mine.txt"), "utf8")).toBe("kept");
});

test("a stop writes nothing and says which number; --json is one document", () => {
  const cwd = begun("saltmarsh-240.yaml");
  const file = join(cwd, "airframe.yaml");
  writeFileSync(file, readFileSync(file, "utf8").replace("wheelbase: 240", "wheelbase: 150"));
  const ran = weftcut(["draft", "airframe.yaml", "--out", "plates"], { cwd });
  expect(ran.code).toBe(1);
  expect(ran.err).toMatch(/airframe\.yaml:8:\d+ stop propellers-meet/);
  expect(existsSync(join(cwd, "plates"))).toBe(false);
  const json = weftcut(["draft", "airframe.yaml", "--out", "plates", "--json"], { cwd });
  expect(JSON.parse(json.out)).toMatchObject({ written: false });
  expect(weftcut(["draft", "nowhere.yaml", "--out", "plates"], { cwd }).code).toBe(2);
});

test("a folder that is not a draft's is left alone", () => {
  const cwd = begun("shingle-90.yaml");
  mkdirSync(join(cwd, "plates"));
  writeFileSync(join(cwd, "plates/letter.txt"), "dear");
  const ran = weftcut(["draft", "airframe.yaml", "--out", "plates"], { cwd });
  expect(ran.code).toBe(2);
  expect(contentsOf(join(cwd, "plates"))).toEqual({ "letter.txt": "dear" });
});
