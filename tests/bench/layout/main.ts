/**
 * Strip packing of public instances: `npm run bench:layout -- DIR [--seconds N] [--json] [--only NAME,…]`.
 *
 * Two searches of different seed in two processes, the shorter layout counts; seconds are of processor time of
 * each. Every layout is judged by another polygon library. Without --seconds, 10 s and 60 s are run.
 */
import { fork } from "node:child_process";
import process from "node:process";
import { parseArgs } from "node:util";
import type { StripLayout } from "../../../src/core/layout/search/strip/strip.ts";
import { loadLine, machineLine } from "../machine.ts";
import { type Instance, instancesIn } from "./instance.ts";
import { AIMED_AT, PUBLISHED } from "./published.ts";
import { faultsOf } from "./validate.ts";
import type { WorkerTask } from "./worker.ts";

interface Row {
  readonly instance: string;
  readonly seconds: number;
  readonly length: number;
  readonly utilisation: number;
  readonly best: number | null;
  readonly valid: boolean;
}

const SEEDS = [1, 2];

const { values, positionals } = parseArgs({
  args: process.argv.slice(2),
  allowPositionals: true,
  options: {
    seconds: { type: "string" },
    json: { type: "boolean", default: false },
    only: { type: "string" },
  },
});

const folder = positionals[0];
const limits = values.seconds === undefined ? [10, 60] : [Number(values.seconds)];
if (folder === undefined || limits.some((s) => !(s > 0))) {
  process.stderr.write(
    "usage: npm run bench:layout -- DIR [--seconds N] [--json] [--only NAME,…]\n",
  );
  process.exit(2);
}
const wanted = values.only?.split(",");
const rows: Row[] = [];
for (const seconds of limits) {
  for (const instance of instancesIn(folder)) {
    if (wanted !== undefined && !wanted.includes(instance.name)) continue;
    const row = await run(instance, seconds);
    rows.push(row);
    process.stderr.write(`${textOf(row)}\n`);
  }
}
process.stdout.write(values.json ? `${JSON.stringify(rows, null, 1)}\n` : summary());
if (rows.some((row) => !row.valid)) process.exit(1);

async function run(instance: Instance, seconds: number): Promise<Row> {
  const layouts = await Promise.all(SEEDS.map((seed) => search({ instance, seed, seconds })));
  const layout = layouts.reduce((a, b) => (b.length < a.length ? b : a));
  const faults = layouts.flatMap((l) => faultsOf(instance, l));
  for (const fault of faults) process.stderr.write(`${instance.name}: ${fault}\n`);
  return {
    instance: instance.name,
    seconds,
    length: layout.length,
    utilisation: (100 * instance.totalArea) / (instance.stripWidth * layout.length),
    best: PUBLISHED[instance.name] ?? null,
    valid: faults.length === 0,
  };
}

function search(task: WorkerTask): Promise<StripLayout> {
  return new Promise((resolve, reject) => {
    const searcher = fork(new URL("./worker.ts", import.meta.url), {
      execArgv: ["--import", "tsx"],
    });
    searcher.once("message", (layout: StripLayout | null) => {
      if (layout === null) reject(new Error(`${task.instance.name} fits no such strip`));
      else resolve(layout);
    });
    searcher.once("error", reject);
    searcher.send(task);
  });
}

function textOf(row: Row): string {
  const { instance, seconds, length, utilisation, best, valid } = row;
  const beside = best === null ? "" : `  ${best.toFixed(2)} %  ${(utilisation / best).toFixed(4)}`;
  const figures = `${length.toFixed(3).padStart(10)}  ${utilisation.toFixed(2)} %`;
  return `${instance.padEnd(9)} ${seconds} s ${figures}${beside}${valid ? "" : "  INVALID"}`;
}

function summary(): string {
  const lines = [
    machineLine(),
    `load ${loadLine()}`,
    "instance, time, length, utilisation, best published, ratio",
  ];
  lines.push(...rows.map(textOf));
  for (const seconds of limits) {
    const mine = rows.filter((r) => r.seconds === seconds && AIMED_AT.includes(r.instance));
    if (mine.length < AIMED_AT.length) continue;
    const mean = mine.reduce((sum, r) => sum + r.utilisation / (r.best ?? 100), 0) / mine.length;
    lines.push(`mean ratio of the ${mine.length} at ${seconds} s: ${mean.toFixed(4)}`);
  }
  return `${lines.join("\n")}\n`;
}
