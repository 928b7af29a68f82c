/**
 * A small job for the proof's own tests: one plate on a sheet, and a program for it that is written here,
 * line by line, without any of weftcut's toolpath. Plate frame = sheet frame; program zero lower left.
 */
import { line as lineSegment } from "../../src/core/geometry/segment.ts";
import { circle } from "../../src/core/geometry/segment.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";
import type { Machine } from "../../src/core/machine/machine.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import type {
  ProofInput,
  TargetCutter,
  TargetLimits,
  TargetPlate,
  TargetSheet,
  TargetTab,
} from "../../src/core/proof/proof.ts";

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

/** Writes the way from s0 to s1 (either direction), Z changing evenly from z0 to z1. */
export function follow(way: Way, s0: number, s1: number, z0: number, z1: number): string[] {
  const lines: string[] = [];
  const forward = s1 > s0;
  const z = (s: number): number => z0 + ((z1 - z0) * (s - s0)) / (s1 - s0);
  const turns = Math.floor(Math.min(s0, s1) / way.length);
  let base = turns * way.length;
  const stretches: [Part, number, number][] = [];
  while (base < Math.max(s0, s1) - 1e-9) {
    for (const part of way.parts) {
      const a = Math.max(base, Math.min(s0, s1));
      const b = Math.min(base + part.length, Math.max(s0, s1));
      if (b - a > 1e-9) stretches.push([part, a - base, b - base]);
      if (b - a > 1e-9) stretches[stretches.length - 1]?.push(base as never);
      base += part.length;
    }
  }
  if (!forward) stretches.reverse();
  for (const stretch of stretches) {
    const [part, a, b] = stretch;
    const start = (stretch as unknown as number[])[3] as number;
    const to = forward ? b : a;
    const [x, y] = pointOn(part, to / part.length);
    const words = `X${n4(x)} Y${n4(y)} Z${n4(z(start + to))}`;
    if (part.centre === undefined) lines.push(`G1 ${words}`);
    else {
      const [px, py] = pointOn(part, (forward ? a : b) / part.length).map((v) => Number(n4(v))) as [
        number,
        number,
      ];
      const ij = `I${n4(part.centre[0] - px)} J${n4(part.centre[1] - py)}`;
      lines.push(`${forward ? "G2" : "G3"} ${words} ${ij}`);
    }
  }
  return lines;
}

/** Where along the way the tabs' feet are: the top one comes first. */
function feet(way: Way, by: number): [number, number][] {
  const half = 4 / 2 + cutter.effectiveDiameter / 2;
  const top = 20 + (by * Math.PI) / 2 + 30;
  const bottom = top + 30 + (by * Math.PI) / 2 + 40 + (by * Math.PI) / 2 + 30;
  return [
    [top - half, top + half],
    [bottom - half, bottom + half],
  ];
}

/** Half way round at depth `z`, from s to s1, rising over tabs where the depth is below their top. */
function layer(way: Way, by: number, from: number, to: number, z: number, before: number): string[] {
  const top = -THICKNESS + 0.6;
  if (z >= top) return follow(way, from, to, z, z);
  const lines: string[] = [];
  let s = from;
  const spots = [0, 1].flatMap((turn) =>
    feet(way, by).map(([a, b]) => [a + turn * way.length, b + turn * way.length] as const),
  );
  for (const [a, b] of spots) {
    if (a < from || b > to) continue;
    lines.push(...follow(way, s, a, z, z), `G1 Z${n4(top)}`, ...follow(way, a, b, top, top));
    const landing = Math.min(top, before);
    if (landing < top) lines.push(`G1 Z${n4(landing)}`);
    if (landing > z) {
      const ramp = (landing - z) / SLOPE;
      lines.push(...follow(way, b, b + ramp, landing, z), ...follow(way, b + ramp, b, z, z));
    }
    s = b;
  }
  lines.push(...follow(way, s, to, z, z));
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
    const ramp = (before - z) / SLOPE;
    lines.push(...follow(rough, s, s + ramp, before, z));
    lines.push(...layer(rough, 1.1, s + ramp, rough.length + s + ramp, z, before));
    s = (s + ramp) % rough.length;
    before = z;
  }
  const fine = wayRound(1);
  // Roughing stopped on the top side, one corner on; the finer way has a shorter corner.
  const begin = s - (0.1 * Math.PI) / 2;
  lines.push(`G1 Y${n4(Y1 + 1)}`);
  lines.push(...layer(fine, 1, begin, fine.length + begin + 1, BOTTOM, BOTTOM));
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
