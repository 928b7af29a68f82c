/**
 * A YAML or JSON text as a plain value, and the way back from a path in the value to a place in the
 * text. JSON is read as YAML 1.2, which holds it.
 *
 * Promise: never throws; whatever the text is, there is a value or there are problems with a place.
 */
import {
  type Document,
  isAlias,
  isMap,
  isNode,
  isScalar,
  isSeq,
  LineCounter,
  parseDocument,
} from "yaml";

export type Path = readonly PropertyKey[];

export interface SourcePlace {
  readonly line: number;
  readonly column: number;
}

export interface SourceProblem extends SourcePlace {
  readonly text: string;
}

export interface Source {
  readonly value: unknown;
  readonly problems: readonly SourceProblem[];
  /** Of the value at `path`, or of the nearest thing above it that exists. */
  readonly placeOf: (path: Path) => SourcePlace;
  /** Of the key that ends `path`. */
  readonly placeOfKey: (path: Path) => SourcePlace;
}

const TOP: SourcePlace = { line: 1, column: 1 };

function broken(text: string): Source {
  return {
    value: undefined,
    problems: [{ ...TOP, text }],
    placeOf: () => TOP,
    placeOfKey: () => TOP,
  };
}

export function readSource(text: string): Source {
  const lines = new LineCounter();
  let document: Document.Parsed;
  let value: unknown;
  try {
    document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  } catch (error) {
    // The parser recurses, so a thousand brackets deep it runs out of stack.
    return broken(error instanceof RangeError ? "nested too deeply" : messageOf(error));
  }
  const problems = distinct(
    [...document.errors, ...document.warnings].map((problem) => ({
      ...placeAt(lines, problem.pos[0]),
      text: firstLine(problem.message),
    })),
  );
  if (problems.length === 0) {
    try {
      value = document.toJS({ maxAliasCount: 1000 });
    } catch (error) {
      return broken(error instanceof RangeError ? "nested too deeply" : messageOf(error));
    }
  }
  return {
    value,
    problems,
    placeOf: (path) => placeAt(lines, offsetOf(document, path, false)),
    placeOfKey: (path) => placeAt(lines, offsetOf(document, path, true)),
  };
}

/** The parser stumbles over the same spot again and again; a reader needs the first few of them. */
function distinct(problems: readonly SourceProblem[]): readonly SourceProblem[] {
  const byPlace = new Map(
    problems.map((problem) => [`${problem.line}:${problem.column}`, problem]),
  );
  return [...byPlace.values()].slice(0, 20);
}

function messageOf(error: unknown): string {
  return firstLine(error instanceof Error ? error.message : String(error));
}

function firstLine(text: string): string {
  return (text.split(/[\n;]/)[0] ?? "").replace(/[.:]+$/, "");
}

function placeAt(lines: LineCounter, offset: number): SourcePlace {
  const { line, col } = lines.linePos(offset);
  return line === 0 ? TOP : { line, column: col };
}

function offsetOf(document: Document.Parsed, path: Path, ofKey: boolean): number {
  let node: unknown = document.contents;
  let offset = startOf(node) ?? 0;
  for (const [depth, step] of path.entries()) {
    if (isAlias(node)) node = node.resolve(document);
    if (isMap(node)) {
      const pair = node.items.find((item) => keyText(item.key) === String(step));
      if (pair === undefined) return offset;
      const last = depth === path.length - 1;
      const start = startOf(pair.value) ?? startOf(pair.key);
      offset = (last && ofKey ? startOf(pair.key) : start) ?? offset;
      node = pair.value;
    } else if (isSeq(node)) {
      node = node.items[Number(step)];
      offset = startOf(node) ?? offset;
    } else {
      return offset;
    }
  }
  return offset;
}

function keyText(key: unknown): string {
  return isScalar(key) ? String(key.value) : String(key);
}

function startOf(node: unknown): number | undefined {
  return isNode(node) ? node.range?.[0] : undefined;
}
