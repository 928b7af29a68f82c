/** A sheet of plan.json as a picture (SVG) and as a drawing that any drawing program reads (DXF). */
import { rectangle } from "../geometry/contour.ts";
import { circle } from "../geometry/segment.ts";
import type { Contour } from "../geometry/shape.ts";
import type { KeepOutJson, PlanJson, PointJson, SheetJson } from "../job/plan-json.ts";
import { contourOf, pointOf } from "../job/planning/contour-json.ts";
import { drawSheet, type PictureStyle, type SheetPicture } from "./drawn/draw-sheet.ts";
import { layeredDxf } from "./drawn/layout-dxf.ts";
import { breakingOrder, type TabSpot } from "./drawn/tab-order.ts";
import type { KeepOut } from "./layout.ts";
import { plateLayer, SHEET_LAYER } from "./read-back/layer-name.ts";

export interface NumberedTab extends TabSpot {
  /** 1, 2, … in breaking order. */
  readonly number: number;
  readonly width: number;
  readonly height: number;
}

export interface LayoutSvgOptions extends PictureStyle {
  /** Where the cutter first goes into the sheet for each cut, sheet frame. */
  readonly entries?: readonly PointJson[] | undefined;
}

/** A file of its own, in true size; with an `idPrefix`, a picture to stand in a page. */
export function layoutSvg(
  sheet: SheetJson,
  origin?: PlanJson["origin"],
  options: LayoutSvgOptions = {},
): string {
  const alone = options.alone ?? options.idPrefix === undefined;
  return drawSheet(pictureOf(sheet, origin, options.entries ?? []), { ...options, alone });
}

export function numberedTabs(sheet: SheetJson): NumberedTab[] {
  const tabs = sheet.tabs.map((t) => ({ ...t, at: pointOf(t.at) }));
  return breakingOrder(tabs).map((tab, i) => ({ ...tab, number: i + 1 }));
}

function pictureOf(
  sheet: SheetJson,
  origin: PlanJson["origin"] | undefined,
  entries: readonly PointJson[],
): SheetPicture {
  return {
    name: sheet.name,
    material: sheet.material,
    thickness: sheet.thickness,
    fibreDeg: sheet.fibreDeg,
    outline: contourOf(sheet.outline),
    margin: sheet.margin,
    keepOuts: sheet.keepOut.map(keepOutOf),
    plates: sheet.placements.map((p) => ({
      plate: p.plate,
      copy: p.copy,
      of: sheet.placements.filter((o) => o.plate === p.plate).length,
      outer: contourOf(p.outer),
      inner: p.inner.map(contourOf),
      recesses: p.features.filter((f) => f.kind === "recess").map((f) => contourOf(f.contour)),
    })),
    tabs: numberedTabs(sheet),
    entries: entries.map(pointOf),
    zero: pointOf(sheet.originOffset),
    zeroZ: origin === undefined ? "" : origin.z === "sheet-top" ? "top of sheet" : "spoilboard",
  };
}

export function keepOutOf(json: KeepOutJson): KeepOut {
  return "at" in json
    ? { kind: "disc", at: pointOf(json.at), diameter: json.diameter }
    : { kind: "box", box: { min: pointOf(json.from), max: pointOf(json.to) } };
}

export function layoutDxf(sheet: SheetJson): string {
  const keepOuts = sheet.keepOut.map(keepOutOf).map(keepOutContour);
  return layeredDxf([
    { name: SHEET_LAYER, colour: 8, contours: [contourOf(sheet.outline)] },
    { name: "KEEP-OUT", colour: 30, contours: keepOuts },
    ...sheet.placements.map((p) => ({
      name: plateLayer(p.plate, p.copy),
      colour: 5,
      contours: [p.outer, ...p.features.map((f) => f.contour)].map(contourOf),
    })),
    { name: "TABS", colour: 6, contours: [], points: sheet.tabs.map((t) => pointOf(t.at)) },
  ]);
}

export function keepOutContour(k: KeepOut): Contour {
  if (k.kind === "disc") return { segments: [circle(k.at, k.diameter / 2, true)] };
  return rectangle(k.box.min.x, k.box.min.y, k.box.max.x, k.box.max.y);
}
