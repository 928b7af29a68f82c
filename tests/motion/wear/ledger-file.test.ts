/** The ledger as a file: killed while it is written, and written by many at once. */
import { spawn } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import process from "node:process";
import { describe, expect, test } from "vitest";
import { appendRecords, openLedger } from "../../../src/cli/ledger-file.ts";
import {
  type CutRecord,
  readLedger,
  recordText,
  totalsOf,
} from "../../../src/core/motion/wear/ledger.ts";
import { MAIN, weftcut } from "../../cli/run-cli.ts";
import { tempFolder } from "../../cli/temp-folder.ts";
import { planFolder } from "./plan-folder.ts";

const cut = (change: Partial<CutRecord>): CutRecord => ({
  kind: "cut",
  time: "2026-03-01T10:00:00Z",
  id: "a",
  plan: "p",
  program: "01.nc",
  cutter: "grün",
  seconds: 60,
  cutMetres: 1,
  edgeMetres: 0.5,
  wearMetres: 0.5,
  lifeMetres: 4,
  ...change,
});

/** A process of its own, to its end. */
function child(args: readonly string[], cwd: string): Promise<number | null> {
  const { NO_COLOR: _a, FORCE_COLOR: _b, ...env } = process.env;
  const ran = spawn(process.execPath, [...args], { cwd, env, stdio: "ignore" });
  return new Promise((resolve, reject) => {
    ran.on("error", reject);
    ran.on("exit", (code) => resolve(code));
  });
}

describe("killed in mid-write", () => {
  test("at any byte: the file reads, and the next record counts", () => {
    const dir = tempFolder();
    const file = join(dir, "life.jsonl");
    const first = recordText(cut({}));
    const torn = Buffer.from(recordText(cut({ program: "02.nc", id: "b" })));
    for (let n = 0; n <= torn.length; n++) {
      writeFileSync(file, Buffer.concat([Buffer.from(first), torn.subarray(0, n)]));
      const whole = n >= torn.length - 1;
      const opened = openLedger(file);
      expect(opened.ledger.records.length).toBe(whole ? 2 : 1);
      // A line break alone is no torn record.
      expect(opened.findings.length).toBe(whole || n <= 1 ? 0 : 1);
      expect(appendRecords(file, [cut({ program: "03.nc", id: "c" })])).toBeUndefined();
      const total = totalsOf(openLedger(file).ledger)[0];
      expect(total?.programs).toBe(whole ? 3 : 2);
    }
  });

  test("a process that kills itself after some bytes leaves a ledger that the command line reads", async () => {
    const dir = planFolder();
    expect(weftcut(["life", "record", "out", "--program", "01.nc"], { cwd: dir }).code).toBe(0);
    const text = recordText(cut({ program: "09.nc", id: "z" }));
    const script = `const fs = require("node:fs");
      const h = fs.openSync("cutter-life.jsonl", "a");
      fs.writeSync(h, Buffer.from(process.argv[1]).subarray(0, Number(process.argv[2])));
      process.kill(process.pid, "SIGKILL");`;
    for (const n of [1, 40, text.length - 3]) {
      expect(await child(["-e", script, text, String(n)], dir)).toBeNull();
      const shown = weftcut(["life", "show", "--json"], { cwd: dir });
      expect(shown.code).toBe(0);
      expect(JSON.parse(shown.out).cutters[0].programs).toBe(1);
    }
    expect(weftcut(["life", "record", "out"], { cwd: dir }).code).toBe(0);
    const after = JSON.parse(weftcut(["life", "--json"], { cwd: dir }).out);
    expect(after.cutters[0].programs).toBe(2);
    expect(after.findings.map((f: { code: string }) => f.code)).toEqual(["ledger-lines-unread"]);
  }, 30_000);
});

describe("eight processes at once", () => {
  test("each with a plan of its own: nothing is lost", async () => {
    const dir = planFolder(8);
    const runs = Array.from({ length: 8 }, (_, i) =>
      child([MAIN, "life", "record", `out-${i + 1}`], dir),
    );
    expect(await Promise.all(runs)).toEqual(new Array(8).fill(0));
    const ledger = readLedger(readFileSync(join(dir, "cutter-life.jsonl"), "utf8"));
    expect(ledger.unread).toEqual([]);
    expect(ledger.records.length).toBe(16);
    const total = totalsOf(ledger)[0];
    expect(total?.programs).toBe(16);
    expect(total?.wearMetres).toBeCloseTo(8 * (0.5 + 0.25), 9);
  }, 60_000);

  test("all with the same plan: it counts once", async () => {
    const dir = planFolder();
    const runs = Array.from({ length: 8 }, () => child([MAIN, "life", "record", "out"], dir));
    const codes = await Promise.all(runs);
    expect(codes.filter((c) => c === 0).length).toBe(1);
    expect(codes.filter((c) => c === 1).length).toBe(7);
    const ledger = readLedger(readFileSync(join(dir, "cutter-life.jsonl"), "utf8"));
    expect(totalsOf(ledger)[0]?.programs).toBe(2);
    expect(totalsOf(ledger)[0]?.wearMetres).toBeCloseTo(0.75, 9);
  }, 60_000);
});
