/**
 * Separate arms as plates: one drawing for all arms that are alike, mirror images included, since a plate
 * can be turned over. Arm frame: X along the arm from the anchor.
 */
import { placeContour } from "../../geometry/contour.ts";
import type { Contour, Point, Rigid } from "../../geometry/shape.ts";
import { radians } from "../../geometry/trig.ts";
import { clearanceHole } from "../../plate/screw.ts";
import { mount } from "../arms/mount.ts";
import { type ArmShape, armOutline } from "../arms/outline.ts";
import { type ArmRoot, armToFrame } from "../arms/roots.ts";
import type { AirframePlate, Cutout, Stand } from "../model.ts";
import { type Arm, outerScrewHole, type Setting } from "../setting.ts";
import { hole, slotHole } from "../shape/build.ts";
import { eased } from "../shape/round.ts";
import type { Built } from "./built.ts";

/** Corners at an arm's root, mm: as much as lets it lie against its neighbour. */
const ROOT_CORNER = 2;

/** What of an arm is between body and pad. */
export interface Free {
  readonly from: number;
  readonly to: number;
}

export function armShape(s: Setting, arm: Arm, start: number, taperFrom: number): ArmShape {
  const { arms } = s.spec;
  return {
    shape: arms.shape,
    start,
    taperFrom,
    length: arm.axis.length,
    root: arms.root / 2,
    tip: (arms.tip ?? arms.root) / 2,
    pad: s.pad,
    fillet: arms.fillet,
  };
}

/** The slot for the motor's wires, in the middle of what is free. */
export function wireSlot(s: Setting, free: Free, toPlate: Rigid, name: string): Cutout[] {
  const slot = s.spec.arms.wireSlot;
  if (slot === undefined) return [];
  const x = (free.from + free.to) / 2;
  const { width, length } = slot;
  const contour = slotHole({ at: { x, y: 0 }, width: Math.min(width, length), length, angle: 0 });
  return [
    {
      name: `${name} wire slot`,
      contour: placeContour(contour, toPlate),
      parameter: "arms.wireSlot",
    },
  ];
}

const HERE: Rigid = { x: 0, y: 0, angle: 0, flipped: false };

export function armPlates(s: Setting): Built[] {
  const groups: { key: string; arms: Arm[]; flipped: boolean[] }[] = [];
  for (const arm of s.arms) {
    const own = keyOf(arm, false);
    const mirror = keyOf(arm, true);
    const known = groups.find((g) => g.key === own || g.key === mirror);
    if (known === undefined) groups.push({ key: own, arms: [arm], flipped: [false] });
    else {
      known.arms.push(arm);
      known.flipped.push(known.key !== own);
    }
  }
  return groups.map((g, i) => {
    const name = groups.length === 1 ? "arm" : (NAMES[i] ?? `arm-${i + 1}`);
    const plate = armPlate(s, name, g.arms[0] as Arm);
    const stands = g.arms.map(({ axis }, k): Stand => {
      const plateToFrame = armToFrame(axis);
      const flipped = g.flipped[k] === true;
      return {
        kind: "flat",
        z: s.levels.bottom,
        // Turned over about its own axis: x → −x and half a turn leave x and turn y round.
        plateToFrame: flipped
          ? { ...plateToFrame, flipped: true, angle: plateToFrame.angle + Math.PI }
          : plateToFrame,
      };
    });
    if (plate.plate === undefined) return plate;
    return { ...plate, plate: { ...plate.plate, stands } };
  });
}

/** Groups come in the order of the motors: the front ones first. */
const NAMES = ["arm-front", "arm-rear"];

function keyOf({ axis, root }: Arm, mirrored: boolean): string {
  const near = (v: number): number => Math.round(v * 1e4) / 1e4 + 0;
  const through = (root as ArmRoot).through
    .map((p) => [near(p.x), near(mirrored ? -p.y : p.y)])
    .sort((a, b) => (a[0] as number) - (b[0] as number) || (a[1] as number) - (b[1] as number));
  const { start, inner, outer } = root as ArmRoot;
  return JSON.stringify([near(axis.length), start, near(inner), near(outer), through]);
}

function armPlate(s: Setting, name: string, arm: Arm): Built {
  const root = arm.root as ArmRoot;
  const { spec } = s;
  const sheet = spec.arms.sheet ?? spec.bottom.sheet;
  const motor: Point = { x: arm.axis.length, y: 0 };
  const on = (x: number): Point => ({ x, y: 0 });
  const shape = armOutline(armShape(s, arm, root.start, Math.min(root.outer, motor.x - s.pad)));
  const rings = shape === undefined ? undefined : eased(shape, ROOT_CORNER);
  const outline: Contour | undefined = rings?.[0];
  if (outline === undefined || rings?.length !== 1) return { name, failed: "arms.tip" };
  const free = { from: root.outer + s.rim, to: motor.x - s.pad };
  const plate: AirframePlate = {
    name,
    role: "arm",
    sheet,
    thickness: s.thickness(sheet),
    outer: outline,
    cutouts: [
      ...screwHoles(s, root),
      ...mount(spec, motor, 0, "motor"),
      ...wireSlot(s, free, HERE, "motor"),
    ],
    points: [
      { name: "motor", at: motor },
      { name: "inner screw", at: on(root.inner) },
      { name: "outer screw", at: on(root.outer) },
    ],
    ...(s.materialOf(sheet) === "carbon-quasi-isotropic" ? {} : { fibreDeg: 0 }),
    mates: [],
    stands: [],
    lightened: 0,
  };
  return { name, plate };
}

function screwHoles({ spec }: Setting, root: ArmRoot): Cutout[] {
  const stack = clearanceHole(spec.stack.screw, spec.fit);
  const inner = root.innerIsStack ? stack : clearanceHole(spec.arms.screw, spec.fit);
  const outer = outerScrewHole(spec);
  return [
    {
      name: "inner screw",
      contour: hole({ x: root.inner, y: 0 }, inner),
      parameter: root.innerIsStack ? "stack.side" : "arms.screw",
      screwHole: inner,
    },
    {
      name: "outer screw",
      contour: hole({ x: root.outer, y: 0 }, outer),
      parameter: "arms.pitch",
      screwHole: outer,
    },
    ...root.through.map((p, i) => ({
      name: `stack ${i + 1}`,
      contour: hole(p, stack),
      parameter: "stack.side",
      screwHole: stack,
    })),
  ];
}

/** Direction of the fibre that serves the worst-placed arm best; balanced cloth repeats every 90°. */
export function fibreFor(angles: readonly number[]): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let deg = 0; deg < 90; deg++) {
    const worst = Math.max(...angles.map((a) => offFibre(a, radians(deg))));
    if (worst < least - 1e-9) [best, least] = [deg, worst];
  }
  return best;
}

/** Angle between a direction and the nearest of balanced cloth's two fibres, 0 … π/4. */
export function offFibre(angle: number, fibre: number): number {
  const quarter = Math.PI / 2;
  const d = (((angle - fibre) % quarter) + quarter) % quarter;
  return Math.min(d, quarter - d);
}
