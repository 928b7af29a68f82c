/**
 * Pieces to loops: doubles out, loose ends joined, loops traced, the rest kept as open chains. What was done
 * is told; nothing is closed, moved or dropped beyond the tolerances without a finding.
 */
import type { Finding } from "../../finding/finding.ts";
import { reportDrawing } from "../../finding/say-drawing.ts";
import { signedArea } from "../../geometry/contour.ts";
import { distance, lengthOf, reversed } from "../../geometry/segment.ts";
import type { Contour, Origin, Segment } from "../../geometry/shape.ts";
import { SPECK } from "../../geometry/tolerance.ts";
import type { Ignored, Loop, OpenChain, ReadOptions } from "../drawing.ts";
import { clean } from "./clean.ts";
import { doubledLoops, type Loose, withoutDoubles } from "./double/duplicate.ts";
import { met } from "./ends.ts";
import { buildGraph, type Graph, type JoinedGap, type Step } from "./graph.ts";
import { joinLoose } from "./join.ts";
import {
  spot,
  tellConflicts,
  tellOpen,
  type Work,
  withoutBorder,
  withoutNear,
  withRounds,
} from "./judge.ts";
import { listed, type Piece, type Tally } from "./piece.ts";
import { trace } from "./trace.ts";

export interface Mended {
  readonly loops: readonly Loop[];
  readonly openChains: readonly OpenChain[];
  readonly ignored: readonly Ignored[];
  readonly repairs: readonly Finding[];
  readonly findings: readonly Finding[];
}

export interface MendOptions extends ReadOptions {
  /** How many texts the drawing has: a sign of a sheet with a border. */
  readonly texts: number;
}

export function mend(file: string, pieces: readonly Piece[], options: MendOptions): Mended {
  const w: Work = { file, repairs: [], findings: [] };
  const tally: Tally = new Map();
  const cleaned = clean(pieces, tally);
  if (cleaned.specks > 0)
    note(w, reportDrawing("specks-dropped", { count: cleaned.specks }, at(w)));
  const whole = cleaned.pieces.filter((p) => p.closed).map(asLoop);
  const loose = cleaned.pieces.filter((p) => !p.closed).flatMap(asLoose);
  const thinned = withoutDoubles(loose);
  const joint = joinLoose(thinned, options);
  const { g, kept, traced } = joint;
  const fromLoose = traced.loops.map((steps) => loopOf(g, steps, kept));
  const { loops, doubled } = single([...whole, ...fromLoose], tally);
  const chains = traced.chains.map((steps) => chainOf(g, steps, kept));
  const strays = withoutCovered(chains, loops);
  tellDoubles(w, joint, doubled, strays.removed);
  tellJoins(w, joint.joined, joint.asked);
  for (const p of traced.branches)
    w.findings.push(reportDrawing("branch", { x: p.x, y: p.y }, spot(w, p)));
  if (thinned.gaveUp || !joint.complete) w.findings.push(reportDrawing("too-dense", {}, at(w)));
  const plain = withoutBorder(w, loops, options.texts, tally);
  const apart = withoutNear(w, plain, options.dropNearDuplicates === true);
  const round = withRounds(w, apart);
  tellConflicts(w, round);
  tellOpen(w, strays.chains, round);
  return {
    loops: round,
    openChains: strays.chains,
    ignored: listed(tally),
    repairs: w.repairs,
    findings: w.findings,
  };
}

function at(w: Work): { drawing: Origin } {
  return { drawing: { file: w.file } };
}

function note(w: Work, f: Finding): void {
  w.repairs.push(f);
}

function asLoop(p: Piece): Loop {
  return { contour: { segments: p.segments }, layer: p.layer };
}

function asLoose(p: Piece): Loose[] {
  return p.segments.map((segment) => ({ segment, layer: p.layer }));
}

/** Segments along the steps, each made to end where the next begins. */
function along(g: Graph, steps: readonly Step[], closed: boolean): Segment[] {
  const segments = steps.map(({ index, back }) => {
    const s = g.segments[index] as Segment;
    return back ? reversed(s) : s;
  });
  const last = closed ? segments.length : segments.length - 1;
  for (let i = 0; i < last; i++) {
    const j = (i + 1) % segments.length;
    if (i === j) continue;
    const [a, b] = met(segments[i] as Segment, segments[j] as Segment);
    segments[i] = a;
    segments[j] = b;
  }
  return segments.filter((s) => lengthOf(s) > SPECK / 2 || segments.length < 3);
}

function loopOf(g: Graph, steps: readonly Step[], loose: readonly Loose[]): Loop {
  const layer = (loose[(steps[0] as Step).index] as Loose).layer;
  const segments = along(g, steps, true);
  const only = segments[0];
  // An arc of nearly a full turn, alone, whose ends were joined, is the circle.
  if (segments.length === 1 && only?.kind === "arc") {
    const sweep = only.sweep > 0 ? 2 * Math.PI : -2 * Math.PI;
    return { contour: { segments: [{ ...only, to: only.from, sweep }] }, layer };
  }
  return { contour: { segments }, layer };
}

function chainOf(g: Graph, steps: readonly Step[], loose: readonly Loose[]): OpenChain {
  const first = loose[(steps[0] as Step).index] as Loose;
  return openChain(along(g, steps, false), first.layer);
}

function openChain(segments: readonly Segment[], layer: string): OpenChain {
  const first = segments[0] as Segment;
  const start = first.from;
  const end = (segments[segments.length - 1] as Segment).to;
  const drawing = first.origin ?? { file: "" };
  return { start, end, gap: distance(start, end), layer, drawing, segments };
}

/** Loops without those drawn before, and without those that enclose nothing. */
function single(loops: readonly Loop[], tally: Tally): { loops: Loop[]; doubled: number } {
  const real = loops.filter((l) => {
    const some = !flat(l.contour);
    if (!some) {
      const key = `${l.layer}\nflat`;
      const known = tally.get(key);
      if (known === undefined)
        tally.set(key, { type: "loop", layer: l.layer, why: "encloses nothing", count: 1 });
      else known.count++;
    }
    return some;
  });
  const doubles = new Set(doubledLoops(real.map((l) => l.contour)));
  return { loops: real.filter((_, i) => !doubles.has(i)), doubled: doubles.size };
}

/** There and back along the same line: no area, and no crossing that could hide one. */
function flat(c: Contour): boolean {
  if (c.segments.length > 2) return false;
  return Math.abs(signedArea(c)) < SPECK * SPECK;
}

function withoutCovered(
  chains: readonly OpenChain[],
  loops: readonly Loop[],
): { chains: OpenChain[]; removed: number } {
  if (chains.length === 0) return { chains: [], removed: 0 };
  const covers = loops.flatMap((l) => l.contour.segments);
  const loose = chains.flatMap((c, chain) =>
    c.segments.map((segment) => ({ segment, layer: c.layer, chain })),
  );
  const { kept, removed } = withoutDoubles(loose, covers);
  if (removed.length === 0) return { chains: [...chains], removed: 0 };
  const touched = new Set(removed.map((r) => r.chain));
  const left = chains.filter((_, i) => !touched.has(i));
  for (const i of touched) {
    const g = buildGraph(kept.filter((k) => k.chain === i).map((k) => k.segment));
    const rest = trace(
      g,
      g.segments.map(() => true),
      {},
    ).chains;
    const layer = (chains[i] as OpenChain).layer;
    for (const steps of rest) left.push(openChain(along(g, steps, false), layer));
  }
  return { chains: left, removed: removed.length };
}

function tellDoubles(
  w: Work,
  thinned: { removed: readonly Loose[]; shortened: number },
  loops: number,
  strays: number,
): void {
  const count = thinned.removed.length + loops + strays;
  if (count === 0 && thinned.shortened === 0) return;
  const place = thinned.removed[0]?.segment.origin;
  const data = { count, shortened: thinned.shortened };
  w.repairs.push(
    reportDrawing("duplicates-removed", data, place === undefined ? at(w) : { drawing: place }),
  );
}

function tellJoins(w: Work, joined: readonly JoinedGap[], asked: readonly JoinedGap[]): void {
  const widest = (gaps: readonly JoinedGap[]): JoinedGap =>
    gaps.reduce((a, b) => (b.size > a.size ? b : a));
  if (joined.length > 0) {
    const { size, at: p } = widest(joined);
    const data = { count: joined.length, widest: size, x: p.x, y: p.y };
    w.repairs.push(reportDrawing("ends-joined", data, { at: [p.x, p.y], ...at(w) }));
  }
  for (const { size, at: p } of asked) {
    const data = { gap: size, x: p.x, y: p.y };
    w.repairs.push(reportDrawing("gap-closed", data, { at: [p.x, p.y], ...at(w) }));
  }
}
