/**
 * Findings for people: the worst first, each with its place, what is wrong, a way out, and the line that
 * it is about.
 *
 *     job.yaml:7:5 stop unknown-key unknown key "thicknes" in sheet "a"; did you mean "thickness"?
 *       Known here: name, material, thickness.
 *          7 |     thicknes: 3
 *            |     ^^^^^^^^
 */
import type { Finding, Severity } from "../core/finding/finding.ts";
import type { Io } from "./io.ts";

/** Finds the files that findings name. */
export interface Sources {
  /** A file's path as people would type it here. */
  readonly pathOf: (file: string) => string;
  readonly textOf: (file: string) => string | undefined;
}

const ORDER: readonly Severity[] = ["stop", "warn", "note"];
const COLOUR: Readonly<Record<Severity, string>> = { stop: "31;1", warn: "33", note: "36" };
const WIDEST = 110;
/** As many of one kind are shown; the rest are counted. */
const ALIKE = 6;

export function printFindings(io: Io, findings: readonly Finding[], sources: Sources): void {
  const lines = new Map<string, readonly string[]>();
  const lineOf = (file: string, line: number): string | undefined => {
    if (!lines.has(file)) lines.set(file, sources.textOf(file)?.split(/\r\n|\r|\n/) ?? []);
    return lines.get(file)?.[line - 1];
  };
  const printer = { io, sources, lineOf };
  for (const severity of ORDER) {
    const counts = new Map<string, number>();
    const hints = new Map<string, string | undefined>();
    for (const finding of sorted(findings.filter((f) => f.severity === severity))) {
      const count = (counts.get(finding.code) ?? 0) + 1;
      counts.set(finding.code, count);
      // What is to be done is said once, unless it differs.
      const told = finding.hint !== undefined && hints.get(finding.code) === finding.hint;
      if (count <= ALIKE) printOne(printer, told ? { ...finding, hint: undefined } : finding);
      hints.set(finding.code, finding.hint);
    }
    for (const [code, count] of counts) {
      if (count <= ALIKE) continue;
      io.err(`${tag(io, severity)} ${code} and ${count - ALIKE} more like these; --json has all\n`);
    }
  }
}

/** `2 stops, 1 warning`, or `no findings`. */
export function countsOf(findings: readonly Finding[]): string {
  const words = { stop: "stop", warn: "warning", note: "note" } as const;
  const parts = ORDER.flatMap((severity) => {
    const n = findings.filter((f) => f.severity === severity).length;
    return n === 0 ? [] : [`${n} ${words[severity]}${n === 1 ? "" : "s"}`];
  });
  return parts.join(", ") || "no findings";
}

interface Printer {
  readonly io: Io;
  readonly sources: Sources;
  readonly lineOf: (file: string, line: number) => string | undefined;
}

interface Spot {
  readonly file: string;
  readonly line: number | undefined;
  readonly column: number | undefined;
}

function spotOf(finding: Finding): Spot | undefined {
  const place = finding.program ?? finding.drawing;
  if (place === undefined) return undefined;
  const column = finding.data["column"];
  return {
    file: place.file,
    line: place.line,
    column: typeof column === "number" ? column : undefined,
  };
}

function sorted(findings: readonly Finding[]): readonly Finding[] {
  const key = (f: Finding) => spotOf(f) ?? { file: "", line: 0, column: 0 };
  return [...findings].sort((a, b) => {
    const [x, y] = [key(a), key(b)];
    if (x.file !== y.file) return x.file < y.file ? -1 : 1;
    return (x.line ?? 0) - (y.line ?? 0) || (x.column ?? 0) - (y.column ?? 0);
  });
}

function printOne({ io, sources, lineOf }: Printer, finding: Finding): void {
  const spot = spotOf(finding);
  const where = spot === undefined ? placeWords(finding) : spotWords(spot, sources);
  const tail = ` (line ${finding.data["line"]}, column ${finding.data["column"]})`;
  const message = oneLine(finding.message.replace(tail, ""));
  io.err(`${where}${tag(io, finding.severity)} ${finding.code} ${message}\n`);
  if (finding.hint !== undefined) io.err(`  ${oneLine(finding.hint)}\n`);
  if (spot?.line === undefined) return;
  const text = lineOf(spot.file, spot.line);
  if (text !== undefined) io.err(excerpt(text, spot.line, spot.column));
}

function oneLine(text: string): string {
  return printable(text.replace(/\s*\n\s*/g, " "));
}

/** Control characters of a user's file have no business on a terminal. */
function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is replaced.
  return text.replace(/[\u0000-\u001f\u007f-\u009f]/g, "\ufffd");
}

function tag(io: Io, severity: Severity): string {
  return io.colourErr ? `\u001b[${COLOUR[severity]}m${severity}\u001b[0m` : severity;
}

function spotWords(spot: Spot, sources: Sources): string {
  const line = spot.line === undefined ? "" : `:${spot.line}`;
  const column = spot.line === undefined || spot.column === undefined ? "" : `:${spot.column}`;
  return `${oneLine(sources.pathOf(spot.file))}${line}${column} `;
}

function placeWords({ plate, sheet, at }: Finding): string {
  const name = plate ?? sheet;
  if (name === undefined) return "";
  const point = at === undefined ? "" : `@${Number(at[0].toFixed(3))},${Number(at[1].toFixed(3))}`;
  return `${oneLine(name)}${point} `;
}

function excerpt(text: string, line: number, column: number | undefined): string {
  const at = (column ?? 1) - 1;
  const from = at > WIDEST - 20 ? at - 40 : 0;
  const piece = printable(text.slice(from, from + WIDEST).replace(/\t/g, " "));
  // A DXF file's line is a bare number as often as not: nobody sees anything in it.
  if (column === undefined && !/\p{L}/u.test(piece)) return "";
  const number = String(line).padStart(6);
  const shown = `${number} | ${piece}\n`;
  if (column === undefined) return shown;
  const word = /^[\p{L}\p{N}_.+-]+/u.exec(piece.slice(at - from))?.[0] ?? "";
  return `${shown}       | ${" ".repeat(at - from)}${"^".repeat(Math.max(1, word.length))}\n`;
}
