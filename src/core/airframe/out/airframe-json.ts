/** The airframe as plain data: plates with their named points, estimates, hardware. mm, g, N, Hz, degrees. */
import type { Finding } from "../../finding/finding.ts";
import { degrees } from "../../geometry/trig.ts";
import type { Airframe } from "../build-plates.ts";
import type { AirframeEstimate, Point3 } from "../estimate/estimate.ts";
import type { AirframePlate, Stand } from "../model.ts";
import { drawingOf, tidy } from "./job-text.ts";
import type { HardwareItem } from "./parts.ts";

export interface JsonInput {
  readonly airframe: Airframe;
  readonly estimate: AirframeEstimate;
  readonly hardware: readonly HardwareItem[];
  readonly files: readonly string[];
  readonly findings: readonly Finding[];
}

export type AirframeJson = ReturnType<typeof airframeJson>;

export function airframeJson({ airframe, estimate, hardware, files, findings }: JsonInput) {
  const { spec } = airframe.setting;
  return {
    weftcut: 1,
    airframe: spec.name,
    units: "mm",
    layout: spec.layout,
    construction: spec.construction,
    files,
    plates: airframe.plates.map(plateJson),
    hardware,
    estimate: estimateJson(estimate),
    findings,
  };
}

function plateJson(p: AirframePlate) {
  return {
    name: p.name,
    drawing: drawingOf(p),
    sheet: p.sheet,
    thickness: p.thickness,
    count: p.stands.length,
    ...(p.fibreDeg === undefined ? {} : { fibreDeg: p.fibreDeg }),
    points: p.points.map(({ name, at }) => ({ name, at: [tidy(at.x), tidy(at.y)] })),
    mates: p.mates.map((m) => ({
      slot: [tidy(m.slot.x), tidy(m.slot.y)],
      of: m.of,
      clearance: m.clearance,
    })),
    stands: p.stands.map(standJson),
  };
}

function standJson(s: Stand) {
  if (s.kind === "flat") {
    const { x, y, angle, flipped } = s.plateToFrame;
    return {
      kind: s.kind,
      x: tidy(x),
      y: tidy(y),
      z: tidy(s.z),
      rotationDeg: tidy(degrees(angle)),
      flipped,
    };
  }
  if (s.kind === "upright") return { kind: s.kind, x: tidy(s.x), y: tidy(s.y), z: tidy(s.z) };
  return { kind: s.kind, y: tidy(s.y), z: tidy(s.z), leanDeg: tidy(degrees(s.lean)) };
}

function estimateJson(e: AirframeEstimate) {
  const point = (p: Point3) => [tidy(p.x), tidy(p.y), tidy(p.z)];
  return {
    plates: e.plates.map((p) => ({
      plate: p.plate,
      count: p.count,
      massG: tidy(p.mass.g),
      savedG: tidy(p.saved),
    })),
    platesMassG: tidy(e.platesMass),
    countedMassG: tidy(e.countedMass),
    centreOfMass: point(e.centre),
    centreOfPlates: point(e.centreOfPlates),
    wheelbase: tidy(e.wheelbase),
    discClearance: tidy(e.discClearance),
    ...(e.bodyClearance === undefined ? {} : { bodyClearance: tidy(e.bodyClearance) }),
    arms: e.arms.map((a) => ({
      arm: a.arm,
      plate: a.plate,
      free: tidy(a.free),
      narrowest: tidy(a.narrowest),
      modulusGPa: tidy(a.modulus),
      offFibreDeg: tidy(a.offFibreDeg),
      forceN: a.force,
      deflectionMm: tidy(a.deflection),
      frequencyHz: tidy(a.frequency),
      tipMassG: a.tipMass,
    })),
  };
}
