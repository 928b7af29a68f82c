/**
 * What is in a drawing, for people: its size first, because a wrong unit shows there before anywhere else; then
 * each plate with its features; then what was mended, what was left out, and what wants an answer.
 *
 * Promise: names out of a drawing reach a terminal without control characters. Lists are cut short where they
 * would bury the rest, and say so; the JSON document has all.
 */
import type { Finding, Severity } from "../../finding/finding.ts";
import type { Box } from "../../geometry/shape.ts";
import type { Plate } from "../../plate/plate.ts";
import type { Drawing, Units } from "../drawing.ts";
import { featureTable, table } from "./table.ts";

/** Findings of one kind that are shown one by one. */
const ALIKE = 6;
/** Rows of what was left out. */
const LEFT_OUT = 30;

export function inspectText(drawing: Drawing, plates: readonly Plate[]): string {
  const { repairs, findings } = drawing;
  const noted = findings.filter((f) => f.severity === "note");
  const asked = findings.filter((f) => f.severity !== "note");
  const parts = [
    `${drawing.file}\n`,
    headline(drawing, plates),
    ...plates.map(plateText),
    chainsText(drawing),
    section("Mended", told(repairs)),
    section("Left out", leftOut(drawing)),
    section("Noted", told(noted)),
    section("Questions", told(asked)),
  ];
  return `${printable(parts.filter((p) => p !== "").join("\n"))}\n`;
}

/** Control characters of a user's file have no business on a terminal. */
function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is replaced.
  return text.replace(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/g, "\ufffd");
}

function headline(drawing: Drawing, plates: readonly Plate[]): string {
  if (plates.length === 0 && drawing.openChains.length === 0) return "  nothing to cut\n";
  // Stray lines do not make a plate larger.
  const box = plates.length === 0 ? drawing.bounds : around(plates.map((p) => p.bounds));
  const doubt = drawing.findings.some((f) => f.code === "unit-unknown") ? "?" : "";
  const size = `${sizeOf(box)}${doubt}`;
  const bar = "─".repeat(size.length + 6);
  return [
    `  ┌${bar}┐`,
    `  │   ${size}   │`,
    `  └${bar}┘`,
    `  ${unitWords(drawing.units)}`,
    "",
  ].join("\n");
}

function around(boxes: readonly Box[]): Box {
  return {
    min: {
      x: Math.min(...boxes.map((b) => b.min.x)),
      y: Math.min(...boxes.map((b) => b.min.y)),
    },
    max: {
      x: Math.max(...boxes.map((b) => b.max.x)),
      y: Math.max(...boxes.map((b) => b.max.y)),
    },
  };
}

function sizeOf(b: Box): string {
  return `${decimal(b.max.x - b.min.x)} × ${decimal(b.max.y - b.min.y)} mm`;
}

function decimal(v: number, digits = 3): string {
  return String(Number(v.toFixed(digits)) + 0);
}

export function unitWords(u: Units): string {
  const scale = u.used === "mm" && u.factor === 1 ? "" : `, 1 unit = ${decimal(u.factor, 6)} mm`;
  if (u.declared === null && u.assumed)
    return `unit not said by the file; shown as if in ${u.used}${scale}`;
  if (u.assumed) return `${u.used} by assumption${scale}`;
  if (u.declared === u.used) return `${u.used}, as the file says${scale}`;
  const says = u.declared === null ? "the file says no unit" : `the file says ${u.declared}`;
  return `${u.used}, as asked; ${says}${scale}`;
}

function plateText(p: Plate): string {
  const counts = (["hole", "slot", "window", "recess"] as const).flatMap((kind) => {
    const n = p.features.filter((f) => f.kind === kind).length;
    const plural = kind === "recess" ? "recesses" : `${kind}s`;
    return n === 0 ? [] : [`${n} ${n === 1 ? kind : plural}`];
  });
  const inside = p.drawnInside === undefined ? [] : [`inside ${p.drawnInside.plate}`];
  const facts = [
    sizeOf(p.bounds),
    `area ${decimal(p.area, 2)} mm²`,
    `edge ${decimal(p.perimeter, 2)} mm`,
    ...(counts.length === 0 ? ["no holes"] : counts),
    ...inside,
  ];
  return `${p.name}: ${facts.join(", ")}\n${featureTable(p)}`;
}

function chainsText(drawing: Drawing): string {
  const n = drawing.openChains.length;
  if (n === 0) return "";
  const rows = drawing.openChains
    .slice(0, LEFT_OUT)
    .map((c) => [
      `(${decimal(c.start.x)}, ${decimal(c.start.y)})`,
      `(${decimal(c.end.x)}, ${decimal(c.end.y)})`,
      decimal(c.gap),
      c.layer,
    ]);
  const head = ["from", "to", "mm apart", "layer"];
  return section(
    `Open: ${n} ${n === 1 ? "chain of lines that ends" : "chains of lines that end"} free, not cut`,
    [...table([head, ...rows]), ...more(n - rows.length)],
  );
}

function leftOut(drawing: Drawing): string[] {
  const shown = drawing.ignored.slice(0, LEFT_OUT);
  if (shown.length === 0) return [];
  const rows = shown.map((i) => [
    `${i.count} × ${i.type}`,
    i.layer === undefined || i.layer === "" ? "" : `layer "${i.layer}"`,
    i.why,
  ]);
  return [...table(rows), ...more(drawing.ignored.length - shown.length)];
}

function more(n: number): string[] {
  return n > 0 ? [`  and ${n} more; --json has all`] : [];
}

const ORDER: readonly Severity[] = ["stop", "warn", "note"];

/** The worst first; each with where it is and a way out. */
function told(findings: readonly Finding[]): string[] {
  return ORDER.flatMap((severity) => {
    const counts = new Map<string, number>();
    const lines = findings.flatMap((f) => {
      if (f.severity !== severity) return [];
      const n = (counts.get(f.code) ?? 0) + 1;
      counts.set(f.code, n);
      return n > ALIKE ? [] : findingLines(f);
    });
    const rest = [...counts].filter(([, n]) => n > ALIKE);
    return [
      ...lines,
      ...rest.map(([code, n]) => `  and ${n - ALIKE} more of ${code}; --json has all`),
    ];
  });
}

function findingLines(f: Finding): string[] {
  const line = f.drawing?.line === undefined ? "" : ` (line ${f.drawing.line})`;
  const severity = f.severity === "note" ? "" : `${f.severity} `;
  const said = `  ${severity}${f.code}: ${f.message}${line}`;
  return f.hint === undefined ? [said] : [said, `      ${f.hint}`];
}

function section(title: string, lines: readonly string[]): string {
  return lines.length === 0 ? "" : `${title}\n${lines.join("\n")}\n`;
}
