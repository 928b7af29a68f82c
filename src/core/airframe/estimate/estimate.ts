/** What the finished airframe comes to: masses, centre of mass, clearances, and how its arms bend. g, mm. */
import { type Mass, massOf } from "../../cutting/mass.ts";
import { centroid, signedArea } from "../../geometry/contour.ts";
import { placePoint } from "../../geometry/segment.ts";
import type { Point } from "../../geometry/shape.ts";
import { cos, sin } from "../../geometry/trig.ts";
import { boxed, discDistance } from "../../layout/clearance.ts";
import type { Airframe } from "../build-plates.ts";
import type { AirframePlate, Stand } from "../model.ts";
import { type ArmEstimate, armEstimates } from "./arm.ts";

export interface PlateEstimate {
  readonly plate: string;
  readonly count: number;
  readonly thickness: number;
  /** Of one. */
  readonly area: number;
  readonly mass: Mass;
  /** Taken out of one by lightening, g. */
  readonly saved: number;
}

export interface Point3 {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

export interface AirframeEstimate {
  readonly plates: readonly PlateEstimate[];
  readonly platesMass: number;
  /** Plates, motors, propellers and what the file lists. */
  readonly countedMass: number;
  readonly centre: Point3;
  readonly centreOfPlates: Point3;
  readonly wheelbase: number;
  /** Between discs, and from a disc to the top plate seen from above. */
  readonly discClearance: number;
  readonly bodyClearance: number | undefined;
  /** Height of the propellers over the top plate; below it where negative. */
  readonly propellersOver: number | undefined;
  readonly arms: readonly ArmEstimate[];
}

export function netArea(plate: AirframePlate): number {
  const cut = plate.cutouts.reduce((sum, c) => sum + Math.abs(signedArea(c.contour)), 0);
  return Math.abs(signedArea(plate.outer)) - cut;
}

export function estimateAirframe(a: Airframe): AirframeEstimate {
  const { setting } = a;
  const { spec, levels } = setting;
  const plates = a.plates.map((p): PlateEstimate => {
    const material = setting.materialOf(p.sheet);
    return {
      plate: p.name,
      count: p.stands.length,
      thickness: p.thickness,
      area: netArea(p),
      mass: massOf(netArea(p), p.thickness, material),
      saved: massOf(p.lightened, p.thickness, material).g,
    };
  });
  const ofPlates = a.plates.flatMap((p, i) =>
    p.stands.map((stand) => ({ at: middleOf(p, stand), g: plates[i]?.mass.g ?? 0 })),
  );
  const counted = [...ofPlates, ...motors(a), ...equipment(a)];
  const top = a.plates.find((p) => p.role === "top");
  const propellersOver = top === undefined ? undefined : propellerHeight(a) - levels.top;
  return {
    plates,
    platesMass: total(ofPlates),
    countedMass: total(counted),
    centre: meanOf(counted),
    centreOfPlates: meanOf(ofPlates),
    wheelbase: setting.skeleton.wheelbase,
    discClearance: setting.skeleton.clearance,
    bodyClearance: top === undefined ? undefined : bodyClearance(a, top),
    propellersOver,
    arms: armEstimates({ ...a, setting: { ...setting, spec } }),
  };
}

interface Lump {
  readonly at: Point3;
  readonly g: number;
}

function total(lumps: readonly Lump[]): number {
  return lumps.reduce((sum, l) => sum + l.g, 0);
}

function meanOf(lumps: readonly Lump[]): Point3 {
  const whole = total(lumps) || 1;
  const mean = (pick: (p: Point3) => number): number =>
    lumps.reduce((sum, l) => sum + l.g * pick(l.at), 0) / whole;
  return { x: mean((p) => p.x), y: mean((p) => p.y), z: mean((p) => p.z) };
}

/** Where a plate's own centre of mass comes to lie. */
function middleOf(plate: AirframePlate, stand: Stand): Point3 {
  const c = plateCentre(plate);
  if (stand.kind === "flat") {
    const p = placePoint(c, stand.plateToFrame);
    return { ...p, z: stand.z + plate.thickness / 2 };
  }
  if (stand.kind === "upright") return { x: stand.x, y: stand.y + c.x, z: stand.z + c.y };
  const { lean } = stand;
  return { x: c.x, y: stand.y - c.y * sin(lean), z: stand.z + c.y * cos(lean) };
}

function plateCentre(plate: AirframePlate): Point {
  const rings = [
    { area: Math.abs(signedArea(plate.outer)), at: centroid(plate.outer) },
    ...plate.cutouts.map((c) => ({
      area: -Math.abs(signedArea(c.contour)),
      at: centroid(c.contour),
    })),
  ];
  const area = rings.reduce((sum, r) => sum + r.area, 0);
  return {
    x: rings.reduce((sum, r) => sum + r.area * r.at.x, 0) / area,
    y: rings.reduce((sum, r) => sum + r.area * r.at.y, 0) / area,
  };
}

export function propellerHeight({ setting }: Airframe): number {
  return setting.levels.arms + setting.spec.motor.height;
}

function motors(a: Airframe): Lump[] {
  const { spec, arms, levels } = a.setting;
  const z = levels.arms;
  return arms.flatMap(({ axis }) => [
    { at: { ...axis.motor, z: z + spec.motor.height / 2 }, g: spec.motor.mass ?? 0 },
    { at: { ...axis.motor, z: propellerHeight(a) }, g: spec.propeller.mass ?? 0 },
  ]);
}

function equipment({ setting }: Airframe): Lump[] {
  return setting.spec.equipment.map(({ mass, at: [x, y, z] }) => ({ at: { x, y, z }, g: mass }));
}

/** From the nearest disc to the top plate, seen from above; negative where they overlap. */
function bodyClearance({ setting }: Airframe, top: AirframePlate): number {
  const shape = boxed(top.outer);
  const r = setting.spec.propeller.diameter / 2;
  return Math.min(...setting.arms.map(({ axis }) => discDistance(shape, axis.motor, 0) - r));
}
