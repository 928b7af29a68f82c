/**
 * Feed of the cutter's centre on arcs, so that the chip at the wall is the one that was asked for.
 *
 * Inside a curve the wall runs faster than the centre, outside slower: the feed of the centre is
 * vf (Dm − Dc)/Dm in a bore of diameter Dm and vf (Dm + Dc)/Dm round a boss (Sandvik Coromant,
 * threading catalogue, p. 117). Faster feeds outside are used where an outline is finished, and nowhere
 * else: a roughing pass cuts its full width and sees both walls, and so may a cutter in a narrow slot.
 */
import type { Segment } from "../../geometry/shape.ts";
import { hypot } from "../../geometry/trig.ts";
import type { Machine } from "../../machine/machine.ts";

export interface ArcFeed {
  /** On a straight line, mm/min. */
  readonly base: number;
  readonly cutterRadius: number;
  /** True where the plate is on the right of travel (climb under a clockwise spindle). */
  readonly wallRight: boolean;
  /** Outside a curve the feed may rise above `base`. */
  readonly faster: boolean;
  /** Never above this along the way, mm/min. */
  readonly most: number;
  /** Nor above this in Z. */
  readonly mostZ: number;
}

/** On a slope, or straight down, the Z axis must keep up. `length` is along XY. */
export function feedDown(feed: number, length: number, dz: number, mostZ: number): number {
  const fall = Math.abs(dz);
  return fall === 0 ? feed : Math.min(feed, (mostZ * hypot(length, fall)) / fall);
}

/** What Z may be asked for by a feed along arcs, mm/min. */
export function mostZOn({ arcs, maxFeed }: Machine): number {
  return maxFeed[2] / (arcs ? 1 : ARC_OVER_CHORDS);
}

/**
 * A helix written in chords falls as far over a shorter way, and at its feed so much faster: by (θ/2) / sin(θ/2), where
 * chords that keep to 0.002 mm turn by θ = 0.57 on a circle of 0.05 mm, the smallest that a cutter goes round in a bore.
 */
const ARC_OVER_CHORDS = 1.014;

/** Round a nearly sharp corner the formula has no limit; common practice, no source. */
const MOST_GAIN = 1.5;

export function feedOn(s: Segment, feed: ArcFeed, backwards = false): number {
  if (s.kind === "line") return Math.min(feed.base, feed.most);
  const wallRight = backwards ? !feed.wallRight : feed.wallRight;
  const concave = s.sweep > 0 === wallRight;
  return Math.min(feed.base * factor(s.radius, concave, feed), feed.most);
}

function factor(radius: number, concave: boolean, feed: ArcFeed): number {
  if (concave) return radius / (radius + feed.cutterRadius);
  const wall = radius - feed.cutterRadius;
  // A corner: there is no wall along which the chip could thin.
  if (!feed.faster || wall < 1e-3) return 1;
  return Math.min(MOST_GAIN, radius / wall);
}
