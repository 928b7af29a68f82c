/**
 * Union, difference and intersection of regions, exact: lines stay lines and arcs stay arcs.
 *
 * A region is a list of rings with material on the left: outers counter-clockwise, holes clockwise, none
 * crossing another or itself. Both operands are cut where they meet; a piece stays if its middle lies on the
 * right side of the other operand; what stays is linked end to end. Stretches that both share are kept
 * once, or not at all where their materials lie on opposite sides.
 *
 * Promise: the result's segments lie on the operands' own lines and circles. Undefined where the pieces do
 * not close, which needs boundaries that nearly, but not quite, coincide.
 * Cost: O(n m) in segments; plates have tens.
 */
import {
  boundsOf,
  boxesTouch,
  closeUp,
  contains,
  perimeter,
  signedArea,
} from "../../geometry/contour.ts";
import { meetings, parameterOf } from "../../geometry/intersect.ts";
import {
  boxOf,
  distance,
  lengthOf,
  nearestOn,
  part,
  pointAt,
  reversed,
  tangentAt,
} from "../../geometry/segment.ts";
import type { Box, Contour, Point, Segment } from "../../geometry/shape.ts";
import { atan2, TAU } from "../../geometry/trig.ts";

export type Rings = readonly Contour[];

export function joined(a: Rings, b: Rings): Contour[] | undefined {
  return combine(a, b, UNION);
}

export function less(a: Rings, b: Rings): Contour[] | undefined {
  return combine(a, b, DIFFERENCE);
}

export function common(a: Rings, b: Rings): Contour[] | undefined {
  return combine(a, b, INTERSECTION);
}

/** Is the point in the region? */
export function holds(rings: Rings, p: Point): boolean {
  let inside = false;
  for (const ring of rings) if (contains(ring, p)) inside = !inside;
  return inside;
}

type Side = "in" | "out" | "along" | "against";

interface Rule {
  readonly ofA: readonly Side[];
  readonly ofB: readonly Side[];
  readonly turnB: boolean;
}

const UNION: Rule = { ofA: ["out", "along"], ofB: ["out"], turnB: false };
const DIFFERENCE: Rule = { ofA: ["out", "against"], ofB: ["in"], turnB: true };
const INTERSECTION: Rule = { ofA: ["in", "along"], ofB: ["in"], turnB: false };

/** Points this near are one: far above the rounding of meeting points, far below any drawing. */
const SAME = 1e-5;

function combine(a: Rings, b: Rings, rule: Rule): Contour[] | undefined {
  const ofA = operand(a);
  const ofB = operand(b);
  // Rings that do not come near the other operand are kept or dropped whole, unlooked at.
  const near = a.filter((r) => boxesTouch(boundsOf(r.segments), ofB.box, SAME));
  const far = rule.ofA.includes("out") ? a.filter((r) => !near.includes(r)) : [];
  const as = near.flatMap((r) => r.segments);
  const kept = [
    ...pieces(as, ofB.segments).filter((s) => rule.ofA.includes(sideOf(s, ofB))),
    ...pieces(ofB.segments, as)
      .filter((s) => rule.ofB.includes(sideOf(s, ofA)))
      .map((s) => (rule.turnB ? reversed(s) : s)),
  ];
  const rings = linked(kept);
  if (rings === undefined) return undefined;
  return [...far, ...rings.filter((r) => Math.abs(signedArea(r)) > SAME * perimeter(r))];
}

function operand(rings: Rings): Operand {
  const segments = rings.flatMap((r) => r.segments);
  return { rings, segments, box: boundsOf(segments) };
}

/** Every segment cut at the points where it meets the others, or one of them ends on it. */
function pieces(own: readonly Segment[], others: readonly Segment[]): Segment[] {
  const boxes = others.map(boxOf);
  return own.flatMap((s) => {
    const box = boxOf(s);
    const near = others.filter((_, i) => boxesTouch(box, boxes[i] as typeof box, SAME));
    return cutAt(
      s,
      near.flatMap((o) => parametersOn(s, o)),
    );
  });
}

function parametersOn(s: Segment, other: Segment): number[] {
  const found = meetings(s, other, SAME).map((m) => m.ta);
  for (const p of [other.from, other.to]) {
    if (nearestOn(s, p).distance < SAME) found.push(parameterOf(s, p));
  }
  return found;
}

function cutAt(s: Segment, at: readonly number[]): Segment[] {
  const length = lengthOf(s);
  const margin = SAME / length;
  const sorted = at.filter((t) => t > margin && t < 1 - margin).sort((x, y) => x - y);
  const cuts = sorted.filter((t, i) => i === 0 || t - (sorted[i - 1] as number) > margin);
  if (cuts.length === 0) return [s];
  const bounds = [0, ...cuts, 1];
  return bounds.slice(1).map((t, i) => part(s, bounds[i] as number, t));
}

interface Operand {
  readonly rings: Rings;
  readonly segments: readonly Segment[];
  readonly box: Box;
}

function sideOf(s: Segment, { rings, segments, box }: Operand): Side {
  const middle = pointAt(s, 0.5);
  // Most pieces are nowhere near the other operand.
  if (!boxesTouch({ min: middle, max: middle }, box, SAME)) return "out";
  for (const other of segments) {
    const { t, distance: d } = nearestOn(other, middle);
    if (d > SAME || !sameCarrier(s, other)) continue;
    const u = tangentAt(s, 0.5);
    const v = tangentAt(other, t);
    return u.x * v.x + u.y * v.y > 0 ? "along" : "against";
  }
  return holds(rings, middle) ? "in" : "out";
}

/** Ends and middle of the piece lie on the other's line or circle. */
function sameCarrier(s: Segment, other: Segment): boolean {
  if (s.kind !== other.kind) return false;
  return [s.from, s.to].every((p) => {
    if (other.kind === "arc") {
      return Math.abs(distance(other.centre, p) - other.radius) < 2 * SAME;
    }
    const u = tangentAt(other, 0);
    const off = (p.x - other.from.x) * u.y - (p.y - other.from.y) * u.x;
    return Math.abs(off) < 2 * SAME;
  });
}

function linked(kept: readonly Segment[]): Contour[] | undefined {
  const open = new Set(kept.filter((s) => !closes(s)));
  const rings: Contour[] = kept.filter(closes).map((s) => ({ segments: [s] }));
  while (open.size > 0) {
    const [first] = open;
    if (first === undefined) break;
    const ring = walk(first, open);
    if (ring === undefined) return undefined;
    rings.push({ segments: closeUp(ring) });
  }
  return rings;
}

function closes(s: Segment): boolean {
  return s.kind === "arc" && Math.abs(s.sweep) > TAU - SAME / s.radius;
}

function walk(first: Segment, open: Set<Segment>): Segment[] | undefined {
  const ring = [first];
  open.delete(first);
  let last = first;
  while (distance(last.to, first.from) > 2 * SAME || isFork(last, first, open)) {
    const next = nextOf(last, open);
    if (next === undefined) return undefined;
    open.delete(next);
    ring.push(next);
    last = next;
  }
  return ring;
}

/** Where rings touch in a point, the ring goes on if another piece turns off more to the left than its own start. */
function isFork(last: Segment, first: Segment, open: ReadonlySet<Segment>): boolean {
  const best = nextOf(last, open);
  return best !== undefined && turn(last, best) > turn(last, first) + 1e-9;
}

/** Of the pieces that begin here, the one furthest to the left: lobes that touch in a point stay apart. */
function nextOf(last: Segment, open: ReadonlySet<Segment>): Segment | undefined {
  let best: Segment | undefined;
  for (const s of open) {
    if (distance(s.from, last.to) > 2 * SAME) continue;
    if (best === undefined || turn(last, s) > turn(last, best)) best = s;
  }
  return best;
}

function turn(a: Segment, b: Segment): number {
  const u = tangentAt(a, 1);
  const v = tangentAt(b, 0);
  return atan2(u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y);
}
