/**
 * Where the walls are that a program leaves, told from its moves alone: the cutter's path at full depth, as wide as the
 * cutter. Shares nothing with what made or proves the program.
 */
import type { Trace, TraceMove } from "../../src/core/program/read/trace.ts";

interface Spot {
  readonly x: number;
  readonly y: number;
}

/** Moves that cut below this depth, in program coordinates. */
export function deepMoves(trace: Trace, below: number): TraceMove[] {
  return trace.steps.filter(
    (s): s is TraceMove => s.kind === "feed" && s.z0 <= below && s.z1 <= below,
  );
}

/** Chords within 0.1 µm of each move. */
function chords(m: TraceMove): Spot[] {
  const { arc } = m;
  if (arc === undefined)
    return [
      { x: m.x0, y: m.y0 },
      { x: m.x1, y: m.y1 },
    ];
  const n = Math.max(2, Math.ceil(Math.abs(arc.sweep) * Math.sqrt(arc.radius / 8e-4)));
  const start = Math.atan2(m.y0 - arc.cy, m.x0 - arc.cx);
  return Array.from({ length: n + 1 }, (_, i) => {
    const a = start + (arc.sweep * i) / n;
    return { x: arc.cx + arc.radius * Math.cos(a), y: arc.cy + arc.radius * Math.sin(a) };
  });
}

/**
 * Along a ray from `from` (in the open) in direction `u`: how far until the swept disc ends. Steps finely, then halves.
 */
export function openUntil(
  moves: readonly TraceMove[],
  from: Spot,
  u: Spot,
  radius: number,
  furthest: number,
): number {
  const paths = nearPaths(moves, from, furthest + 2 * radius);
  const swept = (d: number): boolean => {
    const p = { x: from.x + d * u.x, y: from.y + d * u.y };
    return paths.some((path) =>
      path.some((q, i) => i > 0 && toSegment(p, path[i - 1] as Spot, q) <= radius),
    );
  };
  let open = 0;
  const step = 0.02;
  while (open < furthest && swept(open + step)) open += step;
  let shut = open + step;
  while (shut - open > 1e-5) {
    const middle = (open + shut) / 2;
    if (swept(middle)) open = middle;
    else shut = middle;
  }
  return open;
}

interface Path {
  readonly spots: readonly Spot[];
  readonly low: Spot;
  readonly high: Spot;
}

const KNOWN = new WeakMap<readonly TraceMove[], readonly Path[]>();

/** Chords of the moves that come this near; a program's moves are cut into chords once. */
function nearPaths(moves: readonly TraceMove[], at: Spot, reach: number): (readonly Spot[])[] {
  let paths = KNOWN.get(moves);
  if (paths === undefined) {
    paths = moves.map((m): Path => {
      const spots = chords(m);
      const [xs, ys] = [spots.map((p) => p.x), spots.map((p) => p.y)];
      const low = { x: Math.min(...xs), y: Math.min(...ys) };
      return { spots, low, high: { x: Math.max(...xs), y: Math.max(...ys) } };
    });
    KNOWN.set(moves, paths);
  }
  return paths
    .filter(
      ({ low, high }) =>
        low.x <= at.x + reach &&
        high.x >= at.x - reach &&
        low.y <= at.y + reach &&
        high.y >= at.y - reach,
    )
    .map((p) => p.spots);
}

function toSegment(p: Spot, a: Spot, b: Spot): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const d2 = dx * dx + dy * dy;
  const t = d2 === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / d2));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}
