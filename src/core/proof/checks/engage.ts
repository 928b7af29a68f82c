/**
 * What the cutter meets, step by step, in the stock as it is at that moment: depth of cut, slope of
 * entries, and whether a step cuts at all.
 *
 * Words: a *step* is a piece of a stroke no longer than the cutter is wide, and of an arc no more than a
 * quarter of a turn, since in a small bore the cutter passes over its own way. Its *width of cut* is the
 * thickness of the band that is new to the cutter. A *light* cut is one whose width is no
 * more than the finishing stock and a little, or a tenth of the cutter.
 *
 * Depth of cut: deeper than a pass only a light cut may go. What is wider is added up along the way, what
 * is less is taken off again, and a step aside by a light cut at full width is free. Entry: a step that
 * falls more steeply than the ramp angle must find air under the whole cutter but for a light crescent.
 * Bound: that of the field; the free step aside is a light cut's area, 2 R × light.
 */
import { atan2, sin } from "../../geometry/trig.ts";
import { type Curve, partOf } from "../removal/curve.ts";
import { type Field, GENTLE, type Met, meets, mill } from "../removal/field.ts";
import { portion, type Stroke } from "../removal/stroke.ts";

/** Longest turn of an arc that is measured as one step, rad. */
const TURN: number = Math.PI / 2;

/** A stroke of a hundred metres has lost its way, and may not cost more for being longer still. */
const MOST_STEPS = 2e4;

/** Curves that have been cut into as many pieces as are there, so that passes on one way share them. */
export type Cuttings = Map<Curve, readonly Curve[]>;

/** The pieces in which a stroke is measured and taken out of the stock. */
export function steps(s: Stroke, known: Cuttings = new Map()): readonly Stroke[] {
  const { isArc, sweep, length } = s.curve;
  // Gentle pieces, but not so short that nothing could be counted in them.
  const falls = Math.min(Math.abs(s.z0 - s.z1) / GENTLE, (2 * length) / s.radius);
  const turns = isArc ? Math.max(Math.abs(sweep) / TURN, falls) : 1;
  const n = Math.min(MOST_STEPS, Math.ceil(Math.max(turns, length / (2 * s.radius)) - 1e-9));
  if (n <= 1) return [s];
  let curves = known.get(s.curve);
  if (curves?.length !== n) {
    curves = Array.from({ length: n }, (_, i) => partOf(s.curve, i / n, (i + 1) / n));
    known.set(s.curve, curves);
  }
  const out: Stroke[] = [];
  for (let i = 0; i < n; i++) out.push(portion(s, i / n, (i + 1) / n, curves[i]));
  return out;
}

/** What is carried from step to step. */
export interface Run {
  /** Area that was cut too deep and too wide, mm². */
  excess: number;
  /** Points met since the edge was judged last, the sum of how far to the right of the way they are, and the way. */
  points: number;
  aside: number;
  across: number;
  length: number;
}

export const newRun = (): Run => ({ excess: 0, points: 0, aside: 0, across: 0, length: 0 });

/** Fewer points than this do not tell on which side the cutter works: steps go together until there are. */
const FEW = 6;

export interface Bounds {
  readonly rampAngle: number;
  /** Width of a light cut on a straight way, and the field's cell, since a width is counted in points; mm. */
  readonly light: number;
  /** Deepest bite that is allowed at any width, mm. */
  readonly deepest: number;
  readonly run: Run;
}

export interface Engagement {
  readonly cuts: boolean;
  /** mm; 0 where no more than a light cut is made. */
  readonly depth: number;
  /** rad below the level; 0 where the step does not fall into material. */
  readonly entry: number;
  /** Absent until enough has been met to tell. */
  readonly edge: Edge | undefined;
}

export interface Edge {
  /** Width of cut, mm; a plunge has its whole diameter. */
  readonly width: number;
  /** Speed of the edge along the work, where it meets material, over that of the centre. */
  readonly speed: number;
}

/** Measures a step and takes it out of the stock. `met` is written over. */
export function engage(field: Field, s: Stroke, bounds: Bounds, met: Met): Engagement {
  const { length } = s.curve;
  const slope = s.z0 > s.z1 ? atan2(s.z0 - s.z1, wayOf(s)) : 0;
  const steep = slope > bounds.rampAngle;
  const lands = steep && meets(field, s, bounds.light);
  mill(field, s, bounds.deepest, met);
  if (lands && met.points === 0) {
    met.x = s.curve.x1;
    met.y = s.curve.y1;
  }
  const cell2 = field.pitch * field.pitch;
  const width = widthOf(s, met, cell2);
  return {
    cuts: lands || met.points > 0,
    depth: length > 0 ? depthOf(s, width, cell2, bounds, met) : 0,
    entry: lands || (!steep && met.points > 0) ? slope : 0,
    edge: lands
      ? { width: 2 * s.radius, speed: 1 }
      : edgeOf(s, met, width, { cell: field.pitch, run: bounds.run }),
  };
}

/** Along the curve that a chord stands for, which falls as far over a longer way; a third of a turn at most is a chord. */
function wayOf({ curve: { length }, bend }: Stroke): number {
  const half = length / bend / 2;
  return half > 0 && half <= Math.PI / 3 ? (length * half) / sin(half) : length;
}

/**
 * A point at distance ρ from an arc's centre stands for cell² / ρ of the band that is cut, in mm across
 * it and rad along it. So the band's width is right whatever the radius of the way.
 */
function widthOf({ curve, radius }: Stroke, met: Met, cell2: number): number {
  if (curve.length === 0) return 2 * radius;
  return curve.isArc
    ? (met.turns * cell2) / Math.abs(curve.sweep)
    : (met.points * cell2) / curve.length;
}

/** Along the inside of a bore a cut of even thickness is longer than the way of the centre, in chords too. */
function stretchOf({ curve, radius, bend }: Stroke): number {
  const r = curve.isArc ? curve.r : bend;
  return r > 0 ? 1 + radius / r : 1;
}

function depthOf(s: Stroke, width: number, cell2: number, bounds: Bounds, met: Met): number {
  const { run, light } = bounds;
  const allowed = light * s.curve.length * stretchOf(s);
  run.excess = Math.max(0, run.excess + met.deep * cell2 - allowed);
  if (run.excess > 2 * s.radius * light && met.deep > 0) return met.deepSum / met.deep;
  return width > light ? met.depth : 0;
}

/**
 * Where across its width the cutter works: at an arc's outer rim, at its inner, or about the centre where
 * it cuts at full width. A band narrower than the radius that lies within a cell of a rim counts as that rim.
 */
function edgeOf(
  { curve, radius }: Stroke,
  met: Met,
  width: number,
  { cell, run }: { readonly cell: number; readonly run: Run },
): Edge | undefined {
  if (met.points === 0) return undefined;
  run.points += met.points;
  // To the right of the way, which is an arc's outer side where it turns left.
  const turn = Math.sign(curve.sweep);
  if (curve.isArc) run.aside += turn * met.points * (met.points / met.turns - curve.r);
  run.across += width * curve.length;
  run.length += curve.length;
  if (run.points < FEW) return undefined;
  const mean = run.length > 0 ? run.across / run.length : width;
  const share = (turn * run.aside) / run.points / Math.max(radius / 2, radius - mean / 2 - cell);
  run.points = 0;
  run.aside = 0;
  run.across = 0;
  run.length = 0;
  const aside = radius * Math.max(-1, Math.min(1, share));
  return { width: mean, speed: curve.isArc && curve.r > 0 ? (curve.r + aside) / curve.r : 1 };
}
