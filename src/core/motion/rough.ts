/**
 * A rough program for a plate and a cutter, for comparing cutters before anything is planned: the passes
 * that a toolpath would make, without tabs, lead-ins or a good order. Plate frame, Z 0 at the sheet's top.
 *
 * What it leaves out makes it short by some per cent; it is the same for all cutters.
 */
import type { Cutter, Rates } from "../cutting/cutter.ts";
import { boreFeed } from "../cutting/formulas.ts";
import { bounds, oriented } from "../geometry/contour.ts";
import { offsetRings } from "../geometry/offset.ts";
import { areaOf } from "../geometry/region.ts";
import { lengthOf } from "../geometry/segment.ts";
import type { Contour, Point } from "../geometry/shape.ts";
import { BARELY } from "../geometry/tolerance.ts";
import { radians, TAU, tan } from "../geometry/trig.ts";
import type { Feature, Plate } from "../plate/plate.ts";
import type { TraceMove, TraceStep } from "../program/read/trace.ts";

export interface RoughOptions {
  readonly thickness: number;
  readonly throughDepth: number;
  readonly finishStock: number;
  readonly rampDeg: number;
  readonly clearance: number;
}

export interface Rough {
  readonly steps: readonly TraceStep[];
  /** Features that this cutter cannot make; -1 is the outline. */
  readonly cannot: readonly number[];
  /** Walls, each once, mm. */
  readonly edge: number;
  /** Corners and necks that stay, mm². */
  readonly left: number;
}

/** Down at rapid to here, mm above the sheet. */
const ABOVE = 0.5;

interface Pen {
  readonly steps: TraceStep[];
  readonly cutter: Cutter;
  readonly rates: Rates;
  readonly options: RoughOptions;
  x: number;
  y: number;
  z: number;
  edge: number;
  left: number;
}

export function roughProgram(
  plate: Plate,
  cutter: Cutter,
  rates: Rates,
  options: RoughOptions,
): Rough {
  const pen: Pen = {
    steps: [],
    cutter,
    rates,
    options,
    x: 0,
    y: 0,
    z: options.clearance,
    edge: 0,
    left: 0,
  };
  const cannot: number[] = [];
  for (const feature of plate.features) if (!cutFeature(pen, feature)) cannot.push(feature.id);
  if (cutter.kind === "drill") cannot.push(-1);
  else {
    const rings = offsetRings([plate.outer], cutter.diameter / 2);
    for (const ring of rings) cutRing(pen, ring, options.thickness + options.throughDepth, false);
  }
  return { steps: pen.steps, cannot, edge: pen.edge, left: pen.left };
}

function cutFeature(pen: Pen, feature: Feature): boolean {
  const { cutter, options } = pen;
  const depth = feature.depth ?? options.thickness + options.throughDepth;
  const d = cutter.diameter;
  if (feature.kind === "hole") return cutHole(pen, feature, depth);
  if (cutter.kind === "drill") return false;
  if (feature.kind === "slot" && Math.abs((feature.width ?? 0) - d) <= BARELY) {
    cutLine(pen, feature, depth);
    return true;
  }
  // As a region of its own, counter-clockwise, shrunk by the cutter and grown back.
  const rings = offsetRings([oriented(feature.contour, true)], -d / 2);
  if (rings.length === 0) return false;
  pen.left += Math.max(0, feature.area - areaOf(offsetRings(rings, d / 2)));
  for (const ring of rings) cutRing(pen, ring, depth, true);
  clearSlug(pen, feature, depth);
  return true;
}

function cutHole(pen: Pen, feature: Feature, depth: number): boolean {
  const { cutter, rates, options } = pen;
  const diameter = feature.diameter ?? 0;
  const gap = diameter - cutter.diameter;
  if (cutter.kind === "drill") {
    if (Math.abs(gap) > BARELY) return false;
    above(pen, feature.at);
    down(pen, -depth, rates.plungeFeed);
    up(pen);
    return true;
  }
  if (gap <= BARELY) return false;
  const radius = gap / 2;
  const centre = feature.at;
  above(pen, { x: centre.x + radius, y: centre.y });
  const factor = boreFeed(1, diameter / 2, cutter.diameter / 2);
  const pitch = Math.min(rates.passDepth, TAU * radius * tan(radians(options.rampDeg)));
  const arc = { cx: centre.x, cy: centre.y, radius };
  const here = { x: pen.x, y: pen.y, z: -depth };
  const turns = { ...arc, sweep: (TAU * depth) / pitch };
  go(pen, { ...here, feed: rates.rampFeed * factor, arc: turns });
  go(pen, { ...here, feed: rates.feed * factor, arc: { ...arc, sweep: TAU } });
  up(pen);
  pen.edge += TAU * radius;
  return true;
}

/** A slot of the cutter's own width: there and back, deeper each time. */
function cutLine(pen: Pen, feature: Feature, depth: number): void {
  const box = bounds(feature.contour);
  const d = pen.cutter.diameter;
  const half = Math.max(0, (feature.length ?? box.max.x - box.min.x) - d) / 2;
  above(pen, { x: feature.at.x - half, y: feature.at.y });
  const passes = passesFor(pen, depth);
  for (let k = 1; k <= passes; k++) {
    const z = (-depth * k) / passes;
    rampTime(pen, depth / passes);
    go(pen, { x: feature.at.x + half, y: feature.at.y, z, feed: pen.rates.rampFeed });
    go(pen, { x: feature.at.x - half, y: feature.at.y, z, feed: pen.rates.feed });
  }
  up(pen);
  pen.edge += 2 * half;
}

function passesFor(pen: Pen, depth: number): number {
  return Math.max(1, Math.ceil(depth / pen.rates.passDepth - 1e-9));
}

/** `within`: the wall is outside the path, round a window. */
function cutRing(pen: Pen, ring: Contour, depth: number, within: boolean): void {
  const first = ring.segments[0];
  if (first === undefined) return;
  above(pen, first.from);
  const passes = passesFor(pen, depth);
  for (let k = 1; k <= passes; k++) {
    rampTime(pen, depth / passes);
    round(pen, ring, { z: (-depth * k) / passes, feed: pen.rates.feed, within });
  }
  if (pen.options.finishStock > 0)
    round(pen, ring, { z: -depth, feed: pen.rates.finishFeed, within });
  up(pen);
  pen.edge += ring.segments.reduce((sum, s) => sum + lengthOf(s), 0);
}

interface Lap {
  readonly z: number;
  readonly feed: number;
  readonly within: boolean;
}

function round(pen: Pen, ring: Contour, { z, feed, within }: Lap): void {
  const r = pen.cutter.diameter / 2;
  for (const s of ring.segments) {
    if (s.kind === "line") go(pen, { ...s.to, z, feed });
    else {
      // Where the wall is further out than the centre it runs faster.
      const inside = s.sweep > 0 === within ? boreFeed(feed, s.radius + r, r) : feed;
      const arc = { cx: s.centre.x, cy: s.centre.y, radius: s.radius, sweep: s.sweep };
      go(pen, { ...s.to, z, feed: inside, arc });
    }
  }
}

/** Windows less than three cutters wide are cleared whole, in rows half a cutter apart. */
function clearSlug(pen: Pen, feature: Feature, depth: number): void {
  const box = bounds(feature.contour);
  const side = Math.min(box.max.x - box.min.x, box.max.y - box.min.y);
  const d = pen.cutter.diameter;
  if (feature.kind !== "recess" && side >= 3 * d) return;
  const inner = Math.max(
    0,
    feature.area - 1.5 * d * Math.max(box.max.x - box.min.x, box.max.y - box.min.y),
  );
  const way = (inner / (d / 2)) * passesFor(pen, depth);
  wait(pen, way / (pen.rates.feed / 60));
}

/** The longer way down a slope, at the ramp's feed. */
function rampTime(pen: Pen, depth: number): void {
  const way = depth / tan(radians(pen.options.rampDeg));
  wait(pen, way / (pen.rates.rampFeed / 60) - way / (pen.rates.feed / 60));
}

/** Time that has no moves here; it also stands for the stops that go with it. */
function wait(pen: Pen, seconds: number): void {
  if (seconds > 0) pen.steps.push({ kind: "dwell", line: pen.steps.length + 1, seconds });
}

function above(pen: Pen, p: Point): void {
  go(pen, { ...p, z: pen.options.clearance });
  go(pen, { ...p, z: ABOVE });
  down(pen, 0, pen.rates.plungeFeed);
}

function down(pen: Pen, z: number, feed: number): void {
  go(pen, { x: pen.x, y: pen.y, z, feed });
}

function up(pen: Pen): void {
  go(pen, { x: pen.x, y: pen.y, z: pen.options.clearance });
}

interface Aim {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Absent on rapids. */
  readonly feed?: number;
  readonly arc?: TraceMove["arc"];
}

function go(pen: Pen, aim: Aim): void {
  pen.steps.push({
    kind: aim.feed === undefined ? "rapid" : "feed",
    line: pen.steps.length + 1,
    x0: pen.x,
    y0: pen.y,
    z0: pen.z,
    x1: aim.x,
    y1: aim.y,
    z1: aim.z,
    arc: aim.arc,
    feed: aim.feed ?? 0,
    rpm: pen.rates.rpm,
    startKnown: true,
  });
  pen.x = aim.x;
  pen.y = aim.y;
  pen.z = aim.z;
}
