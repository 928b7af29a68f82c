/** `weftcut rates --job JOB`: which cutter for these plates, sheet by sheet. */
import { type Finding, stops } from "../../core/finding/finding.ts";
import type { Job } from "../../core/job/job.ts";
import { gather } from "../../core/job/planning/gather.ts";
import { thicknessOf } from "../../core/layout/layout.ts";
import { type Comparison, compareCutters, usualRouters } from "../../core/motion/cost/compare.ts";
import { compareText } from "../../core/motion/cost/compare-text.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { loadJob } from "../load-job.ts";
import { printFindings } from "../print-findings.ts";

export interface CompareOptions {
  readonly job: string;
  readonly usual?: boolean;
  readonly json?: boolean;
}

interface SheetComparison extends Comparison {
  readonly sheet: string;
}

export function compare(io: Io, options: CompareOptions): ExitCode {
  const { job, findings: said, beside, unreadable } = loadJob(options.job);
  const gathered = job === undefined ? undefined : gather(job, beside.read);
  const findings: Finding[] = [...said, ...(gathered?.findings ?? [])];
  const sheets =
    job === undefined || gathered === undefined || stops(findings)
      ? []
      : sheetsOf(job, gathered, options.usual === true);
  if (options.json === true) printJson(io, { sheets, findings });
  else {
    printFindings(io, findings, beside);
    for (const sheet of sheets) {
      io.out(`${sheet.sheet}\n${compareText(sheet, job?.rates.currency ?? "")}\n`);
    }
  }
  if (unreadable || beside.unreadable.size > 0) return EXIT.usage;
  return stops(findings) ? EXIT.stopped : EXIT.done;
}

function sheetsOf(
  job: Job,
  { sheets, orders }: ReturnType<typeof gather>,
  usual: boolean,
): SheetComparison[] {
  return sheets.flatMap((sheet) => {
    const plates = orders.filter((o) => o.sheet === sheet.name);
    if (plates.length === 0) return [];
    const thickness = thicknessOf(sheet);
    const comparison = compareCutters({
      plates,
      cutters: usual ? usualRouters(thickness + job.cutting.throughDepth) : job.cutters,
      material: sheet.material,
      thickness,
      specificEnergy: sheet.specificEnergy,
      machine: job.machine,
      options: job.cutting,
      perHour: job.rates.perHour,
    });
    return [{ sheet: sheet.name, ...comparison }];
  });
}
