/** `weftcut coupon` as people use it: planned into a folder, filled in, and what was found written where it belongs. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type CouponOptions, coupon } from "../../src/cli/commands/coupon.ts";
import { MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import { listening } from "../support/listening.ts";
import { jobText } from "./job.ts";

const dir = mkdtempSync(join(tmpdir(), "weftcut-coupon-"));
const job = join(dir, "job.yaml");
const out = join(dir, "coupon");
const measured = join(out, "measured.yaml");
afterAll(() => rmSync(dir, { recursive: true, force: true }));

async function run(path: string | undefined, options: Partial<CouponOptions>) {
  const { io, said } = listening();
  const code = await coupon(io, path, { clearance: 0.1, ...options });
  return { code, ...said };
}

beforeAll(() => {
  mkdirSync(dir, { recursive: true });
  writeFileSync(job, jobText());
  writeFileSync(join(dir, "machine.yaml"), MACHINE_YAML);
});

describe("in order", () => {
  test("it plans a piece, with its form and its file", async () => {
    const { code, out: said } = await run(job, { out });
    expect(code).toBe(0);
    expect(said).toContain("coupon --measured");
    const sheet = readFileSync(join(out, "job-sheet.html"), "utf8");
    expect(sheet).toContain("Coupon: what was measured");
    // The way to the form is in the contents, and leads there.
    expect(sheet).toMatch(/<nav .*href="#coupon".*<\/nav>/);
    expect(sheet).toContain('id="coupon"');
    expect(readFileSync(join(out, "plan.json"), "utf8")).toContain('"proven": true');
    expect(readFileSync(measured, "utf8")).toContain('job: "../job.yaml"');
  });

  test("an empty file tells too little", async () => {
    const { code, err } = await run(undefined, { measured });
    expect(code).toBe(1);
    expect(err).toContain("coupon-too-few");
  });

  test("what was measured comes to diameter and scale, written with the date", async () => {
    // Scale 1.002 and a cutter of 1.96, planned as 2.
    const text = readFileSync(measured, "utf8").replace(
      /axis: (x|y|both), side: (inside|outside), drawn: ([\d.]+), measured: /g,
      (row, _axis, side, drawn) => {
        const l = Number(drawn);
        const m = side === "inside" ? 1.002 * (l - 2) + 1.96 : 1.002 * (l + 2) - 1.96;
        return `${row}${m.toFixed(2)} `;
      },
    );
    writeFileSync(measured, text);
    const dry = await run(undefined, { measured, dry: true });
    expect(dry.code).toBe(0);
    expect(readFileSync(job, "utf8")).toBe(jobText());

    const { code, out: said } = await run(undefined, { measured, date: "2026-03-01" });
    expect(code).toBe(0);
    expect(said).toMatch(/1\.96[01] mm/);
    expect(readFileSync(job, "utf8")).toMatch(/measuredDiameter: 1\.96/);
    const machine = readFileSync(join(dir, "machine.yaml"), "utf8");
    expect(machine).toContain("axisScale: [1.002");
    expect(machine).toContain('date: "2026-03-01"');
  });

  test("measures that were typed in are not written over", async () => {
    const { code, err } = await run(job, { out });
    expect(code).toBe(2);
    expect(err).toContain("measured.yaml");
    expect(readFileSync(measured, "utf8")).toMatch(/measured: 1\d\d/);
  });
});

test("without a job or a file it says what it wants", async () => {
  const { code, err } = await run(undefined, {});
  expect(code).toBe(2);
  expect(err).toContain("--measured");
  expect((await run(join(dir, "none.yaml"), { out: join(dir, "x") })).code).toBe(2);
});

test("a cutter that the job has no more is named, and nothing is written", async () => {
  const other = join(out, "other.yaml");
  const text = readFileSync(measured, "utf8").replace('cutter: "router"', 'cutter: "gone"');
  writeFileSync(other, text);
  const before = readFileSync(job, "utf8");
  const { code, err } = await run(undefined, { measured: other });
  expect(code).toBe(1);
  expect(err).toContain("router");
  expect(readFileSync(job, "utf8")).toBe(before);
});
