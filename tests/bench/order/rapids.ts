/**
 * What the order saves in plans: seconds through the air of the demo and of forty plates, four times over. Always on to
 * the nearest from the usual entries, up to clearance each time; the same with low links; as `plan` does it; and as it does
 * with cutting.order whole-sheet. What is removed is the same each time, and proven.
 */
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { parseJob } from "../../../src/core/job/parse.ts";
import { planJob } from "../../../src/core/job/plan.ts";
import { timeOf } from "../../../src/core/motion/time.ts";
import { readProgram } from "../../../src/core/program/read/read.ts";
import { manyPlates } from "../many-plates.ts";

export interface RapidRow {
  readonly job: string;
  readonly order: "nearest, clearance" | "nearest, hops" | "ordered, hops" | "over the sheet, hops";
  readonly rapidSeconds: number;
  readonly rapidMetres: number;
  readonly seconds: number;
  readonly cutMetres: number;
  readonly proven: boolean;
  readonly overcutMm: number;
  readonly leftMm2: number;
  /** Of routing as a whole, wall clock, ms. */
  readonly routingMs: number;
}

type Read = (name: string) => Uint8Array;

export function rapidRows(demo: string): RapidRow[] {
  const folder = dirname(demo);
  const many = manyPlates({ plates: 40, sheets: 2, seed: 1 });
  const fromDisk: Read = (name) => readFileSync(join(folder, name));
  const made: Read = (name) => new TextEncoder().encode(many.get(name) ?? "");
  return [
    ...rowsOf("demo", readFileSync(demo, "utf8"), fromDisk),
    ...rowsOf("40 plates with 600 features", many.get("job.yaml") ?? "", made),
  ];
}

function rowsOf(name: string, text: string, read: Read): RapidRow[] {
  const { value: job } = parseJob({ name: "job.yaml", text }, read);
  if (job === undefined) throw new Error(`${name} is no job`);
  const high = { ...job, cutting: { ...job.cutting, hop: job.cutting.clearance } };
  const whole: Job = { ...job, cutting: { ...job.cutting, order: "whole-sheet" } };
  return [
    rowOf(name, "nearest, clearance", () => planTimed(high, read, 0)),
    rowOf(name, "nearest, hops", () => planTimed(job, read, 0)),
    rowOf(name, "ordered, hops", () => planTimed(job, read, undefined)),
    rowOf(name, "over the sheet, hops", () => planTimed(whole, read, undefined)),
  ];
}

type Job = Parameters<typeof planJob>[0];

function planTimed(job: Job, read: Read, orderSteps: number | undefined) {
  let began = 0;
  let routingMs = 0;
  let routing = false;
  const progress = (stage: string): void => {
    // Sheet by sheet: in between, the one before is written.
    if (routing) routingMs += performance.now() - began;
    routing = stage === "routing";
    began = performance.now();
  };
  const hooks = orderSteps === undefined ? {} : { orderSteps };
  return { ...planJob(job, read, { keepUnproven: true, progress, ...hooks }), job, routingMs };
}

function rowOf(
  job: string,
  order: RapidRow["order"],
  run: () => ReturnType<typeof planTimed>,
): RapidRow {
  const { plan, files, routingMs, job: of } = run();
  if (plan === undefined) throw new Error(`${job} was stopped before there was a plan`);
  const times = plan.programs.map(({ file }) =>
    timeOf(readProgram(file, files.get(file) ?? ""), of.machine),
  );
  const sum = (take: (t: (typeof times)[number]) => number): number =>
    times.reduce((total, t) => total + take(t), 0);
  return {
    job,
    order,
    rapidSeconds: sum((t) => t.rapidSeconds),
    rapidMetres: sum((t) => t.rapidMetres),
    seconds: sum((t) => t.seconds),
    cutMetres: sum((t) => t.cutMetres),
    proven: plan.proof.proven,
    overcutMm: plan.proof.overcutMm,
    leftMm2: plan.proof.leftMm2,
    routingMs,
  };
}

export function rapidText(rows: readonly RapidRow[]): string {
  const lines = rows.map((row) => {
    const first = rows.find((r) => r.job === row.job) ?? row;
    const share = (100 * (row.rapidSeconds / first.rapidSeconds - 1)).toFixed(1);
    const proof = row.proven ? "proven" : "NOT PROVEN";
    return [
      `${row.job.padEnd(28)} ${row.order.padEnd(20)} ${row.rapidSeconds.toFixed(1).padStart(7)} s ${share.padStart(6)} %`,
      `${row.rapidMetres.toFixed(2).padStart(6)} m rapid, ${row.cutMetres.toFixed(3)} m cut, ${row.seconds.toFixed(0)} s in all`,
      `${proof}, over ${row.overcutMm.toFixed(6)} mm, left ${row.leftMm2.toFixed(3)} mm², routing ${row.routingMs.toFixed(0)} ms`,
    ].join("; ");
  });
  return `${lines.join("\n")}\n`;
}
