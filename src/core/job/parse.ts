/**
 * Job files, machine profiles and cutter files as text → checked values, or findings that say where and
 * how to mend it. All problems of a file are told at once.
 *
 * Promise: never throws; a value comes back exactly when no finding stops.
 */
import type { z } from "zod";
import type { Cutter } from "../cutting/cutter.ts";
import { decode } from "../drawing/bytes.ts";
import { type Finding, type Outcome, reporter, stops } from "../finding/finding.ts";
import { sayJob } from "../finding/say-job.ts";
import type { Machine } from "../machine/machine.ts";
import type { Job, JobPlace } from "./job.ts";
import { type FileKind, jsonSchemaOf } from "./json-schema.ts";
import { checkMachine, checkShapes, crossCheck } from "./judge/cross-check.ts";
import { checkOwnLines } from "./judge/own-lines.ts";
import { cutterSchema } from "./keys/cutter.ts";
import { machineSchema } from "./keys/machine.ts";
import { type PlaceOf, resolveJob, withFlutes } from "./resolve.ts";
import { jobSchema } from "./schema.ts";
import { at, issueFindings, told } from "./source/issues.ts";
import { type Path, readSource, type Source } from "./source/yaml-source.ts";

const say = reporter(sayJob);

export interface NamedText {
  /** As findings shall name it. */
  readonly name: string;
  readonly text: string;
}

/** Reads a file by its name relative to the job's folder; undefined where there is none. */
export type ReadBeside = (path: string) => Uint8Array | undefined;

export function parseJob(file: NamedText, readBeside: ReadBeside): Outcome<Job | undefined> {
  const read = checkedFile(file, "job", jobSchema);
  const machine = machineOf(file, read.source, readBeside);
  const findings = [...read.findings, ...machine.findings];
  if (read.value === undefined) return { value: undefined, findings };
  const placeOf = placesIn(file.name, read.source);
  findings.push(...checkShapes(read.value, placeOf));
  if (machine.value === undefined || stops(findings)) return { value: undefined, findings };
  const job = resolveJob(file.name, read.value, machine.value, placeOf);
  findings.push(...crossCheck(job));
  return { value: stops(findings) ? undefined : job, findings };
}

export function parseMachine(file: NamedText): Outcome<Machine | undefined> {
  const read = checkedFile(file, "machine", machineSchema);
  if (read.value === undefined) return { value: undefined, findings: read.findings };
  const placeOf = placesIn(file.name, read.source);
  const findings = [
    ...read.findings,
    ...checkMachine(read.value, placeOf(["spindle", "min"])),
    ...checkOwnLines(read.value, placeOf),
  ];
  return { value: stops(findings) ? undefined : read.value, findings };
}

export function parseCutter(file: NamedText): Outcome<Cutter | undefined> {
  const read = checkedFile(file, "cutter", cutterSchema);
  const value = read.value === undefined ? undefined : withFlutes(read.value);
  return { value, findings: read.findings };
}

function placesIn(file: string, source: Source): PlaceOf {
  return (path: Path): JobPlace => ({ file, ...source.placeOf(path) });
}

interface Checked<T> extends Outcome<T | undefined> {
  readonly source: Source;
}

const WHOLE = { job: "the job", machine: "the machine profile", cutter: "the cutter" } as const;

function checkedFile<T>(
  file: NamedText,
  kind: FileKind,
  schema: z.ZodType<T, unknown>,
): Checked<T> {
  const source = readSource(file.text);
  const syntax = source.problems.map(({ line, column, text }) =>
    say("job-syntax", { line, column, text }, at(file.name, { line, column })),
  );
  if (syntax.length > 0) return { value: undefined, findings: syntax, source };
  if (source.value === undefined || source.value === null) {
    const top = { line: 1, column: 1 };
    const wanted = kind === "job" ? "a job" : `a ${kind}`;
    const empty = say("job-empty", { ...top, wanted }, at(file.name, top));
    return { value: undefined, findings: [empty], source };
  }
  const result = schema.safeParse(source.value);
  if (result.success) return { value: result.data, findings: [], source };
  const context = {
    file: file.name,
    source,
    schema: jsonSchemaOf(kind),
    whole: WHOLE[kind],
  };
  const findings = issueFindings(result.error.issues, context);
  return { value: undefined, findings, source };
}

type PlacedMachine = { readonly machine: Machine; readonly place: JobPlace };

/** The job's machine, whether or not the rest of the job is well: all problems are told at once. */
function machineOf(
  file: NamedText,
  source: Source,
  readBeside: ReadBeside,
): Outcome<PlacedMachine | undefined> {
  const named = (source.value as { machine?: unknown } | null | undefined)?.machine;
  if (typeof named !== "string") {
    const inline = machineSchema.safeParse(named);
    const placeOf = placesIn(file.name, source);
    const place = placeOf(["machine", "spindle", "min"]);
    // What is wrong with it has been told with the job.
    if (!inline.success) return { value: undefined, findings: [] };
    const findings = checkOwnLines(inline.data, (path) => placeOf(["machine", ...path]));
    return { value: { machine: inline.data, place }, findings };
  }
  const here = source.placeOf(["machine"]);
  const bytes = readBeside(named);
  if (bytes === undefined) {
    const missing = say("machine-file-missing", { ...here, file: named }, at(file.name, here));
    return { value: undefined, findings: [told(missing)] };
  }
  const text = textOf(named, bytes);
  if (typeof text !== "string") return { value: undefined, findings: [text] };
  const parsed = parseMachine({ name: named, text });
  const place = { file: named, ...readSource(text).placeOf(["spindle", "min"]) };
  return {
    value: parsed.value === undefined ? undefined : { machine: parsed.value, place },
    findings: parsed.findings,
  };
}

/** A file's bytes as text, or what is wrong with them. */
export function textOf(file: string, bytes: Uint8Array): string | Finding {
  const { text, encoding } = decode(bytes, undefined, true);
  if (encoding.startsWith("utf-")) return text;
  const bad = bytes.findIndex((byte) => byte > 0x7f);
  const before = bytes.subarray(0, bad);
  const line = before.reduce((n, byte) => n + (byte === 0x0a ? 1 : 0), 1);
  const place = { line, column: bad - before.lastIndexOf(0x0a) };
  return say("job-not-text", place, at(file, place));
}
