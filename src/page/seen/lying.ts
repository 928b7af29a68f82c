/**
 * Plates as they lie on a sheet of the last plan, moved to where the job's text now fixes them: what is dragged is
 * seen at its new place before it is planned, and also where no plan can be made of it.
 *
 * Frames: a contour of `shape` is in the plate's frame, `place` takes it to the sheet's: flip, turn, shift. mm.
 */
import { type Cutter, effectiveDiameter } from "../../core/cutting/cutter.ts";
import type { Finding } from "../../core/finding/finding.ts";
import { bounds, placeContour } from "../../core/geometry/contour.ts";
import { placePoint } from "../../core/geometry/segment.ts";
import type { Contour, Point, Rigid } from "../../core/geometry/shape.ts";
import { radians } from "../../core/geometry/trig.ts";
import type { FixedPlace } from "../../core/job/job.ts";
import type { ContourJson, PlacementJson, SheetJson } from "../../core/job/plan-json.ts";
import { contourJson, contourOf, neat } from "../../core/job/planning/contour-json.ts";
import { boxed } from "../../core/layout/clearance.ts";
import { findingsAt, rigidOf } from "../../core/layout/fixed.ts";
import type { Spot } from "../../core/layout/pack.ts";
import { keepOutOf } from "../../core/layout/picture.ts";
import { roomOf } from "../../core/layout/room.ts";
import { type JobView, listAt, withValue } from "../state/job-view.ts";
import type { Work } from "../state/work.ts";
import type { Laid } from "../worker/protocol.ts";

export interface Lying {
  readonly placement: PlacementJson;
  readonly place: FixedPlace;
  /** Of the plate's outline; plate frame. */
  readonly middle: Point;
  /** The job names its place. */
  readonly fixed: boolean;
  /** Why it cannot be moved by hand, if it cannot. */
  readonly held: string | undefined;
}

/** The plates of one sheet, in the plan's order. */
export function lyingOn(view: JobView, sheet: SheetJson): Lying[] {
  const fixed = fixedPlaces(view);
  const kinds = new Set(listAt(view, ["sheets"]).map((s) => Object(s).name));
  return sheet.placements.map((placement) => {
    const { plate, copy, x, y, rotationDeg, flipped } = placement;
    const own = fixed.get(plate)?.[copy - 1];
    const { min, max } = bounds(inPlateFrame(placement.outer, placement));
    return {
      placement,
      place: own ?? { x, y, rotationDeg, flipped },
      middle: { x: (min.x + max.x) / 2, y: (min.y + max.y) / 2 },
      fixed: own !== undefined,
      held: !kinds.has(sheet.name)
        ? "only plates on the first sheet of a kind have fixed places"
        : fixed.has(plate)
          ? undefined
          : "its drawing holds several plates: give each a drawing of its own to place it by hand",
    };
  });
}

/** By plate of the job; the text may be in any state. */
function fixedPlaces(view: JobView): Map<string, readonly FixedPlace[]> {
  return new Map(
    listAt(view, ["plates"]).map((plate) => {
      const { name, place } = Object(plate);
      const list: unknown[] = Array.isArray(place) ? place : [];
      const places = list.map((p) => {
        const { x, y, rotationDeg = 0, flipped = false } = Object(p);
        return {
          x: Number(x),
          y: Number(y),
          rotationDeg: Number(rotationDeg),
          flipped: flipped === true,
        };
      });
      const sound = places.every(({ x, y, rotationDeg }) => Number.isFinite(x + y + rotationDeg));
      return [String(name), sound ? places : []];
    }),
  );
}

function rigidOfPlacement({ x, y, rotationDeg, flipped }: PlacementJson): Rigid {
  return { x, y, angle: radians(rotationDeg), flipped };
}

/** The way back of a placement, as a rigid motion itself. */
export function undoing(m: Rigid): Rigid {
  const turn = { x: 0, y: 0, angle: m.flipped ? m.angle : -m.angle, flipped: m.flipped };
  const shift = placePoint({ x: m.x, y: m.y }, turn);
  return { ...turn, x: -shift.x, y: -shift.y };
}

function inPlateFrame(contour: ContourJson, placement: PlacementJson): Contour {
  return placeContour(contourOf(contour), undoing(rigidOfPlacement(placement)));
}

/** One motion from where a plate lies in the plan to a place. */
function motionTo(placement: PlacementJson, place: FixedPlace): (contour: Contour) => Contour {
  const back = undoing(rigidOfPlacement(placement));
  const to = rigidOf(place);
  return (contour) => placeContour(placeContour(contour, back), to);
}

export function outlineAt(lying: Lying, place: FixedPlace = lying.place): Contour[] {
  const { placement } = lying;
  const move = motionTo(placement, place);
  return [placement.outer, ...placement.inner].map((c) => move(contourOf(c)));
}

/** The sheet for its picture: tabs of what has moved are not known yet. */
export function sheetAsLying(sheet: SheetJson, all: readonly Lying[]): SheetJson {
  const moved = all.filter((lying) => hasMoved(lying));
  if (moved.length === 0) return sheet;
  const gone = new Set(moved.map(({ placement: p }) => `${p.plate} ${p.copy}`));
  return {
    ...sheet,
    placements: all.map((lying) => (hasMoved(lying) ? placementAt(lying) : lying.placement)),
    tabs: sheet.tabs.filter((t) => !gone.has(`${t.plate} ${t.copy}`)),
  };
}

function hasMoved({ placement: p, place }: Lying): boolean {
  const turned = Math.abs(((((p.rotationDeg - place.rotationDeg) % 360) + 540) % 360) - 180);
  return (
    p.flipped !== place.flipped ||
    Math.max(Math.abs(p.x - place.x), Math.abs(p.y - place.y), turned) > 1e-6
  );
}

function placementAt({ placement, place }: Lying): PlacementJson {
  const move = motionTo(placement, place);
  const json = (c: ContourJson) => contourJson(move(contourOf(c)));
  return {
    ...placement,
    ...place,
    outer: json(placement.outer),
    inner: placement.inner.map(json),
    features: placement.features.map((f) => ({ ...f, contour: json(f.contour) })),
  };
}

/** Turned about its middle, which stays where it is. */
export function turnedBy(lying: Lying, place: FixedPlace, byDeg: number): FixedPlace {
  const at = placePoint(lying.middle, rigidOf(place));
  const rotationDeg = neat((((place.rotationDeg + byDeg) % 360) + 360) % 360);
  return centred(lying, { ...place, rotationDeg }, at);
}

export function turnedOver(lying: Lying, place: FixedPlace): FixedPlace {
  const at = placePoint(lying.middle, rigidOf(place));
  return centred(lying, { ...place, flipped: !place.flipped }, at);
}

function centred(lying: Lying, place: FixedPlace, at: Point): FixedPlace {
  const now = placePoint(lying.middle, rigidOf({ ...place, x: 0, y: 0 }));
  return { ...place, x: neat(at.x - now.x), y: neat(at.y - now.y) };
}

export function widestOf(plan: Laid, view: JobView): number {
  const own = listAt(view, ["cutters"])
    .map((c) => Object(c) as Cutter)
    .filter((c) => c.kind !== "drill")
    .map(effectiveDiameter)
    .filter((d) => d > 0);
  return Math.max(0, ...(own.length > 0 ? own : plan.cutters.map((c) => c.effectiveDiameter)));
}

/** What stands against one plate at any place, in the core's words; the others lie where they lie. */
export function collider(
  sheet: SheetJson,
  all: readonly Lying[],
  one: Lying,
  { widest, fibreDeg }: { readonly widest: number; readonly fibreDeg: number | undefined },
): (place: FixedPlace) => readonly Finding[] {
  const outline = contourOf(sheet.outline);
  const room = roomOf({ ...sheet, outline, keepOuts: sheet.keepOut.map(keepOutOf) }, widest);
  const others = all.filter((o) => o !== one).map((o) => spotAt(sheet, o, o.place, undefined));
  return (place) => findingsAt(room, spotAt(sheet, one, place, fibreDeg), others, widest);
}

/** As much of a spot as its checks look at. */
function spotAt(
  sheet: SheetJson,
  { placement }: Lying,
  place: FixedPlace,
  fibreDeg: number | undefined,
): Spot {
  const outer = inPlateFrame(placement.outer, placement);
  const copies = sheet.placements.filter((p) => p.plate === placement.plate).length;
  const plate = {
    name: placement.plate,
    drawing: placement.drawing,
    outer,
    features: placement.features.map(({ id, kind, contour, depth }) => {
      const own = inPlateFrame(contour, placement);
      return {
        id,
        kind,
        contour: own,
        at: { x: 0, y: 0 },
        area: 0,
        ...(depth === undefined ? {} : { depth }),
      };
    }),
    area: 0,
    perimeter: 0,
    bounds: bounds(outer),
  };
  const order = { plate, sheet: sheet.name, count: copies, gap: 0 };
  const toSheet = rigidOf(place);
  const item = { members: [{ order, copy: placement.copy }], gap: 0, fibreDeg, place };
  return { item, toSheet, shape: boxed(placeContour(outer, toSheet)), fixed: true };
}

export function fibreOf(view: JobView, plate: string): number | undefined {
  const found = listAt(view, ["plates"]).find((p) => Object(p).name === plate);
  const { fibreDeg } = Object(found);
  return typeof fibreDeg === "number" ? fibreDeg : undefined;
}

/**
 * The work with one plate put at a place, and all others kept where they lie, on the other sheets too: whoever moves
 * one plate does not want the rest to jump, and may have cut some of it already.
 */
export function withPlace(
  view: JobView,
  sheets: readonly SheetJson[],
  { plate, copy }: { readonly plate: string; readonly copy: number },
  place: FixedPlace,
): Work | undefined {
  const byPlate = new Map<string, FixedPlace[]>();
  const all = sheets.flatMap((sheet) => lyingOn(view, sheet));
  for (const lying of all.sort((a, b) => a.placement.copy - b.placement.copy)) {
    const { placement: p } = lying;
    if (lying.held !== undefined) continue;
    const moved = p.plate === plate && p.copy === copy;
    byPlate.set(p.plate, [...(byPlate.get(p.plate) ?? []), moved ? place : lying.place]);
  }
  let work: Work | undefined = view.work;
  for (const [i, entry] of listAt(view, ["plates"]).entries()) {
    const list = byPlate.get(String(Object(entry).name))?.map(placeJson);
    if (list === undefined || work === undefined) continue;
    // Writing takes some milliseconds a plate; most have their places already.
    if (JSON.stringify(Object(entry).place) === JSON.stringify(list)) continue;
    work = withValue(work, { file: view.file, path: ["plates", i, "place"] }, list);
  }
  return work;
}

function placeJson({ x, y, rotationDeg, flipped }: FixedPlace): Record<string, unknown> {
  return {
    x: neat(x),
    y: neat(y),
    rotationDeg: neat(rotationDeg),
    ...(flipped ? { flipped } : {}),
  };
}

/** The work with the plates left to the layout again: all of a sheet, or those of one name. */
export function withoutPlaces(
  view: JobView,
  which: { readonly sheet: string } | { readonly plate: string },
): Work | undefined {
  let work: Work | undefined = view.work;
  for (const [i, plate] of listAt(view, ["plates"]).entries()) {
    const { name, sheet, place } = Object(plate);
    const meant = "sheet" in which ? sheet === which.sheet : name === which.plate;
    if (!meant || place === undefined || work === undefined) continue;
    work = withValue(work, { file: view.file, path: ["plates", i, "place"] }, undefined);
  }
  return work;
}
