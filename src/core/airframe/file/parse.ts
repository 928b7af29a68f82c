/**
 * An airframe file's text → checked values, or findings that say where and how to mend it. All problems
 * of the file are told at once; the keys that it shares with job files are checked by the job's own schema.
 *
 * Promise: never throws; a value comes back exactly when no finding stops.
 */
import { z } from "zod";
import type { Cutter } from "../../cutting/cutter.ts";
import { type Finding, type Outcome, reporter, stops } from "../../finding/finding.ts";
import { sayAirframe } from "../../finding/say-airframe.ts";
import { sayJob } from "../../finding/say-job.ts";
import type { Job, JobPlace, JobSheet } from "../../job/job.ts";
import { jsonSchemaOf, type SchemaNode } from "../../job/json-schema.ts";
import { checkShapes, crossCheck } from "../../job/judge/cross-check.ts";
import { type NamedText, parseMachine, type ReadBeside, textOf } from "../../job/parse.ts";
import { resolveJob } from "../../job/resolve.ts";
import { type CheckedFile, jobSchema } from "../../job/schema.ts";
import { at, issueFindings, told } from "../../job/source/issues.ts";
import { type Path, readSource, type Source } from "../../job/source/yaml-source.ts";
import type { Machine } from "../../machine/machine.ts";
import { type AirframeSpec, airframeSchema } from "./schema.ts";

const sayOfJob = reporter(sayJob);
const say = reporter(sayAirframe);

export interface AirframeFile {
  readonly spec: AirframeSpec;
  readonly sheets: readonly JobSheet[];
  readonly cutters: readonly Cutter[];
  /** The file's own keys for the job, as written; the machine stands in it whole. */
  readonly rest: Readonly<Record<string, unknown>>;
  /** Drawings of offcuts that the job names, by name. */
  readonly besides: ReadonlyMap<string, Uint8Array>;
  /** Where in the file a key is said: `["arms", "root"]`. */
  readonly placeOf: (path: Path) => JobPlace;
}

export function parseAirframe(
  file: NamedText,
  readBeside: ReadBeside,
): Outcome<AirframeFile | undefined> {
  const source = readSource(file.text);
  const syntax = source.problems.map(({ line, column, text }) =>
    sayOfJob("job-syntax", { line, column, text }, at(file.name, { line, column })),
  );
  if (syntax.length > 0) return { value: undefined, findings: syntax };
  const whole = source.value;
  if (typeof whole !== "object" || whole === null || Array.isArray(whole)) {
    const top = { line: 1, column: 1 };
    const empty = sayOfJob("job-empty", { ...top, wanted: "an airframe" }, at(file.name, top));
    return { value: undefined, findings: [empty] };
  }
  return checked(file.name, source, whole as Record<string, unknown>, readBeside);
}

function checked(
  file: string,
  source: Source,
  whole: Record<string, unknown>,
  readBeside: ReadBeside,
): Outcome<AirframeFile | undefined> {
  const { airframe, ...rest } = whole;
  const spec = airframeSchema.safeParse(airframe);
  const job = jobSchema.safeParse({ ...withoutPlates(rest), plates: [standIn(rest)] });
  const issues = [
    ...(spec.success ? [] : spec.error.issues.map(underAirframe)),
    ...(job.success ? [] : job.error.issues.filter((i) => i.path[0] !== "plates")),
    ...("plates" in rest ? [strangeKey("plates")] : []),
  ];
  const context = { file, source, schema: fileSchema(), whole: "the airframe file" };
  const findings = issueFindings(issues, context);
  const machine = machineOf(file, source, rest["machine"], readBeside);
  findings.push(...machine.findings);
  if (!spec.success || !job.success || machine.value === undefined) {
    return { value: undefined, findings };
  }
  const placeOf = (path: Path): JobPlace => ({ file, ...source.placeOf(path) });
  findings.push(...checkShapes(job.data, placeOf));
  if (stops(findings)) return { value: undefined, findings };
  const resolved = resolve(file, job.data, machine.value.machine, placeOf);
  // Which sheets stay without plates is not known before there are plates.
  const crossed = crossCheck(resolved).filter((f) => f.code !== "sheet-without-plates");
  findings.push(...crossed, ...unknownSheets(spec.data, resolved, placeOf));
  if (stops(findings)) return { value: undefined, findings };
  return {
    value: {
      spec: spec.data,
      sheets: resolved.sheets,
      cutters: resolved.cutters,
      rest: { ...rest, machine: machine.value.raw },
      besides: offcuts(resolved.sheets, readBeside),
      placeOf: (path) => placeOf(["airframe", ...path]),
    },
    findings,
  };
}

function resolve(
  file: string,
  job: CheckedFile,
  machine: Machine,
  placeOf: (path: Path) => JobPlace,
): Job {
  const place = placeOf(["machine"]);
  return resolveJob(file, job, { machine, place }, placeOf);
}

function withoutPlates(rest: Record<string, unknown>): Record<string, unknown> {
  const { plates: _plates, ...others } = rest;
  return others;
}

/** The job's schema wants a plate before there are any. */
function standIn(rest: Record<string, unknown>): unknown {
  const sheets = rest["sheets"];
  const first: unknown = Array.isArray(sheets) ? sheets[0] : undefined;
  const sheet = Object(first).name;
  return {
    name: "plate",
    drawing: "plate.dxf",
    sheet: typeof sheet === "string" && sheet.length > 0 ? sheet : "sheet",
  };
}

type Issue = z.core.$ZodIssue;

function underAirframe(issue: Issue): Issue {
  return { ...issue, path: ["airframe", ...issue.path] };
}

function strangeKey(key: string): Issue {
  return { code: "unrecognized_keys", keys: [key], path: [], message: "" };
}

let schemaMade: SchemaNode | undefined;

/** The job file's keys without plates, and the airframe's. */
export function fileSchema(): SchemaNode {
  if (schemaMade !== undefined) return schemaMade;
  const job = jsonSchemaOf("job");
  const { plates: _plates, ...properties } = job.properties ?? {};
  const airframe = z.toJSONSchema(airframeSchema, { io: "input" }) as SchemaNode;
  schemaMade = {
    ...job,
    description: "An airframe for weftcut to draw, with what its plates are cut from and by.",
    properties: { ...properties, airframe },
    required: ["airframe", "machine", "sheets", "cutters"],
  };
  return schemaMade;
}

type Read = { readonly machine: Machine; readonly raw: unknown };

function machineOf(
  file: string,
  source: Source,
  named: unknown,
  readBeside: ReadBeside,
): Outcome<Read | undefined> {
  if (typeof named !== "string") {
    const inline = parseMachine({ name: file, text: JSON.stringify(named ?? null) });
    // What is wrong with it has been told with the job's keys.
    const value = inline.value === undefined ? undefined : { machine: inline.value, raw: named };
    return { value, findings: [] };
  }
  const here = source.placeOf(["machine"]);
  const bytes = readBeside(named);
  if (bytes === undefined) {
    const data = { ...here, file: named };
    const missing = told(sayOfJob("machine-file-missing", data, at(file, here)));
    return { value: undefined, findings: [missing] };
  }
  const text = textOf(named, bytes);
  if (typeof text !== "string") return { value: undefined, findings: [text] };
  const parsed = parseMachine({ name: named, text });
  const raw = readSource(text).value;
  const value = parsed.value === undefined ? undefined : { machine: parsed.value, raw };
  return { value, findings: parsed.findings };
}

function offcuts(sheets: readonly JobSheet[], readBeside: ReadBeside): Map<string, Uint8Array> {
  const found = new Map<string, Uint8Array>();
  for (const { shape } of sheets) {
    if (shape.kind !== "drawing") continue;
    const bytes = readBeside(shape.file);
    if (bytes !== undefined) found.set(shape.file, bytes);
  }
  return found;
}

function unknownSheets(spec: AirframeSpec, job: Job, placeOf: (path: Path) => JobPlace): Finding[] {
  const known = job.sheets.map((s) => s.name);
  const named: readonly (readonly [string, string | undefined])[] = [
    ["bottom", spec.bottom.sheet],
    ["top", spec.top?.sheet],
    ["arms", spec.arms.sheet],
    ["clamp", spec.clamp?.sheet],
    ["camera", spec.camera?.sheet],
  ];
  return named.flatMap(([key, sheet]) => {
    if (sheet === undefined || known.includes(sheet)) return [];
    const place = placeOf(["airframe", key, "sheet"]);
    const data = {
      line: place.line,
      column: place.column,
      parameter: `${key}.sheet`,
      sheet,
      known: known.join(", "),
    };
    return [say("sheet-unknown", data, at(place.file, place))];
  });
}
