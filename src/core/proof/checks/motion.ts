/**
 * Checks of single moves: clearance, spindle and feed, depth, travel, rates, keep-outs, the sheet's edge.
 */
import { hypot, power } from "../../geometry/trig.ts";
import type { MovesProgram, ProofSetting, TargetSheet } from "../proof.ts";
import {
  type Curve,
  curveOf,
  distanceToPoint,
  halfAcross,
  lineCurve,
  middleX,
  middleY,
} from "../removal/curve.ts";
import { type Gap, gapBetween } from "../removal/gap.ts";
import { insideRing } from "../removal/inside.ts";
import { below, lowest, type Stroke } from "../removal/stroke.ts";
import { isWorse, leastOf, mostOf, offer, type Spot, type Worst } from "./worst.ts";

type SpotOf = (s: Stroke, x?: number, y?: number) => Spot;

/** Rounding of a program's heights, mm. */
const HEIGHT_ROOM = 0.001;
/** Through depth: rounding, and a tenth of the usual allowance would already mark the board. */
const DEPTH_ROOM = 0.01;
/** Feeds are written as whole numbers, and a machine's limit is one. */
const RATE_ROOM = 0.5;
/** Half the nut of the collet size that small routers have: 19 mm (ER 11 nut, DIN ISO 15488; from memory). */
const COLLET_RADIUS = 9.5;

export function checkMotion(
  input: ProofSetting,
  program: MovesProgram,
  sheet: TargetSheet,
  strokes: readonly Stroke[],
): Worst[] {
  const { machine, limits } = input;
  const { cutter } = program;
  const spot: SpotOf = (s, x = s.curve.x1, y = s.curve.y1) => ({
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
  let lowRapid: Stroke | undefined;
  let deepest: Stroke | undefined;
  for (const s of strokes) {
    if (deepest === undefined || lowest(s) < lowest(deepest)) deepest = s;
    if (lost(s, limits.clearance)) offerFor(unknown, ++counts.unknown, s, spot);
    if (s.rapid) {
      const level = s.curve.length > 0;
      if (level && (lowRapid === undefined || heightOf(s) < heightOf(lowRapid))) lowRapid = s;
      continue;
    }
    if (s.rpm === 0) offerFor(still, ++counts.still, s, spot);
    if (s.feed === 0) offerFor(noFeed, ++counts.noFeed, s, spot);
  }
  const collet = leastOf("collet-height", "mm", 0);
  if (lowRapid !== undefined) offerFor(clearance, heightOf(lowRapid), lowRapid, spot);
  if (deepest !== undefined) {
    offerFor(depth, -lowest(deepest) - sheet.thickness, deepest, spot);
    offerFor(flute, -lowest(deepest), deepest, spot);
    offerFor(collet, lowest(deepest) + cutter.overhang, deepest, spot);
  }
  const view: Sheeted = { input, program, sheet, spot };
  return [
    clearance,
    unknown,
    still,
    noFeed,
    depth,
    flute,
    ...checkMachine(machine, strokes, spot),
    checkEdge(view, strokes),
    checkKeepOuts(view, strokes),
    collet,
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

interface Axis {
  readonly travel: Worst;
  readonly rate: Worst;
  /** Its bit in a stroke's unknown axes. */
  readonly bit: number;
  least: number;
  most: number;
}

function checkMachine(
  machine: ProofSetting["machine"],
  strokes: readonly Stroke[],
  spot: SpotOf,
): Worst[] {
  const axisOf = (name: string, i: number): Axis => ({
    travel: mostOf(`travel-${name}`, "mm", machine.travel[i] as number),
    rate: mostOf(`rate-${name}`, "mm/min", (machine.maxFeed[i] as number) + RATE_ROOM),
    bit: 1 << i,
    least: Number.POSITIVE_INFINITY,
    most: Number.NEGATIVE_INFINITY,
  });
  const [x, y, z] = [axisOf("x", 0), axisOf("y", 1), axisOf("z", 2)];
  const grain = power(10, -machine.decimals);
  for (const s of strokes) {
    const { curve, z0, z1 } = s;
    reach(x, s, curve.left, curve.right, spot);
    reach(y, s, curve.low, curve.high, spot);
    reach(z, s, Math.min(z0, z1), Math.max(z0, z1), spot);
    if (s.rapid) continue;
    const { isArc, length } = curve;
    const fall = Math.abs(z1 - z0);
    const path = Math.sqrt(length * length + fall * fall);
    const flat = path === 0 ? 0 : (s.feed * length) / path;
    // On an arc that passes an axis's direction it is the whole feed in plane.
    const whole = isArc || length === 0;
    offerFor(x.rate, whole ? flat : (flat * Math.abs(curve.x1 - curve.x0)) / length, s, spot);
    offerFor(y.rate, whole ? flat : (flat * Math.abs(curve.y1 - curve.y0)) / length, s, spot);
    // Both heights are rounded: it may have been asked to fall a digit less.
    offerFor(z.rate, path === 0 ? 0 : (s.feed * Math.max(0, fall - grain)) / path, s, spot);
  }
  return [x, y, z].flatMap(({ travel, rate }) => [travel, rate]);
}

function reach(axis: Axis, s: Stroke, from: number, to: number, spot: SpotOf): void {
  if (from >= axis.least && to <= axis.most) return;
  if ((s.unknown & axis.bit) !== 0 && !s.rapid) return;
  axis.least = Math.min(axis.least, from);
  axis.most = Math.max(axis.most, to);
  offer(axis.travel, axis.most - axis.least, () => spot(s));
}

function offerFor(worst: Worst, value: number, s: Stroke, spot: SpotOf): void {
  if (isWorse(worst, value)) offer(worst, value, () => spot(s));
}

interface Sheeted {
  readonly input: ProofSetting;
  readonly program: MovesProgram;
  readonly sheet: TargetSheet;
  readonly spot: SpotOf;
}

/** How near to the sheet's border the centre of a cut comes; negative outside. */
function checkEdge({ input, program, sheet, spot }: Sheeted, strokes: readonly Stroke[]): Worst {
  const { finishStock } = input.limits;
  const radius = program.cutter.effectiveDiameter / 2;
  // A plate keeps the margin; the cutter's centre runs a radius and at most two stocks outside it.
  const edge = leastOf("sheet-edge", "mm", sheet.margin - radius - 2 * finishStock - 0.05);
  const border = sheet.outline.segments.map(curveOf);
  const seen = new Set<Curve>();
  for (const s of strokes) {
    const curve = below(s, -HEIGHT_ROOM)?.curve;
    // Pass after pass on one way comes as near as the first.
    if (curve === undefined || seen.has(curve)) continue;
    seen.add(curve);
    const outside = !insideRing(border, curve.x1, curve.y1);
    for (const b of border) {
      const least = distanceToPoint(b, middleX(curve), middleY(curve)) - halfAcross(curve);
      if (!outside && edge.spot !== undefined && least >= edge.value) continue;
      offerEdge(edge, s, gapBetween(curve, b), outside, spot);
    }
  }
  return edge;
}

function offerEdge(edge: Worst, s: Stroke, gap: Gap, outside: boolean, spot: SpotOf): void {
  offer(edge, outside ? -gap.distance : gap.distance, () => spot(s, gap.ax, gap.ay));
}

/** Below clearance the cutter keeps its radius from a keep-out, and where the collet is down, the collet's. */
function checkKeepOuts(view: Sheeted, strokes: readonly Stroke[]): Worst {
  const { input, program, sheet, spot } = view;
  const { clearance } = input.limits;
  const radius = program.cutter.effectiveDiameter / 2;
  const clamp = leastOf("keep-out", "mm", 0);
  if (sheet.keepOuts.length === 0) return clamp;
  const seen = new Map<Curve, number>();
  for (const s of strokes) {
    const curve = below(s, clearance - HEIGHT_ROOM)?.curve;
    if (curve === undefined) continue;
    const nut = lowest(s) + program.cutter.overhang < clearance ? COLLET_RADIUS : radius;
    const room = Math.max(nut, radius);
    // Pass after pass on one way comes as near as the first, until the collet is down.
    if (room <= (seen.get(curve) ?? 0)) continue;
    seen.set(curve, room);
    for (const k of sheet.keepOuts) {
      const least = middleDistance(k, middleX(curve), middleY(curve)) - halfAcross(curve) - room;
      if (clamp.spot !== undefined && least >= clamp.value) continue;
      offerFor(clamp, keepDistance(curve, k) - room, s, spot);
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
