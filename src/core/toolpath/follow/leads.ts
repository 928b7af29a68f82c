/**
 * Leads: the arcs on which a finishing pass comes to its wall out of the roughing kerf, and leaves it again.
 *
 * Promise: a lead stays on the waste's side of the way along the wall, however short the wall's segments are and however
 * narrow the waste is. What is gone along twice, and both leads, end before the first tab.
 */
import { contains, signedArea } from "../../geometry/contour.ts";
import { distance, onCircle } from "../../geometry/segment.ts";
import type { Point, Segment } from "../../geometry/shape.ts";
import { acos, atan2, sin } from "../../geometry/trig.ts";
import { type ArcFeed, feedOn } from "./feed.ts";
import { type Pen, straight, type Track, trackPoint, trackTangent } from "./track.ts";

/** Radius of the arc on which the wall is met and left, mm; common practice, no source. */
const LEAD_RADIUS = 1;
/** Inside a curve the lead's arc must be tighter than the curve. */
const LEAD_SHARE = 0.7;
/** The finishing pass runs past its own start, mm; common practice, no source. */
const OVERLAP = 0.5;
/** No lead, and nothing gone along twice, is further from the start than this along the wall, mm. */
const SPAN = 2 * LEAD_RADIUS + OVERLAP;

export interface Leads {
  readonly radius: number;
  /** rad. */
  readonly turn: number;
  /** Along the wall, mm. */
  readonly reach: number;
  /** Gone along twice, mm. */
  readonly overlap: number;
}

export interface LedLoop {
  readonly track: Track;
  /** Where the way up to each tab begins. */
  readonly bridges: readonly { readonly begins: number }[];
  readonly stock: number;
  readonly wallRight: boolean;
  readonly feeds: { readonly finish: ArcFeed };
}

/** As wide as there is room for; none where the waste is too narrow for any. */
export function leadsFor(loop: LedLoop): Leads {
  const room = loop.bridges[0]?.begins ?? Number.POSITIVE_INFINITY;
  let radius = Math.min(LEAD_RADIUS, radiusIn(room, loop.stock), LEAD_SHARE * tightestIn(loop));
  for (let tries = 0; tries < TRIES; tries++) {
    const leads = leadsOf(radius, room, loop.stock);
    if (isClear(loop, leads)) return leads;
    radius /= 2;
  }
  return leadsOf(0, room, loop.stock);
}

/** The last is an eighth of the first. */
const TRIES = 4;

function leadsOf(radius: number, room: number, stock: number): Leads {
  const turn = radius > stock ? acos(1 - stock / radius) : Math.PI / 2;
  const reach = radius * sin(turn);
  return { radius, turn, reach, overlap: Math.max(0, Math.min(OVERLAP, room - 2 * reach)) };
}

/**
 * Of an arc that goes the stock aside over a length m along the wall: m² = 2 r s − s². Where there is no room for that, a
 * quarter turn of what room there is, which goes less far aside.
 */
function radiusIn(room: number, stock: number): number {
  const along = (room - OVERLAP) / 2;
  if (along < stock) return Math.min(stock, room / 2);
  return (along * along + stock * stock) / (2 * stock);
}

/** Radius of the tightest arc near the start, of those that bend into the waste, mm. */
function tightestIn({ track, wallRight }: LedLoop): number {
  let tightest = Number.POSITIVE_INFINITY;
  for (const [i, segment] of track.contour.segments.entries()) {
    if ((track.sums[i] as number) >= SPAN) break;
    const bendsIn = segment.kind === "arc" && segment.sweep > 0 === wallRight;
    if (bendsIn) tightest = Math.min(tightest, segment.radius);
  }
  return tightest;
}

/** Of a lead's arc, from the wall. */
const SAMPLES = [0.4, 0.7, 1] as const;

/** Do both leads stay in the waste? Behind a corner, or in a narrow notch, the wall may come back. */
function isClear(loop: LedLoop, leads: Leads): boolean {
  const { contour, length } = loop.track;
  const inside = signedArea(contour) > 0 === loop.wallRight;
  const arcs = [
    { ...arcAt(loop, leads.reach, leads.radius), way: -1 },
    { ...arcAt(loop, length + leads.reach + leads.overlap, leads.radius), way: 1 },
  ];
  return arcs.every(({ centre, angle, way }) => {
    const towards = loop.wallRight ? way : -way;
    return SAMPLES.every((share) => {
      const p = onCircle(centre, leads.radius, angle + towards * share * leads.turn);
      return contains(contour, p) === inside;
    });
  });
}

interface LeadArc {
  /** On the wall, and the middle of the arc that touches it there. */
  readonly at: Point;
  readonly centre: Point;
  /** From the centre to the wall, rad. */
  readonly angle: number;
}

function arcAt({ track, wallRight }: LedLoop, s: number, radius: number): LeadArc {
  const at = trackPoint(track, s);
  const n = awayFromWall(trackTangent(track, s), wallRight);
  const centre = { x: at.x + n.x * radius, y: at.y + n.y * radius };
  return { at, centre, angle: atan2(-n.y, -n.x) };
}

/** Unit vector from the wall into the waste. */
function awayFromWall(t: Point, wallRight: boolean): Point {
  return wallRight ? { x: -t.y, y: t.x } : { x: t.y, y: -t.x };
}

/** From where the pen stands in the roughing kerf to the wall, at `reach` from the track's start. */
export function leadIn(p: Pen, loop: LedLoop, { radius, turn, reach }: Leads): void {
  const { at, centre, angle } = arcAt(loop, reach, radius);
  const sweep = loop.wallRight ? turn : -turn;
  straight(p, onCircle(centre, radius, angle - sweep), loop.feeds.finish.base);
  lead(p, at, { centre, sweep }, loop.feeds.finish);
}

/** From the wall at `end` of the track. */
export function leadOut(p: Pen, loop: LedLoop, end: number, { radius, turn }: Leads): void {
  const { centre, angle } = arcAt(loop, end, radius);
  const sweep = loop.wallRight ? turn : -turn;
  lead(p, onCircle(centre, radius, angle + sweep), { centre, sweep }, loop.feeds.finish);
}

/** The wall lies outside a lead's arc, as in a bore: the centre goes as much slower. */
function lead(p: Pen, to: Point, arc: { centre: Point; sweep: number }, feed: ArcFeed): void {
  if (distance(p.at, to) < 1e-6) return;
  const radius = distance(arc.centre, to);
  const { centre, sweep } = arc;
  const segment: Segment = { kind: "arc", from: p.at, to, centre, radius, sweep };
  p.moves.push({ to, z: p.z, arc, feed: feedOn(segment, feed), origin: undefined });
  p.at = to;
}
