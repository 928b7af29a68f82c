/**
 * Runs back to exact segments: each run becomes its piece's carrier between the exact meeting points
 * with its neighbours. A run of no piece stays as the lines that Clipper gave.
 *
 * Words: a *break* is the point where one run hands over to the next. At a break that is no weld of the
 * rail, two offsets cross; growing material meets itself in a concave corner there, shrinking in a
 * convex one, so of two meeting points the sign of the turn names the right one.
 */
import { carriersMeet, parameterOf } from "../intersect.ts";
import { distance, lengthOf, line, nearestOn, startingAt } from "../segment.ts";
import type { Contour, Point, Segment } from "../shape.ts";
import { SHORTEST, SLIGHT, WELD } from "../tolerance.ts";
import type { Run } from "./attribute.ts";
import { crossAt, type Piece } from "./rail.ts";
import { arcOfSweep, withEnds } from "./tidy.ts";

export interface Rejoined {
  readonly contour: Contour;
  /** Segments that stayed lines because no source explains them. */
  readonly kept: number;
  /** The piece that each segment of the contour comes from; −1 for lines that stayed. */
  readonly from: readonly number[];
}

/** A break: where run k ends and the next begins; two points where the carriers do not quite meet. */
interface Break {
  readonly end: Point;
  readonly start: Point;
}

/** Undefined where nothing of the ring is longer than `SHORTEST`. */
export function rejoin(
  runs: readonly Run[],
  pieces: readonly Piece[],
  d: number,
): Rejoined | undefined {
  let live = merged(runs.filter((r) => r.piece >= 0 || reach(r) > 2 * SHORTEST));
  for (;;) {
    if (live.length === 0) return undefined;
    const breaks = live.map((run, k) =>
      breakOf(run, live[(k + 1) % live.length] as Run, pieces, d),
    );
    const worst = shortest(live, pieces, breaks);
    if (worst < 0) return build(live, pieces, breaks);
    live = merged(live.filter((_, k) => k !== worst));
  }
}

/** A run of no piece that strays no further than this from its start is what an arc about to vanish left. */
function reach(run: Run): number {
  const first = run.points[0] as Point;
  return Math.max(...run.points.map((p) => distance(first, p)));
}

function lengthOfRun(run: Run): number {
  let sum = 0;
  for (let i = 1; i < run.points.length; i++) {
    sum += distance(run.points[i - 1] as Point, run.points[i] as Point);
  }
  return sum;
}

/** Neighbours of one piece become one run, round the ring. */
function merged(runs: readonly Run[]): Run[] {
  const out: Run[] = [];
  for (const run of runs) {
    const last = out[out.length - 1];
    if (last !== undefined && last.piece === run.piece && run.piece >= 0) {
      out[out.length - 1] = { piece: run.piece, points: [...last.points, ...run.points] };
    } else {
      out.push(run);
    }
  }
  const first = out[0];
  const last = out[out.length - 1];
  if (out.length > 1 && first && last && first.piece === last.piece && first.piece >= 0) {
    out[0] = { piece: first.piece, points: [...last.points, ...first.points] };
    out.pop();
  }
  return out;
}

const exactOf = (run: Run, pieces: readonly Piece[]): Segment | undefined =>
  pieces[run.piece]?.exact;

function breakOf(a: Run, b: Run, pieces: readonly Piece[], d: number): Break {
  const near = a.points[a.points.length - 1] as Point;
  const pa = pieces[a.piece];
  const pb = pieces[b.piece];
  if (a === b || pa === undefined || pb === undefined) {
    const end = pa === undefined ? near : nearestOn(pa.exact, near).point;
    const start = pb === undefined ? end : nearestOn(pb.exact, near).point;
    return { end, start };
  }
  const weld = pa.trimmed.to;
  if (weld === pb.trimmed.from && distance(weld, near) < NEAR_WELD) return both(weld);
  const meeting = meetingOf(pa.exact, pb.exact, near, d);
  if (meeting !== undefined) return both(meeting);
  if (weld === pb.trimmed.from && distance(weld, near) < 10 * NEAR_WELD) return both(weld);
  return { end: nearestOn(pa.exact, near).point, start: nearestOn(pb.exact, near).point };
}

const both = (p: Point): Break => ({ end: p, start: p });

/** Clipper leaves a weld where it is but for rounding and cleaning of edges under `SHORTEST`. */
const NEAR_WELD = 2 * SHORTEST;

function meetingOf(a: Segment, b: Segment, near: Point, d: number): Point | undefined {
  let best: Point | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const p of carriersMeet(a, b)) {
    if (crossAt(a, b, p) * d >= 0 || beyond(a, p) > SLIGHT || beyond(b, p) > SLIGHT) continue;
    const away = distance(p, near);
    if (away >= least) continue;
    best = p;
    least = away;
  }
  return best;
}

function beyond(s: Segment, p: Point): number {
  const t = parameterOf(s, p);
  return (t < 0 ? -t : t > 1 ? t - 1 : 0) * lengthOf(s);
}

/** The run that is shortest between its breaks, if it is too short to stay or runs backwards. */
function shortest(
  live: readonly Run[],
  pieces: readonly Piece[],
  breaks: readonly Break[],
): number {
  let worst = -1;
  let least = SHORTEST;
  if (live.length === 1) return -1;
  live.forEach((run, k) => {
    const exact = exactOf(run, pieces);
    if (exact === undefined) return;
    const { start } = breaks[(k + live.length - 1) % live.length] as Break;
    const { end } = breaks[k] as Break;
    const length = forward(exact, start, end, lengthOfRun(run));
    if (length >= least) return;
    worst = k;
    least = length;
  });
  return worst;
}

/** Length from one point to another in the piece's direction; negative where that runs backwards. */
function forward(s: Segment, from: Point, to: Point, seen: number): number {
  if (from === to) return seen > SHORTEST * 2 ? lengthOf(s) : 0;
  const whole = lengthOf(s);
  const ahead = (parameterOf(s, to) - parameterOf(s, from)) * whole;
  if (s.kind === "line") return ahead;
  // On a circle ahead is only known up to whole turns: the turn nearest to what Clipper saw.
  const turn = 2 * Math.PI * s.radius;
  return ahead + turn * Math.round((seen - ahead) / turn);
}

function build(
  live: readonly Run[],
  pieces: readonly Piece[],
  breaks: readonly Break[],
): Rejoined | undefined {
  const only = live[0];
  if (live.length === 1 && only !== undefined && only.piece >= 0) {
    const whole = (pieces[only.piece] as Piece).exact;
    return whole.from === whole.to
      ? { contour: { segments: [whole] }, kept: 0, from: [only.piece] }
      : undefined;
  }
  const segments: Segment[] = [];
  const from: number[] = [];
  const add = (s: Segment, piece: number): void => {
    segments.push(s);
    from.push(piece);
  };
  live.forEach((run, k) => {
    const before = breaks[(k + live.length - 1) % live.length] as Break;
    const after = breaks[k] as Break;
    const exact = exactOf(run, pieces);
    if (exact !== undefined) {
      add(withEnds(exact, before.start, after.end), run.piece);
    } else {
      const inner = run.points.slice(1, -1);
      const path = [before.start, ...inner, after.end];
      for (let i = 1; i < path.length; i++) {
        add(line(path[i - 1] as Point, path[i] as Point), -1);
      }
    }
    if (distance(after.end, after.start) > SHORTEST) {
      add(line(after.end, after.start), -1);
    }
  });
  const kept = from.filter((k) => k < 0).length;
  return { contour: { segments: sealed(segments) }, kept, from };
}

/** Bridges gaps under `SHORTEST` by moving the start of the later segment onto the end before it. */
function sealed(segments: readonly Segment[]): Segment[] {
  let previous = (segments[segments.length - 1] as Segment).to;
  return segments.map((s) => {
    const from = previous;
    previous = s.to;
    if (from === s.from) return s;
    return s.kind === "line" || distance(from, s.from) < WELD / 1000
      ? startingAt(s, from)
      : arcOfSweep(from, s.to, s.sweep, s.origin);
  });
}
