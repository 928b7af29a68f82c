/**
 * How an arm bends: cross-sections taken from the drawn plate, holes and slots left out, as stations of a
 * beam that is clamped where the body ends.
 */
import { DENSITY } from "../../cutting/data/materials.ts";
import { meetings } from "../../geometry/intersect.ts";
import { line, placePoint } from "../../geometry/segment.ts";
import type { Point, Rigid } from "../../geometry/shape.ts";
import { power, radians } from "../../geometry/trig.ts";
import { armToFrame } from "../arms/roots.ts";
import type { Airframe } from "../build-plates.ts";
import type { AirframePlate } from "../model.ts";
import { offFibre } from "../plates/arm.ts";
import { exitOf } from "../plates/body.ts";
import type { Arm, Setting } from "../setting.ts";
import { holds } from "../shape/boolean.ts";
import { firstFrequency, type Station, tipDeflection } from "./beam.ts";
import { modulus } from "./laminate.ts";

export interface ArmEstimate {
  readonly arm: number;
  readonly plate: string;
  /** From clamp to motor, mm. */
  readonly free: number;
  readonly narrowest: number;
  /** Along the arm, GPa, and how far it lies off the fibre. */
  readonly modulus: number;
  readonly offFibreDeg: number;
  /** Under this force at the motor, mm. */
  readonly force: number;
  readonly deflection: number;
  /** Hz, with this mass at the tip, g. */
  readonly frequency: number;
  readonly tipMass: number;
}

const STATIONS = 240;

/** Without a thrust in the file: per newton. */
const ONE_NEWTON = 1;

export function armEstimates(a: Airframe): ArmEstimate[] {
  const { setting } = a;
  return setting.arms.flatMap((arm, i) => {
    const found = plateOf(a, i);
    if (found === undefined) return [];
    const { plate, toPlate } = found;
    const from = clampOf(a, arm);
    return [estimate(setting, i, plate, { from, to: arm.axis.length, toPlate, arm })];
  });
}

interface Span {
  readonly from: number;
  readonly to: number;
  /** Arm frame to plate frame. */
  readonly toPlate: Rigid;
  readonly arm: Arm;
}

function estimate(s: Setting, i: number, plate: AirframePlate, span: Span): ArmEstimate {
  const material = s.materialOf(plate.sheet);
  const direction = s.separate ? 0 : span.arm.axis.angle;
  // A sheet without a direction, or cloth at 45° to itself, has its fibres along X as drawn.
  const off = offFibre(direction, radians(plate.fibreDeg ?? 0));
  const e = modulus(material, off);
  const reach = Math.max(s.pad, s.spec.arms.root / 2) + 1;
  const widths = Array.from({ length: STATIONS + 1 }, (_, k) => {
    const x = span.from + ((span.to - span.from) * k) / STATIONS;
    return { x, width: widthAt(plate, span.toPlate, x, reach) };
  });
  const stations = widths.map(({ x, width }): Station => {
    const b = Math.max(width, 0.5);
    return {
      x: x - span.from,
      stiffness: (1000 * e * b * power(plate.thickness, 3)) / 12,
      mass: b * plate.thickness * DENSITY[material].value * 1e-9,
    };
  });
  const tipMass = (s.spec.motor.mass ?? 0) + (s.spec.propeller.mass ?? 0);
  const force = s.spec.motor.thrust ?? ONE_NEWTON;
  return {
    arm: i + 1,
    plate: plate.name,
    free: span.to - span.from,
    narrowest: Math.min(...widths.map((w) => w.width)),
    modulus: e,
    offFibreDeg: (off * 180) / Math.PI,
    force,
    deflection: tipDeflection(stations, force),
    frequency: firstFrequency(stations, tipMass * 1e-6),
    tipMass,
  };
}

function plateOf(
  { setting, plates }: Airframe,
  i: number,
): { plate: AirframePlate; toPlate: Rigid } | undefined {
  const arm = setting.arms[i] as Arm;
  if (!setting.separate) {
    const plate = plates.find((p) => p.role === "bottom");
    return plate === undefined ? undefined : { plate, toPlate: armToFrame(arm.axis) };
  }
  const toPlate = { x: 0, y: 0, angle: 0, flipped: false };
  const near = (p: AirframePlate): boolean =>
    p.stands.some(
      (st) =>
        st.kind === "flat" &&
        Math.abs(st.plateToFrame.x - arm.axis.anchor.x) < 1e-6 &&
        Math.abs(st.plateToFrame.y - arm.axis.anchor.y) < 1e-6 &&
        p.points.some((q) => q.name === "motor" && Math.abs(q.at.x - arm.axis.length) < 1e-6),
    );
  const plate = plates.find((p) => p.role === "arm" && near(p));
  return plate === undefined ? undefined : { plate, toPlate };
}

/** Separate arms bend from their outer screw, others from where they leave the body. */
function clampOf({ setting, camera }: Airframe, arm: Arm): number {
  if (arm.root !== undefined) return arm.root.outer;
  return exitOf(setting, camera, arm);
}

/** Material across the arm at x, within `reach` of its axis. */
export function widthAt(plate: AirframePlate, toPlate: Rigid, x: number, reach: number): number {
  const at = (y: number): Point => placePoint({ x, y }, toPlate);
  const cut = line(at(-reach), at(reach));
  const rings = [plate.outer, ...plate.cutouts.map((c) => c.contour)];
  const ts = rings.flatMap((r) => r.segments.flatMap((s) => meetings(cut, s).map((m) => m.ta)));
  const all = [0, ...ts, 1].sort((p, q) => p - q);
  let sum = 0;
  for (let i = 1; i < all.length; i++) {
    const [t0, t1] = [all[i - 1] as number, all[i] as number];
    const middle = at(-reach + (t0 + t1) * reach);
    if (t1 - t0 > 1e-9 && holds(rings, middle)) sum += (t1 - t0) * 2 * reach;
  }
  return sum;
}
