/**
 * Circles and arcs out of facets and fitted splines.
 *
 * Facets: neighbouring lines whose vertices lie on one circle, evenly, each turning by no more than a twelfth
 * of a round and rising no more than FACET_RISE over its chord. So a hexagon for a nut stays a hexagon, an
 * octagon stays an octagon, and a large twelve-sided plate stays what it is.
 * Arcs: neighbours of nearly one circle, as splines leave them, become one arc within CURVE in all; a whole loop of
 * them a circle, within the 0.03 % by which the usual four Bézier curves miss one.
 *
 * Promise: vertices move by no more than ON_CIRCLE (facets) or the stated tolerance (arcs).
 * Cost: O(n).
 */
import { signedArea } from "../../geometry/contour.ts";
import {
  angleOf,
  circle,
  distance,
  isFullCircle,
  lengthOf,
  pointAt,
} from "../../geometry/segment.ts";
import type { Arc, Contour, Line, Point, Segment } from "../../geometry/shape.ts";
import { CURVE, FACET_RISE, FIT, ON_CIRCLE } from "../../geometry/tolerance.ts";
import { atan2, sin, TAU } from "../../geometry/trig.ts";
import { arcThrough } from "../curve/arcs.ts";
import { withEnds } from "./ends.ts";

export interface Rounded {
  readonly contour: Contour;
  /** Where facets became arcs: how many, and how far the farthest lay inside its arc. */
  readonly facets: number;
  readonly rise: number;
  /** Set where the whole loop became a circle. */
  readonly circle: Arc | undefined;
  /** Splines became one circle: how far from it they lay. */
  readonly off: number;
}

/** A twelfth of a round, and a little for rounding. */
const TURN_MOST = TAU / 12 + 1e-3;
/** Chords of one faceted arc differ by no more than this part: writers step evenly. */
const UNEVEN = 0.05;
/** Four cubic Béziers miss their circle by 2.73e-4 of its radius (computed from the usual 0.5523). */
const BEZIER_MISS = 3e-4;
/** Fewer facets than this say nothing of a circle unless they are tangent to what surrounds them. */
const FACETS_SURE = 5;
const FACETS_LEAST = 3;

export function rounded(contour: Contour): Rounded | undefined {
  if (contour.segments.length < 3 && !contour.segments.every((s) => s.kind === "arc"))
    return undefined;
  return wholeCircle(contour) ?? roundedRuns(contour);
}

function wholeCircle(contour: Contour): Rounded | undefined {
  const s = contour.segments;
  if (s.length < 2 || s.some(isFullCircle)) return undefined;
  const samples = s.flatMap((x) => (x.kind === "arc" ? [x.from, pointAt(x, 0.5)] : [x.from]));
  const fit = fitCircle(samples);
  if (fit === undefined) return undefined;
  const lines = s.filter((x) => x.kind === "line");
  const off = samples.reduce(
    (m, p) => Math.max(m, Math.abs(distance(p, fit.centre) - fit.radius)),
    0,
  );
  if (lines.length === 0) {
    if (off > Math.max(CURVE, BEZIER_MISS * fit.radius)) return undefined;
    if (Math.abs(turnOf(s)) < TAU * 0.99) return undefined;
  } else {
    if (off > ON_CIRCLE || lines.length !== s.length || !evenFacets(lines as Line[], fit.radius))
      return undefined;
    if (Math.abs(polygonTurns(s as Line[], fit.centre) - TAU) > 1e-3) return undefined;
  }
  const ccw = signedArea(contour) > 0;
  const arc = circle(
    fit.centre,
    fit.radius,
    ccw,
    angleOf(fit.centre, (s[0] as Segment).from),
    s[0]?.origin,
  );
  const longest = lines.reduce((m, l) => Math.max(m, lengthOf(l)), 0);
  return {
    contour: { segments: [arc] },
    facets: lines.length,
    rise: riseOf(longest, fit.radius),
    circle: arc,
    off: lines.length === 0 ? off : 0,
  };
}

function turnOf(s: readonly Segment[]): number {
  return s.reduce((sum, x) => sum + (x.kind === "arc" ? x.sweep : 0), 0);
}

/** How far round the centre the vertices go, in steps; one round for a circle. */
function polygonTurns(s: readonly Line[], centre: Point): number {
  let sum = 0;
  for (const l of s) {
    let step = angleOf(centre, l.to) - angleOf(centre, l.from);
    if (step > TAU / 2) step -= TAU;
    if (step < -TAU / 2) step += TAU;
    sum += step;
  }
  return Math.abs(sum);
}

function evenFacets(lines: readonly Line[], radius: number): boolean {
  const lengths = lines.map(lengthOf);
  const longest = Math.max(...lengths);
  if (2 * radius * sin(TURN_MOST / 2) < longest || riseOf(longest, radius) > FACET_RISE)
    return false;
  // One facet may be a rest, where a writer's step does not divide the round.
  const uneven = lengths.filter((l) => l < longest * (1 - UNEVEN) - 2 * ON_CIRCLE);
  return uneven.length <= 1 || riseOf(longest, radius) < CURVE;
}

/** How far a chord lies inside its arc (sagitta). */
function riseOf(chord: number, radius: number): number {
  return radius - Math.sqrt(Math.max(0, radius * radius - (chord * chord) / 4));
}

interface Circle {
  readonly centre: Point;
  readonly radius: number;
}

/** Least squares on x² + y² (I. Kåsa, IEEE Trans. Instrum. Meas. 25 (1976) 8–14), about the mean. */
function fitCircle(points: readonly Point[]): Circle | undefined {
  const n = points.length;
  if (n < 3) return undefined;
  const mx = points.reduce((a, p) => a + p.x, 0) / n;
  const my = points.reduce((a, p) => a + p.y, 0) / n;
  let [xx, xy, yy, xz, yz, zz] = [0, 0, 0, 0, 0, 0];
  for (const p of points) {
    const x = p.x - mx;
    const y = p.y - my;
    const z = x * x + y * y;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * z;
    yz += y * z;
    zz += z;
  }
  const det = xx * yy - xy * xy;
  if (det < 1e-12 * zz * zz) return undefined;
  const cx = (xz * yy - yz * xy) / (2 * det);
  const cy = (yz * xx - xz * xy) / (2 * det);
  const radius = Math.sqrt(cx * cx + cy * cy + zz / n);
  return { centre: { x: cx + mx, y: cy + my }, radius };
}

/** Runs of facets and of fitted arcs within a contour, each as one arc. */
function roundedRuns(contour: Contour): Rounded | undefined {
  const s = rotated(contour.segments);
  const out: Segment[] = [];
  let facets = 0;
  let rise = 0;
  let changed = false;
  for (let i = 0; i < s.length; ) {
    const run = facetRun(s, i) ?? arcRun(s, i);
    if (run === undefined) {
      out.push(s[i] as Segment);
      i++;
      continue;
    }
    out.push(run.arc);
    changed = true;
    facets += run.facets;
    rise = Math.max(rise, run.rise);
    i = run.end;
  }
  return changed
    ? { contour: { segments: out }, facets, rise, circle: undefined, off: 0 }
    : undefined;
}

/** The contour begun where the direction changes most, so that no run straddles the seam. */
function rotated(s: readonly Segment[]): readonly Segment[] {
  let best = 0;
  let most = -1;
  s.forEach((x, i) => {
    const before = s[(i + s.length - 1) % s.length] as Segment;
    const kinds = before.kind === x.kind ? 0 : TAU;
    const a = before.kind === "line" && x.kind === "line" ? Math.abs(turnAt(before, x)) : 0;
    const uneven = Math.abs(lengthOf(before) - lengthOf(x)) / (lengthOf(before) + lengthOf(x));
    const weight = kinds + a + uneven;
    if (weight > most + 1e-9) [most, best] = [weight, i];
  });
  return [...s.slice(best), ...s.slice(0, best)];
}

function turnAt(a: Line, b: Line): number {
  const ux = a.to.x - a.from.x;
  const uy = a.to.y - a.from.y;
  const vx = b.to.x - b.from.x;
  const vy = b.to.y - b.from.y;
  return atan2(ux * vy - uy * vx, ux * vx + uy * vy);
}

interface Run {
  readonly arc: Arc;
  /** Index after the run. */
  readonly end: number;
  readonly facets: number;
  readonly rise: number;
}

function facetRun(s: readonly Segment[], start: number): Run | undefined {
  const first = s[start];
  const second = s[start + 1];
  if (first?.kind !== "line" || second?.kind !== "line") return undefined;
  const turn = turnAt(first, second);
  if (Math.abs(turn) > TURN_MOST || Math.abs(turn) < 1e-4) return undefined;
  const seed = arcThrough(first.from, first.to, second.to);
  if (seed === undefined || !goodFacet(first, seed) || !evenPair(first, second, seed))
    return undefined;
  let end = start + 2;
  while (end < s.length) {
    const next = s[end] as Segment;
    if (next.kind !== "line" || !evenPair(first, next, seed) || !goodFacet(next, seed)) break;
    if (turnAt(s[end - 1] as Line, next) > 0 !== turn > 0) break;
    if (!onOneCircle(s, start, end)) break;
    end++;
  }
  const facets = end - start;
  if (facets < FACETS_LEAST || (facets < FACETS_SURE && !tangentRun(s, start, end, turn)))
    return undefined;
  const arc = spanning(s, start, end - 1);
  if (arc === undefined) return undefined;
  return { arc, end, facets, rise: riseOf(lengthOf(first), arc.radius) };
}

function goodFacet(l: Line, c: Circle): boolean {
  return riseOf(lengthOf(l), c.radius) <= FACET_RISE;
}

function evenPair(a: Line, b: Line, c: Circle): boolean {
  const la = lengthOf(a);
  const lb = lengthOf(b);
  return (
    Math.abs(la - lb) <= UNEVEN * la + 2 * ON_CIRCLE || riseOf(Math.max(la, lb), c.radius) < CURVE
  );
}

/** All vertices of the lines start … last within ON_CIRCLE of the arc that spans them. */
function onOneCircle(s: readonly Segment[], start: number, last: number): boolean {
  const c = spanning(s, start, last);
  if (c === undefined || Math.abs(c.sweep) > TAU * 0.98) return false;
  for (let i = start; i <= last; i++) {
    if (Math.abs(distance((s[i] as Segment).to, c.centre) - c.radius) > ON_CIRCLE) return false;
  }
  return true;
}

function spanning(s: readonly Segment[], start: number, last: number): Arc | undefined {
  const a = s[start] as Segment;
  const b = s[last] as Segment;
  const middle = s[(start + last) >> 1] as Segment;
  return arcThrough(a.from, middle.to === b.to ? middle.from : middle.to, b.to, a.origin);
}

/** The lines before and after leave the arc along its tangents: half a facet's turn at each end. */
function tangentRun(s: readonly Segment[], start: number, end: number, turn: number): boolean {
  const before = s[(start + s.length - 1) % s.length] as Segment;
  const after = s[end % s.length] as Segment;
  if (before.kind !== "line" || after.kind !== "line") return false;
  const a = turnAt(before, s[start] as Line);
  const b = turnAt(s[end - 1] as Line, after);
  return Math.abs(a - turn / 2) < Math.abs(turn) / 8 && Math.abs(b - turn / 2) < Math.abs(turn) / 8;
}

function arcRun(s: readonly Segment[], start: number): Run | undefined {
  const first = s[start];
  if (first?.kind !== "arc") return undefined;
  let end = start + 1;
  let best: Arc | undefined;
  for (; end < s.length; end++) {
    const one = oneArc(s, start, end);
    if (one === undefined) break;
    best = one;
  }
  return best === undefined ? undefined : { arc: best, end, facets: 0, rise: 0 };
}

/** The arcs start … last as one, if all their ends and middles lie within CURVE of it. */
function oneArc(s: readonly Segment[], start: number, last: number): Arc | undefined {
  const parts = s.slice(start, last + 1);
  const first = parts[0] as Arc;
  const final = parts[parts.length - 1] as Arc;
  if (final.kind !== "arc" || final.sweep > 0 !== first.sweep > 0) return undefined;
  if (Math.abs(final.radius - first.radius) > ALIKE * first.radius) return undefined;
  const sweep = turnOf(parts);
  if (Math.abs(sweep) > TAU * 0.9) return undefined;
  const arc = withEnds({ ...first, sweep }, first.from, final.to);
  if (arc.kind !== "arc") return undefined;
  const near = parts.every((p) =>
    [0.5, 1].every((t) => Math.abs(distance(pointAt(p, t), arc.centre) - arc.radius) <= MERGE),
  );
  return near ? arc : undefined;
}

/** Radii of one circle, as splines leave them. */
const ALIKE = 0.01;
/** What fitting has left of CURVE. */
const MERGE = CURVE - FIT;
