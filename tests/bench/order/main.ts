/**
 * Ordering under precedence on public instances: `npm run bench:order -- DIR [--seconds N] [--json] [--only NAME,…]`.
 *
 * One search of one seed for each, in this process; seconds are of its processor time, so that what else the machine
 * does counts little. Every tour is judged by code that shares nothing with the solver. Without --seconds: 10 s up to
 * 60 groups, 60 s beyond.
 *
 * `npm run bench:order -- --plans [--json]`: what the order saves in the demo and in a job of forty plates (rapids.ts).
 */
import process from "node:process";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { loadLine, machineLine } from "../machine.ts";
import { type Instance, instancesIn } from "./instance.ts";
import { PUBLISHED, SMALL } from "./published.ts";
import { rapidRows, rapidText } from "./rapids.ts";
import { solve } from "./solve.ts";
import { judge } from "./validate.ts";

interface Row {
  readonly instance: string;
  readonly kind: Instance["kind"];
  readonly seconds: number;
  readonly cost: number;
  readonly best: number | null;
  readonly valid: boolean;
}

const { values, positionals } = parseArgs({
  args: process.argv.slice(2),
  allowPositionals: true,
  options: {
    seconds: { type: "string" },
    json: { type: "boolean", default: false },
    only: { type: "string" },
    seed: { type: "string", default: "1" },
    plans: { type: "boolean", default: false },
  },
});

if (values.plans) {
  const rows = rapidRows(
    fileURLToPath(new URL("../../../fixtures/demo/job.yaml", import.meta.url)),
  );
  process.stdout.write(values.json ? `${JSON.stringify(rows, null, 1)}\n` : rapidText(rows));
  process.exit(rows.every((row) => row.proven) ? 0 : 1);
}
const folder = positionals[0];
const seconds = values.seconds === undefined ? undefined : Number(values.seconds);
if (folder === undefined || (seconds !== undefined && !(seconds > 0))) {
  process.stderr.write(
    "usage: npm run bench:order -- DIR [--seconds N] [--seed N] [--json] [--only NAME,…]\n       npm run bench:order -- --plans [--json]\n",
  );
  process.exit(2);
}
const wanted = values.only?.split(",");
const rows: Row[] = [];
for (const instance of instancesIn(folder)) {
  if (wanted !== undefined && !wanted.includes(instance.name)) continue;
  const row = run(instance, seconds ?? (instance.groups.length > SMALL ? 60 : 10));
  rows.push(row);
  process.stderr.write(`${textOf(row)}\n`);
}
process.stdout.write(values.json ? `${JSON.stringify(rows, null, 1)}\n` : summary());
if (rows.some((row) => !row.valid)) process.exit(1);

function run(instance: Instance, limit: number): Row {
  const started = processorSeconds();
  const spent = (): number => (processorSeconds() - started) / limit;
  const nodes = solve(instance, { steps: Number.MAX_VALUE, seed: Number(values.seed), spent });
  const { cost, faults } = judge(instance, nodes);
  for (const fault of faults) process.stderr.write(`${instance.name}: ${fault}\n`);
  const best = PUBLISHED[instance.name] ?? null;
  const { name, kind } = instance;
  const took = Math.round((processorSeconds() - started) * 1000) / 1000;
  return { instance: name, kind, seconds: took, cost, best, valid: faults.length === 0 };
}

function processorSeconds(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

function textOf({ instance, seconds: took, cost, best, valid }: Row): string {
  const over = best === null ? "" : `${(100 * (cost / best - 1)).toFixed(2).padStart(7)} %`;
  const figures = `${took.toFixed(2).padStart(6)} s ${String(cost).padStart(7)} ${String(best ?? "–").padStart(7)}`;
  return `${instance.padEnd(15)} ${figures} ${over}${valid ? "" : "  INVALID"}`;
}

function summary(): string {
  const heads = ["instance, processor time, cost, best known, above it"];
  return `${[machineLine(), `load ${loadLine()}`, ...heads, ...rows.map(textOf)].join("\n")}\n`;
}
