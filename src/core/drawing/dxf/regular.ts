/**
 * From tags of any shape to a DXF text that a plain parser reads without surprises.
 *
 * Words: *regular* means: the four sections HEADER, TABLES, BLOCKS, ENTITIES in this order, each ended;
 * every POLYLINE ended by SEQEND; names replaced by numbers (`L3`, `B0`), so that no name is a word of the
 * format or of the language; every entity that is not cut renamed OTHER with its type in group 1; numbers
 * in one notation; the line of each entity in group 999; nothing but the groups that weftcut reads.
 *
 * Promise: any tags give a regular text. What was mended or left out comes back as findings.
 * Cost: O(n).
 * Long, since every group that is kept or dropped is decided in one place.
 */
import type { Finding } from "../../finding/finding.ts";
import { reportDrawing } from "../../finding/say-drawing.ts";
import type { Tags } from "./tags.ts";

export interface Regular {
  readonly text: string;
  /** Names by number, as drawn (first spelling). */
  readonly layers: readonly string[];
  readonly blocks: readonly string[];
  /** Last value of each header variable that has one. */
  readonly header: ReadonlyMap<string, string>;
  readonly sections: ReadonlySet<string>;
  readonly findings: readonly Finding[];
}

export const CUT_TYPES: readonly string[] = [
  "LINE",
  "ARC",
  "CIRCLE",
  "ELLIPSE",
  "LWPOLYLINE",
  "POLYLINE",
  "SPLINE",
  "INSERT",
];

const KNOWN: ReadonlySet<string> = new Set([...CUT_TYPES, "VERTEX"]);

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eEdD][+-]?\d+)?$/;
const COMMA_NUMBER = /^[+-]?\d*,\d+(?:[eE][+-]?\d+)?$/;

/** The groups without which an entity has no shape. */
const REQUIRED: Readonly<Record<string, readonly number[]>> = {
  LINE: [10, 20, 11, 21],
  ARC: [10, 20, 40, 50, 51],
  CIRCLE: [10, 20, 40],
  ELLIPSE: [10, 20, 11, 21, 40],
  INSERT: [2, 10, 20],
  LWPOLYLINE: [10, 20, 90],
};

interface State {
  readonly file: string;
  readonly tags: Tags;
  readonly layers: Names;
  readonly blocks: Names;
  readonly header: Map<string, string>;
  readonly sections: Set<string>;
  readonly findings: Finding[];
  readonly tables: string[];
  readonly blockText: string[];
  readonly entities: string[];
  section: string;
  table: string;
  inBlock: boolean;
  inPolyline: boolean;
  unendedPolylines: number;
  commas: number;
  commaLine: number;
  ended: boolean;
}

interface Names {
  readonly list: string[];
  readonly byKey: Map<string, number>;
}

/** The number of a name: DXF names differ by more than case. */
function numberOf(names: Names, raw: string): number {
  const name = expandEscapes(raw.trim());
  const key = name.toUpperCase();
  let n = names.byKey.get(key);
  if (n === undefined) {
    n = names.list.length;
    names.list.push(name);
    names.byKey.set(key, n);
  }
  return n;
}

/** `\U+00E4` stands for the character of that number. */
function expandEscapes(name: string): string {
  if (!name.includes("\\U+")) return name;
  return name.replace(/\\U\+([0-9A-Fa-f]{4})/g, (_, hex: string) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  );
}

export function regularise(file: string, tags: Tags): Regular {
  const s: State = {
    file,
    tags,
    layers: { list: [], byKey: new Map() },
    blocks: { list: [], byKey: new Map() },
    header: new Map(),
    sections: new Set(),
    findings: [],
    tables: [],
    blockText: [],
    entities: [],
    section: "",
    table: "",
    inBlock: false,
    inPolyline: false,
    unendedPolylines: 0,
    commas: 0,
    commaLine: 0,
    ended: false,
  };
  numberOf(s.layers, "0");
  const n = tags.codes.length;
  let i = 0;
  while (i < n && !s.ended) {
    let next = i + 1;
    while (next < n && tags.codes[next] !== 0) next++;
    if (tags.codes[i] === 0) group(s, i, next);
    i = next;
  }
  endPolyline(s);
  endBlock(s);
  reportEnd(s);
  return {
    text: joined(s),
    layers: s.layers.list,
    blocks: s.blocks.list,
    header: s.header,
    sections: s.sections,
    findings: s.findings,
  };
}

/** One tag of code 0 and all that follow it up to the next: the tags [from, to). */
function group(s: State, from: number, to: number): void {
  const word = (s.tags.values[from] as string).trim().toUpperCase();
  switch (word) {
    case "SECTION":
      openSection(s, from, to);
      return;
    case "ENDSEC":
      closeSection(s);
      return;
    case "EOF":
      s.ended = true;
      return;
    default:
  }
  if (s.section === "TABLES") tableGroup(s, word, from, to);
  else if (s.section === "BLOCKS") blockGroup(s, word, from, to);
  else if (s.section === "ENTITIES") entity(s, s.entities, word, from, to);
}

function openSection(s: State, from: number, to: number): void {
  closeSection(s);
  const named = s.tags.codes[from + 1] === 2 && from + 1 < to;
  s.section = named ? (s.tags.values[from + 1] as string).trim().toUpperCase() : "";
  s.sections.add(s.section);
  if (s.section === "HEADER") headerVariables(s, from + 2, to);
}

function closeSection(s: State): void {
  endPolyline(s);
  endBlock(s);
  s.section = "";
}

function headerVariables(s: State, from: number, to: number): void {
  let name = "";
  for (let i = from; i < to; i++) {
    const value = (s.tags.values[i] as string).trim();
    if (s.tags.codes[i] === 9) name = value.toUpperCase();
    else if (name !== "" && !s.header.has(name)) s.header.set(name, value);
  }
}

function tableGroup(s: State, word: string, from: number, to: number): void {
  if (word === "TABLE") s.table = text(s, from, to, 2).toUpperCase();
  if (word !== "LAYER" || s.table !== "LAYER") return;
  const name = numberOf(s.layers, text(s, from, to, 2));
  const flags = Number.parseInt(text(s, from, to, 70), 10) || 0;
  const colour = Number.parseInt(text(s, from, to, 62), 10) || 7;
  s.tables.push("0", "LAYER", "2", `L${name}`, "70", String(flags), "62", String(colour));
}

function blockGroup(s: State, word: string, from: number, to: number): void {
  if (word === "BLOCK") {
    endBlock(s);
    s.inBlock = true;
    const out = s.blockText;
    out.push("0", "BLOCK", "2", `B${numberOf(s.blocks, text(s, from, to, 2))}`);
    out.push("70", String(Number.parseInt(text(s, from, to, 70), 10) || 0));
    out.push("10", coordinate(s, from, to, 10), "20", coordinate(s, from, to, 20));
    out.push("30", coordinate(s, from, to, 30));
  } else if (word === "ENDBLK") {
    endBlock(s);
  } else if (s.inBlock) {
    entity(s, s.blockText, word, from, to);
  }
}

function endBlock(s: State): void {
  if (!s.inBlock) return;
  endPolyline(s);
  s.blockText.push("0", "ENDBLK");
  s.inBlock = false;
}

function endPolyline(s: State): void {
  if (!s.inPolyline) return;
  s.unendedPolylines++;
  (s.inBlock ? s.blockText : s.entities).push("0", "SEQEND");
  s.inPolyline = false;
}

function entity(s: State, out: string[], word: string, from: number, to: number): void {
  if (word === "SEQEND") {
    // The end of an INSERT's attributes is marked alike, and ends nothing here.
    if (s.inPolyline) out.push("0", "SEQEND");
    s.inPolyline = false;
    return;
  }
  if (word === "VERTEX" ? !s.inPolyline : s.inPolyline) endPolyline(s);
  if (word === "VERTEX" && !s.inPolyline) return;
  const last = to >= s.tags.codes.length && !s.ended;
  if (last && !whole(s, word, from, to)) {
    s.findings.push(
      reportDrawing(
        "drawing-cut-short",
        { entity: word, line: s.tags.lines[from] as number },
        { drawing: { file: s.file, entity: word, line: s.tags.lines[from] as number } },
      ),
    );
    return;
  }
  const lines = KNOWN.has(word) ? shapeGroups(s, word, from, to) : otherGroups(s, word, from, to);
  for (const l of lines) out.push(l);
  if (word === "POLYLINE" && lines[1] === "POLYLINE") s.inPolyline = true;
}

/** Is the file's last entity, after which no end mark came, there with all its groups? */
function whole(s: State, word: string, from: number, to: number): boolean {
  if (s.tags.lastCut) return false;
  if (word === "POLYLINE" || word === "VERTEX") return false;
  const codes = s.tags.codes.slice(from, to);
  if (word === "LWPOLYLINE") {
    const count = Number.parseInt(text(s, from, to, 90), 10);
    return codes.filter((c) => c === 20).length >= count;
  }
  if (word === "SPLINE") {
    const count = Number.parseInt(text(s, from, to, 73), 10) || 0;
    const fits = Number.parseInt(text(s, from, to, 74), 10) || 0;
    return (
      codes.filter((c) => c === 20).length >= count && codes.filter((c) => c === 21).length >= fits
    );
  }
  return (REQUIRED[word] ?? []).every((c) => codes.includes(c));
}

function shapeGroups(s: State, word: string, from: number, to: number): string[] {
  const out = ["0", word, "999", String(s.tags.lines[from])];
  for (let i = from + 1; i < to; i++) {
    const code = s.tags.codes[i] as number;
    // 101 begins an embedded object, 1000 and up are an application's own: no shape in either.
    if (code === 101 || code >= 1000) break;
    const value = s.tags.values[i] as string;
    if (code === 8) out.push("8", `L${numberOf(s.layers, value)}`);
    else if (code === 2) out.push("2", `B${numberOf(s.blocks, value)}`);
    else if (code === 5) out.push("5", value.replace(/[^0-9A-Fa-f]/g, "").slice(0, 16));
    else if (isShapeCode(code)) {
      const number = numeral(s, value, i);
      if (number === undefined) return damaged(s, word, from, to, i);
      out.push(String(code), number);
    }
  }
  return out;
}

function isShapeCode(code: number): boolean {
  return (code >= 10 && code <= 99) || code === 210 || code === 220 || code === 230;
}

/** A number in the notation that every reader knows; undefined where the value is none. */
function numeral(s: State, raw: string, index: number): string | undefined {
  const value = raw.trim();
  if (NUMBER.test(value)) return value.replace(/[dD]/, "e");
  if (!COMMA_NUMBER.test(value)) return undefined;
  if (s.commas++ === 0) s.commaLine = (s.tags.lines[index] as number) + 1;
  return value.replace(",", ".");
}

function coordinate(s: State, from: number, to: number, code: number): string {
  for (let i = from + 1; i < to; i++) {
    if (s.tags.codes[i] === code) return numeral(s, s.tags.values[i] as string, i) ?? "0";
  }
  return "0";
}

function damaged(s: State, word: string, from: number, to: number, at: number): string[] {
  const line = (s.tags.lines[at] as number) + 1;
  const value = (s.tags.values[at] as string).trim().slice(0, 40);
  s.findings.push(
    reportDrawing(
      "number-unreadable",
      { entity: word, line, value },
      { drawing: { file: s.file, entity: word, line } },
    ),
  );
  return otherGroups(s, word, from, to);
}

function otherGroups(s: State, word: string, from: number, to: number): string[] {
  const type = word.replace(/[^A-Z0-9_]/g, "").slice(0, 40) || "UNNAMED";
  const out = ["0", "OTHER", "999", String(s.tags.lines[from]), "1", type];
  for (let i = from + 1; i < to; i++) {
    const code = s.tags.codes[i] as number;
    if (code === 101 || code >= 1000) break;
    if (code === 8) out.push("8", `L${numberOf(s.layers, s.tags.values[i] as string)}`);
    if (code === 67) out.push("67", String(Number.parseInt(s.tags.values[i] as string, 10) || 0));
  }
  return out;
}

/** The first value of a code in the tags [from, to), trimmed; "" where there is none. */
function text(s: State, from: number, to: number, code: number): string {
  for (let i = from + 1; i < to; i++) {
    if (s.tags.codes[i] === code) return (s.tags.values[i] as string).trim();
  }
  return "";
}

function reportEnd(s: State): void {
  const file = { drawing: { file: s.file } };
  const lines = s.tags.strayLines;
  if (lines.length > 0) {
    const line = lines[0] as number;
    s.findings.push(
      reportDrawing(
        "lines-skipped",
        { count: lines.length, line },
        { drawing: { file: s.file, line } },
      ),
    );
  }
  if (!s.ended) s.findings.push(reportDrawing("end-missing", {}, file));
  if (s.unendedPolylines > 0)
    s.findings.push(reportDrawing("polyline-unended", { count: s.unendedPolylines }, file));
  if (s.commas > 0) {
    s.findings.push(
      reportDrawing(
        "comma-decimals",
        { count: s.commas, line: s.commaLine },
        { drawing: { file: s.file, line: s.commaLine } },
      ),
    );
  }
}

function joined(s: State): string {
  const parts = ["0", "SECTION", "2", "HEADER", "0", "ENDSEC"];
  parts.push("0", "SECTION", "2", "TABLES");
  if (s.tables.length > 0) {
    parts.push("0", "TABLE", "2", "LAYER", "70", String(s.tables.length / 8));
    parts.push(s.tables.join("\n"), "0", "ENDTAB");
  }
  parts.push("0", "ENDSEC", "0", "SECTION", "2", "BLOCKS");
  if (s.blockText.length > 0) parts.push(s.blockText.join("\n"));
  parts.push("0", "ENDSEC", "0", "SECTION", "2", "ENTITIES");
  if (s.entities.length > 0) parts.push(s.entities.join("\n"));
  parts.push("0", "ENDSEC", "0", "EOF");
  return `${parts.join("\n")}\n`;
}
