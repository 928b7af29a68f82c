/**
 * How large an SVG drawing is: from user units to mm, Y turned up, the lower-left corner of the page at zero.
 */
import { type Affine, compose, scaling } from "../curve/affine.ts";
import type { LengthUnit, ReadOptions, Units } from "../drawing.ts";
import { FACTORS } from "../units.ts";
import { type Length, parseLength, parseViewBox, type ViewBox, viewBoxMove } from "./length.ts";
import { attribute, type Tree } from "./tree.ts";

export interface Page {
  /** User units to mm, Y up. */
  readonly move: Affine;
  readonly units: Units;
  /** What percentages are of, user units. */
  readonly port: { readonly width: number; readonly height: number };
  /** px to an inch, where the size rests on it. */
  readonly perInch: number | undefined;
}

const ABSOLUTE: ReadonlySet<string> = new Set(["", "px", "mm", "cm", "in", "pt", "pc", "q"]);

export function pageOf(tree: Tree, options: ReadOptions): Page {
  const root = tree.root;
  const get = (name: string): string | undefined =>
    root === undefined ? undefined : attribute(root, name);
  const box = parseViewBox(get("viewBox"));
  const width = absolute(parseLength(get("width")));
  const height = absolute(parseLength(get("height")));
  const sized = width ?? height;
  const unit = sized === undefined ? undefined : unitOf(sized);
  const port = { width: box?.width ?? inPx(width, 100), height: box?.height ?? inPx(height, 100) };
  // Without a view box user units are px, whatever unit the page's size is in.
  const declared: LengthUnit | null = unit === undefined ? null : box === undefined ? "px" : unit;
  const perInch = declared === "px" && options.units === undefined ? pxPerInch(tree) : undefined;
  if (options.units !== undefined || unit === undefined) {
    const used = options.units ?? "mm";
    const factor = FACTORS[used];
    const units = { declared, used, factor, assumed: options.units === undefined };
    return { move: upright(box ?? { x: 0, y: 0, ...port }, factor), units, port, perInch };
  }
  if (box === undefined) {
    const factor = 25.4 / (perInch ?? 96);
    const units = { declared, used: "px" as const, factor, assumed: true };
    return { move: upright({ x: 0, y: 0, ...port }, factor), units, port, perInch };
  }
  const mm = (l: Length | undefined): number | undefined => {
    if (l === undefined) return undefined;
    return l.unit === "q"
      ? l.value / 4
      : l.value * (unitOf(l) === "px" ? 25.4 / (perInch ?? 96) : FACTORS[unitOf(l)]);
  };
  const w = mm(width) ?? ((mm(height) ?? 0) * box.width) / box.height;
  const h = mm(height) ?? (w * box.height) / box.width;
  const page = { x: 0, y: 0, width: w, height: h };
  const inner = viewBoxMove(box, page, get("preserveAspectRatio"));
  return {
    move: compose({ ...scaling(1, -1), f: h }, inner),
    units: { declared, used: unit, factor: inner.a, assumed: perInch !== undefined },
    port,
    perInch,
  };
}

function absolute(l: Length | undefined): Length | undefined {
  return l !== undefined && ABSOLUTE.has(l.unit) && l.value > 0 ? l : undefined;
}

function unitOf(l: Length): LengthUnit {
  return l.unit === "" ? "px" : l.unit === "q" ? "mm" : (l.unit as LengthUnit);
}

function inPx(l: Length | undefined, otherwise: number): number {
  if (l === undefined) return otherwise;
  return ((l.unit === "q" ? l.value / 4 : l.value * FACTORS[unitOf(l)]) * 96) / 25.4;
}

function upright(box: ViewBox, factor: number): Affine {
  return {
    a: factor,
    b: 0,
    c: 0,
    d: -factor,
    e: -box.x * factor,
    f: (box.y + box.height) * factor,
  };
}

/**
 * px to an inch: 96 (CSS) unless the file shows 90 or 72. Older drawing programs wrote 90, and say their
 * version, below 0.92, in an attribute of their own, or the resolution for export; page-layout programs
 * count points of 72, and leave `enable-background` on the page. A comment may say the resolution outright.
 */
function pxPerInch(tree: Tree): number {
  const said = tree.comments
    .map((c) => /\b(96|90|72)\s*(?:dpi|ppi)\b/i.exec(c)?.[1])
    .find((v) => v !== undefined);
  if (said !== undefined) return Number(said);
  const root = tree.root;
  if (root === undefined) return 96;
  const version = attribute(root, "version") ?? "";
  const own = [...root.qualified].find(([name]) => name.endsWith(":version"))?.[1] ?? version;
  if (/^0\.(?:[0-8]\d|9[01])\b/.test(own)) return 90;
  if (attribute(root, "enable-background") !== undefined) return 72;
  return 96;
}
