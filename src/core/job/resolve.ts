/** The checked file as a Job: names for the pipeline's types, and a place in the file on all that can be wrong. */
import type { Cutter } from "../cutting/cutter.ts";
import { FITS } from "../fit/fits.ts";
import type { Point } from "../geometry/shape.ts";
import type { KeepOut } from "../layout/layout.ts";
import type { Machine } from "../machine/machine.ts";
import { FLUTES, MATE_CLEARANCE } from "./defaults.ts";
import type { Job, JobPlace, JobPlate, JobSheet } from "./job.ts";
import type { CutterFile } from "./keys/cutter.ts";
import type { CheckedFile, KeepOutFile, PlateFile, SheetFile } from "./schema.ts";
import type { Path } from "./source/yaml-source.ts";

export type PlaceOf = (path: Path) => JobPlace;

export function resolveJob(
  file: string,
  checked: CheckedFile,
  machine: { readonly machine: Machine; readonly place: JobPlace },
  placeOf: PlaceOf,
): Job {
  return {
    file,
    name: checked.name ?? stem(file),
    machine: machine.machine,
    machinePlace: machine.place,
    origin: checked.origin,
    sheets: checked.sheets.map((sheet, i) => resolveSheet(sheet, placeOf(["sheets", i, "name"]))),
    plates: checked.plates.map((plate, i) => resolvePlate(plate, ["plates", i], placeOf)),
    cutters: checked.cutters.map((cutter, i) => ({
      ...withFlutes(cutter),
      place: placeOf(["cutters", i, "name"]),
    })),
    cutting: checked.cutting,
    rates: checked.rates,
    ...(checked.ledger === undefined ? {} : { ledger: checked.ledger }),
    mates: checked.mates,
    checks: checked.checks,
    ...(checked.props === undefined
      ? {}
      : { props: { ...checked.props, at: checked.props.at.map(pointOf) } }),
  };
}

export function withFlutes(cutter: CutterFile): Cutter {
  return { ...cutter, flutes: cutter.flutes ?? FLUTES };
}

function stem(file: string): string {
  const base = file.split(/[\\/]/).at(-1) ?? file;
  return base.replace(/\.[^.]*$/, "") || base;
}

function resolveSheet(file: SheetFile, place: JobPlace): JobSheet {
  const { size, outline, keepOut, ...rest } = file;
  const shape: JobSheet["shape"] =
    outline === undefined
      ? { kind: "size", width: size?.[0] ?? 0, height: size?.[1] ?? 0 }
      : { kind: "drawing", file: outline };
  return { ...rest, shape, keepOuts: keepOut.map(resolveKeepOut), place };
}

function resolveKeepOut(file: KeepOutFile): KeepOut {
  if (file.at !== undefined) {
    return { kind: "disc", at: { x: file.at[0], y: file.at[1] }, diameter: file.diameter ?? 0 };
  }
  const [x0, y0] = file.from ?? [0, 0];
  const [x1, y1] = file.to ?? [0, 0];
  return {
    kind: "box",
    box: {
      min: { x: Math.min(x0, x1), y: Math.min(y0, y1) },
      max: { x: Math.max(x0, x1), y: Math.max(y0, y1) },
    },
  };
}

function resolvePlate(file: PlateFile, path: Path, placeOf: PlaceOf): JobPlate {
  const { layers, mates, place, points, fasteners, relief, ...rest } = file;
  const cut = layers.cut?.map(String);
  return {
    ...rest,
    layers: {
      ...(cut === undefined ? {} : { cut }),
      ignore: layers.ignore.map(String),
      recess: Object.entries(layers.recess).map(([layer, depth]) => ({ layer, depth })),
    },
    mates: mates.map((mate, i) => ({
      slot: pointOf(mate.slot),
      of: mate.of,
      clearance: mate.clearance ?? (mate.fit === undefined ? MATE_CLEARANCE : FITS[mate.fit]),
      ...(mate.fit === undefined ? {} : { fit: mate.fit }),
      ...(mate.fit !== undefined && mate.clearance !== undefined ? { both: true } : {}),
      relief: mate.relief,
      place: placeOf([...path, "mates", i, "of"]),
    })),
    fasteners: fasteners.map(({ screw, at }) => ({
      screw,
      ...(at === undefined ? {} : { at: pointOf(at) }),
    })),
    relief: relief.map((r) => ({ ...r, window: pointOf(r.window) })),
    fixed: place,
    points: points.map(({ name, at: [x, y] }) => ({ name, at: { x, y } })),
    place: placeOf([...path, "name"]),
    drawingPlace: placeOf([...path, "drawing"]),
    sheetPlace: placeOf([...path, "sheet"]),
  };
}

function pointOf([x, y]: readonly [number, number]): Point {
  return { x, y };
}
