/**
 * A small job for the proof's own tests: one plate on a sheet, and a program for it that is written here,
 * line by line, without any of weftcut's toolpath. Plate frame = sheet frame; program zero lower left.
 */
import { circle, line as lineSegment } from "../../../src/core/geometry/segment.ts";
import type { Contour, Point } from "../../../src/core/geometry/shape.ts";
import type { Machine } from "../../../src/core/machine/machine.ts";
import { readProgram } from "../../../src/core/program/read/read.ts";
import type {
  ProofInput,
  TargetCutter,
  TargetLimits,
  TargetPlate,
  TargetSheet,
  TargetTab,
} from "../../../src/core/proof/proof.ts";

export const machine: Machine = {
  name: "bench",
  travel: [400, 300, 60],
  maxFeed: [3000, 3000, 1000],
  acceleration: [200, 200, 200],
  junctionDeviation: 0.01,
  spindle: { min: 5000, max: 24000, powerW: 500, spinUpS: 3 },
  decimals: 4,
  lineLength: 70,
  dwell: "seconds",
  comments: "parentheses",
  repeatMotion: false,
  workOffset: "G54",
  arcs: true,
  blocksPerSecond: 250,
};

export const cutter: TargetCutter = {
  name: "router-2",
  kind: "diamond-router",
  effectiveDiameter: 2,
  fluteLength: 8,
  overhang: 14,
  flutes: 2,
  feedPerRev: { least: 0.003, most: 0.09 },
};

export const limits: TargetLimits = {
  throughDepth: 0.2,
  passDepth: 0.6,
  finishStock: 0.1,
  rampAngle: (3 * Math.PI) / 180,
  clearance: 5,
  hop: 5,
  tabs: { width: 4, height: 0.6, least: 2 },
};

export const THICKNESS = 2;

export function polygon(points: readonly (readonly [number, number])[], origin?: string): Contour {
  const at = points.map(([x, y]): Point => ({ x, y }));
  return {
    segments: at.map((p, i) =>
      lineSegment(p, at[(i + 1) % at.length] as Point, {
        file: "plate.dxf",
        entity: origin ?? "LINE",
        line: i + 1,
      }),
    ),
  };
}

export const HOLE = { x: 30, y: 30, diameter: 3.6 };
const [X0, Y0, X1, Y1] = [10, 10, 70, 50];

export const plate: TargetPlate = {
  plate: "plate",
  copy: 1,
  outer: polygon([
    [X0, Y0],
    [X1, Y0],
    [X1, Y1],
    [X0, Y1],
  ]),
  features: [
    {
      id: 0,
      kind: "hole",
      contour: {
        segments: [
          circle({ x: HOLE.x, y: HOLE.y }, HOLE.diameter / 2, false, 0, {
            file: "plate.dxf",
            entity: "CIRCLE",
            line: 9,
          }),
        ],
      },
    },
  ],
};

export const tabs: readonly TargetTab[] = [
  { plate: "plate", copy: 1, at: { x: 40, y: Y0 }, width: 4, height: 0.6 },
  { plate: "plate", copy: 1, at: { x: 40, y: Y1 }, width: 4, height: 0.6 },
];

export const sheet: TargetSheet = {
  name: "sheet",
  thickness: THICKNESS,
  outline: polygon([
    [0, 0],
    [90, 0],
    [90, 70],
    [0, 70],
  ]),
  margin: 5,
  keepOuts: [{ kind: "disc", at: { x: 4, y: 66 }, diameter: 6 }],
  plates: [plate],
  tabs,
  programZero: { x: 0, y: 0, z: 0 },
};

export const n4 = (v: number): string => String(Number(v.toFixed(4)));

const SLOPE = Math.tan((3 * Math.PI) / 180);
const FEED = 500;

/** A closed way round a rectangle, `by` outside it, corners turned on arcs; counted in mm from the middle of its left side, clockwise. */
interface Way {
  readonly parts: readonly Part[];
  readonly length: number;
}

interface Part {
  readonly at: readonly [number, number];
  readonly to: readonly [number, number];
  readonly centre?: readonly [number, number];
  readonly length: number;
}

export function wayRound(by: number): Way {
  const parts: Part[] = [];
  const arc = (by * Math.PI) / 2;
  const mid = (Y0 + Y1) / 2;
  const straight = (x0: number, y0: number, x1: number, y1: number): void => {
    parts.push({ at: [x0, y0], to: [x1, y1], length: Math.hypot(x1 - x0, y1 - y0) });
  };
  straight(X0 - by, mid, X0 - by, Y1);
  parts.push({ at: [X0 - by, Y1], to: [X0, Y1 + by], centre: [X0, Y1], length: arc });
  straight(X0, Y1 + by, X1, Y1 + by);
  parts.push({ at: [X1, Y1 + by], to: [X1 + by, Y1], centre: [X1, Y1], length: arc });
  straight(X1 + by, Y1, X1 + by, Y0);
  parts.push({ at: [X1 + by, Y0], to: [X1, Y0 - by], centre: [X1, Y0], length: arc });
  straight(X1, Y0 - by, X0, Y0 - by);
  parts.push({ at: [X0, Y0 - by], to: [X0 - by, Y0], centre: [X0, Y0], length: arc });
  straight(X0 - by, Y0, X0 - by, mid);
  return { parts, length: parts.reduce((sum, p) => sum + p.length, 0) };
}

function pointOn(part: Part, u: number): [number, number] {
  const { at, to, centre } = part;
  if (centre === undefined) return [at[0] + (to[0] - at[0]) * u, at[1] + (to[1] - at[1]) * u];
  const a = Math.atan2(at[1] - centre[1], at[0] - centre[0]) - (Math.PI / 2) * u;
  const r = Math.hypot(at[0] - centre[0], at[1] - centre[1]);
  return [centre[0] + r * Math.cos(a), centre[1] + r * Math.sin(a)];
}

/** A run of the program along the way: from s0 to s1 (either direction), Z changing evenly. */
interface Run {
  readonly from: number;
  readonly to: number;
  readonly z0: number;
  readonly z1: number;
}

interface Piece {
  readonly part: Part;
  /** s at the part's beginning, and where the piece begins and ends, forward. */
  readonly base: number;
  readonly a: number;
  readonly b: number;
}

function piecesOf(way: Way, low: number, high: number): Piece[] {
  const pieces: Piece[] = [];
  let base = Math.floor(low / way.length) * way.length;
  while (base < high - 1e-9) {
    for (const part of way.parts) {
      const a = Math.max(base, low);
      const b = Math.min(base + part.length, high);
      if (b - a > 1e-9) pieces.push({ part, base, a, b });
      base += part.length;
    }
  }
  return pieces;
}

export function follow(way: Way, run: Run): string[] {
  const forward = run.to > run.from;
  const pieces = piecesOf(way, Math.min(run.from, run.to), Math.max(run.from, run.to));
  if (!forward) pieces.reverse();
  const slope = (run.z1 - run.z0) / (run.to - run.from);
  return pieces.map((p) => lineOf(p, forward, run.z0 + slope * ((forward ? p.b : p.a) - run.from)));
}

function lineOf({ part, base, a, b }: Piece, forward: boolean, z: number): string {
  const at = (s: number): [number, number] => pointOn(part, (s - base) / part.length);
  const [x, y] = at(forward ? b : a);
  const words = `X${n4(x)} Y${n4(y)} Z${n4(z)}`;
  if (part.centre === undefined) return `G1 ${words}`;
  const [px, py] = at(forward ? a : b);
  const i = part.centre[0] - Number(n4(px));
  const j = part.centre[1] - Number(n4(py));
  return `${forward ? "G2" : "G3"} ${words} I${n4(i)} J${n4(j)}`;
}

/** Where along the way the tabs' feet are: the top one comes first. */
function feet(by: number): [number, number][] {
  const half = 4 / 2 + cutter.effectiveDiameter / 2;
  const top = 20 + (by * Math.PI) / 2 + 30;
  const bottom = top + 30 + (by * Math.PI) / 2 + 40 + (by * Math.PI) / 2 + 30;
  return [
    [top - half, top + half],
    [bottom - half, bottom + half],
  ];
}

/** One pass round the plate. */
interface Pass {
  readonly way: Way;
  /** Distance of the way from the plate. */
  readonly by: number;
  readonly from: number;
  readonly to: number;
  readonly z: number;
  /** Depth of the pass before it. */
  readonly before: number;
}

const TAB_TOP = -THICKNESS + 0.6;

/** A pass rises over the tabs where it is below their top. */
function layer(pass: Pass): string[] {
  const { way, by, from, to, z } = pass;
  if (z >= TAB_TOP) return follow(way, { from, to, z0: z, z1: z });
  const spots = [0, 1].flatMap((turn) =>
    feet(by).map(([a, b]) => [a + turn * way.length, b + turn * way.length] as const),
  );
  const lines: string[] = [];
  let s = from;
  for (const [a, b] of spots) {
    if (a < from || b > to) continue;
    lines.push(...follow(way, { from: s, to: a, z0: z, z1: z }), ...overTab(pass, a, b));
    s = b;
  }
  return [...lines, ...follow(way, { from: s, to, z0: z, z1: z })];
}

/** Up, over, down as far as the pass before went, down the ramp and back to the tab's foot. */
function overTab({ way, z, before }: Pass, a: number, b: number): string[] {
  const lines = [
    `G1 Z${n4(TAB_TOP)}`,
    ...follow(way, { from: a, to: b, z0: TAB_TOP, z1: TAB_TOP }),
  ];
  const landing = Math.min(TAB_TOP, before);
  if (landing < TAB_TOP) lines.push(`G1 Z${n4(landing)}`);
  if (landing <= z) return lines;
  const end = b + (landing - z) / SLOPE;
  lines.push(...follow(way, { from: b, to: end, z0: landing, z1: z }));
  lines.push(...follow(way, { from: end, to: b, z0: z, z1: z }));
  return lines;
}

const BOTTOM = -THICKNESS - 0.2;

export const HEAD: readonly string[] = [
  "(plate)",
  "G21",
  "G90",
  "G17",
  "G94",
  "G0 Z5",
  "S18000 M3",
  "G4 P3",
];
export const TAIL: readonly string[] = ["G0 Z5", "M5", "M2"];

/** The hole by a helix at 0.1 from its wall, then twice round at the wall. */
export function holeLines(): string[] {
  const rough = 0.7;
  const fine = 0.8;
  const lines = [`G0 X${n4(HOLE.x + rough)} Y${HOLE.y}`, "G0 Z0.5", `G1 Z0 F${FEED * 0.3}`];
  const pitch = 2 * Math.PI * rough * SLOPE * 0.999;
  let z = 0;
  while (z > BOTTOM) {
    z = Math.max(BOTTOM, z - pitch);
    lines.push(`G2 X${n4(HOLE.x + rough)} Y${HOLE.y} Z${n4(z)} I${-rough}`);
  }
  lines.push(`G2 X${n4(HOLE.x + rough)} Y${HOLE.y} I${-rough}`);
  lines.push(`G1 X${n4(HOLE.x + fine)}`, `G2 X${n4(HOLE.x + fine)} Y${HOLE.y} I${-fine}`);
  lines.push("G0 Z5");
  return lines;
}

export function outlineLines(): string[] {
  const rough = wayRound(1.1);
  const [x, y] = pointOn(rough.parts[0] as Part, 0);
  const lines = [`G0 X${n4(x)} Y${n4(y)}`, "G0 Z0.5", `G1 Z0 F${FEED}`];
  let s = 0;
  let before = 0;
  for (const z of [-0.6, -1.2, -1.8, BOTTOM]) {
    const end = s + (before - z) / SLOPE;
    lines.push(...follow(rough, { from: s, to: end, z0: before, z1: z }));
    lines.push(...layer({ way: rough, by: 1.1, from: end, to: rough.length + end, z, before }));
    s = end % rough.length;
    before = z;
  }
  const fine = wayRound(1);
  // Roughing stopped on the top side, one corner on; the finer way has a shorter corner.
  const from = s - (0.1 * Math.PI) / 2;
  const to = fine.length + from + 1;
  lines.push(`G1 Y${n4(Y1 + 1)}`);
  lines.push(...layer({ way: fine, by: 1, from, to, z: BOTTOM, before: BOTTOM }));
  return lines;
}

export function program(): string {
  return [...HEAD, ...holeLines(), ...outlineLines(), ...TAIL].join("\n");
}

export function inputOf(text: string, change: Partial<ProofInput> = {}): ProofInput {
  return {
    machine,
    sheets: [sheet],
    limits,
    programs: [{ file: "a.nc", sheet: "sheet", cutter, trace: readProgram("a.nc", text) }],
    ...change,
  };
}
