/** `weftcut inspect DRAWING… [--units mm|in] [--picture FILE]`: files, or folders of them. */
import { readdirSync, statSync } from "node:fs";
import { extname, join } from "node:path";
import type { Drawing } from "../../core/drawing/drawing.ts";
import { inspectJson } from "../../core/drawing/inspect/json.ts";
import { inspectSvg } from "../../core/drawing/inspect/picture.ts";
import { inspectText } from "../../core/drawing/inspect/text.ts";
import { readDrawing } from "../../core/drawing/read.ts";
import { type Finding, stops } from "../../core/finding/finding.ts";
import type { Plate } from "../../core/plate/plate.ts";
import { recognise } from "../../core/plate/recognise.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { printFindings } from "../print-findings.ts";
import { readBytes, reason, typedFiles } from "../read-file.ts";
import { say } from "../say.ts";
import { writeWhole } from "../write-files.ts";

export interface InspectOptions {
  readonly units?: "mm" | "in";
  /** Gaps up to this are closed, mm. */
  readonly closeGaps?: number;
  /** Of outlines drawn twice, nearly, the first stays. */
  readonly dropNearDuplicates?: boolean;
  readonly picture?: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

interface Inspected {
  readonly file: string;
  /** By its own name, and not as one of a folder. */
  readonly named: boolean;
  /** Absent where the file cannot be read. */
  readonly drawing?: Drawing;
  readonly plates: readonly Plate[];
  /** All that is said of it, repairs too. */
  readonly findings: readonly Finding[];
}

export function inspect(io: Io, named: readonly string[], options: InspectOptions): ExitCode {
  const { files, findings } = filesIn(named);
  const problems: Finding[] = [...findings];
  if (options.picture !== undefined && files.length !== 1) {
    problems.push(say("picture-of-several", { files: files.length }));
  }
  if (problems.length > 0 && files.length === 0) return refuse(io, problems, options);
  const inspected = files.map((file) => inspectOne(file, named.includes(file), options));
  const failed = problems.length === 0 ? pictureOf(inspected[0], options) : undefined;
  if (failed !== undefined) problems.push(failed);
  const single = named.length === 1 && files[0] === named[0] ? inspected[0] : undefined;
  if (options.json === true) printDocument(io, inspected, single, problems);
  else printAll(io, inspected, problems);
  const all = inspected.flatMap((one) => one.findings);
  // What a folder holds beside drawings is its own affair; what was named has to be there.
  const missing = inspected.some((one) => one.drawing === undefined && one.named);
  if (problems.length > 0 || missing) return EXIT.usage;
  return stops(all) ? EXIT.stopped : EXIT.done;
}

function refuse(io: Io, findings: readonly Finding[], options: InspectOptions): ExitCode {
  if (options.json === true) printJson(io, { drawings: [], findings });
  else printFindings(io, findings, typedFiles);
  return EXIT.usage;
}

/** A folder stands for the drawings in it, by name. */
function filesIn(named: readonly string[]): { files: string[]; findings: Finding[] } {
  const files: string[] = [];
  const findings: Finding[] = [];
  for (const name of named) {
    if (statSync(name, { throwIfNoEntry: false })?.isDirectory() !== true) {
      files.push(name);
      continue;
    }
    try {
      const drawings = readdirSync(name).filter((f) => /^\.(dxf|svg)$/i.test(extname(f)));
      if (drawings.length === 0) findings.push(say("folder-without-drawings", { dir: name }));
      const byName = drawings.toSorted((a, b) => (a < b ? -1 : 1));
      files.push(...byName.map((f) => join(name, f)));
    } catch (error) {
      findings.push(say("file-unreadable", { file: name, why: reason(error) }));
    }
  }
  return { files, findings };
}

function inspectOne(file: string, named: boolean, options: InspectOptions): Inspected {
  const bytes = readBytes(file);
  if (!(bytes instanceof Uint8Array)) return { file, named, plates: [], findings: [bytes] };
  const { units, closeGaps, dropNearDuplicates } = options;
  const read = readDrawing(file, bytes, { units, closeGaps, dropNearDuplicates, decodeText });
  const { value: plates, findings } = recognise(read, baseName(file));
  const drawing = { ...read, findings: [...read.findings, ...findings] };
  return { file, named, drawing, plates, findings: [...drawing.repairs, ...drawing.findings] };
}

/** Names in encodings of two bytes a character; what the platform does not know stays as bytes. */
function decodeText(bytes: Uint8Array, encoding: string): string {
  try {
    return new TextDecoder(encoding).decode(bytes);
  } catch {
    return String.fromCharCode(...bytes);
  }
}

function baseName(file: string): string {
  const name = file.split(/[\\/]/).at(-1) ?? file;
  return name.replace(/\.[^.]*$/, "") || name;
}

function pictureOf(one: Inspected | undefined, options: InspectOptions): Finding | undefined {
  if (options.picture === undefined || one?.drawing === undefined) return undefined;
  const svg = inspectSvg(one.drawing, one.plates);
  return writeWhole(options.picture, svg, options.force === true);
}

/** One drawing's own document where one was named; else a list, with what could not be read among it. */
function printDocument(
  io: Io,
  inspected: readonly Inspected[],
  single: Inspected | undefined,
  problems: readonly Finding[],
): void {
  const documents = inspected.map((one) =>
    one.drawing === undefined
      ? { file: one.file, findings: one.findings }
      : inspectJson(one.drawing, one.plates),
  );
  if (single === undefined) printJson(io, { drawings: documents, findings: problems });
  else if (problems.length === 0) printJson(io, documents[0]);
  else printJson(io, { ...documents[0], problems });
}

/**
 * Results on stdout, with all that is said of them; on stderr what is no drawing at all, and how many of
 * several want an answer before they can be cut.
 */
function printAll(io: Io, inspected: readonly Inspected[], problems: readonly Finding[]): void {
  printFindings(io, problems, typedFiles);
  for (const { drawing, plates, findings } of inspected) {
    if (drawing === undefined || isEmpty(drawing)) printFindings(io, findings, typedFiles);
    else io.out(inspectText(drawing, plates));
  }
  const stopped = inspected.filter((one) => stops(one.findings)).length;
  if (inspected.length > 1) {
    io.err(`${inspected.length} drawings, ${stopped} of them with something that stops a job\n`);
  }
}

function isEmpty(d: Drawing): boolean {
  return d.loops.length === 0 && d.openChains.length === 0 && d.ignored.length === 0;
}
