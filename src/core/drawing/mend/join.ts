/**
 * Loose segments to traced loops, with the edges that plates share given back.
 *
 * Two plates that share an edge, each drawn in full, have that edge or a part of it twice, as a double drawn by
 * mistake is. They differ in what the loss of the second one leaves: an odd number of ends at one of its own,
 * where the other is no plain joint either. A whole shared edge then bounds a plate on both its sides; a part
 * of one is traced as a strand of its own.
 */
import { distance } from "../../geometry/segment.ts";
import type { Point, Segment } from "../../geometry/shape.ts";
import { JOIN } from "../../geometry/tolerance.ts";
import type { ReadOptions } from "../drawing.ts";
import { type Loose, sameCarrier, type Thinned } from "./double/duplicate.ts";
import {
  buildGraph,
  deadStrands,
  endPoint,
  forNear,
  type Graph,
  type JoinedGap,
  joinOdd,
} from "./graph.ts";
import { type Traced, trace } from "./trace.ts";

export interface Joint {
  readonly g: Graph;
  /** The strands of the graph. */
  readonly kept: readonly Loose[];
  /** Doubles that stay out, and parts of strands that do. */
  readonly removed: readonly Loose[];
  readonly shortened: number;
  readonly joined: readonly JoinedGap[];
  readonly asked: readonly JoinedGap[];
  /** False where too much lies over one place to compare it all. */
  readonly complete: boolean;
  readonly traced: Traced;
}

export function joinLoose(thinned: Thinned<Loose>, options: ReadOptions): Joint {
  const { kept, removed, covered } = thinned;
  const net = netOf(kept, options);
  const plain = { ...net, removed, shortened: covered.length, traced: trace(net.g, net.dead, {}) };
  const candidates = [...removed, ...covered];
  const missed = missedBy(net.g, candidates);
  if (missed.length === 0) return plain;
  const isMissed = new Set(missed);
  const rest = {
    removed: removed.filter((r) => !isMissed.has(r)),
    shortened: covered.filter((r) => !isMissed.has(r)).length,
  };
  const twins = missed.map((m) => twinOf(net.g, m.segment));
  const shared = twins.flatMap((t) => (t === undefined ? [] : [t]));
  if (shared.length === missed.length) {
    const traced = trace(net.g, net.dead, { shared: new Set(shared) });
    return better(plain, { ...net, ...rest, traced });
  }
  const full = netOf([...kept, ...missed], options);
  // What was given back lies on another strand: begun there, each walk keeps to its own side of the two.
  const starts = missed.map((_, i) => kept.length + i);
  return better(plain, { ...full, ...rest, traced: trace(full.g, full.dead, { starts }) });
}

function better(a: Joint, b: Joint): Joint {
  const loose = ({ traced }: Joint): number => traced.branches.length + traced.chains.length;
  return loose(b) < loose(a) ? b : a;
}

type Net = Pick<Joint, "g" | "kept" | "joined" | "asked" | "complete"> & {
  readonly dead: readonly boolean[];
};

function netOf(kept: readonly Loose[], options: ReadOptions): Net {
  const g = buildGraph(kept.map((l) => l.segment));
  const joined = joinOdd(g, JOIN);
  const reach = options.closeGaps ?? 0;
  const asked = reach > JOIN ? joinOdd(g, reach) : { gaps: [], complete: true };
  const complete = joined.complete && asked.complete;
  return { g, kept, joined: joined.gaps, asked: asked.gaps, complete, dead: deadStrands(g) };
}

/** Candidates whose loss leaves an odd number of ends at one end, and that have no plain joint at the other. */
function missedBy(g: Graph, candidates: readonly Loose[]): Loose[] {
  if (candidates.length === 0) return [];
  const nodes = g.ends.flatMap((ends) => (ends.length === 0 || ends.length === 2 ? [] : [ends]));
  const spots = nodes.map((ends) => endPoint(g, ends[0] as number));
  const ends = candidates.flatMap((c) => [c.segment.from, c.segment.to]);
  const meets = ends.map((): "odd" | "even" | "no" => "no");
  forNear([...spots, ...ends], JOIN, (i, j) => {
    const k = j - spots.length;
    const node = nodes[i];
    if (node === undefined || k < 0) return;
    const only = node.length === 1 ? g.segments[(node[0] as number) >> 1] : undefined;
    // The free end of the very strand that covers it misses nothing.
    if (only !== undefined && sameCarrier(only, (candidates[k >> 1] as Loose).segment)) return;
    meets[k] = node.length % 2 === 1 ? "odd" : "even";
  });
  return candidates.filter((_, i) => {
    const both = [meets[2 * i], meets[2 * i + 1]];
    return both.includes("odd") && !both.includes("no");
  });
}

/** The strand that has the same ends and lies on the same carrier. */
function twinOf(g: Graph, s: Segment): number | undefined {
  const ends = (p: Point): boolean => distance(p, s.from) <= JOIN || distance(p, s.to) <= JOIN;
  const found = g.segments.findIndex((t) => ends(t.from) && ends(t.to) && sameCarrier(t, s));
  return found < 0 ? undefined : found;
}
