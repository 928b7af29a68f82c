/** `weftcut draft AIRFRAME --out DIR`: plates from parameters, written as drawings, a job, parts and pictures. */
import { readFileSync, rmSync } from "node:fs";
import { basename, join } from "node:path";
import { type Drafted, draftAirframe } from "../../core/airframe/draft.ts";
import { type Finding, stops } from "../../core/finding/finding.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { countsOf, printFindings, type Sources } from "../print-findings.ts";
import { filesBeside, readText, typedFiles } from "../read-file.ts";
import { table } from "../text.ts";
import { outFinding, writeFolder } from "../write-files.ts";

export interface DraftOptions {
  readonly out: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

export function draft(io: Io, path: string, options: DraftOptions): ExitCode {
  const before = earlierDraft(options.out);
  const inTheWay = outFinding(options.out, options.force === true || before !== undefined);
  if (inTheWay !== undefined) return refuse(io, inTheWay, options);
  const text = readText(path);
  if (typeof text !== "string") return refuse(io, text, options);
  const beside = filesBeside(path);
  const drafted = draftAirframe({ name: basename(path), text }, beside.read);
  const sources = sourcesFor(path, text, beside);
  if (stops(drafted.findings)) {
    if (options.json === true) printJson(io, { written: false, findings: drafted.findings });
    else {
      printFindings(io, drafted.findings, sources);
      io.err(`${countsOf(drafted.findings)}; nothing was written\n`);
    }
    return beside.unreadable.size > 0 ? EXIT.usage : EXIT.stopped;
  }
  const failed = writeFolder(options.out, drafted.files);
  if (failed !== undefined) return refuse(io, failed, options);
  removeStale(options.out, before ?? [], drafted.files);
  const files = [...drafted.files.keys()];
  if (options.json === true) {
    printJson(io, { ...drafted.json, written: true, dir: options.out, files });
  } else {
    printFindings(io, drafted.findings, sources);
    printDraft(io, drafted, options.out);
  }
  return EXIT.done;
}

function refuse(io: Io, finding: Finding, options: DraftOptions): ExitCode {
  if (options.json === true) printJson(io, { written: false, findings: [finding] });
  else printFindings(io, [finding], typedFiles);
  return EXIT.usage;
}

function sourcesFor(path: string, text: string, beside: Sources): Sources {
  const own = basename(path);
  return {
    pathOf: (file) => (file === own ? path : beside.pathOf(file)),
    textOf: (file) => (file === own ? text : beside.textOf(file)),
  };
}

/** The files of a draft that stands in `dir`, or undefined where none does. */
function earlierDraft(dir: string): readonly string[] | undefined {
  try {
    const json: unknown = JSON.parse(readFileSync(join(dir, "airframe.json"), "utf8"));
    const { weftcut, airframe, files } = Object(json);
    if (weftcut !== 1 || typeof airframe !== "string" || !Array.isArray(files)) return undefined;
    return files.filter((f): f is string => typeof f === "string" && basename(f) === f);
  } catch {
    return undefined;
  }
}

/** A plate that is no longer drawn must not be cut by mistake. */
function removeStale(dir: string, before: readonly string[], files: Drafted["files"]): void {
  for (const name of before) if (!files.has(name)) rmSync(join(dir, name), { force: true });
}

function printDraft(io: Io, { airframe, estimate, files }: Drafted, dir: string): void {
  if (airframe === undefined || estimate === undefined) return;
  io.out(`${airframe.setting.spec.name}\n\n`);
  const rows = estimate.plates.map((p) => [
    p.plate,
    `${p.count}`,
    `${Number(p.thickness.toFixed(2))} mm`,
    `${p.mass.g.toFixed(1)} g`,
    p.saved > 0 ? `${p.saved.toFixed(1)} g` : "0 g",
  ]);
  io.out(table([["plate", "count", "thick", "mass", "saved"], ...rows]));
  io.out(
    `\nplates ${estimate.platesMass.toFixed(1)} g, wheelbase ${estimate.wheelbase.toFixed(1)} mm, ` +
      `discs ${estimate.discClearance.toFixed(1)} mm apart\n`,
  );
  const worst = [...estimate.arms].sort((a, b) => b.deflection - a.deflection)[0];
  if (worst !== undefined) {
    io.out(
      `arm ${worst.arm} bends ${worst.deflection.toFixed(2)} mm under ${worst.force} N, ` +
        `first swings at ${worst.frequency.toFixed(0)} Hz\n`,
    );
  }
  io.out("Flying is governed by local aviation rules; test unloaded first.\n");
  io.out(`wrote ${files.size} files into ${dir}; begin with ${join(dir, "airframe-sheet.html")}\n`);
  io.out(`next: weftcut plan ${join(dir, "job.yaml")} --out ${join(dir, "out")}\n`);
}
