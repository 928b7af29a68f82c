/** `weftcut plan JOB --out DIR` and `weftcut check JOB`: the same way through the house, written or not. */
import { join } from "node:path";
import { type Finding, stops } from "../../core/finding/finding.ts";
import { withJobPlaces } from "../../core/job/job-places.ts";
import type { Planned } from "../../core/job/plan.ts";
import type { PlanJson, SheetJson } from "../../core/job/plan-json.ts";
import type { Effort } from "../../core/layout/search/sheets/effort.ts";
import { runnerOn } from "../elsewhere/runner.ts";
import type { Helper } from "../elsewhere/thread.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { type LoadedJob, loadJob } from "../load-job.ts";
import { countsOf, printFindings, type Sources } from "../print-findings.ts";
import { typedFiles } from "../read-file.ts";
import { minutes, table } from "../text.ts";
import { outFinding, UNPROVEN, writeFolder } from "../write-files.ts";

export interface SearchChoice {
  readonly effort?: Effort;
  readonly seed?: number;
}

export interface PlanOptions extends SearchChoice {
  readonly out: string;
  readonly force?: boolean;
  readonly keepUnproven?: boolean;
  readonly trial?: boolean;
  readonly json?: boolean;
}

export async function plan(
  io: Io,
  path: string,
  options: PlanOptions,
  helper?: Helper,
): Promise<ExitCode> {
  const inTheWay = outFinding(options.out, options.force === true);
  if (inTheWay !== undefined) return refuse(io, inTheWay, options);
  const loaded = loadJob(path);
  const planned = await workOut(io, loaded, options, helper, options);
  const findings = planned?.findings ?? loaded.findings;
  const code = codeOf(findings, loaded);
  const plan = planned?.plan;
  if (plan === undefined || planned === undefined || planned.stopped || code !== EXIT.done) {
    const kept = planned === undefined ? undefined : keepUnproven(options.out, planned);
    reportStop(io, findings, sourcesOf(loaded, planned, kept), options, kept);
    // A plan that is stopped without a finding of its own would be a fault; it is never a success.
    return code === EXIT.done ? EXIT.stopped : code;
  }
  const failed = writeFolder(options.out, planned.files);
  if (failed !== undefined) return refuse(io, failed, options);
  const files = [...planned.files.keys()];
  if (options.json === true) {
    printJson(io, { ...plan, written: true, dir: options.out, files, findings });
  } else {
    printFindings(io, findings, sourcesOf(loaded, planned, options.out));
    printPlan(io, plan, options.out, files);
  }
  return EXIT.done;
}

/** Where programs that failed their proof went, if they were wanted. */
function keepUnproven(out: string, { files }: Planned): string | undefined {
  if (files.size === 0) return undefined;
  const dir = join(out, UNPROVEN);
  return writeFolder(dir, files) === undefined ? dir : undefined;
}

function reportStop(
  io: Io,
  findings: readonly Finding[],
  sources: Sources,
  options: PlanOptions,
  kept: string | undefined,
): void {
  if (options.json === true) {
    printJson(io, { written: false, ...(kept === undefined ? {} : { unproven: kept }), findings });
    return;
  }
  printFindings(io, findings, sources);
  const where = kept === undefined ? "nothing was written" : `unproven programs are in ${kept}`;
  io.err(`${countsOf(findings)}; ${where}\n`);
}

export async function check(
  io: Io,
  path: string,
  options: SearchChoice & { readonly json?: boolean },
  helper?: Helper,
): Promise<ExitCode> {
  const loaded = loadJob(path);
  const planned = await workOut(io, loaded, options, helper);
  const findings = planned?.findings ?? loaded.findings;
  if (options.json === true) printJson(io, { findings });
  else {
    printFindings(io, findings, sourcesOf(loaded, planned, undefined));
    io.out(`${countsOf(findings)}\n`);
  }
  return codeOf(findings, loaded);
}

function refuse(io: Io, finding: Finding, options: { readonly json?: boolean }): ExitCode {
  if (options.json === true) printJson(io, { written: false, findings: [finding] });
  else printFindings(io, [finding], typedFiles);
  return EXIT.usage;
}

/** The job's own files are beside it; programs are where they were written, or nowhere yet. */
function sourcesOf(
  { beside }: LoadedJob,
  planned: Planned | undefined,
  dir: string | undefined,
): Sources {
  const made = new Set(planned?.plan?.programs.map((p) => p.file));
  return {
    pathOf: (file) => {
      if (!made.has(file)) return beside.pathOf(file);
      return dir === undefined ? file : join(dir, file);
    },
    textOf: (file) => (made.has(file) ? planned?.files.get(file) : beside.textOf(file)),
  };
}

/** What the job file's reader said comes first; a plan's findings do not hold it. */
async function workOut(
  io: Io,
  { job, findings, beside, ledger }: LoadedJob,
  { effort = "quick", seed }: SearchChoice,
  helper: Helper | undefined,
  { keepUnproven = false, trial = false }: Pick<PlanOptions, "keepUnproven" | "trial"> = {},
): Promise<Planned | undefined> {
  if (job === undefined) return undefined;
  // Not before it is needed: a job that cannot be read is answered in half the time.
  const { planJob } = await import("../../core/job/plan.ts");
  const { searchCeiling } = await import("../../core/job/planning/laying/search.ts");
  const { feedbackOf, NO_FEEDBACK } = await import("../../core/motion/wear/feedback.ts");
  const { openLedger } = await import("../ledger-file.ts");
  const progress = (text: string) => {
    if (io.watched) io.err(`\r\u001b[K${text}`);
  };
  const opened = ledger === undefined ? undefined : openLedger(ledger);
  const feedback = opened === undefined ? NO_FEEDBACK : feedbackOf(opened.ledger);
  const layout = { effort, seed, over: searchCeiling(effort, () => performance.now()) };
  const hooks = {
    progress,
    keepUnproven,
    feedback,
    layout,
    trial: trial ? ("hardboard" as const) : undefined,
    elsewhere: runnerOn(helper),
    // It takes a while to go: meanwhile the papers are drawn and written.
    back: helper?.end,
  };
  const planned = planJob(job, beside.read, hooks);
  if (io.watched) io.err("\r\u001b[K");
  const said = [...findings, ...(opened?.findings ?? [])];
  return { ...planned, findings: [...said, ...withJobPlaces(planned.findings, job)] };
}

function codeOf(findings: readonly Finding[], loaded: LoadedJob): ExitCode {
  if (loaded.unreadable || loaded.beside.unreadable.size > 0) return EXIT.usage;
  return stops(findings) ? EXIT.stopped : EXIT.done;
}

/** The largest rectangle clear in what is left of a sheet. */
function clearOf({ offcuts = [] }: SheetJson): string {
  const size = ({ width, height }: { width: number; height: number }): number => width * height;
  const [best] = offcuts.map((o) => o.clear).sort((a, b) => size(b) - size(a));
  if (best === undefined) return "none";
  return `${Math.floor(best.width)} × ${Math.floor(best.height)} mm`;
}

function printPlan(io: Io, plan: PlanJson, dir: string, files: readonly string[]): void {
  if (plan.trial !== undefined) io.out(`TRIAL IN ${plan.trial.toUpperCase()}\n`);
  io.out(`${plan.name}\n\n`);
  const sheets = plan.sheets.map((sheet) => [
    sheet.name,
    `${sheet.thickness} mm`,
    String(sheet.placements.length),
    `${(100 * sheet.utilisation).toFixed(0)} %`,
    String(sheet.tabs.length),
    clearOf(sheet),
  ]);
  io.out(table([["sheet", "thick", "plates", "used", "tabs", "left clear"], ...sheets]));
  io.out("\n");
  const programs = plan.programs.map((program) => [
    program.file,
    minutes(program.seconds),
    `${program.cutMetres.toFixed(2)} m`,
    `${program.rpm} rpm`,
    `${program.feed.toFixed(0)} mm/min`,
    `${program.passDepth.toFixed(2)} mm`,
  ]);
  io.out(table([["program", "time", "cut", "spindle", "feed", "pass"], ...programs]));
  const { estimate, proof } = plan;
  io.out(
    `\ntogether ${minutes(estimate.seconds)}, ${estimate.cost.toFixed(2)} ${estimate.currency}\n`,
  );
  const failed = proof.checks.filter((c) => !c.passed).length;
  io.out(
    proof.proven
      ? `proven: ${proof.checks.length} checks, deepest cut into a plate ${proof.overcutMm.toFixed(4)} mm\n`
      : `not proven: ${failed} of ${proof.checks.length} checks failed\n`,
  );
  io.out(`wrote ${files.length} files into ${dir}; begin with ${join(dir, "job-sheet.html")}\n`);
}
