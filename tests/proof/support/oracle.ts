/**
 * What a changed program does to the plates, found with nothing of the proof: polygons instead of arcs,
 * places along the way instead of sweeps, every distance by brute force.
 *
 * It looks only at the moves in which a change differs from the program that it came from, and answers
 * harm with a margin: it is silent about what lies within a few micrometres of a limit.
 */
import type { Contour, Point } from "../../../src/core/geometry/shape.ts";
import type { Trace, TraceMove } from "../../../src/core/program/read/trace.ts";
import type { ProofInput, ProofProgram, TargetSheet } from "../../../src/core/proof/proof.ts";

/** Places along a way are this far apart, and so are those along a contour, mm. */
const STEP = 0.04;
const ALONG_CONTOUR = 0.3;
/** Above what proof allows, 0.01 mm, by the chords of all this. */
const CUT_INTO = 0.012;
const LEFT = 0.013;
const SURELY_REACHED = 0.008;

type XY = readonly [number, number];

function polygonOf(contour: Contour): XY[] {
  const out: XY[] = [];
  for (const s of contour.segments) {
    if (s.kind === "line") {
      out.push([s.from.x, s.from.y]);
      continue;
    }
    // Chords within half a micrometre.
    const n = Math.max(2, Math.ceil(Math.abs(s.sweep) / (2 * Math.sqrt(1e-3 / s.radius))));
    const a = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
    for (let i = 0; i < n; i++) {
      const angle = a + (s.sweep * i) / n;
      out.push([s.centre.x + s.radius * Math.cos(angle), s.centre.y + s.radius * Math.sin(angle)]);
    }
  }
  return out;
}

function inPolygon(polygon: readonly XY[], x: number, y: number): boolean {
  let inside = false;
  polygon.forEach(([ax, ay], i) => {
    const [bx, by] = polygon[(i + 1) % polygon.length] as XY;
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
  });
  return inside;
}

function toSegment(x: number, y: number, [ax, ay]: XY, [bx, by]: XY): number {
  const vx = bx - ax;
  const vy = by - ay;
  const t = ((x - ax) * vx + (y - ay) * vy) / (vx * vx + vy * vy || 1);
  const u = Math.max(0, Math.min(1, t));
  return Math.hypot(x - ax - u * vx, y - ay - u * vy);
}

function toPolygon(polygon: readonly XY[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  polygon.forEach((a, i) => {
    least = Math.min(least, toSegment(x, y, a, polygon[(i + 1) % polygon.length] as XY));
  });
  return least;
}

interface Shape {
  readonly outer: readonly XY[];
  readonly inner: readonly (readonly XY[])[];
  readonly box: Box;
}

type Box = readonly [number, number, number, number];

function shapesOf(sheet: TargetSheet): Shape[] {
  return sheet.plates.map((p) => {
    const outer = polygonOf(p.outer);
    const inner = p.features.map((f) => polygonOf(f.contour));
    return { outer, inner, box: boxOf(outer, 5) };
  });
}

/** How deep into a plate a place lies; negative outside. */
function depthIn(shape: Shape, x: number, y: number): number {
  if (!inBox([x, y], shape.box)) return Number.NEGATIVE_INFINITY;
  const rings = [shape.outer, ...shape.inner];
  const least = Math.min(...rings.map((r) => toPolygon(r, x, y)));
  const solid = inPolygon(shape.outer, x, y) && !shape.inner.some((r) => inPolygon(r, x, y));
  return solid ? least : -least;
}

export interface Place {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** Places along a move, program zero taken off. */
export function placesOf(m: TraceMove, zero: TargetSheet["programZero"]): Place[] {
  const { arc } = m;
  const flat =
    arc === undefined ? Math.hypot(m.x1 - m.x0, m.y1 - m.y0) : arc.radius * Math.abs(arc.sweep);
  const n = Math.max(1, Math.ceil(Math.max(flat, Math.abs(m.z1 - m.z0)) / STEP));
  return Array.from({ length: n + 1 }, (_, i) => {
    const t = i / n;
    const z = m.z0 + (m.z1 - m.z0) * t + zero.z;
    if (arc === undefined) {
      return { x: m.x0 + (m.x1 - m.x0) * t + zero.x, y: m.y0 + (m.y1 - m.y0) * t + zero.y, z };
    }
    const a = Math.atan2(m.y0 - arc.cy, m.x0 - arc.cx) + arc.sweep * t;
    return {
      x: arc.cx + arc.radius * Math.cos(a) + zero.x,
      y: arc.cy + arc.radius * Math.sin(a) + zero.y,
      z,
    };
  });
}

export const movesOf = (trace: Trace): TraceMove[] =>
  trace.steps.filter((s): s is TraceMove => s.kind === "rapid" || s.kind === "feed");

function same(a: TraceMove | undefined, b: TraceMove | undefined): boolean {
  if (a === undefined || b === undefined) return false;
  const key = ({ x0, y0, z0, x1, y1, z1, kind, arc }: TraceMove): string =>
    JSON.stringify([x0, y0, z0, x1, y1, z1, kind, arc]);
  return key(a) === key(b);
}

interface Difference {
  /** Moves that are gone, that are new, and that are the same. */
  readonly gone: readonly TraceMove[];
  readonly fresh: readonly TraceMove[];
  readonly kept: readonly TraceMove[];
}

function difference(before: readonly TraceMove[], after: readonly TraceMove[]): Difference {
  const most = Math.min(before.length, after.length);
  let head = 0;
  while (head < most && same(before[head], after[head])) head++;
  let tail = 0;
  while (
    tail < most - head &&
    same(before[before.length - 1 - tail], after[after.length - 1 - tail])
  ) {
    tail++;
  }
  return {
    gone: before.slice(head, before.length - tail),
    fresh: after.slice(head, after.length - tail),
    kept: [...after.slice(0, head), ...after.slice(after.length - tail)],
  };
}

export interface Oracle {
  /** Why a program in place of its first form spoils something; undefined where the oracle is not sure of it. */
  readonly harm: (index: number, after: Trace) => string | undefined;
}

export function oracleFor(input: ProofInput): Oracle {
  const sheet = input.sheets[0] as TargetSheet;
  const shapes = shapesOf(sheet);
  const before = input.programs.map((p) => movesOf(p.trace));
  return {
    harm: (index, after) => {
      const program = input.programs[index] as ProofProgram;
      const change = difference(before[index] as TraceMove[], movesOf(after));
      const radius = program.cutter.effectiveDiameter / 2;
      return (
        unsafe(input, sheet, change.fresh) ??
        intoPlate(sheet, shapes, radius, change.fresh) ??
        intoTab(sheet, radius, change.fresh) ??
        leftOver(input, sheet, shapes, { index, change, before })
      );
    },
  };
}

function unsafe(
  input: ProofInput,
  sheet: TargetSheet,
  moves: readonly TraceMove[],
): string | undefined {
  const { clearance, throughDepth } = input.limits;
  const zero = sheet.programZero.z;
  for (const m of moves) {
    const low = Math.min(m.z0, m.z1) + zero;
    const aside = Math.hypot(m.x1 - m.x0, m.y1 - m.y0) > 1e-6;
    if (m.kind === "rapid" && aside && low < clearance - 0.01) return "rapid too low";
    if (m.kind === "feed" && m.rpm === 0) return "spindle stands";
    if (low < -sheet.thickness - throughDepth - 0.02) return "into the table";
  }
  return undefined;
}

function intoPlate(
  sheet: TargetSheet,
  shapes: readonly Shape[],
  radius: number,
  moves: readonly TraceMove[],
): string | undefined {
  for (const m of moves) {
    for (const { x, y, z } of placesOf(m, sheet.programZero)) {
      if (z > -0.01) continue;
      if (shapes.some((s) => depthIn(s, x, y) + radius > CUT_INTO)) return "into a plate";
    }
  }
  return undefined;
}

/** A tab's foot, half a kerf out, is passed too low. */
function intoTab(
  sheet: TargetSheet,
  radius: number,
  moves: readonly TraceMove[],
): string | undefined {
  for (const tab of sheet.tabs) {
    const top = -sheet.thickness + tab.height;
    const near = moves.some((m) =>
      placesOf(m, sheet.programZero).some(
        ({ x, y, z }) => z < top - 0.05 && Math.hypot(x - tab.at.x, y - tab.at.y) < radius + 0.2,
      ),
    );
    if (near) return "through a tab";
  }
  return undefined;
}

interface Changed {
  readonly index: number;
  readonly change: Difference;
  readonly before: readonly (readonly TraceMove[])[];
}

/** Along the contours near what is gone: was a place reached at the underside, and is it still? */
function leftOver(
  input: ProofInput,
  sheet: TargetSheet,
  shapes: readonly Shape[],
  { index, change, before }: Changed,
): string | undefined {
  const through = (m: TraceMove, zero: TargetSheet["programZero"]): Place[] =>
    placesOf(m, zero).filter((p) => p.z <= -sheet.thickness);
  const zero = sheet.programZero;
  const radiusOf = (i: number): number =>
    (input.programs[i] as ProofProgram).cutter.effectiveDiameter / 2;
  const gone = change.gone.flatMap((m) => through(m, zero));
  if (gone.length === 0) return undefined;
  const radius = radiusOf(index);
  const box = boxOf(
    gone.map(({ x, y }) => [x, y]),
    radius + 0.1,
  );
  const others = before.flatMap((moves, i) =>
    (i === index ? [...change.kept, ...change.fresh] : moves)
      .filter((m) => touches(m, zero, box, 2 * radiusOf(i)))
      .flatMap((m) => through(m, zero).map((p) => ({ ...p, radius: radiusOf(i) }))),
  );
  for (const q of contourPlaces(shapes)) {
    if (!inBox([q.x, q.y], box)) continue;
    if (!gone.some((p) => Math.hypot(p.x - q.x, p.y - q.y) < radius + SURELY_REACHED)) continue;
    const still = others.some((p) => Math.hypot(p.x - q.x, p.y - q.y) < p.radius + LEFT);
    if (!still) return "left standing";
  }
  return undefined;
}

function boxOf(places: readonly XY[], by: number): Box {
  let [x0, y0, x1, y1] = [1e9, 1e9, -1e9, -1e9];
  for (const [x, y] of places) {
    x0 = Math.min(x0, x - by);
    y0 = Math.min(y0, y - by);
    x1 = Math.max(x1, x + by);
    y1 = Math.max(y1, y + by);
  }
  return [x0, y0, x1, y1];
}

const inBox = ([x, y]: XY, [x0, y0, x1, y1]: Box): boolean =>
  x >= x0 && x <= x1 && y >= y0 && y <= y1;

/** May the move pass near the box? Of an arc its whole circle may. */
function touches(m: TraceMove, zero: { x: number; y: number }, box: Box, by: number): boolean {
  const room = by + (m.arc === undefined ? 0 : 2 * m.arc.radius);
  const low = { x: Math.min(m.x0, m.x1) + zero.x - room, y: Math.min(m.y0, m.y1) + zero.y - room };
  const high = { x: Math.max(m.x0, m.x1) + zero.x + room, y: Math.max(m.y0, m.y1) + zero.y + room };
  return low.x <= box[2] && high.x >= box[0] && low.y <= box[3] && high.y >= box[1];
}

function contourPlaces(shapes: readonly Shape[]): Point[] {
  const out: Point[] = [];
  for (const ring of shapes.flatMap((s) => [s.outer, ...s.inner])) {
    ring.forEach(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length] as XY;
      const n = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / ALONG_CONTOUR));
      for (let k = 0; k < n; k++) {
        out.push({ x: ax + ((bx - ax) * k) / n, y: ay + ((by - ay) * k) / n });
      }
    });
  }
  return out;
}
