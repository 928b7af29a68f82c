/** What one key of a job says about another: names that must meet, sizes that must go together. */
import type { Finding } from "../../finding/finding.ts";
import { reporter } from "../../finding/finding.ts";
import { sayJob } from "../../finding/say-job.ts";
import type { Machine } from "../../machine/machine.ts";
import { fileSlug, type Job, type JobPlace, type JobPlate, type JobSheet } from "../job.ts";
import type { PlaceOf } from "../resolve.ts";
import type { CheckedFile } from "../schema.ts";
import { at, told } from "../source/issues.ts";
import { nearest } from "../source/nearest.ts";

const say = reporter(sayJob);

interface Named {
  readonly name: string;
  readonly place: JobPlace;
}

function thicknessOf(sheet: JobSheet): number {
  return sheet.measuredThickness ?? sheet.thickness;
}

/** Line and column for the sentence. */
function where(place: JobPlace): { line: number; column: number } {
  return { line: place.line, column: place.column };
}

/** A sheet's shape cannot be resolved before this has been seen. */
export function checkShapes(checked: CheckedFile, placeOf: PlaceOf): Finding[] {
  return checked.sheets.flatMap((sheet, i) => {
    const given = Number(sheet.size !== undefined) + Number(sheet.outline !== undefined);
    if (given === 1) return [];
    const place = placeOf(["sheets", i, given === 0 ? "name" : "outline"]);
    const code = given === 0 ? "sheet-without-shape" : "sheet-with-two-shapes";
    return [say(code, { ...where(place), sheet: sheet.name }, at(place.file, place))];
  });
}

export function crossCheck(job: Job): Finding[] {
  return [
    ...checkNames("sheet", job.sheets),
    ...checkFileNames("sheet", job.sheets),
    ...checkNames("plate", job.plates),
    ...checkNames("cutter", job.cutters),
    ...checkFileNames("cutter", job.cutters),
    ...job.sheets.flatMap((sheet) => checkSheet(sheet, job)),
    ...job.plates.flatMap((plate) => checkPlate(plate, job)),
    ...job.cutters.flatMap((cutter) => [
      ...checkMeasured(
        `cutter "${cutter.name}"`,
        "cutter",
        cutter.diameter,
        cutter.measuredDiameter,
        cutter.place,
      ),
      ...checkCutter(cutter, job.machine),
    ]),
    ...checkMachine(job.machine, job.machinePlace),
  ].sort((a, b) => Number(a.data["line"]) - Number(b.data["line"]));
}

function checkNames(what: string, items: readonly Named[]): Finding[] {
  const first = new Map<string, number>();
  return items.flatMap(({ name, place }) => {
    const line = first.get(name);
    if (line === undefined) {
      first.set(name, place.line);
      return [];
    }
    return [say("name-twice", { ...where(place), what, name, first: line }, at(place.file, place))];
  });
}

function checkFileNames(what: string, items: readonly Named[]): Finding[] {
  const names = new Map<string, string>();
  return items.flatMap(({ name, place }) => {
    const slug = fileSlug(name);
    // Windows and cards tell no case.
    const other = names.get(slug.toLowerCase());
    names.set(slug.toLowerCase(), other ?? name);
    if (other === undefined || other === name) return [];
    const data = { ...where(place), what, name, other, slug };
    return [say("names-make-one-file", data, at(place.file, place))];
  });
}

function checkSheet(sheet: JobSheet, job: Job): Finding[] {
  const { place, name, shape, margin } = sheet;
  const spot = { ...at(place.file, place), sheet: name };
  const findings = checkMeasured(
    `sheet "${name}"`,
    "sheet",
    sheet.thickness,
    sheet.measuredThickness,
    place,
  );
  if (!job.plates.some((plate) => plate.sheet === name)) {
    findings.push(say("sheet-without-plates", { ...where(place), sheet: name }, spot));
  }
  if (shape.kind === "size" && Math.min(shape.width, shape.height) <= 2 * margin) {
    const { width, height } = shape;
    findings.push(
      say("margins-fill-sheet", { ...where(place), sheet: name, width, height, margin }, spot),
    );
  }
  for (const keepOut of sheet.keepOuts) {
    if (keepOut.kind !== "box") continue;
    const { min, max } = keepOut.box;
    if (max.x > min.x && max.y > min.y) continue;
    findings.push(say("empty-keep-out", { ...where(place), sheet: name }, spot));
  }
  const needed = thicknessOf(sheet) + job.cutting.throughDepth + job.cutting.clearance;
  const travel = job.machine.travel[2];
  if (needed > travel) {
    const lowest = Math.floor((travel - needed + job.cutting.clearance) * 100) / 100;
    const data = {
      ...where(place),
      sheet: name,
      needed,
      lowest,
      travel,
      machine: job.machine.name,
    };
    findings.push(say("z-travel-too-short", data, spot));
  }
  return findings;
}

/** A fifth off is a slip of the pen or the wrong stock; callipers and tolerances differ by a tenth at most. */
function checkMeasured(
  name: string,
  quantity: string,
  nominal: number,
  measured: number | undefined,
  place: JobPlace,
): Finding[] {
  if (measured === undefined || Math.abs(measured - nominal) <= nominal / 5) return [];
  const data = { ...where(place), name, measured, nominal, quantity };
  return [say("measured-far-from-nominal", data, at(place.file, place))];
}

function checkPlate(plate: JobPlate, job: Job): Finding[] {
  const { place, name, layers } = plate;
  const spot = { ...at(place.file, place), plate: name };
  const findings: Finding[] = [];
  const sheet = job.sheets.find((s) => s.name === plate.sheet);
  if (sheet === undefined) {
    const names = job.sheets.map((s) => s.name);
    findings.push(unknownName("sheet", plate.sheet, `plate "${name}"`, names, plate.sheetPlace));
  }
  if (plate.fixed.length > plate.count) {
    const data = { ...where(place), plate: name, places: plate.fixed.length, count: plate.count };
    findings.push(say("more-places-than-copies", data, spot));
  }
  for (const { layer, depth } of layers.recess) {
    const thickness = sheet === undefined ? Number.POSITIVE_INFINITY : thicknessOf(sheet);
    if (depth < thickness) continue;
    const data = { ...where(place), plate: name, layer, depth, thickness };
    findings.push(say("recess-through-sheet", data, spot));
  }
  const roles = new Map<string, string[]>();
  const add = (layer: string, role: string) =>
    roles.set(layer, [...(roles.get(layer) ?? []), role]);
  for (const layer of layers.cut ?? []) add(layer, "cut");
  for (const layer of layers.ignore) add(layer, "ignore");
  for (const { layer } of layers.recess) add(layer, "recess");
  for (const [layer, its] of roles) {
    if (its.length < 2) continue;
    const data = { ...where(place), plate: name, layer, roles: its.join(" and ") };
    findings.push(say("layer-in-two-roles", data, spot));
  }
  return [...findings, ...checkMates(plate, job)];
}

function checkMates(plate: JobPlate, job: Job): Finding[] {
  const names = job.plates.map((p) => p.name);
  return plate.mates.flatMap((mate) => {
    const { place } = mate;
    if (mate.of === plate.name) {
      return [say("mate-of-itself", { ...where(place), plate: plate.name }, at(place.file, place))];
    }
    // A drawing of several outlines gives plates `name-1`, `name-2`, …
    const whole = mate.of.replace(/-\d+$/, "");
    if (names.includes(mate.of) || names.includes(whole)) return [];
    return [unknownName("plate", mate.of, `a mate of plate "${plate.name}"`, names, place)];
  });
}

function unknownName(
  what: string,
  name: string,
  user: string,
  names: readonly string[],
  place: JobPlace,
): Finding {
  const meant = nearest(name, names) ?? "";
  const data = { ...where(place), what, name, user, meant, known: names.join(", ") };
  return told(say("unknown-name", data, at(place.file, place)));
}

function checkCutter(cutter: Job["cutters"][number], machine: Machine): Finding[] {
  const { place, name, overhang, fluteLength } = cutter;
  const spot = at(place.file, place);
  const travel = machine.travel[2];
  const findings: Finding[] = [];
  if (overhang > travel) {
    const data = { ...where(place), cutter: name, overhang, travel, machine: machine.name };
    findings.push(say("cutter-longer-than-reach", data, spot));
  }
  if (fluteLength > overhang) {
    const data = { ...where(place), cutter: name, flute: fluteLength, overhang };
    findings.push(say("flutes-longer-than-overhang", data, spot));
  }
  return findings;
}

export function checkMachine(machine: Machine, place: JobPlace): Finding[] {
  const { min, max } = machine.spindle;
  if (min <= max) return [];
  return [say("spindle-range-reversed", { ...where(place), min, max }, at(place.file, place))];
}
