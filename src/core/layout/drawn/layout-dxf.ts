/**
 * A sheet as a DXF drawing, so that its plates can be moved in any drawing program and read back: a layer for
 * the sheet, one for its keep-outs, one for each copy of a plate, one for the tabs (as points, which cut
 * nothing). Version AC1015, mm, arcs as bulges and circles as circles.
 *
 * A layer's name says which copy it holds: `PLATE arm 2`.
 */
import { isFullCircle } from "../../geometry/segment.ts";
import type { Contour, Point, Segment } from "../../geometry/shape.ts";
import { tan } from "../../geometry/trig.ts";
import { plainName } from "../read-back/layer-name.ts";

export interface DxfLayer {
  readonly name: string;
  /** Index colour, 1 … 255; never the only thing that tells layers apart. */
  readonly colour: number;
  readonly contours: readonly Contour[];
  readonly points?: readonly Point[] | undefined;
}

type Put = (code: number, value: string | number) => void;

export function layeredDxf(layers: readonly DxfLayer[]): string {
  const lines: string[] = [];
  const put: Put = (code, value) => {
    lines.push(String(code).padStart(3), typeof value === "number" ? decimal(value) : value);
  };
  const names = distinct(layers.map((l) => layerName(l.name)));
  header(put);
  layerTable(put, layers, names);
  put(0, "SECTION");
  put(2, "ENTITIES");
  let handle = 0x100;
  layers.forEach((layer, i) => {
    const begin = (type: string, subclass: string): void => {
      put(0, type);
      put(5, (handle++).toString(16).toUpperCase());
      put(100, "AcDbEntity");
      put(8, names[i] as string);
      put(100, subclass);
    };
    for (const contour of layer.contours) closed(contour, begin, put);
    for (const point of layer.points ?? []) {
      begin("POINT", "AcDbPoint");
      at(point, put);
    }
  });
  put(0, "ENDSEC");
  put(0, "EOF");
  return `${lines.join("\n")}\n`;
}

type Begin = (type: string, subclass: string) => void;

function closed(contour: Contour, begin: Begin, put: Put): void {
  const first = contour.segments[0];
  if (first !== undefined && contour.segments.length === 1 && isFullCircle(first)) {
    begin("CIRCLE", "AcDbCircle");
    at(first.centre, put);
    put(40, first.radius);
    return;
  }
  begin("LWPOLYLINE", "AcDbPolyline");
  put(90, String(contour.segments.length));
  put(70, "1");
  for (const s of contour.segments) {
    put(10, s.from.x);
    put(20, s.from.y);
    const b = bulge(s);
    if (b !== 0) put(42, b);
  }
}

function bulge(s: Segment): number {
  return s.kind === "line" ? 0 : tan(s.sweep / 4);
}

function at(p: Point, put: Put): void {
  put(10, p.x);
  put(20, p.y);
  put(30, 0);
}

function header(put: Put): void {
  put(0, "SECTION");
  put(2, "HEADER");
  put(9, "$ACADVER");
  put(1, "AC1015");
  put(9, "$INSUNITS");
  put(70, "4");
  put(9, "$MEASUREMENT");
  put(70, "1");
  put(0, "ENDSEC");
}

function layerTable(put: Put, layers: readonly DxfLayer[], names: readonly string[]): void {
  put(0, "SECTION");
  put(2, "TABLES");
  put(0, "TABLE");
  put(2, "LAYER");
  put(5, "1");
  put(100, "AcDbSymbolTable");
  put(70, String(layers.length));
  layers.forEach((layer, i) => {
    put(0, "LAYER");
    put(5, (0x10 + i).toString(16).toUpperCase());
    put(100, "AcDbSymbolTableRecord");
    put(100, "AcDbLayerTableRecord");
    put(2, names[i] as string);
    put(70, "0");
    put(62, String(layer.colour));
    put(6, "CONTINUOUS");
  });
  put(0, "ENDTAB");
  put(0, "ENDSEC");
}

/** What is not ASCII as the format's own escapes. */
function layerName(name: string): string {
  return plainName(name).replace(
    /[^ -~]/g,
    (c) => `\\U+${c.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}`,
  );
}

function distinct(names: readonly string[]): string[] {
  const seen = new Set<string>();
  return names.map((name) => {
    let free = name;
    for (let n = 2; seen.has(free.toUpperCase()); n++) free = `${name} (${n})`;
    seen.add(free.toUpperCase());
    return free;
  });
}

/** To 1e-7 mm, as plan.json writes. */
function decimal(value: number): string {
  const text = value.toFixed(7).replace(/\.?0+$/, "");
  return text === "-0" || text === "" ? "0" : text;
}
