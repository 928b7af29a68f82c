/**
 * Checks of single moves: clearance, spindle and feed, depth, travel, rates, keep-outs, the sheet's edge.
 */
import { hypot } from "../../geometry/trig.ts";
import type { ProofInput, ProofProgram, TargetSheet } from "../proof.ts";
import {
  boxAround,
  type Curve,
  curveOf,
  distanceToPoint,
  lineCurve,
  xAt,
  yAt,
} from "../removal/curve.ts";
import { gapBetween } from "../removal/gap.ts";
import { insideRing } from "../removal/inside.ts";
import { below, lowest, type Stroke } from "../removal/stroke.ts";
import { leastOf, mostOf, offer, type Spot, type Worst } from "./worst.ts";

/** Rounding of a program's heights, mm. */
const HEIGHT_ROOM = 0.001;
/** Through depth: rounding, and a tenth of the usual allowance would already mark the board. */
const DEPTH_ROOM = 0.01;
/** Feeds are written as whole numbers, and a machine's limit is one. */
const RATE_ROOM = 0.5;
/** Half the nut of the collet size that small routers have: 19 mm (ER 11 nut, DIN ISO 15488; from memory). */
const COLLET_RADIUS = 9.5;

export function checkMotion(
  input: ProofInput,
  program: ProofProgram,
  sheet: TargetSheet,
  strokes: readonly Stroke[],
): Worst[] {
  const { machine, limits } = input;
  const { cutter } = program;
  const spot = (s: Stroke, x = s.curve.x1, y = s.curve.y1): Spot => ({
    at: [x, y],
    sheet: sheet.name,
    program: { file: program.file, line: s.line },
  });
  // Where they may be lower than clearance is judged from the order of cuts (low-rapid.ts).
  const clearance = leastOf("rapid-below-clearance", "mm", limits.hop - HEIGHT_ROOM);
  const unknown = mostOf("place-unknown", "moves", 0);
  const still = mostOf("feed-without-spindle", "moves", 0);
  const noFeed = mostOf("feed-without-feed", "moves", 0);
  const depth = mostOf("through-depth", "mm", limits.throughDepth + DEPTH_ROOM);
  const flute = mostOf("deeper-than-flutes", "mm", Math.min(cutter.fluteLength, cutter.overhang));
  for (const w of [unknown, still, noFeed]) offer(w, 0, () => ({}));
  const counts = { unknown: 0, still: 0, noFeed: 0 };
  for (const s of strokes) {
    const level = s.curve.length > 0;
    if (s.rapid && level) offer(clearance, heightOf(s), () => spot(s));
    if (lost(s, limits.clearance)) offer(unknown, ++counts.unknown, () => spot(s));
    if (!s.rapid && s.rpm === 0) offer(still, ++counts.still, () => spot(s));
    if (!s.rapid && s.feed === 0) offer(noFeed, ++counts.noFeed, () => spot(s));
    offer(depth, -lowest(s) - sheet.thickness, () => spot(s));
    offer(flute, -lowest(s), () => spot(s));
  }
  return [
    clearance,
    unknown,
    still,
    noFeed,
    depth,
    flute,
    ...checkMachine(machine, strokes, spot),
    ...checkSheet({ input, program, sheet, spot }, strokes),
  ];
}

/** Height of an X/Y rapid over the sheet; one whose Z is not known has none. */
function heightOf(s: Stroke): number {
  return s.unknown & 4 ? Math.min(0, lowest(s)) : lowest(s);
}

/** Starts from an unknown place in a way that matters: only the first rise and the first X/Y above it may. */
function lost(s: Stroke, clearance: number): boolean {
  if (s.unknown === 0) return false;
  if (!s.rapid) return true;
  return Math.min(s.z0, s.z1) < clearance - HEIGHT_ROOM;
}

function checkMachine(
  machine: ProofInput["machine"],
  strokes: readonly Stroke[],
  spot: (s: Stroke) => Spot,
): Worst[] {
  const out: Worst[] = [];
  for (const [axis, name] of ["x", "y", "z"].entries()) {
    const travel = mostOf(`travel-${name}`, "mm", machine.travel[axis] as number);
    const rate = mostOf(`rate-${name}`, "mm/min", (machine.maxFeed[axis] as number) + RATE_ROOM);
    let least = Number.POSITIVE_INFINITY;
    let most = Number.NEGATIVE_INFINITY;
    for (const s of strokes) {
      const known = (s.unknown & (1 << axis)) === 0 || s.rapid;
      const [from, to] =
        axis === 2 ? [Math.min(s.z0, s.z1), Math.max(s.z0, s.z1)] : extent(s.curve, axis);
      if (known) {
        least = Math.min(least, from);
        most = Math.max(most, to);
        offer(travel, most - least, () => spot(s));
      }
      if (!s.rapid) offer(rate, rateOf(s, axis), () => spot(s));
    }
    out.push(travel, rate);
  }
  return out;
}

function extent(c: Curve, axis: number): [number, number] {
  const box = boxAround(c, 0);
  return axis === 0 ? [box[0], box[2]] : [box[1], box[3]];
}

/** Fastest that one axis goes, mm/min. On an arc that passes the axis's direction it is the whole feed in plane. */
function rateOf(s: Stroke, axis: number): number {
  const { curve } = s;
  const fall = Math.abs(s.z1 - s.z0);
  const path = Math.sqrt(curve.length * curve.length + fall * fall);
  if (path === 0) return 0;
  if (axis === 2) return (s.feed * fall) / path;
  const flat = (s.feed * curve.length) / path;
  if (curve.isArc) return flat;
  if (curve.length === 0) return 0;
  const along = axis === 0 ? curve.x1 - curve.x0 : curve.y1 - curve.y0;
  return (flat * Math.abs(along)) / curve.length;
}

interface Sheeted {
  readonly input: ProofInput;
  readonly program: ProofProgram;
  readonly sheet: TargetSheet;
  readonly spot: (s: Stroke, x?: number, y?: number) => Spot;
}

function checkSheet(view: Sheeted, strokes: readonly Stroke[]): Worst[] {
  const collet = leastOf("collet-height", "mm", 0);
  for (const s of strokes) {
    offer(collet, lowest(s) + view.program.cutter.overhang, () => view.spot(s));
  }
  return [checkEdge(view, strokes), checkKeepOuts(view, strokes), collet];
}

/** How near to the sheet's border the centre of a cut comes; negative outside. */
function checkEdge({ input, program, sheet, spot }: Sheeted, strokes: readonly Stroke[]): Worst {
  const { finishStock } = input.limits;
  const radius = program.cutter.effectiveDiameter / 2;
  // A plate keeps the margin; the cutter's centre runs a radius and at most two stocks outside it.
  const edge = leastOf("sheet-edge", "mm", sheet.margin - radius - 2 * finishStock - 0.05);
  const border = sheet.outline.segments.map(curveOf);
  for (const s of strokes) {
    const inside = below(s, -HEIGHT_ROOM);
    if (inside === undefined) continue;
    const { curve } = inside;
    const outside = !insideRing(border, curve.x1, curve.y1);
    for (const b of border) {
      // No point of the way is further from its middle than half its length.
      const least = distanceToPoint(b, xAt(curve, 0.5), yAt(curve, 0.5)) - curve.length / 2;
      if (!outside && edge.spot !== undefined && least >= edge.value) continue;
      const gap = gapBetween(curve, b);
      offer(edge, outside ? -gap.distance : gap.distance, () => spot(s, gap.ax, gap.ay));
    }
  }
  return edge;
}

/** Below clearance the cutter keeps its radius from a keep-out, and where the collet is down, the collet's. */
function checkKeepOuts(view: Sheeted, strokes: readonly Stroke[]): Worst {
  const { input, program, sheet, spot } = view;
  const { clearance } = input.limits;
  const radius = program.cutter.effectiveDiameter / 2;
  const clamp = leastOf("keep-out", "mm", 0);
  if (sheet.keepOuts.length === 0) return clamp;
  for (const s of strokes) {
    const part = below(s, clearance - HEIGHT_ROOM);
    if (part === undefined) continue;
    const nut = lowest(s) + program.cutter.overhang < clearance ? COLLET_RADIUS : radius;
    const { curve } = part;
    for (const k of sheet.keepOuts) {
      const reach = Math.max(nut, radius);
      const least = middleDistance(k, xAt(curve, 0.5), yAt(curve, 0.5)) - curve.length / 2 - reach;
      if (clamp.spot !== undefined && least >= clamp.value) continue;
      offer(clamp, keepDistance(curve, k) - reach, () => spot(s));
    }
  }
  return clamp;
}

/** From a point to a keep-out, or less. */
function middleDistance(k: KeepOut, x: number, y: number): number {
  if (k.kind === "disc") return hypot(x - k.at.x, y - k.at.y) - k.diameter / 2;
  const { min, max } = k.box;
  return hypot(Math.max(min.x - x, 0, x - max.x), Math.max(min.y - y, 0, y - max.y));
}

type KeepOut = TargetSheet["keepOuts"][number];

/** From a way to a keep-out; negative or 0 inside. */
function keepDistance(c: Curve, k: KeepOut): number {
  if (k.kind === "disc") return distanceToPoint(c, k.at.x, k.at.y) - k.diameter / 2;
  const { min, max } = k.box;
  if (c.x0 > min.x && c.x0 < max.x && c.y0 > min.y && c.y0 < max.y) return 0;
  const sides = [
    lineCurve(min.x, min.y, max.x, min.y),
    lineCurve(max.x, min.y, max.x, max.y),
    lineCurve(max.x, max.y, min.x, max.y),
    lineCurve(min.x, max.y, min.x, min.y),
  ];
  return Math.min(...sides.map((side) => gapBetween(c, side).distance));
}
