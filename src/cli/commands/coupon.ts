/**
 * `weftcut coupon JOB --out DIR` plans a test piece; `weftcut coupon --measured FILE` turns what was measured on it
 * into diameter, axis scale and fit, and writes them into the job's files.
 */
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { type Coupon, couponOf } from "../../core/coupon/coupon.ts";
import { measuredTemplate, withForm } from "../../core/coupon/form.ts";
import { type CouponFound, couponFound, type Value } from "../../core/coupon/found.ts";
import { withCutterFound, withMachineFound } from "../../core/coupon/write-back.ts";
import { type Finding, stops } from "../../core/finding/finding.ts";
import { reportCoupon } from "../../core/finding/say-coupon.ts";
import type { Job, JobSheet } from "../../core/job/job.ts";
import { type MeasuredFile, parseMeasured } from "../../core/job/keys/measured.ts";
import { planJob } from "../../core/job/plan.ts";
import { gather } from "../../core/job/planning/gather.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { type LoadedJob, loadJob } from "../load-job.ts";
import { countsOf, printFindings } from "../print-findings.ts";
import { readText, shown, typedFiles } from "../read-file.ts";
import { say } from "../say.ts";
import { table } from "../text.ts";
import { outFinding, writeFolder, writeWhole } from "../write-files.ts";

export interface CouponOptions {
  readonly out?: string;
  readonly sheet?: string;
  readonly cutter?: string;
  readonly clearance: number;
  readonly measured?: string;
  readonly date?: string;
  readonly dry?: boolean;
  readonly force?: boolean;
  readonly json?: boolean;
}

const MEASURED = "measured.yaml";

export async function coupon(
  io: Io,
  job: string | undefined,
  options: CouponOptions,
): Promise<ExitCode> {
  if (options.measured !== undefined) return evaluate(io, options.measured, options);
  if (job === undefined || options.out === undefined) {
    return refuse(io, [say("coupon-wants", {})], options);
  }
  return planCoupon(io, job, options.out, options);
}

function refuse(io: Io, findings: readonly Finding[], options: CouponOptions): ExitCode {
  if (options.json === true) printJson(io, { written: false, findings });
  else printFindings(io, findings, typedFiles);
  return EXIT.usage;
}

function planCoupon(io: Io, path: string, out: string, options: CouponOptions): ExitCode {
  const inTheWay = outFinding(out, options.force === true);
  if (inTheWay !== undefined) return refuse(io, [inTheWay], options);
  const loaded = loadJob(path);
  const { job } = loaded;
  if (job === undefined) return stopped(io, loaded.findings, loaded, options);
  const made = couponOf(job, options, outlines(job, loaded));
  if (made.value === undefined) return stopped(io, made.findings, loaded, options);
  const { drawings, plan } = made.value;
  const template = measuredTemplate(plan, wayTo(out, path));
  const filled = filledIn(join(out, MEASURED), template);
  if (filled !== undefined && options.force !== true) return refuse(io, [filled], options);
  const planned = planJob(made.value.job, (name) => bytesOf(drawings, name));
  const findings = [...made.findings, ...planned.findings];
  if (planned.stopped) return stopped(io, findings, loaded, options);
  const files = new Map<string, string>([...planned.files, ...drawings, [MEASURED, template]]);
  const sheet = files.get("job-sheet.html");
  if (sheet !== undefined) files.set("job-sheet.html", withForm(sheet, plan, MEASURED));
  const failed = writeFolder(out, files);
  if (failed !== undefined) return refuse(io, [failed], options);
  if (options.json === true) {
    printJson(io, { written: true, dir: out, files: [...files.keys()], coupon: plan, findings });
  } else {
    printFindings(io, findings, typedFiles);
    printPlan(io, made.value, out);
  }
  return EXIT.done;
}

/** Exit 2 where a file could not be read, else 1. */
function stopped(
  io: Io,
  findings: readonly Finding[],
  { unreadable, beside }: LoadedJob,
  options: CouponOptions,
): ExitCode {
  if (options.json === true) printJson(io, { written: false, findings });
  else {
    printFindings(io, findings, beside);
    io.err(`${countsOf(findings)}; nothing was written\n`);
  }
  return unreadable || beside.unreadable.size > 0 ? EXIT.usage : EXIT.stopped;
}

function outlines(job: Job, { beside }: LoadedJob) {
  const { sheets } = gather({ ...job, plates: [] }, beside.read);
  return (sheet: JobSheet) => sheets.find((s) => s.name === sheet.name)?.outline;
}

function bytesOf(drawings: ReadonlyMap<string, string>, name: string): Uint8Array | undefined {
  const text = drawings.get(name);
  return text === undefined ? undefined : new TextEncoder().encode(text);
}

function wayTo(out: string, job: string): string {
  return relative(resolve(out), resolve(job)).split(sep).join("/");
}

/** Measures that somebody has typed in are not written over. */
function filledIn(file: string, template: string): Finding | undefined {
  const text = readText(file);
  return typeof text !== "string" || text === template
    ? undefined
    : say("file-in-the-way", { file });
}

function printPlan(io: Io, { job, plan }: Coupon, out: string): void {
  io.out(`${job.name}\n\n`);
  const rows = plan.walls.map((w) => [w.id, w.what, w.side, `${w.drawn} mm`]);
  io.out(table([["mark", "what", "side", "drawn"], ...rows]));
  const steps = (list: typeof plan.slots) => list.map((s) => s.clearance).join(", ") || "none";
  io.out(`\nslots with room of ${steps(plan.slots)} mm; tongues of ${steps(plan.tongues)} mm\n`);
  io.out(
    `cut it, fill in ${join(out, MEASURED)}, then: weftcut coupon --measured ${join(out, MEASURED)}\n`,
  );
}

function evaluate(io: Io, file: string, options: CouponOptions): ExitCode {
  const text = readText(file);
  if (typeof text !== "string") return refuse(io, [text], options);
  const read = parseMeasured({ name: file, text });
  if (read.value === undefined) return stop(io, read.findings, options);
  const made = couponFound(read.value.measured);
  if (made.value === undefined) return stop(io, made.findings, options);
  const found = made.value;
  const edits = options.dry === true ? [] : editsFor(file, read.value, found, dateOf(options));
  const findings = [...made.findings, ...edits.flatMap((e) => e.findings)];
  const failed = stops(findings) ? undefined : writeAll(edits);
  const all = failed === undefined ? findings : [...findings, failed];
  const written = stops(all) ? [] : edits.map((e) => e.file);
  if (options.json === true) printJson(io, { ...found, written, findings: all });
  else {
    printFindings(io, all, typedFiles);
    printFound(io, found);
    for (const name of written) io.out(`written into ${name}\n`);
  }
  return stops(all) ? EXIT.stopped : EXIT.done;
}

function stop(io: Io, findings: readonly Finding[], options: CouponOptions): ExitCode {
  refuse(io, findings, options);
  return EXIT.stopped;
}

function dateOf({ date }: CouponOptions): string {
  return date ?? new Date().toISOString().slice(0, 10);
}

interface Edit {
  readonly file: string;
  readonly text: string;
  readonly findings: readonly Finding[];
}

function editsFor(
  file: string,
  { job: way, cutter: name }: MeasuredFile,
  found: CouponFound,
  date: string,
): Edit[] {
  const path = resolve(dirname(file), way);
  const { job, findings } = loadJob(path);
  const shownPath = shown(path);
  const index = job?.cutters.findIndex((c) => c.name === name) ?? -1;
  const cutter = job?.cutters[index];
  if (job === undefined) return [{ file: shownPath, text: "", findings }];
  if (cutter === undefined) {
    const known = job.cutters.map((c) => c.name).join(", ");
    return [
      {
        file: shownPath,
        text: "",
        findings: [reportCoupon("coupon-unknown", { what: "cutter", name, known })],
      },
    ];
  }
  const withCutter = edited(path, `cutter ${name}`, (text) =>
    withCutterFound(text, { cutter, index }, found, date),
  );
  // A profile that is a file of its own is named in its place.
  const own = job.machinePlace.file !== basename(path);
  const machineFile = own ? resolve(dirname(path), job.machinePlace.file) : path;
  const before = own ? undefined : withCutter.text;
  const withMachine = edited(machineFile, `machine ${job.machine.name}`, (text) =>
    withMachineFound(before ?? text, own ? [] : ["machine"], job.machine, found, date),
  );
  return own
    ? [withCutter, withMachine]
    : [{ ...withMachine, findings: [...withCutter.findings, ...withMachine.findings] }];
}

function edited(path: string, what: string, edit: (text: string) => string | undefined): Edit {
  const file = shown(path);
  const text = readText(path);
  if (typeof text !== "string") return { file, text: "", findings: [text] };
  const made = edit(text);
  if (made === undefined) {
    return { file, text, findings: [reportCoupon("coupon-not-written", { file, what })] };
  }
  return { file, text: made, findings: [] };
}

function writeAll(edits: readonly Edit[]): Finding | undefined {
  for (const { file, text } of edits) {
    const failed = writeWhole(file, text, true);
    if (failed !== undefined) return failed;
  }
  return undefined;
}

function printFound(io: Io, found: CouponFound): void {
  const row = (what: string, v: Value, digits: number, unit: string) => [
    what,
    `${v.value.toFixed(digits)}${unit}`,
    `± ${v.plusMinus.toFixed(digits)}`,
  ];
  const rows = [
    row("cutter's diameter", found.diameter, 3, " mm"),
    row("scale of X", found.scaleX, 5, ""),
    row("scale of Y", found.scaleY, 5, ""),
    ...(found.fitOffset === undefined ? [] : [row("fit offset", found.fitOffset, 3, " mm")]),
  ];
  io.out(table([["found", "value", "95 %"], ...rows]));
  const worst = [...found.residuals].sort((a, b) => Math.abs(b.off) - Math.abs(a.off))[0];
  if (worst !== undefined) {
    io.out(`\nfurthest off: ${worst.id} by ${worst.off.toFixed(3)} mm\n`);
  }
}
