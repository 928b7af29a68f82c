/**
 * Contours and labels to a DXF text: AC1015 (R2000), millimetres, true arcs. A full circle becomes a CIRCLE,
 * any other contour a closed LWPOLYLINE with bulges.
 *
 * Promise: what is written reads back the same within 1e-9 mm, here and elsewhere: numbers are written with
 * as many digits as the double has. Names keep what DXF allows in them.
 */
import { isCircle } from "../geometry/contour.ts";
import type { Arc, Contour, Point, Segment } from "../geometry/shape.ts";
import { degrees, TAU, tan } from "../geometry/trig.ts";

export interface DrawnLayer {
  readonly name: string;
  readonly contours: readonly Contour[];
  readonly labels?: readonly Label[] | undefined;
  /** Colour number of the format, 1 … 255; absent: 7, which is black on white. */
  readonly colour?: number | undefined;
}

export interface Label {
  readonly text: string;
  /** Middle of the text. */
  readonly at: Point;
  readonly height: number;
  readonly angle?: number | undefined;
}

/** The DXF document of these layers. */
export function writeDxf(layers: readonly DrawnLayer[]): string {
  const out = new Tags();
  const names = uniqueNames(layers);
  header(out);
  tables(out, layers, names);
  blocks(out);
  out.section("ENTITIES");
  layers.forEach((layer, i) => {
    for (const c of layer.contours) contour(out, c, names[i] as string);
    for (const l of layer.labels ?? []) label(out, l, names[i] as string);
  });
  out.end();
  objects(out);
  out.put(0, "EOF");
  return out.text();
}

/** Group codes and values in the making, with the handles that every record has its own of. */
class Tags {
  readonly #lines: string[] = [];
  #handle = 0x20;

  put(code: number, value: string | number): void {
    this.#lines.push(String(code).padStart(3), typeof value === "number" ? decimal(value) : value);
  }
  puts(...pairs: readonly (readonly [number, string | number])[]): void {
    for (const [code, value] of pairs) this.put(code, value);
  }
  point(code: number, p: Point): void {
    this.puts([code, real(p.x)], [code + 10, real(p.y)]);
  }
  section(name: string): void {
    this.puts([0, "SECTION"], [2, name]);
  }
  end(): void {
    this.put(0, "ENDSEC");
  }
  handle(): string {
    return (this.#handle++).toString(16).toUpperCase();
  }
  text(): string {
    return `${this.#lines.join("\n")}\n`;
  }
}

function decimal(v: number): string {
  return String(v);
}

/** A coordinate: plain decimals with a point, which is what narrow readers want. */
function real(v: number): string {
  const tidy = Math.abs(v) < 1e-12 ? 0 : v;
  const text = String(tidy);
  if (text.includes("e")) return tidy.toFixed(15);
  return text.includes(".") ? text : `${text}.0`;
}

const FORBIDDEN = /[<>/\\":;?*|=`,\r\n]/g;

/** Text beyond ASCII in the notation that every version reads. */
function escaped(text: string): string {
  return text
    .replace(/[\r\n]+/g, " ")
    .replace(
      /[^\x20-\x7e]/g,
      (c) => `\\U+${c.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}`,
    );
}

function uniqueNames(layers: readonly DrawnLayer[]): string[] {
  const taken = new Set<string>();
  return layers.map((l) => {
    const base = escaped(l.name.replace(FORBIDDEN, "_").trim()) || "0";
    let name = base;
    for (let n = 2; taken.has(name.toUpperCase()); n++) name = `${base}_${n}`;
    taken.add(name.toUpperCase());
    return name;
  });
}

function header(out: Tags): void {
  out.section("HEADER");
  out.puts([9, "$ACADVER"], [1, "AC1015"], [9, "$DWGCODEPAGE"], [3, "ANSI_1252"]);
  // 4 and 1: millimetres, metric.
  out.puts([9, "$INSUNITS"], [70, 4], [9, "$MEASUREMENT"], [70, 1]);
  out.puts([9, "$HANDSEED"], [5, "FFFFFF"]);
  out.end();
}

const MODEL = "1F";
const PAPER = "1E";

function tables(out: Tags, layers: readonly DrawnLayer[], names: readonly string[]): void {
  out.section("TABLES");
  table(out, "VPORT", "8", []);
  table(out, "LTYPE", "5", ["ByBlock", "ByLayer", "Continuous"], (name) => {
    out.puts([100, "AcDbLinetypeTableRecord"], [2, name], [70, 0], [3, ""], [72, 65], [73, 0]);
    out.put(40, "0.0");
  });
  const all = names.some((n) => n === "0") ? names : ["0", ...names];
  table(out, "LAYER", "2", all, (name) => {
    const colour = layers[names.indexOf(name)]?.colour ?? 7;
    out.puts([100, "AcDbLayerTableRecord"], [2, name], [70, 0], [62, colour], [6, "Continuous"]);
  });
  table(out, "STYLE", "3", ["Standard"], (name) => {
    out.puts([100, "AcDbTextStyleTableRecord"], [2, name], [70, 0], [40, "0.0"], [41, "1.0"]);
    out.puts([50, "0.0"], [71, 0], [42, "2.5"], [3, "txt"], [4, ""]);
  });
  table(out, "VIEW", "6", []);
  table(out, "UCS", "7", []);
  table(out, "APPID", "9", ["ACAD"], (name) => {
    out.puts([100, "AcDbRegAppTableRecord"], [2, name], [70, 0]);
  });
  table(out, "DIMSTYLE", "A", []);
  out.puts(
    [0, "TABLE"],
    [2, "BLOCK_RECORD"],
    [5, "1"],
    [330, "0"],
    [100, "AcDbSymbolTable"],
    [70, 2],
  );
  for (const [handle, name] of [
    [MODEL, "*Model_Space"],
    [PAPER, "*Paper_Space"],
  ] as const) {
    out.puts([0, "BLOCK_RECORD"], [5, handle], [330, "1"], [100, "AcDbSymbolTableRecord"]);
    out.puts([100, "AcDbBlockTableRecord"], [2, name], [340, "0"]);
  }
  out.put(0, "ENDTAB");
  out.end();
}

function table(
  out: Tags,
  name: string,
  handle: string,
  records: readonly string[],
  body: (record: string) => void = () => {},
): void {
  out.puts(
    [0, "TABLE"],
    [2, name],
    [5, handle],
    [330, "0"],
    [100, "AcDbSymbolTable"],
    [70, records.length],
  );
  if (name === "DIMSTYLE") out.put(100, "AcDbDimStyleTable");
  for (const r of records) {
    out.puts([0, name], [5, out.handle()], [330, handle], [100, "AcDbSymbolTableRecord"]);
    body(r);
  }
  out.put(0, "ENDTAB");
}

function blocks(out: Tags): void {
  out.section("BLOCKS");
  for (const [owner, name] of [
    [MODEL, "*Model_Space"],
    [PAPER, "*Paper_Space"],
  ] as const) {
    out.puts([0, "BLOCK"], [5, out.handle()], [330, owner], [100, "AcDbEntity"], [8, "0"]);
    out.puts([100, "AcDbBlockBegin"], [2, name], [70, 0], [10, "0.0"], [20, "0.0"], [30, "0.0"]);
    out.puts([3, name], [1, ""], [0, "ENDBLK"], [5, out.handle()], [330, owner]);
    out.puts([100, "AcDbEntity"], [8, "0"], [100, "AcDbBlockEnd"]);
  }
  out.end();
}

function objects(out: Tags): void {
  out.section("OBJECTS");
  out.puts([0, "DICTIONARY"], [5, "C"], [330, "0"], [100, "AcDbDictionary"], [281, 1]);
  out.puts([3, "ACAD_GROUP"], [350, "D"]);
  out.puts([0, "DICTIONARY"], [5, "D"], [330, "C"], [100, "AcDbDictionary"], [281, 1]);
  out.end();
}

function entity(out: Tags, type: string, layer: string): void {
  out.puts([0, type], [5, out.handle()], [330, MODEL], [100, "AcDbEntity"], [8, layer]);
}

function contour(out: Tags, c: Contour, layer: string): void {
  const first = c.segments[0];
  if (first === undefined) return;
  if (isCircle(c)) {
    const { centre, radius } = first as Arc;
    entity(out, "CIRCLE", layer);
    out.put(100, "AcDbCircle");
    out.point(10, centre);
    out.puts([30, "0.0"], [40, real(radius)]);
    return;
  }
  const parts = c.segments.flatMap(halved);
  entity(out, "LWPOLYLINE", layer);
  out.puts([100, "AcDbPolyline"], [90, parts.length], [70, 1]);
  for (const s of parts) {
    out.point(10, s.from);
    if (s.kind === "arc") out.put(42, real(tan(s.sweep / 4)));
  }
}

/** A bulge grows without bound towards a full turn: arcs beyond three quarters are written in two. */
function halved(s: Segment): Segment[] {
  if (s.kind === "line" || Math.abs(s.sweep) < 0.75 * TAU) return [s];
  const { centre, from } = s;
  // Through the centre from the chord's middle; for a full turn, opposite its start.
  const mx = (from.x + s.to.x) / 2 - centre.x;
  const my = (from.y + s.to.y) / 2 - centre.y;
  const d = Math.sqrt(mx * mx + my * my);
  const middle = { x: centre.x - (mx * s.radius) / d, y: centre.y - (my * s.radius) / d };
  const sweep = s.sweep / 2;
  return [
    { ...s, to: middle, sweep },
    { ...s, from: middle, sweep },
  ];
}

function label(out: Tags, l: Label, layer: string): void {
  entity(out, "TEXT", layer);
  out.put(100, "AcDbText");
  out.point(10, l.at);
  out.puts([30, "0.0"], [40, real(l.height)], [1, escaped(l.text)]);
  out.put(50, real(degrees(l.angle ?? 0)));
  // 1 and 2: centred both ways about the second point.
  out.put(72, 1);
  out.point(11, l.at);
  out.puts([31, "0.0"], [100, "AcDbText"], [73, 2]);
}
