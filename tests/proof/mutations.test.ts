/**
 * Teeth: seeded changes of proven programs. Every harmful one is caught, no harmless one is refused. What is
 * harmful is known without the proof (harm.ts, oracle.ts). In the long run they are more, and listed.
 */
import process from "node:process";
import { afterAll, describe, expect, test } from "vitest";
import { seeded } from "../../src/core/geometry/seeded.ts";
import { prove } from "../../src/core/proof/prove.ts";
import { type Bench, harmful, KINDS } from "./harm.ts";
import { oracleFor } from "./oracle.ts";
import {
  casesJobs,
  demoJobs,
  failuresOf,
  foreignJobs,
  inputOf,
  proofOf,
  type SheetJob,
} from "./planned.ts";
import { STYLES } from "./restyle.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;

interface Bout {
  readonly jobs: readonly SheetJob[];
  /** Rounds over all kinds. */
  readonly rounds: number;
}

const BOUTS: Readonly<Record<string, Bout>> = {
  tag: { jobs: foreignJobs(), rounds: LONG ? 12 : 2 },
  "odd shapes": { jobs: casesJobs(), rounds: LONG ? 12 : 2 },
  demo: { jobs: LONG ? demoJobs() : demoJobs().slice(0, 1), rounds: LONG ? 4 : 0.4 },
};

/** A hundred proofs of a whole sheet take their time, ms. */
const PATIENCE = LONG ? 1_800_000 : 60_000;

const list: string[] = [];
let caught = 0;
let passed = 0;

afterAll(() => {
  if (!LONG) return;
  process.stdout.write(`${list.join("\n")}\n${caught} harmful caught, ${passed} harmless proven\n`);
});

describe.each(Object.entries(BOUTS))("%s", (name, { jobs, rounds }) => {
  test.each(jobs)("$name: as it is, it proves", (job) => {
    expect(failuresOf(proofOf(job))).toEqual([]);
  });

  test.each(jobs)("$name: every harmful change is caught", { timeout: PATIENCE }, (job) => {
    const input = inputOf(job);
    const bench: Bench = {
      input,
      texts: job.programs.map((p) => p.text),
      oracle: oracleFor(input),
      random: seeded(0x5eed + name.length),
    };
    const missed: string[] = [];
    const total = Math.ceil(rounds * KINDS.length);
    for (let i = 0; i < total; i++) {
      // A short run takes kinds from all over the list.
      const change = harmful(bench, rounds < 1 ? i * 3 : i);
      if (change === undefined) continue;
      const failed = failuresOf(prove(change.input).value);
      list.push(`harmful  ${change.what}: ${failed.join(", ") || "MISSED"}`);
      if (failed.length === 0) missed.push(change.what);
      else caught++;
    }
    expect(missed).toEqual([]);
  });

  test.each(jobs)("$name: no harmless change is refused", { timeout: PATIENCE }, (job) => {
    const random = seeded(0xcafe);
    const refused: string[] = [];
    const styles = rounds < 1 ? STYLES.slice(-3) : STYLES;
    for (const { name: style, restyle } of styles) {
      const programs = job.programs.map((p) => ({ ...p, text: restyle(p.text, random) ?? p.text }));
      if (programs.every((p, i) => p.text === job.programs[i]?.text)) continue;
      const failed = failuresOf(proofOf(job, programs));
      list.push(`harmless ${job.name}, ${style}: ${failed.join(", ") || "proven"}`);
      if (failed.length > 0) refused.push(`${style}: ${failed.join(", ")}`);
      else passed++;
    }
    expect(refused).toEqual([]);
  });
});
