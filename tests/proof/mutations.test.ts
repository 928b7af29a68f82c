/**
 * Teeth: seeded changes of proven programs. Every harmful one is caught, no harmless one is refused. What is
 * harmful is known without the proof (harm.ts, oracle.ts). In the long run they are more, and listed.
 */
import process from "node:process";
import { afterAll, describe, expect, test } from "vitest";
import { type Random, seeded } from "../../src/core/geometry/seeded.ts";
import { prove } from "../../src/core/proof/prove.ts";
import { type Bench, harmful, KINDS } from "./support/harm.ts";
import { oracleFor } from "./support/oracle.ts";
import {
  casesJobs,
  demoJobs,
  failuresOf,
  foreignJobs,
  inputOf,
  proofOf,
  type SheetJob,
} from "./support/planned.ts";
import { STYLES, type Style } from "./support/restyle.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;

interface Bout {
  readonly jobs: readonly SheetJob[];
  /** Rounds over all kinds. */
  readonly rounds: number;
}

const BOUTS: Readonly<Record<string, Bout>> = {
  tag: { jobs: foreignJobs(), rounds: LONG ? 18 : 2 },
  "odd shapes": { jobs: casesJobs(), rounds: LONG ? 18 : 1 },
  ...(LONG ? { demo: { jobs: demoJobs(), rounds: 7 } } : {}),
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
    const seen = new Set<string>();
    const total = Math.ceil(rounds * KINDS.length);
    for (let i = 0; i < total; i++) {
      const change = harmful(bench, i);
      if (change === undefined || seen.has(change.what)) continue;
      seen.add(change.what);
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
    for (const { name: style, restyle } of manners(name)) {
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

/** Every style, and in the long run all other numbers in all other notations. */
function manners(name: string): readonly Style[] {
  if (!LONG || name === "demo") return STYLES;
  const notations = STYLES.filter((s) => s.what === "notation");
  const pairs = STYLES.filter((s) => s.what === "numbers").flatMap((a) =>
    notations.map((b): Style => {
      const restyle = (text: string, random: Random): string | undefined => {
        const once = a.restyle(text, random);
        return once === undefined ? undefined : b.restyle(once, random);
      };
      return { name: `${a.name}, then ${b.name}`, what: "notation", restyle };
    }),
  );
  return [...STYLES, ...pairs];
}
