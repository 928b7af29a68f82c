/** Writes small DXF and SVG drawings for tests, and reads drawings to what the tests compare. */
import type { Drawing, ReadOptions } from "../../../src/core/drawing/drawing.ts";
import { readDrawing } from "../../../src/core/drawing/read.ts";
import type { Finding } from "../../../src/core/finding/finding.ts";
import type { Plate } from "../../../src/core/plate/plate.ts";
import { recognise } from "../../../src/core/plate/recognise.ts";

export type Pair = readonly [code: number, value: number | string];
export type Entity = readonly Pair[];
/** x, y and bulge. */
export type Vertex = readonly [x: number, y: number, bulge?: number];

export interface Sheet {
  /** $INSUNITS; null leaves the header out. */
  readonly units?: number | null;
  /** Name, flags (1: frozen), colour (negative: off). */
  readonly layers?: readonly (readonly [name: string, flags?: number, colour?: number])[];
  readonly blocks?: Readonly<Record<string, readonly Entity[]>>;
}

export function text(pairs: readonly Pair[], eol = "\n"): string {
  return pairs.map(([code, value]) => `${String(code).padStart(3)}${eol}${value}${eol}`).join("");
}

export function dxf(entities: readonly Entity[], sheet: Sheet = {}): string {
  const { units = 4, layers = [], blocks = {} } = sheet;
  const header: Pair[] =
    units === null
      ? []
      : [
          [0, "SECTION"],
          [2, "HEADER"],
          [9, "$INSUNITS"],
          [70, units],
          [0, "ENDSEC"],
        ];
  return text([
    ...header,
    [0, "SECTION"],
    [2, "TABLES"],
    [0, "TABLE"],
    [2, "LAYER"],
    ...layers.flatMap(([name, flags = 0, colour = 7]): Pair[] => [
      [0, "LAYER"],
      [2, name],
      [70, flags],
      [62, colour],
    ]),
    [0, "ENDTAB"],
    [0, "ENDSEC"],
    [0, "SECTION"],
    [2, "BLOCKS"],
    ...Object.entries(blocks).flatMap(([name, inside]): Pair[] => [
      [0, "BLOCK"],
      [2, name],
      [70, 0],
      [10, 0],
      [20, 0],
      ...inside.flat(),
      [0, "ENDBLK"],
    ]),
    [0, "ENDSEC"],
    [0, "SECTION"],
    [2, "ENTITIES"],
    ...entities.flat(),
    [0, "ENDSEC"],
    [0, "EOF"],
  ]);
}

/** The opposite extrusion, as mirroring leaves it. */
export const DOWN: readonly Pair[] = [
  [210, 0],
  [220, 0],
  [230, -1],
];

export function on(layer: string, e: Entity): Entity {
  return [e[0] as Pair, [8, layer], ...e.slice(1)];
}

export function line(x0: number, y0: number, x1: number, y1: number): Entity {
  return [
    [0, "LINE"],
    [10, x0],
    [20, y0],
    [11, x1],
    [21, y1],
  ];
}

export function circle(x: number, y: number, r: number, ...more: Pair[]): Entity {
  return [[0, "CIRCLE"], [10, x], [20, y], [40, r], ...more];
}

/** Angles in degrees, counter-clockwise. */
export function arc(
  x: number,
  y: number,
  r: number,
  [a0, a1]: readonly [number, number],
  ...more: Pair[]
): Entity {
  return [[0, "ARC"], [10, x], [20, y], [40, r], [50, a0], [51, a1], ...more];
}

export function lwpolyline(vertices: readonly Vertex[], closed = true, ...more: Pair[]): Entity {
  return [
    [0, "LWPOLYLINE"],
    [90, vertices.length],
    [70, closed ? 1 : 0],
    ...vertices.flatMap(([x, y, bulge = 0]): Pair[] => [
      [10, x],
      [20, y],
      ...(bulge === 0 ? [] : [[42, bulge] as const]),
    ]),
    ...more,
  ];
}

export function polyline(vertices: readonly Vertex[], closed = true, ...more: Pair[]): Entity {
  return [
    [0, "POLYLINE"],
    [66, 1],
    [70, closed ? 1 : 0],
    ...more,
    ...vertices.flatMap(([x, y, bulge = 0]): Pair[] => [
      [0, "VERTEX"],
      [10, x],
      [20, y],
      [42, bulge],
    ]),
    [0, "SEQEND"],
  ];
}

export function insert(block: string, x: number, y: number, ...more: Pair[]): Entity {
  return [[0, "INSERT"], [2, block], [10, x], [20, y], ...more];
}

export function box(x: number, y: number, w: number, h: number): Entity {
  return lwpolyline([
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ]);
}

/** The same outline as four loose lines. */
export function looseBox(x: number, y: number, w: number, h: number): Entity[] {
  return [
    line(x, y, x + w, y),
    line(x + w, y, x + w, y + h),
    line(x + w, y + h, x, y + h),
    line(x, y + h, x, y),
  ];
}

export function regular(n: number, x: number, y: number, r: number, turn = 0): Vertex[] {
  return Array.from({ length: n }, (_, i): Vertex => {
    const a = turn + (2 * Math.PI * i) / n;
    return [x + r * Math.cos(a), y + r * Math.sin(a)];
  });
}

export function svg(
  body: string,
  page = 'width="100mm" height="60mm" viewBox="0 0 100 60"',
): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${page}>${body}</svg>`;
}

export interface Seen {
  readonly drawing: Drawing;
  readonly plates: readonly Plate[];
  /** Of the plates as drawn, less their holes. */
  readonly area: number;
  /** Number of holes, slots and windows. */
  readonly holes: number;
  readonly diameters: readonly number[];
  readonly findings: readonly Finding[];
  readonly codes: readonly string[];
}

export function see(content: string | Uint8Array, options: ReadOptions = {}, file = "t.dxf"): Seen {
  const drawing = readDrawing(file, content, options);
  const { value: plates, findings } = recognise(drawing, "t");
  const features = plates.flatMap((p) => p.features);
  const all = [...drawing.repairs, ...drawing.findings, ...findings];
  return {
    drawing,
    plates,
    area: plates.reduce((sum, p) => sum + (p.drawnArea ?? p.area), 0),
    holes: features.length,
    diameters: features.flatMap((f) => (f.diameter === undefined ? [] : [f.diameter])),
    findings: all,
    codes: all.map((f) => f.code).sort((a, b) => (a < b ? -1 : 1)),
  };
}

export function seeSvg(content: string | Uint8Array, options: ReadOptions = {}): Seen {
  return see(content, options, "t.svg");
}

export function found(seen: Seen, code: string): Finding {
  const finding = seen.findings.find((f) => f.code === code);
  if (finding === undefined) throw new Error(`no ${code} among ${seen.codes.join(" ")}`);
  return finding;
}
