/**
 * From a graph of loose segments to loops and open chains.
 *
 * Where more than two strands meet, the walk turns to the next strand counter-clockwise, and each time that it
 * comes back to a node it has passed, the part since then is one loop: so every loop is simple, and loops
 * that touch stay apart. Where an odd number meets, no such walk uses each strand once: there every bounded
 * face of the drawing becomes a loop, and the place is reported.
 */
import type { Point } from "../../geometry/shape.ts";
import { TAU } from "../../geometry/trig.ts";
import { endPoint, type Graph, heading, type Step, turnLeft } from "./graph.ts";

export interface Traced {
  readonly loops: readonly (readonly Step[])[];
  readonly chains: readonly (readonly Step[])[];
  /** Where loops touch: four or more strands. */
  readonly touches: readonly Point[];
  /** Where three (five …) strands meet. */
  readonly branches: readonly Point[];
}

export interface TraceHints {
  /** Strands that walks begin with. */
  readonly starts?: readonly number[];
  /** Strands that stand for two, one on top of the other. */
  readonly shared?: ReadonlySet<number>;
}

export function trace(g: Graph, dead: readonly boolean[], hints: TraceHints): Traced {
  const { starts = [], shared = new Set<number>() } = hints;
  const live = g.ends.map((ends) => ends.filter((e) => dead[e >> 1] === false));
  const touches: Point[] = [];
  const branches: Point[] = [];
  const spot = (n: number): Point => endPoint(g, live[n]?.[0] as number);
  live.forEach((ends, n) => {
    const twice = ends.filter((e) => shared.has(e >> 1)).length;
    if ((ends.length + twice) % 2 === 1) branches.push(spot(n));
    else if (ends.length > 2) touches.push(spot(n));
  });
  const loops: Step[][] = [];
  for (const component of components(g, live)) {
    const odd = component.some((n) => (live[n]?.length ?? 0) % 2 === 1);
    const withShared = component.some((n) => live[n]?.some((e) => shared.has(e >> 1)) === true);
    if (odd || withShared) loops.push(...faces(g, live, component, shared));
    else loops.push(...cycles(g, live, component, starts));
  }
  return { loops, chains: chainsOf(g, dead), touches, branches };
}

function components(g: Graph, live: readonly (readonly number[])[]): number[][] {
  const seen = new Set<number>();
  const found: number[][] = [];
  live.forEach((ends, root) => {
    if (ends.length === 0 || seen.has(root)) return;
    seen.add(root);
    const members = [root];
    for (let i = 0; i < members.length; i++) {
      for (const end of live[members[i] as number] ?? []) {
        const n = g.node[end ^ 1] as number;
        if (seen.has(n)) continue;
        seen.add(n);
        members.push(n);
      }
    }
    found.push(members);
  });
  return found;
}

/** All strands of a component of even degrees, as simple loops. */
function cycles(
  g: Graph,
  live: readonly (readonly number[])[],
  component: readonly number[],
  starts: readonly number[],
): Step[][] {
  const used = new Set<number>();
  const found: Step[][] = [];
  const members = new Set(component);
  for (const index of starts) {
    const inside = members.has(g.node[2 * index] as number) && !used.has(index);
    if (inside) walk(g, live, 2 * index, used, found);
  }
  for (const root of component) {
    for (const first of live[root] ?? []) {
      if (!used.has(first >> 1)) walk(g, live, first, used, found);
    }
  }
  return found;
}

function walk(
  g: Graph,
  live: readonly (readonly number[])[],
  first: number,
  used: Set<number>,
  found: Step[][],
): void {
  const path: Step[] = [];
  // Where each node of the path stands: the number of steps taken before it.
  const reached = new Map<number, number>([[g.node[first] as number, 0]]);
  let leave: number | undefined = first;
  while (leave !== undefined) {
    used.add(leave >> 1);
    path.push({ index: leave >> 1, back: (leave & 1) === 1 });
    const arrive: number = leave ^ 1;
    const n = g.node[arrive] as number;
    const since = reached.get(n);
    if (since === undefined) {
      reached.set(n, path.length);
    } else {
      const loop = path.splice(since);
      found.push(loop);
      for (const s of loop.slice(0, -1))
        reached.delete(g.node[2 * s.index + (s.back ? 0 : 1)] as number);
    }
    leave = nextEnd(g, live, arrive, used);
    if (path.length === 0 && leave !== undefined) return;
  }
}

/** The unused strand that comes first counter-clockwise from the way in. */
function nextEnd(
  g: Graph,
  live: readonly (readonly number[])[],
  arrive: number,
  used: ReadonlySet<number>,
): number | undefined {
  const open = (live[g.node[arrive] as number] ?? []).filter((e) => !used.has(e >> 1));
  if (open.length <= 1) return open[0];
  const back = heading(g, arrive);
  return open.reduce((best, e) =>
    turnLeft(back, heading(g, e)) < turnLeft(back, heading(g, best)) ? e : best,
  );
}

/**
 * The bounded faces of a component: each side of each strand belongs to one face. Where shared strands make all
 * degrees even, a face is a loop if an odd number of strands lies between it and the outside.
 */
function faces(
  g: Graph,
  live: readonly (readonly number[])[],
  component: readonly number[],
  shared: ReadonlySet<number>,
): Step[][] {
  const after = new Map<number, number>();
  for (const n of component) {
    const sorted = [...(live[n] ?? [])]
      .map((end) => ({ end, angle: heading(g, end) }))
      .sort((a, b) => a.angle - b.angle || a.end - b.end);
    // Arriving at an end, a face on the left goes on with the next strand clockwise.
    sorted.forEach((s, i) => {
      after.set(s.end, (sorted[(i + sorted.length - 1) % sorted.length] as { end: number }).end);
    });
  }
  const faceOf = new Map<number, number>();
  const all: Step[][] = [];
  for (const start of after.keys()) {
    if (faceOf.has(start)) continue;
    const steps: Step[] = [];
    let end = start;
    while (!faceOf.has(end)) {
      faceOf.set(end, all.length);
      steps.push({ index: end >> 1, back: (end & 1) === 1 });
      end = after.get(end ^ 1) as number;
    }
    all.push(steps);
  }
  const bounded = all.map((steps) => shoelace(g, steps) > 0);
  const odd = shared.size === 0 ? undefined : oddFaces(all, bounded, faceOf, shared);
  return all.filter((_, i) => bounded[i] === true && odd?.[i] !== false);
}

/** Which faces lie an odd number of strands inward; undefined where two ways inward disagree. */
function oddFaces(
  all: readonly (readonly Step[])[],
  bounded: readonly boolean[],
  faceOf: ReadonlyMap<number, number>,
  shared: ReadonlySet<number>,
): readonly boolean[] | undefined {
  const odd: (boolean | undefined)[] = bounded.map((b) => (b ? undefined : false));
  const queue = bounded.flatMap((b, i) => (b ? [] : [i]));
  for (let k = 0; k < queue.length; k++) {
    const face = queue[k] as number;
    for (const { index, back } of all[face] ?? []) {
      const other = faceOf.get(2 * index + (back ? 0 : 1));
      if (other === undefined) continue;
      const label = shared.has(index) ? odd[face] : odd[face] !== true;
      if (odd[other] === undefined) {
        odd[other] = label;
        queue.push(other);
      } else if (odd[other] !== label) return undefined;
    }
  }
  return odd.map((o) => o === true);
}

/** Twice the area on chords and arcs' middles: enough to tell a face from the outside. */
function shoelace(g: Graph, steps: readonly Step[]): number {
  const points = steps.flatMap(({ index, back }) => {
    const s = g.segments[index];
    if (s === undefined) return [];
    const a = back ? s.to : s.from;
    if (s.kind === "line") return [a];
    const mx = (s.from.x + s.to.x) / 2 - s.centre.x;
    const my = (s.from.y + s.to.y) / 2 - s.centre.y;
    const d = Math.sqrt(mx * mx + my * my);
    const k = (d < 1e-12 ? 0 : s.radius / d) * (Math.abs(s.sweep) > TAU / 2 ? -1 : 1);
    return [a, { x: s.centre.x + mx * k, y: s.centre.y + my * k }];
  });
  const o = points[0] as Point;
  return points.reduce((sum, p, i) => {
    const q = points[(i + 1) % points.length] as Point;
    return sum + (p.x - o.x) * (q.y - o.y) - (q.x - o.x) * (p.y - o.y);
  }, 0);
}

/** Dead strands as chains, parted wherever more than two of them meet. */
function chainsOf(g: Graph, dead: readonly boolean[]): Step[][] {
  const at = g.ends.map((ends) => ends.filter((e) => dead[e >> 1] === true));
  const used = new Set<number>();
  const chains: Step[][] = [];
  const follow = (first: number): void => {
    const steps: Step[] = [];
    let leave: number | undefined = first;
    while (leave !== undefined && !used.has(leave >> 1)) {
      used.add(leave >> 1);
      steps.push({ index: leave >> 1, back: (leave & 1) === 1 });
      const arrive: number = leave ^ 1;
      const ends: readonly number[] = at[g.node[arrive] as number] ?? [];
      leave = ends.length === 2 ? ends.find((e) => e !== arrive) : undefined;
    }
    chains.push(steps);
  };
  at.forEach((ends) => {
    if (ends.length === 2) return;
    for (const e of ends) if (!used.has(e >> 1)) follow(e);
  });
  return chains;
}
