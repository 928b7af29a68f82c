/**
 * A layout that was changed in a drawing program, read back: which copies it shows, and where they lie.
 *
 * Words: a layer holds one copy and says which by its name (layer-name.ts). What the drawing shows inside the
 * plate's outline are its openings, which tell the right turn from those that look alike.
 *
 * Promise: a place is told only where the drawn outline is the plate's own within `MATCH`; whatever else is on a
 * plate's layer is told. Of turns that cannot be told apart the one along the fibres is taken, then the least.
 * Places are from the lower-left corner of what the layer SHEET shows; without it, from the drawing's zero.
 */
import { readLayers } from "../../drawing/read.ts";
import type { Finding, Outcome } from "../../finding/finding.ts";
import { reporter } from "../../finding/finding.ts";
import { sayLayout } from "../../finding/say-layout.ts";
import { bounds, contains, distanceTo, placeContour } from "../../geometry/contour.ts";
import { placePoint, pointAt } from "../../geometry/segment.ts";
import type { Contour, Point } from "../../geometry/shape.ts";
import { MATCH } from "../../geometry/tolerance.ts";
import { degrees, radians } from "../../geometry/trig.ts";
import { tidyContour } from "../../plate/snap.ts";
import { offFibre, rigidOf } from "../fixed.ts";
import type { Sheet } from "../layout.ts";
import type { PlateOrder, SheetPlace } from "../riders.ts";
import { isPlateLayer, isSheetLayer, layerKey, plateLayer } from "./layer-name.ts";
import { areaOf, type Match, matches, type Outlined } from "./match.ts";

export interface DrawnLayout {
  readonly file: string;
  readonly bytes: Uint8Array | string;
  readonly sheet: Sheet;
  /** Those of this sheet. */
  readonly orders: readonly PlateOrder[];
}

/** The orders with the places that the drawing shows; a place that an order has already holds. */
export function withDrawnPlaces(layout: DrawnLayout): Outcome<PlateOrder[]> {
  const { file, bytes, sheet } = layout;
  const wanted = (layer: string): boolean => isPlateLayer(layer) || isSheetLayer(layer);
  const { layers, findings: read } = readLayers(file, bytes, wanted);
  const findings: Finding[] = read.map((f) => ({ sheet: sheet.name, ...f }));
  const loops = new Map(
    [...layers].map(([layer, { loops }]) => [layer, loops.flatMap(tidyLoop)] as const),
  );
  const edges = [...loops].flatMap(([layer, its]) => (isSheetLayer(layer) ? its : []));
  const frame = frameOf(edges, layout, findings);
  const search: Search = { layout, frame, findings, places: new Map(), residual: 0 };
  for (const [layer, its] of loops) {
    if (!isPlateLayer(layer)) continue;
    findings.push(...(layers.get(layer)?.findings ?? []).map((f) => ({ sheet: sheet.name, ...f })));
    readLayer(search, layer, its);
  }
  const shown = [...loops.keys()].filter(isPlateLayer).length;
  if (shown === 0) findings.push(report("layout-empty", { file, sheet: sheet.name }, at(layout)));
  const value = layout.orders.map((order) => withPlaces(order, search));
  const count = [...search.places.values()].reduce((n, its) => n + its.size, 0);
  if (count > 0) {
    const data = { sheet: sheet.name, file, count, residual: search.residual };
    findings.push(report("layout-read", data, at(layout)));
  }
  return { value, findings };
}

interface Search {
  readonly layout: DrawnLayout;
  /** Added to what is drawn to have it in the sheet frame. */
  readonly frame: Point;
  readonly findings: Finding[];
  /** By copy. */
  readonly places: Map<PlateOrder, Map<number, SheetPlace>>;
  residual: number;
}

interface Copy {
  readonly order: PlateOrder;
  readonly copy: number;
}

const report = reporter(sayLayout);

function at({ file, sheet }: DrawnLayout, plate?: string, outline?: Contour): Partial<Finding> {
  const drawing = outline?.segments[0]?.origin ?? { file };
  return { sheet: sheet.name, drawing, ...(plate === undefined ? {} : { plate }) };
}

function tidyLoop({ contour }: { readonly contour: Contour }): Contour[] {
  const tidy = tidyContour(contour, true);
  return tidy === undefined ? [] : [tidy];
}

function largest(contours: readonly Contour[]): Contour | undefined {
  return contours.reduce<Contour | undefined>(
    (best, c) => (best === undefined || areaOf(c) > areaOf(best) ? c : best),
    undefined,
  );
}

function frameOf(edges: readonly Contour[], layout: DrawnLayout, findings: Finding[]): Point {
  const edge = largest(edges);
  if (edge === undefined) return { x: 0, y: 0 };
  const { min, max } = bounds(edge);
  const own = bounds(layout.sheet.outline);
  const [width, height] = [max.x - min.x, max.y - min.y];
  const [sheetWidth, sheetHeight] = [own.max.x - own.min.x, own.max.y - own.min.y];
  if (Math.max(Math.abs(width - sheetWidth), Math.abs(height - sheetHeight)) > MATCH) {
    const names = { file: layout.file, sheet: layout.sheet.name };
    const data = { ...names, width, height, sheetWidth, sheetHeight };
    findings.push(report("layout-other-sheet", data, at(layout, undefined, edge)));
  }
  return { x: own.min.x - min.x, y: own.min.y - min.y };
}

function readLayer(search: Search, layer: string, loops: readonly Contour[]): void {
  const { layout, findings } = search;
  const copies = copiesFor(search, layer);
  const [first] = copies;
  if (first === undefined) return;
  if (loops.length === 0) {
    const data = { file: layout.file, layer };
    const place = at(layout, first.order.plate.name);
    findings.push(report("layout-without-outline", data, place));
    return;
  }
  const found = copies
    .map((copy) => ({ copy, shown: shownOn(loops, copy.order, layout.sheet) }))
    .find(({ shown }) => shown.length > 0);
  if (found === undefined) findings.push(unlike(search, layer, loops, first.order));
  else keep(search, layer, loops, found);
}

/** Copies whose layer has this name. What a layer shows besides is told by who has none. */
function copiesFor({ layout, findings }: Search, layer: string): Copy[] {
  const { orders, file, sheet } = layout;
  // Two layers of one name are numbered by who writes them.
  const keys = [layerKey(layer), layerKey(layer.replace(/ \(\d+\)$/, ""))];
  for (const key of keys) {
    const copies = orders.flatMap((order) =>
      numbers(order.count)
        .filter((copy) => layerKey(plateLayer(order.plate.name, copy)) === key)
        .map((copy) => ({ order, copy })),
    );
    if (copies.length > 0) return copies;
  }
  const own = orders.find((o) => {
    const [, number] = /^(.*) \d+$/.exec(keys[0] ?? "") ?? [];
    return number !== undefined && `${number} 1` === layerKey(plateLayer(o.plate.name, 1));
  });
  if (own !== undefined) {
    const data = { file, layer, plate: own.plate.name, count: own.count };
    findings.push(report("layout-unknown-copy", data, at(layout, own.plate.name)));
  } else {
    const known = orders.map((o) => `"${plateLayer(o.plate.name, 1)}"`).join(", ");
    const data = { file, layer, sheet: sheet.name, known };
    findings.push(report("layout-unknown-plate", data, at(layout)));
  }
  return [];
}

function numbers(count: number): number[] {
  return Array.from({ length: count }, (_, i) => i + 1);
}

interface Shown {
  readonly outline: Contour;
  readonly inner: readonly Contour[];
  readonly match: Match;
}

function insideOf(outline: Contour, loops: readonly Contour[]): Contour[] {
  return loops.filter((c) => c !== outline && contains(outline, middleOf(c)));
}

function middleOf({ segments }: Contour): Point {
  const first = segments[0];
  return first === undefined ? { x: 0, y: 0 } : pointAt(first, 0.5);
}

/** Every outline on the layer that is the plate's own. */
function shownOn(loops: readonly Contour[], order: PlateOrder, sheet: Sheet): Shown[] {
  const { plate, fibreDeg } = order;
  const inner = plate.features.map((f) => f.contour);
  const rest = fibreDeg === undefined ? 0 : radians(sheet.fibreDeg - fibreDeg);
  const own: Outlined = { outer: plate.outer, inner, rest };
  const area = areaOf(plate.outer);
  return loops.flatMap((outline) => {
    if (Math.abs(areaOf(outline) / area - 1) > 0.02) return [];
    const drawn = { outer: outline, inner: insideOf(outline, loops) };
    const upright = matches(own, drawn, false);
    const whole = upright.some((m) => m.unlike === 0);
    const all = whole ? upright : [...upright, ...matches(own, drawn, true)];
    const match = bestOf(all, order, sheet);
    return match === undefined ? [] : [{ outline, inner: drawn.inner, match }];
  });
}

/** Residuals nearer than this tell no turn from another: three decimals, twice. */
const SAME = 0.002;

function bestOf(all: readonly Match[], order: PlateOrder, sheet: Sheet): Match | undefined {
  const fewest = Math.min(...all.map((m) => m.unlike));
  const like = all.filter((m) => m.unlike === fewest);
  const nearest = Math.min(...like.map((m) => m.residual));
  const rank = ({ toSheet }: Match): number[] => {
    const off = Math.round(10 * offFibre(order, toSheet, sheet.fibreDeg));
    return [Number(toSheet.flipped), off, Math.abs(turnOf(toSheet.angle))];
  };
  return like
    .filter((m) => m.residual <= nearest + SAME)
    .map((m) => ({ m, rank: rank(m) }))
    .sort((a, b) => compare(a.rank, b.rank))[0]?.m;
}

function compare(a: readonly number[], b: readonly number[]): number {
  const i = a.findIndex((v, k) => Math.abs(v - (b[k] as number)) > 1e-6);
  return i < 0 ? 0 : (a[i] as number) - (b[i] as number);
}

/** Degrees, in (−180, 180]. */
function turnOf(angle: number): number {
  const turn = ((degrees(angle) % 360) + 360) % 360;
  return turn > 180 ? turn - 360 : turn;
}

function unlike(
  search: Search,
  layer: string,
  loops: readonly Contour[],
  order: PlateOrder,
): Finding {
  const { layout } = search;
  const outline = largest(loops) as Contour;
  const scale = Math.sqrt(areaOf(outline) / areaOf(order.plate.outer));
  const names = { file: layout.file, layer, plate: order.plate.name };
  const place = at(layout, order.plate.name, outline);
  const trueSize = loops.map((c) => scaled(c, 1 / scale));
  return shownOn(trueSize, order, layout.sheet).length > 0
    ? report("layout-scaled", { ...names, scale }, place)
    : report("layout-no-match", { ...names, limit: MATCH }, place);
}

function scaled({ segments }: Contour, by: number): Contour {
  const to = (p: Point): Point => ({ x: p.x * by, y: p.y * by });
  return {
    segments: segments.map((s) =>
      s.kind === "line"
        ? { ...s, from: to(s.from), to: to(s.to) }
        : { ...s, from: to(s.from), to: to(s.to), centre: to(s.centre), radius: s.radius * by },
    ),
  };
}

interface Kept {
  readonly copy: Copy;
  readonly shown: readonly Shown[];
}

function keep(search: Search, layer: string, loops: readonly Contour[], kept: Kept): void {
  const { layout, findings, frame } = search;
  const { order, copy } = kept.copy;
  const { file } = layout;
  const [shown] = kept.shown as [Shown];
  const plate = order.plate.name;
  const before = search.places.get(order)?.has(copy) === true;
  const times = kept.shown.length + Number(before);
  const names = { file, layer, plate };
  if (times > 1) {
    const again = kept.shown.at(-1)?.outline;
    findings.push(
      report("layout-drawn-twice", { file, plate, copy, times }, at(layout, plate, again)),
    );
    return;
  }
  for (const c of loops) {
    if (c === shown.outline || shown.inner.includes(c)) continue;
    findings.push(report("layout-stray", names, at(layout, plate, c)));
  }
  const { toSheet, unlike: openings, residual } = shown.match;
  const place = at(layout, plate, shown.outline);
  if (toSheet.flipped && order.mayFlip !== true) {
    findings.push(report("layout-turned-over", names, place));
  } else if (openings > 0) {
    findings.push(report("layout-other-openings", { ...names, unlike: openings }, place));
  }
  search.residual = Math.max(search.residual, residual);
  const mine = search.places.get(order) ?? new Map<number, SheetPlace>();
  const { x, y, angle, flipped } = toSheet;
  mine.set(copy, { x: x + frame.x, y: y + frame.y, rotationDeg: turnOf(angle), flipped });
  search.places.set(order, mine);
}

function withPlaces(order: PlateOrder, search: Search): PlateOrder {
  const drawn = search.places.get(order);
  if (drawn === undefined) return order;
  const { layout, findings } = search;
  const place = numbers(order.count).map((copy) => {
    const own = order.place?.[copy - 1];
    const shown = drawn.get(copy);
    if (own === undefined || shown === undefined) return own ?? shown;
    const off = apart(order, own, shown);
    if (off > MATCH) {
      const data = { file: layout.file, plate: order.plate.name, copy, off };
      findings.push(report("layout-and-place", data, at(layout, order.plate.name)));
    }
    return own;
  });
  return { ...order, place };
}

/** The furthest that a corner lies from one place to the other; a turn that looks the same is the same. */
function apart({ plate }: PlateOrder, a: SheetPlace, b: SheetPlace): number {
  const laid = placeContour(plate.outer, rigidOf(b));
  return Math.max(
    ...plate.outer.segments.map((s) => distanceTo(laid, placePoint(s.from, rigidOf(a)))),
  );
}
