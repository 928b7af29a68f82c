/**
 * Holding tabs: where a plate stays joined to the sheet, or a slug to its plate, until the end.
 *
 * A tab is a bridge of sheet under the cutter's path: for `width` along it the cutter stays `height`
 * above the underside. On the cutter-centre path that stretch spans a chord of width and one cutter
 * diameter, since half a cutter on either side is cut by what comes before and after.
 *
 * Where what they hold falls into several pieces, each is held by tabs of its own (pieces.ts).
 *
 * Promise: every tab lies on a fair stretch clear of its ends, off mating edges, with wall behind it that
 * outlasts the tab when it is broken, and with sheet before it that is not cut away by a neighbour. Where
 * the wanted number does not fit, tabs may be eased: nearer to corners, then narrower, down to half. What
 * still has no place comes back as a count, never as a tab somewhere worse.
 * Cost: O(length / STEP) candidates with three rays each, for every easing that is tried.
 */

import { centroid } from "../../geometry/contour.ts";
import type { SegmentIndex } from "../../geometry/nearest.ts";
import { distance } from "../../geometry/segment.ts";
import type { Contour, Point } from "../../geometry/shape.ts";
import type { Bridge } from "../follow/loop.ts";
import { type Track, trackPoint, trackTangent } from "../follow/track.ts";
import { SAME } from "../same.ts";
import { sharesOf } from "./pieces.ts";
import { type Spot, spread } from "./spread.ts";
import {
  CORNER_CLEAR,
  fairStretches,
  halfBridge,
  type Stretch,
  straightStretches,
} from "./stretch.ts";

export interface TabGround {
  /** The finished path of the cutter's centre, in the direction of travel. */
  readonly track: Track;
  readonly wallRight: boolean;
  readonly radius: number;
  /** Everything that bounds the plate: outline and features. */
  readonly plate: SegmentIndex;
  /** Walls whose own kerf takes sheet away: other plates, the other side of a bay or slug. */
  readonly neighbours: SegmentIndex;
  /** Where the sheet ends without a kerf: its edge, keep-outs. */
  readonly edges: SegmentIndex;
  /** Stretches of wall that sit in another plate. */
  readonly mating: readonly { readonly from: Point; readonly to: Point }[];
  /** What tabs hold, where it falls into several pieces: each gets tabs of its own. */
  readonly pieces: readonly Contour[];
}

export interface TabWish {
  readonly width: number;
  readonly height: number;
  readonly spacing: number;
  readonly least: number;
  /** Of the sheet. */
  readonly thickness: number;
  /** Length along the track that the rise before a bridge takes at the bottom. */
  readonly rise: number;
  /** Tabs may come near to corners and get narrower, where there is no better way than tabs. */
  readonly eased: boolean;
}

export interface PlacedTab {
  readonly bridge: Bridge;
  /** On the plate's contour. */
  readonly at: Point;
  /** As wide as was wished, or what there was room for. */
  readonly width: number;
  /** Number of the piece that it holds. */
  readonly piece: number;
}

/** A candidate every so often, mm: finer than any feature that would decide. */
const STEP = 1;
const UNEVEN = 0.382;
/** And at least so many on a short segment. */
const LEAST_PLACES = 9;
/** Sheet that must stay before a tab between two kerfs, mm; common practice, no source. */
const WEB = 1;
/** The wall behind must carry this many times what the tab carries. */
const OUTLASTS = 2;
/** Rays start this far off the wall, so as not to meet it. */
const OFF_WALL = 0.02;

/** What is given up, in this order, where the wanted number does not fit. */
const EASINGS = [
  { share: 1, clear: CORNER_CLEAR },
  { share: 1, clear: 0 },
  { share: 0.75, clear: 0 },
  { share: 0.5, clear: 0 },
];

/** On a track of this length round what they hold. */
export function wantedTabs(length: number, wish: TabWish): number {
  return Math.max(wish.least, Math.ceil((length - SAME) / wish.spacing));
}

/** At most the wanted number of tabs, spread as evenly round each piece as the ground allows. */
export function placeTabs(ground: TabGround, wish: TabWish): PlacedTab[] {
  let best: PlacedTab[] = [];
  for (const { share, clear } of wish.eased ? EASINGS : EASINGS.slice(0, 1)) {
    const { tabs, all } = placeWith(ground, { ...wish, width: wish.width * share, clear });
    if (tabs.length > best.length) best = tabs;
    if (all) break;
  }
  return best;
}

interface EasedWish extends TabWish {
  /** Beyond the tab and its rise to the nearest corner, mm. */
  readonly clear: number;
}

interface Placed {
  readonly tabs: PlacedTab[];
  /** As many as were wanted, round each piece. */
  readonly all: boolean;
}

function placeWith(ground: TabGround, wish: EasedWish): Placed {
  const { track, wallRight, radius, pieces } = ground;
  const middle = centroid(track.contour);
  const choose = (some: readonly Stretch[]): Placed => {
    const spots = some.flatMap((stretch) => spotsOn(ground, wish, stretch, middle));
    spots.sort((a, b) => a.s - b.s);
    const tabs: PlacedTab[] = [];
    let all = true;
    for (const { spots: own, length, piece } of sharesOf(spots, track.length, pieces, wish)) {
      const wanted = wantedTabs(length, wish);
      const chosen = spread(own, length, wanted, wish);
      all &&= chosen.length === wanted;
      for (const { place, half, at } of chosen) {
        const bridge = { from: place - half, to: place + half };
        tabs.push({ bridge, at, width: wish.width, piece });
      }
    }
    tabs.sort((a, b) => a.bridge.from + a.bridge.to - b.bridge.from - b.bridge.to);
    return { tabs, all };
  };
  // Straight segments alone, unless they hold too few.
  const straight = choose(straightStretches(track));
  const fairness = { wallRight, radius, width: wish.width };
  return straight.all ? straight : choose(fairStretches(track, fairness));
}

function spotsOn(ground: TabGround, wish: EasedWish, stretch: Stretch, middle: Point): Spot[] {
  return stretch.parts.flatMap(placesIn).flatMap((place) => {
    const spot = spotFor(ground, wish, stretch, place);
    return spot === undefined ? [] : [{ ...spot, off: distance(spot.at, middle) }];
  });
}

function placesIn({ from, to }: { from: number; to: number }): number[] {
  // Drawings love round lengths: the threshold between one count and the next lies where none of them is.
  const n = Math.max(LEAST_PLACES, Math.floor((to - from) / STEP + UNEVEN));
  return Array.from({ length: n }, (_, i) => from + ((i + 0.5) * (to - from)) / n);
}

function spotFor(
  ground: TabGround,
  wish: EasedWish,
  stretch: Stretch,
  place: number,
): Omit<Spot, "off"> | undefined {
  const { track, radius } = ground;
  // Room for the rise on both sides, though it is needed on one: mirrored plates get mirrored tabs.
  const toEnd = stretch.endless
    ? Number.POSITIVE_INFINITY
    : Math.min(place - stretch.from, stretch.to - place);
  const needed = wish.rise + wish.clear - SAME;
  // A bridge is no shorter than its chord.
  if (toEnd - wish.width / 2 - radius < needed) return undefined;
  const half = halfBridge(track, place, wish.width, radius);
  const room = Math.min(track.length, toEnd - half);
  if (room < needed) return undefined;
  const s = place % track.length;
  const at = wallPoint(ground, s);
  if (ground.mating.some((edge) => nearEdge(edge, at, half + CORNER_CLEAR))) return undefined;
  const carries = (OUTLASTS * wish.width * wish.height) / wish.thickness;
  for (const offset of [0, -wish.width / 2, wish.width / 2]) {
    if (!clearHere(ground, s + offset, carries)) return undefined;
  }
  if (!keepsEdge(ground, s - wish.width / 2) || !keepsEdge(ground, s + wish.width / 2)) return;
  return { s, place: s, half, room, at };
}

/** Beside a wall that ends there no ray meets it, and yet its kerf may take an edge of the tab where the sheet begins. */
function keepsEdge(ground: TabGround, s: number): boolean {
  const kerf = 2 * ground.radius;
  const edge = along(wallPoint(ground, s), toWall(ground, s), -kerf);
  return ground.neighbours.distance(edge, kerf) >= kerf - OFF_WALL;
}

/** Unit vector from the track to the wall. */
function toWall(ground: TabGround, s: number): Point {
  const t = trackTangent(ground.track, s);
  return ground.wallRight ? { x: t.y, y: -t.x } : { x: -t.y, y: t.x };
}

function wallPoint(ground: TabGround, s: number): Point {
  return along(trackPoint(ground.track, s), toWall(ground, s), ground.radius);
}

function along(p: Point, n: Point, d: number): Point {
  return { x: p.x + n.x * d, y: p.y + n.y * d };
}

function clearHere(ground: TabGround, s: number, carries: number): boolean {
  const n = toWall(ground, s);
  const wall = wallPoint(ground, s);
  const reach = (index: SegmentIndex, from: number, to: number): boolean =>
    index.crosses(along(wall, n, from), along(wall, n, to));
  const before = tabReach(ground.radius);
  return (
    !reach(ground.plate, OFF_WALL, carries) &&
    !reach(ground.neighbours, -OFF_WALL, -before.wall) &&
    !reach(ground.edges, -OFF_WALL, -before.edge)
  );
}

/** What is further from a wall than this has no part in where its tabs stand: other walls, and the sheet's edge, mm. */
export function tabReach(radius: number): { readonly wall: number; readonly edge: number } {
  const kerf = 2 * radius;
  return { wall: 2 * kerf + WEB, edge: kerf + WEB };
}

function nearEdge(edge: { from: Point; to: Point }, p: Point, reach: number): boolean {
  const dx = edge.to.x - edge.from.x;
  const dy = edge.to.y - edge.from.y;
  const d2 = dx * dx + dy * dy;
  const t = d2 === 0 ? 0 : ((p.x - edge.from.x) * dx + (p.y - edge.from.y) * dy) / d2;
  const k = Math.min(1, Math.max(0, t));
  return distance(p, { x: edge.from.x + k * dx, y: edge.from.y + k * dy }) < reach;
}
