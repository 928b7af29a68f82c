/** Every drawing of the cases that makes plates is planned and proven; the others say why they make none. */
import { readdirSync } from "node:fs";
import process from "node:process";
import { describe, expect, test } from "vitest";
import { type Cased, plannedCase } from "./support/planned.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;

const files = readdirSync(new URL("../../fixtures/cases/", import.meta.url))
  .filter((f) => /\.(dxf|svg)$/.test(f))
  .filter((_, i) => LONG || i % 9 === 4);

describe("cases", () => {
  const seen: Cased[] = [];

  test.each(files)("%s", (file) => {
    const made = plannedCase(file);
    seen.push(made);
    if (made.failed === undefined) expect(made.stops.length).toBeGreaterThan(0);
    else expect(made.failed).toEqual([]);
  });

  test("most of them make plates", () => {
    expect(seen.length).toBe(files.length);
    expect(seen.filter((m) => m.failed !== undefined).length).toBeGreaterThan(seen.length / 2);
  });
});
