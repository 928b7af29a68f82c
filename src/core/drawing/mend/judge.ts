/**
 * Loops once they are loops: what is paper, what is drawn twice nearly, what was meant round, what crosses,
 * and which open chains want closing. Each is told with its place.
 */
import type { Finding, Place } from "../../finding/finding.ts";
import { reportDrawing } from "../../finding/say-drawing.ts";
import { signedArea } from "../../geometry/contour.ts";
import { lengthOf } from "../../geometry/segment.ts";
import type { Arc, Point } from "../../geometry/shape.ts";
import { GAP, JOIN, SPECK } from "../../geometry/tolerance.ts";
import type { Loop, OpenChain } from "../drawing.ts";
import { borderOf } from "./border.ts";
import { type Conflict, conflicts } from "./crossing.ts";
import { nearChains, nearLoops } from "./double/near.ts";
import { forNear } from "./graph.ts";
import { count, type Tally } from "./piece.ts";
import { rounded } from "./round.ts";

export interface Work {
  readonly file: string;
  readonly repairs: Finding[];
  readonly findings: Finding[];
}

/** Findings of one kind that are listed one by one; the rest is in the last one's number. */
const LISTED = 25;

export function spot(w: Work, p: Point): Place {
  return { at: [p.x, p.y], drawing: { file: w.file } };
}

export function withoutBorder(
  w: Work,
  loops: readonly Loop[],
  texts: number,
  tally: Tally,
): readonly Loop[] {
  const border = borderOf(loops, texts);
  if (border === undefined) return loops;
  const { min } = border.box;
  const data = { width: border.width, height: border.height, x: min.x, y: min.y };
  w.findings.push(reportDrawing(border.sure ? "sheet-border" : "maybe-border", data, spot(w, min)));
  if (!border.sure) return loops;
  const paper = new Set(border.loops);
  for (const i of paper) count(tally, "loop", (loops[i] as Loop).layer, "sheet border");
  return loops.filter((_, i) => !paper.has(i));
}

export function withoutNear(w: Work, loops: readonly Loop[], drop: boolean): readonly Loop[] {
  const dropped = new Set<number>();
  for (const pair of nearLoops(loops.map((l) => l.contour))) {
    if (dropped.has(pair.kept) || dropped.has(pair.other)) continue;
    const { x, y } = pair.at;
    const data = { distance: pair.distance, x, y };
    if (drop) {
      dropped.add(pair.other);
      w.repairs.push(reportDrawing("near-duplicate-dropped", data, spot(w, pair.at)));
    } else {
      w.findings.push(reportDrawing("near-duplicate", data, spot(w, pair.at)));
    }
  }
  return dropped.size === 0 ? loops : loops.filter((_, i) => !dropped.has(i));
}

interface RoundGroup {
  count: number;
  readonly facets: number;
  readonly loss: number;
  readonly diameter: number;
  readonly off: number;
  readonly at: Point;
}

export function withRounds(w: Work, loops: readonly Loop[]): Loop[] {
  const groups = new Map<string, RoundGroup>();
  let arcs = 0;
  let rise = 0;
  let first: Point | undefined;
  const out = loops.map((loop) => {
    const r = rounded(loop.contour);
    if (r === undefined) return loop;
    // Arcs that were drawn on one circle are that circle already.
    if (r.circle !== undefined && r.facets === 0 && r.off < SPECK)
      return { ...loop, contour: r.contour };
    if (r.circle !== undefined) note(groups, r.circle, r.facets, 2 * r.rise, r.off);
    else if (r.facets > 0) {
      arcs += r.facets;
      rise = Math.max(rise, r.rise);
      first ??= r.contour.segments.find((s): s is Arc => s.kind === "arc")?.from;
    }
    const drawnArea = Math.abs(signedArea(loop.contour));
    const changed = r.facets > 0 || r.circle !== undefined;
    return { ...loop, contour: r.contour, ...(changed ? { drawnArea } : {}) };
  });
  for (const g of groups.values()) {
    const { x, y } = g.at;
    const code = g.facets > 0 ? "round-from-facets" : "round-from-curves";
    const data = {
      count: g.count,
      diameter: g.diameter,
      facets: g.facets,
      smaller: g.loss,
      off: g.off,
      x,
      y,
    };
    w.repairs.push(reportDrawing(code, data, spot(w, g.at)));
  }
  if (first !== undefined) {
    const data = { count: arcs, rise, x: first.x, y: first.y };
    w.repairs.push(reportDrawing("arcs-from-facets", data, spot(w, first)));
  }
  return out;
}

function note(
  groups: Map<string, RoundGroup>,
  c: Arc,
  facets: number,
  loss: number,
  off: number,
): void {
  const diameter = 2 * c.radius;
  const key = `${diameter.toFixed(2)},${facets}`;
  const known = groups.get(key);
  if (known !== undefined) known.count++;
  else groups.set(key, { count: 1, facets, loss, diameter, off, at: c.centre });
}

const CONFLICT_CODES = {
  "self-crossing": "self-crossing",
  "self-touching": "self-touching",
  crossing: "loops-cross",
  touching: "loops-touch",
} as const satisfies Record<Conflict["kind"], string>;

export function tellConflicts(w: Work, loops: readonly Loop[]): void {
  const { found, complete } = conflicts(loops.map((l) => l.contour));
  const told = new Map<string, number>();
  for (const c of found) {
    const code = CONFLICT_CODES[c.kind];
    const n = (told.get(code) ?? 0) + 1;
    told.set(code, n);
    if (n <= LISTED) w.findings.push(reportDrawing(code, { x: c.at.x, y: c.at.y }, spot(w, c.at)));
  }
  for (const [code, n] of told) {
    if (n > LISTED)
      w.findings.push(
        reportDrawing(
          "more-of-these",
          { what: code, count: n - LISTED },
          { drawing: { file: w.file } },
        ),
      );
  }
  if (!complete) w.findings.push(reportDrawing("too-dense", {}, { drawing: { file: w.file } }));
}

/** A chain whose opening is at most this part of its length was meant to be an outline. */
const NEARLY_CLOSED = 0.34;

export function tellOpen(w: Work, chains: readonly OpenChain[], loops: readonly Loop[]): void {
  const near = nearChains(
    chains.map((c) => c.segments),
    loops.map((l) => l.contour),
  );
  const gapped = new Set<number>();
  const ends = chains.flatMap((c) => [c.start, c.end]);
  let gaps = 0;
  forNear(ends, GAP, (i, j, gap) => {
    const a = i >> 1;
    const b = j >> 1;
    // Nearer ends meet, though not as an outline does.
    if (gap <= JOIN || gaps >= 2 * LISTED) return;
    if (near.has(a) || near.has(b) || (a === b && tiny(chains[a] as OpenChain))) return;
    gaps++;
    gapped.add(a).add(b);
    const p = ends[j] as Point;
    const place = { at: [p.x, p.y] as const, drawing: (chains[b] as OpenChain).drawing };
    w.findings.push(reportDrawing("gap", { gap, x: p.x, y: p.y }, place));
  });
  let listed = 0;
  chains.forEach((c, i) => {
    if (gapped.has(i) || ++listed > 2 * LISTED) return;
    const follows = near.get(i);
    const place = { at: [c.end.x, c.end.y] as const, drawing: c.drawing };
    const { x, y } = c.end;
    if (follows !== undefined) {
      const data = { distance: follows.distance, x, y };
      w.findings.push(reportDrawing("near-duplicate-line", data, place));
    } else {
      const length = c.segments.reduce((sum, s) => sum + lengthOf(s), 0);
      const outline = c.segments.length > 1 && c.gap <= NEARLY_CLOSED * length;
      w.findings.push(
        reportDrawing(outline ? "open-outline" : "open-chain", { gap: c.gap, x, y }, place),
      );
    }
  });
  if (listed > 2 * LISTED) {
    const data = { what: "open-chain", count: listed - 2 * LISTED };
    w.findings.push(reportDrawing("more-of-these", data, { drawing: { file: w.file } }));
  }
}

/** A dash shorter than the gaps that are looked for has both ends near each other by nature. */
function tiny(c: OpenChain): boolean {
  return c.segments.reduce((sum, s) => sum + lengthOf(s), 0) < 4 * GAP;
}
