/**
 * What the schema objects to, as findings with a place in the text. One cause, one finding: a key that
 * is missing because it is misspelt is told as misspelt alone.
 */
import type { z } from "zod";
import { type Finding, type Place, reporter } from "../../finding/finding.ts";
import { sayJob } from "../../finding/say-job.ts";
import type { SchemaNode } from "../json-schema.ts";
import { nearest } from "./nearest.ts";
import { found, knownKeys, nodesAt, slip, wanted } from "./wanted.ts";
import type { Path, Source, SourcePlace } from "./yaml-source.ts";

const say = reporter(sayJob);

/** Everything a finding about one file needs. */
export interface FileContext {
  readonly file: string;
  readonly source: Source;
  readonly schema: SchemaNode;
  /** Stands before paths: "the job", "the machine profile". */
  readonly whole: string;
}

export function at(file: string, place: SourcePlace): Place {
  return { drawing: { file, line: place.line } };
}

/** A finding without the empty hint that some of its kind have. */
export function told(finding: Finding): Finding {
  if (finding.hint !== "") return finding;
  const { hint: _empty, ...rest } = finding;
  return rest;
}

type Issue = z.core.$ZodIssue;

export function issueFindings(issues: readonly Issue[], context: FileContext): Finding[] {
  const flat = issues.flatMap((issue) => flattened(issue, context));
  const misspelt = new Set<string>();
  const findings: Finding[] = [];
  for (const issue of flat) {
    if (issue.code !== "unrecognized_keys") continue;
    for (const key of issue.keys) {
      const { finding, meant } = unknownKey(issue.path, key, context);
      findings.push(finding);
      if (meant !== "") misspelt.add(JSON.stringify([...issue.path, meant]));
    }
  }
  for (const issue of flat) {
    if (issue.code === "unrecognized_keys") continue;
    if (misspelt.has(JSON.stringify(issue.path))) continue;
    findings.push(otherFinding(issue, context));
  }
  return findings.sort(byPlace);
}

function byPlace(a: Finding, b: Finding): number {
  const line = (f: Finding) => Number(f.data["line"]);
  const column = (f: Finding) => Number(f.data["column"]);
  return line(a) - line(b) || column(a) - column(b);
}

/** A union's issues, opened: those of the alternative that was meant, as far as can be seen. */
function flattened(issue: Issue, context: FileContext): Issue[] {
  if (issue.code !== "invalid_union") return [issue];
  const alternatives = issue.errors.filter(
    (errors) => !errors.some((e) => e.code === "invalid_type" && e.path.length === 0),
  );
  const best = [...alternatives].sort(
    (a, b) => strangers(a) - strangers(b) || a.length - b.length,
  )[0];
  if (best === undefined) return [{ ...issue, code: "invalid_type", expected: "never" } as Issue];
  return best.flatMap((inner) =>
    flattened({ ...inner, path: [...issue.path, ...inner.path] } as Issue, context),
  );
}

function strangers(errors: readonly Issue[]): number {
  return errors.reduce((n, e) => n + (e.code === "unrecognized_keys" ? e.keys.length : 0), 0);
}

function unknownKey(path: Path, key: string, context: FileContext) {
  const parents = nodesAt(context.schema, path);
  const present = new Set(Object.keys(Object(valueAt(context.source.value, path))));
  const known = knownKeys(parents);
  const open = known.filter((word) => !present.has(word));
  const meant = nearest(key, open) ?? nearest(key, known) ?? "";
  const place = context.source.placeOfKey([...path, key]);
  const finding = say(
    "unknown-key",
    {
      ...place,
      path: pathText([...path, key]),
      key,
      inside: nameOf(path, context),
      meant,
      known: known.join(", "),
    },
    at(context.file, place),
  );
  return { finding: told(finding), meant };
}

function otherFinding(issue: Issue, context: FileContext): Finding {
  const value = valueAt(context.source.value, issue.path);
  const nodes = nodesAt(context.schema, issue.path);
  const place = context.source.placeOf(issue.path);
  const spot = at(context.file, place);
  const path = pathText(issue.path);
  const name = nameOf(issue.path, context);
  const want = wanted(nodes);
  if (value === undefined && issue.path.length > 0) {
    const key = String(issue.path.at(-1));
    const inside = nameOf(issue.path.slice(0, -1), context);
    return say("missing-key", { ...place, path, key, inside, wanted: want }, spot);
  }
  if (path === "weftcut") return say("job-version", { ...place, found: found(value) }, spot);
  if (issue.code === "invalid_value") {
    const words = nodes.flatMap((node) => (node.enum ?? []).map(String));
    const meant = typeof value === "string" ? (nearest(value, words) ?? "") : "";
    return say(
      "unknown-word",
      { ...place, path, name, found: found(value), wanted: want, meant },
      spot,
    );
  }
  if (issue.code === "too_small" || issue.code === "too_big") {
    return say("out-of-range", { ...place, path, name, wanted: want, found: found(value) }, spot);
  }
  const data = {
    ...place,
    path,
    name,
    wanted: want,
    found: found(value),
    help: slip(value, nodes),
  };
  return told(say("wrong-type", data, spot));
}

export function valueAt(value: unknown, path: Path): unknown {
  let here = value;
  for (const step of path) {
    if (typeof here !== "object" || here === null) return undefined;
    here = Object.hasOwn(here, step) ? (here as Record<PropertyKey, unknown>)[step] : undefined;
  }
  return here;
}

/** `sheets[0].thickness`, for machines. */
export function pathText(path: Path): string {
  return path
    .map((step, i) =>
      typeof step === "number" ? `[${step}]` : `${i === 0 ? "" : "."}${String(step)}`,
    )
    .join("");
}

/** `thickness of sheet "carbon-3"`, for people; list items without a name are counted from 1. */
function nameOf(path: Path, context: FileContext): string {
  const parts: string[] = [];
  for (let i = 0; i < path.length; i++) {
    const step = path[i];
    const next = path[i + 1];
    if (typeof step === "string" && typeof next === "number") {
      const item = valueAt(context.source.value, path.slice(0, i + 2));
      const own = valueAt(item, ["name"]);
      const single = step.replace(/s$/, "");
      parts.push(typeof own === "string" ? `${single} "${own}"` : `${single} ${next + 1}`);
      i++;
    } else {
      parts.push(typeof step === "number" ? `number ${step + 1}` : String(step));
    }
  }
  return parts.length === 0 ? context.whole : parts.reverse().join(" of ");
}
