/**
 * The raw offset of one ring. Words: a *piece* is the exact offset of one source segment, or the arc
 * round one convex corner; a *rail* is the closed loop of a ring's pieces in order.
 *
 * Where two pieces end on one point they are welded. Where they cross before their ends (a concave
 * corner, an arc too small for the distance) both are cut back to the crossing if that is safe, else
 * the rail goes over *via* points — the corner itself, or the vanished arc's centre — so that every
 * point nearer than the distance is wound round at least once more and Clipper can sort it out.
 *
 * Promise: material less than the distance away always has winding above zero on rails that grow, and
 * below one on rails that shrink. Cost: O(n).
 */
import { carriersMeet, directionAt, parameterOf } from "../intersect.ts";
import { arc, distance, lengthOf, nearestOn, pointAt, tangentAt } from "../segment.ts";
import type { Contour, Point, Segment } from "../shape.ts";
import { SHORTEST, SLIGHT, WELD } from "../tolerance.ts";
import { atan2, cos, tan } from "../trig.ts";
import { withEnds } from "./tidy.ts";

export interface Piece {
  /** The exact offset from mitre to mitre, before any trimming: carrier, direction, origin. */
  readonly exact: Segment;
  /** Ends after welding and trimming, and the segment between them. */
  readonly trimmed: Segment;
  /** True for the arc round a convex corner. */
  readonly corner: boolean;
}

export interface Rail {
  readonly pieces: readonly Piece[];
  /** `via[k]`: points between the end of piece k and the start of the next; none where they are welded. With no pieces at all, `via[0]` is the loop. */
  readonly via: readonly (readonly Point[])[];
}

/** A source segment and its offset; `kept` is none where the arc is smaller than the distance, or as good as. */
interface Part {
  readonly source: Segment;
  readonly kept: Segment | undefined;
  readonly start: Point;
  readonly end: Point;
  /** What to pass between the ends of an arc that is not kept: its centre, if it is inside out. */
  readonly turn: readonly Point[];
}

/** A piece in the making. */
interface Draft {
  exact: Segment;
  readonly corner: boolean;
  /** Source segments (by place in the ring) whose offset it is: for a corner, the one before it. */
  readonly source: number;
  from: Point;
  to: Point;
}

interface Build {
  readonly parts: readonly Part[];
  readonly d: number;
  readonly drafts: Draft[];
  readonly via: Point[][];
  /** Points before the first piece. */
  readonly lead: Point[];
}

/** The rail of a tidy ring at distance d to its right (negative: to its left); `trim` all it can, or slight bends only. */
export function railOf(ring: Contour, d: number, trim: boolean): Rail {
  const parts = ring.segments.map((s) => partOf(s, d));
  const only = parts[0];
  if (parts.length === 1 && only !== undefined) {
    // A full circle needs no corners; where it vanishes it leaves nothing to wind round.
    const exact = only.kept;
    return exact === undefined
      ? { pieces: [], via: [] }
      : { pieces: [{ exact, trimmed: exact, corner: false }], via: [[]] };
  }
  const build: Build = { parts, d, drafts: [], via: [], lead: [] };
  for (let i = 0; i < parts.length; i++) addPart(build, i);
  const { drafts, via, lead } = build;
  const last = via[via.length - 1];
  if (last === undefined) return { pieces: [], via: [lead] };
  last.push(...lead);
  weldAll(build);
  trimAll(build, trim);
  return { pieces: drafts.map(pieceOf), via };
}

function pieceOf(draft: Draft): Piece {
  const { exact, corner, from, to } = draft;
  return { exact, corner, trimmed: withEnds(exact, from, to) };
}

function partOf(source: Segment, d: number): Part {
  if (source.kind === "line") {
    const u = tangentAt(source, 0);
    const shift = (p: Point): Point => ({ x: p.x + d * u.y, y: p.y - d * u.x });
    const start = shift(source.from);
    const end = shift(source.to);
    return { source, kept: { ...source, from: start, to: end }, start, end, turn: [] };
  }
  const radius = source.radius + (source.sweep > 0 ? d : -d);
  const scale = (p: Point): Point => ({
    x: source.centre.x + ((p.x - source.centre.x) * radius) / source.radius,
    y: source.centre.y + ((p.y - source.centre.y) * radius) / source.radius,
  });
  const start = scale(source.from);
  const end = source.to === source.from ? start : scale(source.to);
  const kept = isWorthIt(radius, source.sweep)
    ? { ...source, from: start, to: end, radius }
    : undefined;
  return { source, kept, start, end, turn: radius < 0 ? [source.centre] : [] };
}

/** An arc stays unless it is inside out, or both shorter than any segment may be and well met by a mitre. */
function isWorthIt(radius: number, sweep: number): boolean {
  if (radius < 10 * WELD) return false;
  const turn = Math.abs(sweep);
  return radius * turn >= SHORTEST || turn > 3 || radius * tan(turn / 2) > SLIGHT;
}

/** Adds the offset of segment i, then the corner after it. */
function addPart(build: Build, i: number): void {
  const { parts, d } = build;
  const a = parts[i] as Part;
  const b = parts[(i + 1) % parts.length] as Part;
  if (a.kept !== undefined) push(build, a.kept, false, i);
  else pass(build, a.start, ...a.turn, a.end);
  const gap = distance(a.end, b.start);
  if (gap <= WELD) return;
  const corner = a.source.to;
  const turn = turnAt(a.source, b.source);
  if (turn * d <= 0 && Math.abs(turn) < Math.PI - BACK) {
    pass(build, corner);
    return;
  }
  if (a.kept !== undefined && b.kept !== undefined && isSlight(turn, d)) return;
  push(build, arc(a.end, b.start, corner, d > 0, a.source.origin), true, i);
}

function push(build: Build, exact: Segment, corner: boolean, source: number): void {
  build.drafts.push({ exact, corner, source, from: exact.from, to: exact.to });
  build.via.push([]);
}

function pass(build: Build, ...points: Point[]): void {
  (build.via[build.via.length - 1] ?? build.lead).push(...points);
}

/** Turns this near a full reversal count as corners to go round, whichever way rounding tips them. */
const BACK = 1e-4;

/** Change of direction at a vertex, rad; left is positive. */
function turnAt(a: Segment, b: Segment): number {
  const u = tangentAt(a, 1);
  const v = tangentAt(b, 0);
  return atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y);
}

/** The mitre stands off the corner arc by |d|(1/cos(turn/2) − 1). */
function isSlight(turn: number, d: number): boolean {
  if (Math.abs(turn) > 1) return false;
  return Math.abs(d) * (1 / cos(turn / 2) - 1) < SLIGHT;
}

/** Joins neighbours that meet without a corner arc: at the shared point, or at the mitre. */
function weldAll(build: Build): void {
  const { drafts, via, d } = build;
  for (let k = 0; k < drafts.length; k++) {
    if ((via[k] as Point[]).length > 0) continue;
    const a = drafts[k] as Draft;
    const b = drafts[(k + 1) % drafts.length] as Draft;
    const gap = distance(a.exact.to, b.exact.from);
    const at = gap <= WELD ? sharedEnd(a, b) : mitre(a, b, gap, d);
    a.to = at;
    b.from = at;
    if (gap <= WELD) continue;
    // The mitre lies beyond both ends: the pieces reach that far.
    a.exact = withEnds(a.exact, a.exact.from, at);
    b.exact = withEnds(b.exact, at, b.exact.to);
  }
}

/** Of two ends a nanometre apart the arc's: a line may turn, a radius may not. */
function sharedEnd(a: Draft, b: Draft): Point {
  return a.exact.kind === "line" ? b.exact.from : a.exact.to;
}

function mitre(a: Draft, b: Draft, gap: number, d: number): Point {
  const middle = {
    x: (a.exact.to.x + b.exact.from.x) / 2,
    y: (a.exact.to.y + b.exact.from.y) / 2,
  };
  let best: Point = middle;
  let reach = 2 * gap;
  for (const p of carriersMeet(a.exact, b.exact)) {
    const away = distance(p, middle);
    if (away >= reach || crossAt(a.exact, b.exact, p) * d < 0) continue;
    best = p;
    reach = away;
  }
  return best;
}

/** Sine of the turn from a to b at a point on both carriers. */
export function crossAt(a: Segment, b: Segment, p: Point): number {
  const u = directionAt(a, p);
  const v = directionAt(b, p);
  return u.x * v.y - u.y * v.x;
}

/**
 * Cuts neighbours back to where they cross, wherever nothing but the overlap is lost by it. Slight bends
 * are cut in any case: a way to the corner and back along nearly the same line would leave slivers of
 * Clipper's rounding between.
 */
function trimAll(build: Build, all: boolean): void {
  const { drafts, via, d } = build;
  const n = drafts.length;
  const cuts = drafts.map((draft, k) => {
    if (n === 1 || (via[k] as Point[]).length === 0) return undefined;
    const next = drafts[(k + 1) % n] as Draft;
    return all || isSlight(turnAt(draft.exact, next.exact), d) ? crossing(build, k) : undefined;
  });
  // A piece cut from both ends must have a middle left, else neither cut is taken.
  for (let k = 0; k < n; k++) {
    const draft = drafts[k] as Draft;
    const before = (k + n - 1) % n;
    const start = cuts[before] ?? draft.from;
    const end = cuts[k] ?? draft.to;
    if (cuts[before] === undefined && cuts[k] === undefined) continue;
    const left = parameterOf(draft.exact, end) - parameterOf(draft.exact, start);
    if (left * lengthOf(draft.exact) > SHORTEST) continue;
    cuts[before] = undefined;
    cuts[k] = undefined;
  }
  for (let k = 0; k < n; k++) {
    const at = cuts[k];
    if (at === undefined) continue;
    (drafts[k] as Draft).to = at;
    (drafts[(k + 1) % n] as Draft).from = at;
    via[k] = [];
  }
}

/** The crossing of piece k with the next, if all that is cut off lies within |d| of the sources between. */
function crossing(build: Build, k: number): Point | undefined {
  const { drafts, d } = build;
  const a = drafts[k] as Draft;
  const b = drafts[(k + 1) % drafts.length] as Draft;
  let best: Point | undefined;
  let bestT = 0;
  for (const p of carriersMeet(a.exact, b.exact)) {
    const ta = parameterOf(a.exact, p);
    const tb = parameterOf(b.exact, p);
    if (ta <= bestT || tb >= 1) continue;
    // A little beyond the ends is the mitre of an arc that has all but vanished.
    if ((ta - 1) * lengthOf(a.exact) > SLIGHT || -tb * lengthOf(b.exact) > SLIGHT) continue;
    if (crossAt(a.exact, b.exact, p) * d >= 0) continue;
    best = p;
    bestT = ta;
  }
  if (best === undefined) return undefined;
  return loses(build, k, best, bestT) ? undefined : best;
}

/** Would cutting piece k and the next back to `at` lose a point that nothing between them covers? */
function loses(build: Build, k: number, at: Point, ta: number): boolean {
  const { drafts, parts, d } = build;
  const a = drafts[k] as Draft;
  const b = drafts[(k + 1) % drafts.length] as Draft;
  const n = parts.length;
  const tb = parameterOf(b.exact, at);
  // A corner's arc is |d| from the segments on both sides of it: neither can be what covers it.
  const others = (b.source - a.source + n) % n;
  const covered = (p: Point, first: number, last: number): boolean => {
    for (let i = first; i <= last; i++) {
      const { source } = parts[(a.source + i) % n] as Part;
      if (nearestOn(source, p).distance < Math.abs(d) + COVER) return true;
    }
    return false;
  };
  return !(
    covered(pointAt(a.exact, (1 + ta) / 2), a.corner ? 2 : 1, others) &&
    covered(a.exact.to, a.corner ? 2 : 1, others) &&
    covered(pointAt(b.exact, tb / 2), 0, others - 1) &&
    covered(b.exact.from, 0, others - 1)
  );
}

/** At a slight bend what is cut off lies within |d| by less than a double can tell. */
const COVER = 1e-9;
