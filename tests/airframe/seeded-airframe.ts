/** Airframe files from a seed: any layout, any construction, numbers within what people would type, good or bad. */
import { type Dice, diceOf } from "../support/dice.ts";

export const MACHINE = {
  name: "bench",
  travel: [900, 900, 80],
  maxFeed: [4000, 4000, 1500],
  acceleration: [300, 300, 150],
  spindle: { min: 8000, max: 30000, powerW: 500, spinUpS: 5 },
};

/** People type a digit. */
const STEP = 0.1;

/** The airframe's own part, as plain data. */
export function seededAirframe(seed: number): Record<string, unknown> {
  const d = diceOf(seed, STEP);
  const layout = d.pick(["x", "stretched-x", "h", "offset-front", "plus", "hexa", "tri"]);
  const separate = d.chance(0.5);
  const top = d.chance(0.85);
  const size = d.between(1.5, 11, 0.5);
  const propeller = Math.round(size * 25.4);
  const small = size < 3.5;
  const screw = small ? "M2" : "M3";
  const side = d.pick(small ? [16, 20, 25.5] : [20, 25.5, 30.5, 35]);
  return {
    name: `seed ${seed}`,
    layout,
    construction: separate ? "separate-arms" : "one-piece",
    ...(d.chance(0.5) ? { wheelbase: Math.round(propeller * d.between(1.6, 2.6)) } : {}),
    stretch: d.between(0.7, 1.4),
    spread: d.between(1, 1.5),
    forward: d.between(0.5, 1),
    sweepDeg: d.between(0, 40, 1),
    fit: d.pick(["fine", "medium", "coarse"]),
    propeller: { diameter: propeller, clearance: d.between(2, 40, 1), bodyClearance: 2 },
    motor: motorOf(d, small, screw),
    arms: armsOf(d, { small, separate, screw }),
    stack: {
      side,
      screw,
      ...(side >= 30 && d.chance(0.3) ? { alternate: 20, alternateScrew: "M2" } : {}),
    },
    standoffs: {
      screw,
      body: small ? 4 : 5,
      height: d.between(14, 35, 1),
      onArms: d.chance(0.7),
      ...(d.chance(0.5) ? { rows: rowsOf(d, side) } : {}),
    },
    bottom: { sheet: separate ? "thin" : "thick", corner: d.between(1, 8), ...windowsOf(d) },
    ...(top ? { top: { sheet: "thin", corner: d.between(1, 8) } } : {}),
    ...(separate && d.chance(0.6) ? { clamp: { sheet: "thin", corner: d.between(1, 8) } } : {}),
    ...(d.chance(0.4) ? { straps: strapsOf(d, side) } : {}),
    ...(d.chance(0.3) ? { antenna: { diameter: 6.5 } } : {}),
    ...(d.chance(top && layout !== "plus" ? 0.5 : 0.05) ? { camera: cameraOf(d, small) } : {}),
    ...(d.chance(0.6) ? { lighten: lightenOf(d) } : {}),
  };
}

function motorOf(d: Dice, small: boolean, screw: string) {
  const pad = d.chance(0.15) ? { pad: d.between(14, 44, 1) } : {};
  const pattern = small
    ? d.pick([{ boltCircle: 9 }, { boltCircle: 12 }, { side: 8.5 }])
    : d.pick([{ boltCircle: 16 }, { boltCircle: 19 }, { pairs: [16, 19] }, { side: 11.3 }]);
  return {
    ...pattern,
    ...pad,
    screw,
    slot: d.chance(0.3) ? d.between(0.4, 2) : 0,
    relief: d.between(small ? 3 : 5, small ? 4.5 : 7),
    turnDeg: d.pick([0, 30, 45]),
    height: d.between(10, 34, 1),
    mass: d.between(5, 60, 1),
    thrust: d.between(1, 20),
  };
}

function armsOf(d: Dice, of: { small: boolean; separate: boolean; screw: string }) {
  const { small, separate, screw } = of;
  const root = d.between(small ? 7 : 12, small ? 14 : 26, 0.5);
  return {
    ...(separate ? { sheet: "thick" } : {}),
    shape: d.pick(["straight", "tapered", "tangent"]),
    root,
    ...(d.chance(0.7) ? { tip: d.between(0.5 * root, root, 0.5) } : {}),
    fillet: d.between(0, 20, 1),
    rootFillet: d.between(0, 16, 1),
    screw,
    ...(d.chance(0.4)
      ? { wireSlot: { width: d.between(2, 6, 0.5), length: d.between(6, 40, 1) } }
      : {}),
  };
}

function rowsOf(d: Dice, side: number) {
  const y = side / 2 + d.between(6, 40, 1);
  const across = side + d.between(-4, 12, 1);
  return [
    { at: y, across },
    { at: -y, across: d.chance(0.8) ? across : 0 },
  ];
}

function windowsOf(d: Dice) {
  if (!d.chance(0.2)) return {};
  return { windows: [{ at: [0, d.between(-30, 30, 1)], size: [d.between(4, 16, 1), 6] }] };
}

function strapsOf(d: Dice, side: number) {
  return { width: d.pick([12, 20]), slot: 2.5, across: side - d.between(0, 8, 1), at: [0] };
}

function cameraOf(d: Dice, small: boolean) {
  return {
    sheet: "thin",
    width: small ? 14 : d.pick([14, 19, 20]),
    length: d.between(20, 40, 1),
    swing: d.between(6, 10),
    tiltDeg: [0, d.between(5, 60, 1)],
    tab: d.between(5, 10),
    ...(d.chance(0.3) ? { bracket: { lens: d.between(6, 12) } } : {}),
  };
}

function lightenOf(d: Dice) {
  return {
    plates: d.pick([["top"], ["bottom", "top"], ["bottom", "top", "clamp", "arm", "camera-side"]]),
    pattern: d.pick(["panels", "triangles", "slots"]),
    web: d.between(1.6, 5),
    corner: d.between(1.1, 3),
    pitch: d.between(14, 40, 1),
    least: d.between(20, 90, 1),
  };
}

/** A whole file of it. */
export function seededFile(seed: number): string {
  const d = diceOf(seed ^ 0x5eed, STEP);
  return fileOf(seededAirframe(seed), d.pick([1.5, 2, 2.5]), d.pick([3, 4, 5, 6]));
}

export function fileOf(airframe: unknown, thin = 2, thick = 4): string {
  return JSON.stringify({
    weftcut: 1,
    airframe,
    machine: MACHINE,
    sheets: [
      { name: "thin", material: "carbon-woven", thickness: thin, size: [600, 500] },
      { name: "thick", material: "carbon-woven", thickness: thick, size: [900, 800] },
    ],
    cutters: [
      { name: "router", kind: "diamond-router", diameter: 1.5, fluteLength: 7, overhang: 12 },
    ],
  });
}
