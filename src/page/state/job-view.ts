/**
 * The job's text as the form sees it: values by path, and which findings belong to which field.
 *
 * A spot is a file and a path in it: the machine may stand in a file of its own.
 */
import type { Finding } from "../../core/finding/finding.ts";
import { changed } from "../../core/job/source/change.ts";
import { pathText, valueAt } from "../../core/job/source/issues.ts";
import { type Path, readSource, type Source } from "../../core/job/source/yaml-source.ts";
import { bytesOf, textIn, type Work } from "./work.ts";

export interface Spot {
  readonly file: string;
  readonly path: Path;
}

export interface JobView {
  readonly work: Work;
  readonly file: string;
  readonly source: Source;
  /** False where the text is no YAML: there is nothing to fill a form with. */
  readonly readable: boolean;
  /** Where the machine's keys stand; undefined where its file is missing. */
  readonly machine: Spot | undefined;
  readonly machineSource: Source | undefined;
}

let last: JobView | undefined;

export function jobView(work: Work): JobView | undefined {
  const { job } = work;
  if (job === undefined) return undefined;
  if (last?.work === work) return last;
  const source = readSource(job.text);
  const named = valueAt(source.value, ["machine"]);
  const text = typeof named === "string" ? textIn(work.files, named) : undefined;
  const machine =
    typeof named !== "string"
      ? { file: job.name, path: ["machine"] }
      : text === undefined
        ? undefined
        : { file: named, path: [] };
  last = {
    work,
    file: job.name,
    source,
    readable: source.problems.length === 0 && typeof source.value === "object",
    machine,
    machineSource: text === undefined ? source : readSource(text),
  };
  return last;
}

export function valueHere(view: JobView, { file, path }: Spot): unknown {
  const source = file === view.file ? view.source : view.machineSource;
  return valueAt(source?.value, path);
}

export function listAt(view: JobView, path: Path): readonly unknown[] {
  const value = valueAt(view.source.value, path);
  return Array.isArray(value) ? value : [];
}

/** The work with one value set, or taken out where it is undefined; undefined where the text does not allow it. */
export function withValue(work: Work, { file, path }: Spot, value: unknown): Work | undefined {
  if (file === work.job?.name) {
    const text = changed(work.job.text, path, value);
    return text === undefined ? undefined : { ...work, job: { ...work.job, text } };
  }
  const old = textIn(work.files, file);
  const text = old === undefined ? undefined : changed(old, path, value);
  if (text === undefined) return undefined;
  const name = work.files.has(file) ? file : (file.split(/[\\/]/).at(-1) ?? file);
  return { ...work, files: new Map(work.files).set(name, bytesOf(text)) };
}

export type Belongings = ReadonlyMap<string, readonly Finding[]>;

const keyOf = (file: string, path: string): string => `${file}\n${path}`;

/** Findings by the spot that they are about: by the path that they name, else by the place in the text. */
export function belongings(view: JobView, findings: readonly Finding[]): Belongings {
  const places = new Map<string, string>();
  for (const [list, keys] of NAMED) {
    for (const i of listAt(view, [list]).keys()) {
      for (const key of keys) {
        const { line, column } = view.source.placeOf([list, i, key]);
        // What is said of a thing as a whole has the place of its name.
        const path = key === "name" ? [list, i] : [list, i, key];
        places.set(`${view.file}\n${line}:${column}`, pathText(path));
      }
    }
  }
  const found = new Map<string, Finding[]>();
  for (const finding of findings) {
    const { drawing, data } = finding;
    if (drawing === undefined) continue;
    const path =
      typeof data["path"] === "string"
        ? data["path"]
        : places.get(`${drawing.file}\n${data["line"]}:${data["column"]}`);
    if (path === undefined) continue;
    const key = keyOf(drawing.file, path);
    found.set(key, [...(found.get(key) ?? []), finding]);
  }
  return found;
}

const NAMED: readonly (readonly [string, readonly string[]])[] = [
  ["sheets", ["name", "outline"]],
  ["plates", ["name", "drawing", "sheet"]],
  ["cutters", ["name"]],
];

export function spotKey({ file, path }: Spot): string {
  return keyOf(file, pathText(path));
}

/** Of a field, and of what stands in it. */
export function findingsOf(all: Belongings, spot: Spot): readonly Finding[] {
  const own = spotKey(spot);
  return [...all].flatMap(([key, list]) =>
    key === own || key.startsWith(`${own}[`) || key.startsWith(`${own}.`) ? list : [],
  );
}
