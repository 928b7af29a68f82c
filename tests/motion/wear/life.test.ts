/** `weftcut life`, as a person uses it. */
import { rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { weftcut } from "../../cli/run-cli.ts";
import { tempFolder } from "../../cli/temp-folder.ts";
import { planFolder } from "./plan-folder.ts";

const codes = (out: string): string[] =>
  JSON.parse(out).findings.map((f: { code: string }) => f.code);

describe("record", () => {
  test("what was cut adds up, and the same plan twice asks", () => {
    const cwd = planFolder();
    const first = weftcut(["life", "record", "out", "--json"], { cwd });
    expect(first.code).toBe(0);
    expect(JSON.parse(first.out)).toMatchObject({
      ledger: "cutter-life.jsonl",
      recorded: ["01.nc", "02.nc"],
      cutters: [{ cutter: "router-2", programs: 2, wearMetres: 0.75, lifeUsed: 0.75 / 4 }],
      findings: [],
    });
    const twice = weftcut(["life", "record", "out", "--json"], { cwd });
    expect(twice.code).toBe(1);
    expect(codes(twice.out)).toEqual(["plan-already-recorded"]);
    const again = weftcut(["life", "record", "out", "--again", "--json"], { cwd });
    expect(again.code).toBe(0);
    expect(JSON.parse(again.out).cutters[0].wearMetres).toBeCloseTo(1.5, 9);
  });

  test("one program today, the rest tomorrow", () => {
    const cwd = planFolder();
    expect(weftcut(["life", "record", "out", "--program", "02.nc"], { cwd }).code).toBe(0);
    const rest = weftcut(["life", "record", "out", "--json"], { cwd });
    expect(rest.code).toBe(0);
    expect(JSON.parse(rest.out).recorded).toEqual(["01.nc"]);
    expect(codes(rest.out)).toEqual(["program-recorded-before"]);
  });

  test("what is no plan, no program of it, no file", () => {
    const cwd = planFolder();
    expect(weftcut(["life", "record", "nowhere"], { cwd }).code).toBe(2);
    const wrong = weftcut(["life", "record", "out", "--program", "03.nc", "--json"], { cwd });
    expect([wrong.code, codes(wrong.out)]).toEqual([1, ["program-not-in-plan"]]);
    rmSync(join(cwd, "out/02.nc"));
    expect(weftcut(["life", "record", "out"], { cwd }).code).toBe(2);
    writeFileSync(join(cwd, "out/plan.json"), "{");
    expect(weftcut(["life", "record", "out"], { cwd }).code).toBe(2);
    // Nothing was written on the way.
    expect(JSON.parse(weftcut(["life", "show", "--json"], { cwd }).out).cutters).toEqual([]);
  });

  test("a ledger by another name, and one that cannot be written", () => {
    const cwd = planFolder();
    expect(weftcut(["life", "record", "out", "--ledger", "box.jsonl"], { cwd }).code).toBe(0);
    const shown = weftcut(["life", "show", "--ledger", "box.jsonl"], { cwd });
    expect(shown.out).toContain("router-2");
    expect(weftcut(["life", "show"], { cwd }).out).toContain("nothing recorded yet");
    const bad = weftcut(["life", "record", "out", "--ledger", "no/such/life.jsonl"], { cwd });
    expect(bad.code).toBe(2);
    expect(bad.err).toContain("no/such/life.jsonl");
  });
});

describe("renew", () => {
  test("true minutes and metres become a ratio and a life", () => {
    const cwd = planFolder();
    weftcut(["life", "record", "out"], { cwd });
    // Planned: 900 s, 0.75 m.
    const args = ["life", "renew", "router-2", "--minutes", "18", "--metres", "3", "--json"];
    const renewed = weftcut(args, { cwd });
    expect(renewed.code).toBe(0);
    expect(JSON.parse(renewed.out)).toMatchObject({
      renewed: "router-2",
      before: { seconds: 900, edgeMetres: 0.75 },
      cutters: [{ cutter: "router-2", programs: 0, wearMetres: 0 }],
      measured: { minutesRatio: 1.2, minutesFrom: 1, lives: [{ lifeMetres: 3, from: 1 }] },
    });
    const shown = weftcut(["life"], { cwd }).out;
    expect(shown).toContain("1.20 times");
    expect(shown).toContain("lasts 3.00 m");
  });

  test("a cutter that the ledger does not know; figures that are none", () => {
    const cwd = planFolder();
    weftcut(["life", "record", "out"], { cwd });
    const unknown = weftcut(["life", "renew", "router-3", "--json"], { cwd });
    expect([unknown.code, codes(unknown.out)]).toEqual([1, ["cutter-not-in-ledger"]]);
    expect(weftcut(["life", "renew", "router-2", "--minutes", "-3"], { cwd }).code).toBe(2);
    expect(weftcut(["life", "renew"], { cwd }).code).toBe(2);
  });
});

test("an empty folder has an empty ledger, and says how to begin", () => {
  const shown = weftcut(["life", "show"], { cwd: tempFolder() });
  expect(shown.code).toBe(0);
  expect(shown.out).toContain("weftcut life record");
});
