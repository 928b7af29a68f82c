/**
 * Jobs of one plate with openings that no designer would draw: slots hardly longer than wide, triangles with one sharp
 * corner, notches that the cutter just enters. The numbers come from a seed.
 */
import { type Corner, circle, dxf, type Entity, polygon, slot } from "../../fixtures/demo/pen.ts";
import { type Dice, diceOf } from "./dice.ts";

/** One opening in each cell, mm. */
const CELL = 20;
const COLUMNS = 4;
const ROWS = 2;
const RIM = 4;

type Shape = (diameter: number, d: Dice) => readonly Corner[];

const box = (w: number, h: number): [number, number][] => [
  [-w / 2, -h / 2],
  [w / 2, -h / 2],
  [w / 2, h / 2],
  [-w / 2, h / 2],
];

/** Corners with radii, as large as the sides bear. */
function withRadii(points: readonly (readonly [number, number])[], wanted: () => number): Corner[] {
  return points.map(([x, y], i) => {
    const [ax, ay] = points[(i + points.length - 1) % points.length] as readonly [number, number];
    const [bx, by] = points[(i + 1) % points.length] as readonly [number, number];
    const [ux, uy, vx, vy] = [ax - x, ay - y, bx - x, by - y];
    const [u, v] = [Math.hypot(ux, uy), Math.hypot(vx, vy)];
    const angle = Math.acos(Math.max(-1, Math.min(1, (ux * vx + uy * vy) / (u * v))));
    // Of each side one corner may take less than half.
    const most = 0.48 * Math.min(u, v) * Math.tan(angle / 2);
    const r = Math.min(wanted(), most);
    return { x, y, r: r < 0.05 ? 0 : r };
  });
}

function roundSlot(diameter: number, d: Dice, x: number, y: number): Entity {
  const width = diameter * d.between(1.02, 3);
  const along = d.pick(["x", "y"] as const);
  return slot({ x, y, width, length: width + d.between(0.1, 8), along });
}

const star: Shape = (diameter, d) => {
  const count = d.pick([3, 4, 5, 6]);
  const turn = d.between(0, 6);
  const points = Array.from({ length: count }, (_, k): [number, number] => {
    const angle = turn + (2 * Math.PI * k) / count;
    return [Math.cos(angle) * d.between(3, 7.5), Math.sin(angle) * d.between(3, 7.5)];
  });
  return withRadii(points, () => d.between(0, d.pick([0.5, 2]) * diameter));
};

const rectangle: Shape = (diameter, d) =>
  withRadii(box(d.between(1.05 * diameter, 12), d.between(1.05 * diameter, 12)), () =>
    d.between(diameter / 2, diameter),
  );

const angle: Shape = (diameter, d) => {
  const [w, h] = [d.between(5, 13), d.between(5, 13)];
  const [a, b] = [d.between(1.1 * diameter, w / 1.5), d.between(1.1 * diameter, h / 1.5)];
  const points: [number, number][] = [
    [-w / 2, -h / 2],
    [w / 2, -h / 2],
    [w / 2, -h / 2 + b],
    [-w / 2 + a, -h / 2 + b],
    [-w / 2 + a, h / 2],
    [-w / 2, h / 2],
  ];
  return withRadii(points, () => d.between(0, diameter));
};

function placed(corners: readonly Corner[], x: number, y: number, turn: number): Entity {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return polygon(
    corners.map((p) => ({ x: x + p.x * c - p.y * s, y: y + p.x * s + p.y * c, r: p.r })),
  );
}

const ROUTER = { kind: "diamond-router", fluteLength: 7, overhang: 14 };

/** The one that makes all; sometimes a larger one for what it can make, and a drill. */
function cuttersFor(diameter: number, drill: number, d: Dice): object[] {
  const larger = d.pick([0, 0, 1.5, 2]) * diameter;
  return [
    { name: "router", ...ROUTER, diameter },
    ...(larger > 0 ? [{ name: "larger", ...ROUTER, diameter: larger }] : []),
    ...(drill > 0
      ? [{ name: "drill", kind: "drill", diameter: drill, fluteLength: 10, overhang: 18 }]
      : []),
  ];
}

interface Drawn {
  readonly seed: number;
  readonly d: Dice;
  readonly cutters: readonly object[];
  /** mm. */
  readonly size: readonly [number, number];
  readonly openings: readonly Entity[];
}

/** job.yaml and plate.dxf of a plate with these openings. */
function jobWith({ seed, d, cutters, size, openings }: Drawn): ReadonlyMap<string, string> {
  const [w, h] = size;
  const rim = withRadii(
    box(w, h).map(([x, y]): [number, number] => [x + w / 2, y + h / 2]),
    () => d.between(0, 8),
  );
  const job = {
    weftcut: 1,
    name: `openings ${seed}`,
    machine: {
      name: "bench",
      travel: [900, 900, 80],
      maxFeed: [4000, 4000, 1500],
      acceleration: [300, 300, 150],
      spindle: { min: 8000, max: 30000, powerW: 500, spinUpS: 5 },
      arcs: d.chance(0.8),
    },
    sheets: [
      { name: "sheet", material: "carbon-woven", thickness: d.pick([1.5, 2, 4]), size: [200, 200] },
    ],
    cutters,
    cutting: {
      direction: d.pick(["climb", "conventional"]),
      finish: { stock: d.pick([0, 0.05, 0.1, 0.3]) },
    },
    plates: [{ name: "plate", drawing: "plate.dxf", units: "mm", sheet: "sheet", fibreDeg: 0 }],
  };
  return new Map([
    ["job.yaml", JSON.stringify(job)],
    ["plate.dxf", dxf([`openings ${seed}`], [polygon(rim), ...openings])],
  ]);
}

export function madeUpOpenings(seed: number): ReadonlyMap<string, string> {
  const d = diceOf(seed);
  const diameter = d.pick([1, 1.5, 2, 3]);
  // Of its holes' size, or none.
  const drill = d.pick([0, 0, 0.8, 2.4]);
  const openings = Array.from({ length: COLUMNS * ROWS }, (_, i) => {
    const x = RIM + CELL * ((i % COLUMNS) + 0.5);
    const y = RIM + CELL * (Math.floor(i / COLUMNS) + 0.5);
    const shape = d.pick(["slot", "hole", star, rectangle, angle] as const);
    if (shape === "slot") return roundSlot(diameter, d, x, y);
    if (shape === "hole")
      return circle(x, y, drill > 0 ? drill : Math.min(14, diameter * d.between(1.02, 9)));
    return placed(shape(diameter, d), x, y, d.between(0, 3));
  });
  const size = [COLUMNS * CELL + 2 * RIM, ROWS * CELL + 2 * RIM] as const;
  const cutters = cuttersFor(diameter, drill, d);
  return jobWith({ seed, d, cutters, size, openings });
}

/** Two or three wide rooms in a row, and necks between them that may or may not hold together what comes loose. */
export function madeUpNecks(seed: number): ReadonlyMap<string, string> {
  const d = diceOf(seed);
  const diameter = d.pick([1, 1.5, 2]);
  const heights = d.pick([2, 2, 3]) === 2 ? [d.between(6, 30), d.between(6, 30)] : [20, 8, 30];
  const below: [number, number][] = [];
  const above: [number, number][] = [];
  let x = 0;
  for (const [i, h] of heights.entries()) {
    const w = d.between(6, 45);
    below.push([x, -h / 2], [x + w, -h / 2]);
    above.push([x, h / 2], [x + w, h / 2]);
    x += w;
    const next = heights[i + 1];
    if (next === undefined) break;
    // Anywhere along the wall, but for a rest of it on both sides.
    const half = Math.min(h, next) / 2 - 0.3;
    const wide = Math.min(diameter * d.between(1.05, 5.5), 2 * half);
    const y = d.between(-half, half - wide);
    const long = d.between(0.2, 12);
    below.push([x, y], [x + long, y]);
    above.push([x, y + wide], [x + long, y + wide]);
    x += long;
  }
  const outline = withRadii([...below, ...above.reverse()], () => d.between(0, diameter));
  const size = [160, 50] as const;
  const middle = outline.map((p) => ({ ...p, x: p.x - x / 2 }));
  const openings = [placed(middle, size[0] / 2, size[1] / 2, d.between(-0.1, 0.1))];
  const cutters = [{ name: "router", ...ROUTER, diameter }];
  return jobWith({ seed, d, cutters, size, openings });
}
