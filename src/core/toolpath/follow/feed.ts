/**
 * Feed of the cutter's centre on arcs, so that the chip at the wall is the one that was asked for.
 *
 * Inside a curve the wall runs faster than the centre, outside slower: the feed of the centre is
 * vf (Dm − Dc)/Dm in a bore of diameter Dm and vf (Dm + Dc)/Dm round a boss (Sandvik Coromant,
 * threading catalogue, p. 117). Faster feeds outside are used where an outline is finished, and nowhere
 * else: a roughing pass cuts its full width and sees both walls, and so may a cutter in a narrow slot.
 */
import type { Segment } from "../../geometry/shape.ts";

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
