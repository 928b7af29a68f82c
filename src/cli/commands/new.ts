/** `weftcut new DIR` */
import { existsSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import type { Finding } from "../../core/finding/finding.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { printFindings } from "../print-findings.ts";
import { reason, typedFiles } from "../read-file.ts";
import { say } from "../say.ts";
import { bracketDxf } from "../starter/bracket-dxf.ts";
import { JOB_YAML, MACHINE_YAML } from "../starter/texts.ts";
import { writeFolder, writeWhole } from "../write-files.ts";

export interface NewOptions {
  readonly force?: boolean;
  readonly json?: boolean;
}

export function newJob(io: Io, dir: string, options: NewOptions): ExitCode {
  const files = new Map([
    ["job.yaml", JOB_YAML],
    ["machine.yaml", MACHINE_YAML],
    ["bracket.dxf", bracketDxf()],
  ]);
  const finding = writeStarter(dir, files, options.force === true);
  const findings = finding === undefined ? [] : [finding];
  const written = finding === undefined ? [...files.keys()] : [];
  if (options.json === true) printJson(io, { dir, files: written, findings });
  else if (finding !== undefined) printFindings(io, findings, typedFiles);
  else {
    const job = join(dir, "job.yaml");
    io.out(`wrote ${written.map((name) => join(dir, name)).join(", ")}\n`);
    io.out(`next: weftcut plan ${job} --out ${join(dir, "out")}\n`);
  }
  return finding === undefined ? EXIT.done : EXIT.usage;
}

/** A folder that is there gets the files one by one, none of them if one is in the way. */
function writeStarter(
  dir: string,
  files: ReadonlyMap<string, string>,
  force: boolean,
): Finding | undefined {
  if (!existsSync(dir)) return writeFolder(dir, files);
  const inTheWay = [...files.keys()]
    .map((name) => join(dir, name))
    .find((path) => existsSync(path));
  if (inTheWay !== undefined && !force) return say("file-in-the-way", { file: inTheWay });
  try {
    mkdirSync(dir, { recursive: true });
  } catch (error) {
    return say("out-unwritable", { dir, why: reason(error) });
  }
  for (const [name, text] of files) {
    const finding = writeWhole(join(dir, name), text, force);
    if (finding !== undefined) return finding;
  }
  return undefined;
}
