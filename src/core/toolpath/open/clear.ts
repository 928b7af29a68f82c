/**
 * Clearing an opening whole, where a loose slug could jam, and recesses to their depth.
 *
 * The cutter goes round in rings, each `s` further from the wall, from the innermost to the outermost,
 * layer by layer. Two rings lie at most 0.9 r apart, less where a corner is sharp, since along its
 * bisector they lie s / sin(θ/2) apart and must stay within the cutter's reach of one another. The
 * innermost ring is the first whose inside the cutter covers by itself.
 * Where a ring splits, each part is a chain of its own: first to depth, then the chain round them.
 * Cost: O(rings × layers × segments).
 */

import { isWider, signedArea, startedAt, turnBetween } from "../../geometry/contour.ts";
import { offsetRings } from "../../geometry/offset.ts";
import { remembering } from "../../geometry/remember.ts";
import type { Contour, Point, Segment } from "../../geometry/shape.ts";
import { cos } from "../../geometry/trig.ts";
import type { Cut } from "../cut.ts";
import type { Depths } from "../follow/depths.ts";
import type { Setup } from "../follow/setup.ts";
import { travel } from "../follow/setup.ts";
import {
  type Pen,
  pen,
  placeOn,
  run,
  straight,
  type Track,
  trackOf,
  trackPoint,
  vertical,
} from "../follow/track.ts";
import { CORELESS } from "./bore.ts";

/** Rings from the innermost outwards; no ring of a chain splits. */
export type Chain = readonly Contour[];

/** Deeper nesting than this is a fault in the rings, not a plate. */
const MOST_RINGS = 2000;

const known = remembering<Contour, Chain[]>();

/** Chains that clear everything inside `outermost` (counter-clockwise), in the order in which they are cut. */
export function chainsInside(outermost: Contour, radius: number): readonly Chain[] {
  return known(outermost, radius, () => chainsWithin(outermost, radius));
}

function chainsWithin(outermost: Contour, radius: number): Chain[] {
  const chains: Chain[] = [];
  let budget = MOST_RINGS;
  const grow = (ring: Contour): void => {
    const chain = [ring];
    let current = ring;
    while (budget-- > 0) {
      const inner = nextRings(current, radius);
      if (inner.length > 1) for (const c of inner) grow(c);
      if (inner.length !== 1) break;
      current = inner[0] as Contour;
      chain.push(current);
    }
    chains.push(chain.reverse());
  };
  grow(outermost);
  return chains;
}

function nextRings(ring: Contour, radius: number): Contour[] {
  const core = CORELESS * radius;
  if (!isWider(ring, core) && offsetRings([ring], -core).length === 0) return [];
  return offsetRings([ring], -stepFor(ring, radius)).filter((c) => signedArea(c) > 0);
}

/** Distance to the next ring, so that nothing stays between the two. */
function stepFor(ring: Contour, radius: number): number {
  const usual = 0.9 * radius;
  let sharpest = 0;
  const { segments } = ring;
  for (const [i, s] of segments.entries()) {
    if (segments.length === 1) break;
    let turn = turnBetween(s, segments[(i + 1) % segments.length] as Segment);
    // A small fillet is a corner one ring further in.
    if (s.kind === "arc" && s.radius < usual) turn = Math.max(turn, s.sweep);
    sharpest = Math.max(sharpest, turn);
  }
  const half = Math.min(sharpest, Math.PI * 0.98) / 2;
  // sin(θ/2) = cos(φ/2) for a change of direction φ; 1.9 r leaves 5 % of overlap in the corner.
  return Math.min(usual, 1.9 * radius * cos(half));
}

/** One cut that clears a chain in layers; a ring's start is the place nearest to the ring before it. */
export function clearChain(chain: Chain, depths: Depths, label: string, setup: Setup): Cut {
  const tracks = linked(chain, setup);
  const first = tracks[0] as Track;
  const p = pen(trackPoint(first, 0), setup.startZ);
  vertical(p, 0, setup.feeds.plunge);
  for (const z of depths.levels) {
    enterLayer(p, first, z, setup);
    for (const [i, track] of tracks.entries()) {
      if (i === 0) continue;
      straight(p, trackPoint(track, 0), setup.feeds.cut.base);
      run(p, track, [0, track.length], z, setup.feeds.cut);
    }
    // Back the way we came, through what is open at this depth.
    if (z > depths.bottom) {
      for (const track of tracks.slice(0, -1).reverse()) {
        straight(p, trackPoint(track, 0), setup.feeds.cut.base);
      }
    }
  }
  return { label, start: trackPoint(first, 0), startZ: setup.startZ, moves: p.moves };
}

/** Down over whole turns of the innermost ring, then once round level: it is the shortest ring there is. */
function enterLayer(p: Pen, track: Track, z: number, setup: Setup): void {
  const turns = Math.max(1, Math.ceil((p.z - z) / setup.slope / track.length - 1e-6));
  run(p, track, [0, turns * track.length], z, setup.feeds.ramp);
  run(p, track, [0, track.length], z, setup.feeds.cut);
}

function linked(chain: Chain, setup: Setup): Track[] {
  const out: Track[] = [];
  let near: Point | undefined;
  for (const ring of chain) {
    const way = travel(ring, "inside", setup);
    const begun = near === undefined ? way : startedAt(way, placeOn(trackOf(way), near));
    out.push(trackOf(begun));
    near = begun.segments[0]?.from;
  }
  return out;
}
