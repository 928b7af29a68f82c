/**
 * The checked file → plates, each drawn, lightened, tidied and audited.
 *
 * Promise: a plate that comes back without a finding of severity `stop` is clean: see audit.ts. A number
 * that allows no plate comes back as a finding that names its key.
 */
import { type Cutter, effectiveDiameter } from "../cutting/cutter.ts";
import { type Finding, type Outcome, reporter, stops } from "../finding/finding.ts";
import { sayAirframe } from "../finding/say-airframe.ts";
import { placeContour } from "../geometry/contour.ts";
import type { Contour } from "../geometry/shape.ts";
import { tidyContour } from "../plate/snap.ts";
import { audit } from "./audit.ts";
import type { AirframeFile } from "./file/parse.ts";
import type { AirframePlate } from "./model.ts";
import { armPlates } from "./plates/arm.ts";
import { bottomPlate, clampPlate, topPlate } from "./plates/body.ts";
import type { Built } from "./plates/built.ts";
import { bracketPlate, cameraSide } from "./plates/camera.ts";
import { type CameraPlace, cameraPlace } from "./plates/camera-place.ts";
import { keepOuts } from "./plates/keep-out.ts";
import { lightened } from "./plates/lighten.ts";
import { rules, STANDOFF_GAP } from "./rules.ts";
import { type Setting, settingOf } from "./setting.ts";

const say = reporter(sayAirframe);

export interface Airframe {
  readonly setting: Setting;
  readonly camera: CameraPlace | undefined;
  readonly plates: readonly AirframePlate[];
}

export function buildPlates(file: AirframeFile): Outcome<Airframe> {
  const setting = settingOf(file.spec, file.sheets);
  const cutter = thinnest(file.cutters);
  const before = rules(file, setting);
  if (before.some((f) => f.severity === "stop")) {
    return { value: { setting, camera: undefined, plates: [] }, findings: before };
  }
  const arms = setting.separate ? armPlates(setting) : [];
  const onDeck = file.spec.clamp === undefined ? inFrame(setting, arms) : [];
  const camera = cameraPlace(setting, onDeck);
  const inWay = camera === undefined ? [] : standoffsInWay(file, setting, camera);
  const built: Built[] = [
    bottomPlate(setting, camera),
    ...arms,
    ...present(clampPlate(setting, camera)),
    ...present(topPlate(setting, camera)),
    ...present(camera && made(cameraSide(setting, camera, cutter))),
    ...present(camera && made(bracketPlate(setting, camera, cutter))),
  ];
  const findings: Finding[] = [...before, ...inWay];
  const plates: AirframePlate[] = [];
  for (const b of built) {
    if (b.plate === undefined) {
      findings.push(cannotDraw(file, b.name, b.failed));
      continue;
    }
    const drawn = tidied(b.plate);
    const context = contextFor(file, setting, drawn, cutter);
    const own = audit(drawn, context);
    findings.push(...own);
    plates.push(drawn);
  }
  const done = stops(findings) ? plates : plates.map((p) => tidied(light(setting, p)));
  return { value: { setting, camera, plates: done }, findings };
}

function present<T>(value: T | undefined): T[] {
  return value === undefined ? [] : [value];
}

function made(plate: AirframePlate | undefined): Built | undefined {
  return plate === undefined ? undefined : { name: plate.name, plate };
}

function thinnest(cutters: readonly Cutter[]): number {
  const round = cutters.filter((c) => c.kind !== "drill").map(effectiveDiameter);
  return Math.min(...(round.length === 0 ? [1] : round));
}

/** Outlines of separate arms, airframe frame. */
function inFrame(s: Setting, arms: readonly Built[]): Contour[] {
  const outlines = arms.flatMap((b) =>
    (b.plate?.stands ?? []).flatMap((stand) =>
      stand.kind === "flat" && b.plate !== undefined
        ? [placeContour(b.plate.outer, stand.plateToFrame)]
        : [],
    ),
  );
  return s.separate ? outlines : [];
}

function cannotDraw(file: AirframeFile, plate: string, parameter: string): Finding {
  const place = file.placeOf(parameter.split("."));
  const data = { plate, parameter, line: place.line, column: place.column };
  const { file: name, line } = place;
  return say("plate-impossible", data, { plate, drawing: { file: name, line } });
}

const OUTLINE_KEYS = {
  bottom: "bottom.corner",
  arm: "arms.tip",
  clamp: "clamp.corner",
  top: "top.corner",
  "camera-side": "camera.length",
  bracket: "camera.bracket",
} as const;

function contextFor(file: AirframeFile, s: Setting, plate: AirframePlate, cutter: number) {
  const ofArms = plate.role === "bottom" && !s.separate;
  return {
    cutter,
    outlineKey: ofArms ? "arms.tip" : OUTLINE_KEYS[plate.role],
    placeOf: (parameter: string) => file.placeOf(parameter.split(".")),
  };
}

/** Coordinates on the drawing's grid, so that what is drawn is what is read back. */
function tidied(plate: AirframePlate): AirframePlate {
  return {
    ...plate,
    outer: tidyContour(plate.outer, true) ?? plate.outer,
    cutouts: plate.cutouts.map((c) => ({
      ...c,
      contour: tidyContour(c.contour, false) ?? c.contour,
    })),
  };
}

function light(s: Setting, plate: AirframePlate): AirframePlate {
  const { lighten } = s.spec;
  if (lighten === undefined || plate.role === "bracket") return plate;
  if (!lighten.plates.includes(plate.role)) return plate;
  return lightened(plate, lighten, keepOuts(s, plate, lighten.web));
}

/** Standoffs beside the camera sides. */
function standoffsInWay(file: AirframeFile, s: Setting, c: CameraPlace): Finding[] {
  const half = c.thickness / 2;
  for (const { at } of s.standoffs) {
    const y = Math.max(0, c.y - at.y, at.y - c.y - c.camera.length);
    const x = Math.max(0, Math.abs(Math.abs(at.x) - c.x) - half);
    const gap = Math.sqrt(x * x + y * y) - s.spec.standoffs.body / 2;
    if (gap >= STANDOFF_GAP - 1e-6) continue;
    const parameter = s.spec.standoffs.rows === undefined ? "camera.from" : "standoffs.rows";
    const { file: name, line, column } = file.placeOf(parameter.split("."));
    const data = { x: at.x, y: at.y, of: "a camera side", gap, wanted: STANDOFF_GAP };
    const spot = { drawing: { file: name, line } };
    return [say("standoff-in-way", { parameter, line, column, ...data }, spot)];
  }
  return [];
}
