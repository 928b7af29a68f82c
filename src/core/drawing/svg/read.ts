/**
 * An SVG text to pieces in mm: groups, transforms, `use` and nested pages resolved; hidden things left out.
 *
 * Layers: a thing lies on the layer named by the label or id of the nearest group around it that has one.
 * Promise: ends on any text, and throws on none; `use` and nesting are bounded.
 */
import type { Finding } from "../../finding/finding.ts";
import { reportDrawing } from "../../finding/say-drawing.ts";
import type { Origin, Segment } from "../../geometry/shape.ts";
import { type Affine, compose, determinant, shift } from "../curve/affine.ts";
import { segmentsOf } from "../curve/segments.ts";
import { moveStroke } from "../curve/stroke.ts";
import type { ReadOptions, Units } from "../drawing.ts";
import { type Leave, layerRule, offers } from "../mend/layers.ts";
import { count, listed, PIECES_MOST, type Piece, type Pieces, type Tally } from "../mend/piece.ts";
import { type Port, SHAPES, shapeSubpaths } from "./basic-shapes.ts";
import { parseTransform, parseViewBox, userUnits, viewBoxMove } from "./length.ts";
import type { Subpath } from "./path.ts";
import { pageOf } from "./size.ts";
import { parseSheet, type Rule, styleOf } from "./style.ts";
import { attribute, type Element, parseTree, type Tree } from "./tree.ts";

export interface SvgRead extends Pieces {
  readonly units: Units;
  /** px to an inch, where the size rests on it. */
  readonly perInch: number | undefined;
}

/** `use` within `use`. */
const USES_MOST = 24;
/** Steps through `use`, beyond a few for each element: a drawing without end. */
const VISITS_MOST = 60_000;

interface Context {
  readonly file: string;
  readonly rules: readonly Rule[];
  readonly ids: ReadonlyMap<string, Element>;
  readonly leave: Leave;
  readonly pieces: Piece[];
  readonly tally: Tally;
  readonly findings: Finding[];
  clipped: number;
  visitsLeft: number;
  full: boolean;
}

interface Where {
  readonly move: Affine;
  readonly port: Port;
  readonly layer: string;
  readonly hidden: boolean;
  readonly visible: boolean;
  readonly fill: string;
  readonly stroke: string | undefined;
  readonly uses: readonly Element[];
}

export function readSvg(file: string, text: string, options: ReadOptions): SvgRead {
  const tree = parseTree(text);
  const page = pageOf(tree, options);
  const c: Context = {
    file,
    rules: parseSheet(stylesOf(tree)),
    ids: idsOf(tree),
    leave: layerRule(options),
    pieces: [],
    tally: new Map(),
    findings: [],
    clipped: 0,
    visitsLeft: VISITS_MOST + 4 * tree.elements,
    full: false,
  };
  const where: Where = {
    move: page.move,
    port: page.port,
    layer: "",
    hidden: false,
    visible: true,
    fill: "black",
    stroke: undefined,
    uses: [],
  };
  if (tree.root !== undefined) visitRoot(c, tree.root, where);
  if (tree.brokenAt !== undefined) {
    const line = tree.brokenAt;
    c.findings.push(reportDrawing("xml-broken", { line }, { drawing: { file, line } }));
  }
  if (c.full)
    c.findings.push(reportDrawing("too-many-pieces", { most: PIECES_MOST }, { drawing: { file } }));
  if (c.clipped > 0)
    c.findings.push(reportDrawing("clip-ignored", { count: c.clipped }, { drawing: { file } }));
  const ignored = listed(c.tally);
  c.findings.push(...offers(file, ignored, SHAPES));
  return {
    // A part of what has no end is worth nothing.
    pieces: c.full ? [] : c.pieces,
    ignored,
    repairs: [],
    findings: c.findings,
    units: page.units,
    perInch: page.perInch,
  };
}

function everyElement(tree: Tree, see: (e: Element) => void): void {
  const queue = tree.root === undefined ? [] : [tree.root];
  while (queue.length > 0) {
    const e = queue.pop() as Element;
    see(e);
    for (let i = e.children.length - 1; i >= 0; i--) queue.push(e.children[i] as Element);
  }
}

function stylesOf(tree: Tree): string {
  const sheets: string[] = [];
  everyElement(tree, (e) => {
    if (e.name === "style") sheets.push(e.text);
  });
  return sheets.join("\n");
}

function idsOf(tree: Tree): Map<string, Element> {
  const ids = new Map<string, Element>();
  everyElement(tree, (e) => {
    const id = attribute(e, "id");
    if (id !== undefined && !ids.has(id)) ids.set(id, e);
  });
  return ids;
}

function visitRoot(c: Context, root: Element, where: Where): void {
  const inner = entered(c, root, where);
  if (inner !== undefined) for (const child of root.children) visit(c, child, inner);
}

/** Elements that draw nothing where they stand. */
const SILENT: ReadonlySet<string> = new Set([
  "defs",
  "clipPath",
  "mask",
  "marker",
  "pattern",
  "symbol",
  "linearGradient",
  "radialGradient",
  "filter",
  "style",
  "script",
  "title",
  "desc",
  "metadata",
  "namedview",
  "view",
  "cursor",
  "font",
  "font-face",
  "color-profile",
  "animate",
  "animateTransform",
  "set",
]);

function visit(c: Context, e: Element, where: Where): void {
  if (c.full || --c.visitsLeft < 0) {
    c.full = true;
    return;
  }
  if (SILENT.has(e.name)) return;
  const inner = entered(c, e, where);
  if (inner === undefined) return;
  if (SHAPES.has(e.name)) {
    shape(c, e, inner);
  } else if (e.name === "g" || e.name === "a") {
    for (const child of e.children) visit(c, child, inner);
  } else if (e.name === "switch") {
    const first = e.children.find((k) => k.name === "g" || SHAPES.has(k.name));
    if (first !== undefined) visit(c, first, inner);
  } else if (e.name === "svg") {
    nested(c, e, inner, e);
  } else if (e.name === "use") {
    use(c, e, inner);
  } else {
    count(c.tally, e.name, inner.layer, "not an outline");
  }
}

/** What holds inside an element; undefined where its transform flattens everything. */
function entered(c: Context, e: Element, where: Where): Where | undefined {
  const style = styleOf(e, c.rules);
  const own = parseTransform(style("transform"));
  if (own === undefined) {
    const data = { line: e.line, text: (style("transform") ?? "").slice(0, 60) };
    c.findings.push(reportDrawing("transform-unread", data, { drawing: originOf(c, e) }));
  }
  const move = own === undefined ? where.move : compose(where.move, own);
  if (Math.abs(determinant(move)) < 1e-12) {
    if (SHAPES.has(e.name) || e.children.length > 0) count(c.tally, e.name, where.layer, "no size");
    return undefined;
  }
  const visibility = style("visibility");
  if ((style("clip-path") ?? "none") !== "none" || (style("mask") ?? "none") !== "none")
    c.clipped++;
  return {
    ...where,
    move,
    layer: layerOf(e) ?? where.layer,
    hidden: where.hidden || style("display") === "none" || isNothing(style("opacity")),
    visible:
      visibility === undefined || visibility === "inherit"
        ? where.visible
        : visibility === "visible",
    fill: style("fill") ?? where.fill,
    stroke: style("stroke") ?? where.stroke,
  };
}

function isNothing(opacity: string | undefined): boolean {
  return opacity !== undefined && opacity !== "" && Number.parseFloat(opacity) === 0;
}

function layerOf(e: Element): string | undefined {
  return e.name === "g" ? (attribute(e, "label") ?? attribute(e, "id")) : undefined;
}

function originOf(c: Context, e: Element): Origin {
  const id = attribute(e, "id");
  return { file: c.file, entity: id === undefined ? e.name : `${e.name} ${id}`, line: e.line };
}

function shape(c: Context, e: Element, where: Where): void {
  const painted = where.fill !== "none" || where.stroke !== "none";
  const shown = !where.hidden && where.visible && painted;
  const why = c.leave(where.layer, shown ? undefined : "hidden");
  if (why !== undefined) {
    count(c.tally, e.name, where.layer, why);
    return;
  }
  const origin = originOf(c, e);
  const read = shapeSubpaths(e, where.port);
  if (read.broken) {
    c.findings.push(reportDrawing("path-broken", { line: e.line }, { drawing: origin }));
  }
  if (read.subpaths.length === 0) count(c.tally, e.name, where.layer, "no size");
  for (const subpath of read.subpaths) piece(c, subpath, where, origin);
}

function piece(c: Context, subpath: Subpath, where: Where, origin: Origin): void {
  const segments: Segment[] = [];
  let fitted = false;
  for (const stroke of subpath.strokes) {
    const read = segmentsOf(moveStroke(stroke, where.move), origin);
    fitted ||= read.fitted;
    for (const s of read.segments) segments.push(s);
  }
  if (c.pieces.length >= PIECES_MOST) c.full = true;
  else c.pieces.push({ segments, closed: subpath.closed, layer: where.layer, origin, fitted });
}

/** A page in a page, or a symbol: `sized` has the width and height. */
function nested(c: Context, e: Element, where: Where, sized: Element): void {
  const get = (name: string): string | undefined => attribute(sized, name) ?? attribute(e, name);
  const { port } = where;
  const width = userUnits(get("width"), port.width, port.width);
  const height = userUnits(get("height"), port.height, port.height);
  if (!(width > 0) || !(height > 0)) {
    count(c.tally, e.name, where.layer, "no size");
    return;
  }
  const x = e.name === "svg" ? userUnits(attribute(e, "x"), 0, port.width) : 0;
  const y = e.name === "svg" ? userUnits(attribute(e, "y"), 0, port.height) : 0;
  const box = parseViewBox(attribute(e, "viewBox"));
  const own =
    box === undefined
      ? shift(x, y)
      : viewBoxMove(box, { x, y, width, height }, attribute(e, "preserveAspectRatio"));
  const inner = {
    ...where,
    move: compose(where.move, own),
    port: box === undefined ? { width, height } : { width: box.width, height: box.height },
  };
  for (const child of e.children) visit(c, child, inner);
}

function use(c: Context, e: Element, where: Where): void {
  const href = attribute(e, "href") ?? "";
  const target = href.startsWith("#") ? c.ids.get(href.slice(1)) : undefined;
  if (target === undefined || where.uses.includes(target) || where.uses.length >= USES_MOST) {
    const why = target === undefined ? "nothing has that name" : "it uses itself";
    count(c.tally, "use", where.layer, why);
    const data = { line: e.line, name: href.slice(0, 60), why };
    c.findings.push(reportDrawing("use-left-out", data, { drawing: originOf(c, e) }));
    return;
  }
  const x = userUnits(attribute(e, "x"), 0, where.port.width);
  const y = userUnits(attribute(e, "y"), 0, where.port.height);
  const inner = { ...where, move: compose(where.move, shift(x, y)), uses: [...where.uses, target] };
  if (target.name !== "symbol" && target.name !== "svg") {
    visit(c, target, inner);
    return;
  }
  const entry = entered(c, target, inner);
  if (entry !== undefined) nested(c, target, entry, e);
}
