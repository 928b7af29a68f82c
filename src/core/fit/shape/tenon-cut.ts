/**
 * The outline of a plate whose tenons were fitted: ends moved so that they reach, roots cut free.
 *
 * A root's relief along the tenon's side bites into the shoulder and takes nothing of the tenon's width, through which
 * its load goes; on the bisector it takes 0.29 R from each side of the tenon.
 */
import { closeUp, oriented } from "../../geometry/contour.ts";
import { distance, line, reversed } from "../../geometry/segment.ts";
import type { Contour, Line, Point, Segment } from "../../geometry/shape.ts";
import type { Relief } from "../mate.ts";
import { type CornerRelief, type Relieved, relieve } from "./relief.ts";
import type { Shoulder, Tenon } from "./tenon.ts";

export interface TenonWanted {
  readonly tenon: Tenon;
  /** How far the end is moved out. */
  readonly longer: number;
  readonly way: "along-wall" | "bisector" | "none";
  readonly radius: number;
}

export interface OutlineMade {
  readonly outer: Contour;
  /** In the order of what was wanted; undefined where nothing was cut. */
  readonly reliefs: readonly (Relief | undefined)[];
  /** Roots that had to be cut free and could not: the shoulder or side is too short. */
  readonly tight: readonly Point[];
}

/** Segments in the making: their ends may move, arcs may come between, some go. */
interface Draft {
  segment: Segment;
  from: Point;
  to: Point;
  after: Segment[];
  gone: boolean;
}

export function fittedOutline(outer: Contour, wanted: readonly TenonWanted[]): OutlineMade {
  const drafts = outer.segments.map(
    (segment): Draft => ({
      segment,
      from: segment.from,
      to: segment.to,
      after: [],
      gone: false,
    }),
  );
  const tight: Point[] = [];
  const reliefs = wanted.map((w) => {
    if (w.longer !== 0) moveEnd(drafts, w.tenon, w.longer);
    return w.way === "none" ? undefined : cutRoots(drafts, w, w.way, tight);
  });
  const segments = drafts.flatMap((d) =>
    d.gone ? d.after : [{ ...d.segment, from: d.from, to: d.to }, ...d.after],
  );
  return { outer: oriented({ segments: closeUp(segments) }, true), reliefs, tight };
}

/** Where the corners of the tip go, the arcs that round them go too. */
function moveEnd(drafts: readonly Draft[], { sides, out }: Tenon, by: number): void {
  const [before, , after] = sides;
  const move = (p: Point): Point => ({ x: p.x + by * out.x, y: p.y + by * out.y });
  const n = drafts.length;
  const first = drafts[before] as Draft;
  first.to = move(first.to);
  for (let i = (before + 1) % n; i !== after; i = (i + 1) % n) {
    const d = drafts[i] as Draft;
    d.from = move(d.from);
    d.to = move(d.to);
    if (d.segment.kind === "arc") d.segment = { ...d.segment, centre: move(d.segment.centre) };
  }
  const last = drafts[after] as Draft;
  last.from = move(last.from);
}

function cutRoots(
  drafts: readonly Draft[],
  { tenon, radius }: TenonWanted,
  way: "along-wall" | "bisector",
  tight: Point[],
): Relief | undefined {
  let bite: number | undefined;
  let corners = 0;
  tenon.shoulders.forEach((shoulder, k) => {
    if (shoulder === undefined || shoulder.kind === "relieved") return;
    const side = tenon.sides[k === 0 ? 0 : 2];
    const cut = cutRoot(drafts, shoulder, side, { way, radius, before: k === 0 });
    if (cut === undefined) {
      tight.push(shoulder.root);
      return;
    }
    bite = cut.bite;
    corners++;
  });
  return bite === undefined ? undefined : { way, radius, bite, corners };
}

interface RootCut {
  readonly way: "along-wall" | "bisector";
  readonly radius: number;
  /** The shoulder comes before the side along the outline. */
  readonly before: boolean;
}

function cutRoot(
  drafts: readonly Draft[],
  shoulder: Shoulder,
  side: number,
  { way, radius, before }: RootCut,
): Relieved | undefined {
  const edge = drafts[shoulder.index] as Draft;
  const wall = drafts[side] as Draft;
  const { root } = shoulder;
  // The void must lie on the left, so the outline is gone along backwards here.
  const [first, second]: [Line, Line] = before
    ? [line(wall.to, root), line(root, edge.from)]
    : [line(edge.to, root), line(root, wall.from)];
  const along: CornerRelief = before ? "along-first" : "along-second";
  const cut = relieve(first, second, way === "bisector" ? "bisector" : along, radius);
  if (cut === undefined) return undefined;
  const bow = { ...reversed(cut.bow), origin: edge.segment.origin };
  const [onWall, onEdge] = before
    ? [cut.firstEnds, cut.secondBegins]
    : [cut.secondBegins, cut.firstEnds];
  const n = drafts.length;
  const between = drafts[(before ? shoulder.index + 1 : side + 1) % n] as Draft;
  if (shoulder.kind === "fillet") between.gone = true;
  if (before) {
    edge.to = onEdge;
    edge.after = [bow];
    wall.from = onWall;
  } else {
    wall.to = onWall;
    wall.after = [bow];
    edge.from = onEdge;
  }
  return distance(edge.from, edge.to) > 0 ? cut : undefined;
}
