/** Stages' results as the plain data of plan.json. */
import { chipBand } from "../../cutting/chip-band.ts";
import { type Cutter, effectiveDiameter } from "../../cutting/cutter.ts";
import { bounds } from "../../geometry/contour.ts";
import { placePoint } from "../../geometry/segment.ts";
import type { Point } from "../../geometry/shape.ts";
import { degrees } from "../../geometry/trig.ts";
import {
  type KeepOut,
  type Placement,
  type Sheet,
  type SheetLayout,
  thicknessOf,
} from "../../layout/layout.ts";
import type { Feature } from "../../plate/plate.ts";
import type { Tab } from "../../toolpath/cut.ts";
import type { ProgramHead } from "../../toolpath/route.ts";
import type { JobOrigin } from "../job.ts";
import type {
  CutterJson,
  FeatureJson,
  KeepOutJson,
  OffcutDrawingJson,
  PlacementJson,
  SheetJson,
  TabJson,
} from "../plan-json.ts";
import type { ReckonedCutter } from "./account/reckon.ts";
import { massOfPlacement } from "./account/shares.ts";
import { contourJson, neat, pointJson } from "./contour-json.ts";
import type { FiledOffcut } from "./laying/offcuts.ts";

export interface SheetExtras {
  readonly tabs: readonly Tab[];
  readonly origin: JobOrigin;
}

/** Program X0 Y0 in the sheet frame. */
export function programZero(sheet: Sheet, origin: JobOrigin): Point {
  const { min, max } = bounds(sheet.outline);
  if (origin.at === "centre") return { x: (min.x + max.x) / 2, y: (min.y + max.y) / 2 };
  return {
    x: origin.at.endsWith("right") ? max.x : min.x,
    y: origin.at.startsWith("upper") ? max.y : min.y,
  };
}

export function sheetJson(layout: SheetLayout, { tabs, origin }: SheetExtras): SheetJson {
  const { sheet } = layout;
  return {
    name: sheet.name,
    material: sheet.material,
    thickness: thicknessOf(sheet),
    outline: contourJson(sheet.outline),
    fibreDeg: sheet.fibreDeg,
    margin: sheet.margin,
    keepOut: sheet.keepOuts.map(keepOutJson),
    ...(sheet.price === undefined ? {} : { price: sheet.price }),
    utilisation: layout.utilisation,
    originOffset: pointJson(programZero(sheet, origin)),
    placements: layout.placements.map((p) => placementJson(p, sheet)),
    tabs: tabs.filter((t) => t.sheet === sheet.name).map(tabJson),
  };
}

export function withOffcuts(sheet: SheetJson, offcuts: readonly FiledOffcut[]): SheetJson {
  return { ...sheet, offcuts: offcuts.map(offcutJson) };
}

function offcutJson({ file, offcut }: FiledOffcut): OffcutDrawingJson {
  const { area, clear, outline } = offcut;
  const { min, max } = clear;
  return {
    file,
    area: neat(area),
    clear: { at: pointJson(min), width: neat(max.x - min.x), height: neat(max.y - min.y) },
    outline: contourJson(outline),
  };
}

function keepOutJson(k: KeepOut): KeepOutJson {
  return k.kind === "disc"
    ? { at: pointJson(k.at), diameter: k.diameter }
    : { from: pointJson(k.box.min), to: pointJson(k.box.max) };
}

function placementJson(p: Placement, sheet: Sheet): PlacementJson {
  const { plate, plateToSheet: m } = p;
  const mass = massOfPlacement(p, sheet);
  return {
    plate: plate.name,
    copy: p.copy,
    drawing: plate.drawing,
    x: neat(m.x),
    y: neat(m.y),
    rotationDeg: neat(degrees(m.angle)),
    flipped: m.flipped,
    outer: contourJson(p.outer),
    inner: p.features.filter((f) => f.depth === undefined).map((f) => contourJson(f.contour)),
    features: p.features.map(featureJson),
    ...(plate.points === undefined
      ? {}
      : {
          points: plate.points.map((q) => ({ name: q.name, at: pointJson(placePoint(q.at, m)) })),
        }),
    massG: neat(mass.g),
    massLeastG: neat(mass.least),
    massMostG: neat(mass.most),
  };
}

function featureJson(f: Feature): FeatureJson {
  return {
    id: f.id,
    kind: f.kind,
    at: pointJson(f.at),
    contour: contourJson(f.contour),
    ...(f.diameter === undefined ? {} : { diameter: f.diameter }),
    ...(f.width === undefined ? {} : { width: f.width }),
    ...(f.length === undefined ? {} : { length: f.length }),
    ...(f.angle === undefined ? {} : { angleDeg: neat(degrees(f.angle)) }),
    ...(f.depth === undefined ? {} : { depth: f.depth }),
  };
}

function tabJson(t: Tab): TabJson {
  return {
    plate: t.plate,
    copy: t.copy,
    ...(t.feature === undefined ? {} : { feature: t.feature }),
    at: pointJson(t.at),
    width: t.width,
    height: t.height,
  };
}

/** A cutter before it is known how much it cuts. */
export type PlainCutter = Pick<
  CutterJson,
  | "name"
  | "kind"
  | "diameter"
  | "effectiveDiameter"
  | "fluteLength"
  | "overhang"
  | "flutes"
  | "chip"
>;

/** The chip must keep within the band of every sheet that the cutter cuts. */
export function plainCutter(cutter: Cutter, programs: readonly ProgramHead[]): PlainCutter {
  const bands = programs
    .filter((p) => p.cutter.name === cutter.name)
    .map((p) => chipBand(cutter, p.trial ?? p.sheet.material));
  return {
    name: cutter.name,
    kind: cutter.kind,
    diameter: cutter.diameter,
    effectiveDiameter: effectiveDiameter(cutter),
    fluteLength: cutter.fluteLength,
    overhang: cutter.overhang,
    flutes: cutter.flutes,
    chip: {
      least: Math.max(0, ...bands.map((b) => b.least)),
      most: bands.length === 0 ? 0 : Math.min(...bands.map((b) => b.most)),
    },
  };
}

export function cutterJson(
  cutter: Cutter,
  programs: readonly ProgramHead[],
  reckoned: ReckonedCutter,
): CutterJson {
  const { chip, ...plain } = plainCutter(cutter, programs);
  return { ...plain, ...reckoned, chip };
}
