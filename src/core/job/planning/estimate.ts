/** What the whole job takes: time from the programs as read back, cost from the job's own prices. */
import type { TraceTime } from "../../motion/time.ts";
import type { Job } from "../job.ts";
import type { CutterJson, EstimateJson, SheetJson } from "../plan-json.ts";

export interface EstimateInput {
  readonly job: Job;
  readonly sheets: readonly SheetJson[];
  readonly cutters: readonly CutterJson[];
  readonly times: readonly TraceTime[];
}

export function estimateOf({ job, sheets, cutters, times }: EstimateInput): EstimateJson {
  const sum = (of: (t: TraceTime) => number): number => times.reduce((n, t) => n + of(t), 0);
  const seconds = sum((t) => t.seconds);
  const machine = (seconds / 3600) * job.rates.perHour;
  const stock = sheets.reduce((n, s) => n + (s.price ?? 0) * s.utilisation, 0);
  const wear = cutters.reduce((n, c) => n + c.lifeUsed * priceOf(job, c.name), 0);
  return {
    seconds,
    cuttingSeconds: sum((t) => t.cuttingSeconds),
    rapidSeconds: sum((t) => t.rapidSeconds),
    dwellSeconds: sum((t) => t.dwellSeconds),
    cost: machine + stock + wear,
    currency: job.rates.currency,
    assumptions: [
      ...new Set(times.flatMap((t) => t.assumptions)),
      `Machine time at ${job.rates.perHour} ${job.rates.currency} an hour, without set-up.`,
      "Sheets by the share of their area that ends up in plates.",
      "Cutters by the share of their life that the programs use, where the job says how long they last.",
    ],
  };
}

function priceOf(job: Job, name: string): number {
  return job.cutters.find((c) => c.name === name)?.price ?? 0;
}
