/**
 * The moves that lay a plate on what was drawn of it, whatever became of its start point, its direction and its
 * segments on the way.
 *
 * Way: both outlines are walked from a corner in even steps of their own length; the plate's sharpest corner is
 * laid on each corner that was drawn in turn, and least squares over the steps say turn, shift and how far off.
 * What fits is laid again by its corners and the middles of its openings, which know the place best. A round
 * outline has no corner: its openings say its turn.
 *
 * Residual: the furthest that either outline strays from the other, mm.
 * Cost: corners × steps, some hundred thousand operations a plate.
 */
import {
  centroid,
  distanceTo,
  isCircle,
  oriented,
  perimeter,
  placeContour,
  runningLengths,
  signedArea,
  spotAt,
  turnBetween,
} from "../../geometry/contour.ts";
import { angleOf, distance, placePoint } from "../../geometry/segment.ts";
import type { Contour, Point, Rigid, Segment } from "../../geometry/shape.ts";
import { MATCH } from "../../geometry/tolerance.ts";
import { TAU } from "../../geometry/trig.ts";
import { merged } from "../../plate/snap.ts";
import { type Pair, register, shiftFor } from "./register.ts";

/** An outline and what is in it, in any direction and of any number of segments. */
export interface Outlined {
  readonly outer: Contour;
  readonly inner: readonly Contour[];
  /** The turn that a plate gets where nothing on it tells one, rad. */
  readonly rest?: number | undefined;
}

export interface Match {
  readonly toSheet: Rigid;
  readonly residual: number;
  /** Openings of the plate that were not drawn, and drawn ones that it does not have. */
  readonly unlike: number;
}

/** Steps along an outline: enough to tell shapes apart, and again enough to judge them. */
const STEPS = 48;
/** Coordinates of two decimals let the steps along an outline of a thousand segments slide by this, mm. */
const COARSE = 0.25;

/** Every move within `MATCH`, nearest first; `flipped`: with the plate turned over. */
export function matches(plate: Outlined, drawn: Outlined, flipped: boolean): Match[] {
  const over: Rigid = { x: 0, y: 0, angle: 0, flipped };
  const own = tidied({
    outer: placeContour(plate.outer, over),
    inner: plate.inner.map((c) => placeContour(c, over)),
    rest: plate.rest,
  });
  const seen = tidied(drawn);
  const lengths = perimeter(own.outer) / perimeter(seen.outer);
  if (Math.abs(lengths - 1) > 0.01) return [];
  const coarse = isCircle(own.outer)
    ? turnsOfRound(own, seen)
    : turnsOfCorners(own.outer, seen.outer);
  return coarse
    .map((move) => settled(own, seen, move))
    .filter((m) => m.residual <= MATCH)
    .map((m) => ({ ...m, toSheet: { ...m.toSheet, flipped } }))
    .sort((a, b) => a.unlike - b.unlike || a.residual - b.residual);
}

export function areaOf(contour: Contour): number {
  return Math.abs(signedArea(contour));
}

function tidied({ outer, inner, rest }: Outlined): Outlined {
  const one = (c: Contour): Contour => oriented({ segments: merged(c.segments) }, true);
  return { outer: one(outer), inner: inner.map(one), rest };
}

/** The sharpest corner on every one that was drawn. */
function turnsOfCorners(own: Contour, seen: Contour): Rigid[] {
  const mine = steps(own, sharpest(own));
  return seen.segments.flatMap((_, start) => {
    const theirs = steps(seen, start);
    const move = register(mine.map((from, i) => ({ from, to: theirs[i] as Point })));
    if (move === undefined) return [];
    const off = mine.map((p, i) => distance(placePoint(p, move), theirs[i] as Point));
    return Math.max(...off) <= COARSE ? [move] : [];
  });
}

/** The segment that begins at the sharpest corner. */
function sharpest({ segments }: Contour): number {
  let best = 0;
  let most = -1;
  for (const [i, s] of segments.entries()) {
    const before = segments[(i + segments.length - 1) % segments.length] as Segment;
    const turn = Math.abs(turnBetween(before, s));
    if (turn <= most + 1e-6) continue;
    most = turn;
    best = i;
  }
  return best;
}

/** Points in even steps of the outline's own length, from the start of a segment on. */
function steps(contour: Contour, start: number): Point[] {
  const sums = runningLengths(contour);
  const total = sums[sums.length - 1] as number;
  const first = sums[start] as number;
  return Array.from(
    { length: STEPS },
    (_, i) => spotAt(contour, sums, first + (i * total) / STEPS).point,
  );
}

/**
 * The opening furthest from the middle on every one that lies as far. Where none is off the middle, one that is
 * not round; and if there is none, nothing tells a turn.
 */
function turnsOfRound(own: Outlined, seen: Outlined): Rigid[] {
  const [a, b] = [centroid(own.outer), centroid(seen.outer)];
  const far = own.inner
    .map(centroid)
    .reduce((best, p) => (distance(p, a) > distance(best, a) ? p : best), a);
  const reach = distance(far, a);
  const turns =
    reach > MATCH
      ? seen.inner
          .map(centroid)
          .filter((p) => Math.abs(distance(p, b) - reach) <= COARSE)
          .map((p) => shiftFor(a, b, angleOf(b, p) - angleOf(a, far)))
      : turnsOfMiddle(own, seen);
  return turns.length === 0 ? [shiftFor(a, b, own.rest ?? 0)] : turns;
}

function turnsOfMiddle(own: Outlined, seen: Outlined): Rigid[] {
  const mine = own.inner.find((c) => !isCircle(c));
  if (mine === undefined) return [];
  return seen.inner
    .filter((c) => !isCircle(c) && alike(areaOf(c), areaOf(mine)))
    .flatMap((c) => turnsOfCorners(mine, c));
}

function settled(own: Outlined, seen: Outlined, coarse: Rigid): Match {
  const openings = pairsOf(middles(own.inner), middles(seen.inner), coarse);
  const corners = pairsOf(marks(own), marks(seen), coarse);
  const pairs = [...corners, ...openings];
  const toSheet = register(pairs) ?? coarse;
  const unlike = Math.max(own.inner.length, seen.inner.length) - openings.length;
  const laid = placeContour(own.outer, toSheet);
  const residual = Math.max(strays(laid, seen.outer), strays(seen.outer, laid));
  return { toSheet, residual, unlike };
}

/** Corners, and the middle of a round outline. */
function marks({ outer, inner }: Outlined): Point[] {
  const corners = [outer, ...inner]
    .filter((c) => !isCircle(c))
    .flatMap((c) => c.segments.map((s) => s.from));
  return isCircle(outer) ? [centroid(outer), ...corners] : corners;
}

function middles(contours: readonly Contour[]): readonly Sized[] {
  return contours.map((c) => ({ ...centroid(c), area: areaOf(c) }));
}

interface Sized extends Point {
  readonly area?: number;
}

/** Each with the nearest that was drawn and is no other's. */
function pairsOf(own: readonly Sized[], seen: readonly Sized[], move: Rigid): Pair[] {
  const free = new Set(seen);
  return own.flatMap((from) => {
    const at = placePoint(from, move);
    let to: Sized | undefined;
    let near = COARSE;
    for (const p of free) {
      const d = distance(p, at);
      if (d > near || !alike(p.area, from.area)) continue;
      near = d;
      to = p;
    }
    if (to === undefined) return [];
    free.delete(to);
    return [{ from, to }];
  });
}

/** Openings whose rims are within `MATCH` of each other differ in area by a rim of that width. */
function alike(a = 0, b = 0): boolean {
  return Math.abs(a - b) <= 2 * MATCH * Math.sqrt(2 * TAU * Math.max(a, b));
}

/** The furthest that one outline's steps and corners lie from another. */
function strays(from: Contour, to: Contour): number {
  const points = [...steps(from, 0), ...from.segments.map((s) => s.from)];
  return Math.max(...points.map((p) => distanceTo(to, p)));
}
