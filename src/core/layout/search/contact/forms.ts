/**
 * Forms: the shapes to be laid, each in each way that it may lie.
 *
 * Kind: a shape, given by rings about its own zero; pieces that are alike share it. Turn: flip (x → −x), then
 * degrees counter-clockwise. Form: a kind in one turn; turns that give the same shape are kept once.
 * Level: how far shapes are grown so that grown shapes may touch, 0 for not at all: a pair is judged at the
 * higher of both levels, so that the larger of two gaps holds.
 */
import { cos, radians, sin } from "../../../geometry/trig.ts";
import { convexParts, type Ring } from "./convex.ts";

export interface Outline {
  readonly outer: Ring;
  readonly holes: readonly Ring[];
}

export interface Turn {
  readonly deg: number;
  readonly flipped: boolean;
}

export interface Kind {
  /** As it is, for the room that it needs inside the walls. */
  readonly outline: Outline;
  /** As it is kept apart from others, by level from `level` upward. */
  readonly grown: ReadonlyMap<number, Outline>;
  readonly level: number;
  readonly turns: readonly Turn[];
  /** Stands for a disc about its zero: turned in any way, it still does. */
  readonly round?: boolean | undefined;
}

export interface Form {
  readonly kind: number;
  readonly turn: Turn;
  /** Box of the shape as it is, about its zero. */
  readonly box: Extent;
  /** Box at the highest level. */
  readonly reach: Extent;
}

export interface Extent {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export interface Forms {
  readonly kinds: readonly Kind[];
  readonly list: readonly Form[];
  /** Indices into `list`, by kind. */
  readonly ofKind: readonly (readonly number[])[];
  /** Convex parts unturned, by kind and level. */
  readonly parts: readonly ReadonlyMap<number, readonly Ring[]>[];
}

export function formsOf(kinds: readonly Kind[]): Forms {
  const list: Form[] = [];
  const ofKind = kinds.map((kind, k) => {
    const seen = new Set<string>();
    const mine: number[] = [];
    for (const turn of kind.turns) {
      const outer = turnRing(kind.outline.outer, turn);
      const look = lookOf(outer);
      if (seen.has(look)) continue;
      seen.add(look);
      const top = [...kind.grown.keys()].reduce((a, b) => Math.max(a, b), 0);
      const grown = kind.grown.get(top) ?? kind.outline;
      mine.push(list.length);
      list.push({
        kind: k,
        turn,
        box: extentOf(outer),
        reach: extentOf(turnRing(grown.outer, turn)),
      });
    }
    return mine;
  });
  const parts = kinds.map(
    (kind) =>
      new Map(
        [...kind.grown].map(([level, o]): [number, Ring[]] => [
          level,
          convexParts(o.outer, o.holes),
        ]),
      ),
  );
  return { kinds, list, ofKind, parts };
}

/** Quarter turns are exact. */
export function turnRing(ring: Ring, { deg, flipped }: Turn): number[] {
  const [c, s] = directionOf(deg);
  const out: number[] = [];
  for (let i = 0; i < ring.length; i += 2) {
    const x = flipped ? -(ring[i] as number) : (ring[i] as number);
    const y = ring[i + 1] as number;
    out.push(c * x - s * y, s * x + c * y);
  }
  if (!flipped) return out;
  const back: number[] = [];
  for (let i = out.length - 2; i >= 0; i -= 2) back.push(out[i] as number, out[i + 1] as number);
  return back;
}

/** Cosine and sine of degrees. */
export function directionOf(deg: number): readonly [number, number] {
  const whole = ((deg % 360) + 360) % 360;
  if (whole % 90 === 0) {
    return [[1, 0] as const, [0, 1] as const, [-1, 0] as const, [0, -1] as const][
      whole / 90
    ] as readonly [number, number];
  }
  return [cos(radians(whole)), sin(radians(whole))];
}

export function extentOf(ring: Ring): Extent {
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < ring.length; i += 2) {
    x0 = Math.min(x0, ring[i] as number);
    x1 = Math.max(x1, ring[i] as number);
    y0 = Math.min(y0, ring[i + 1] as number);
    y1 = Math.max(y1, ring[i + 1] as number);
  }
  return { x0, y0, x1, y1 };
}

/** Equal for shapes that differ by a shift alone. Coordinates within 1e-7 of the size count as equal. */
function lookOf(ring: Ring): string {
  const { x0, y0, x1, y1 } = extentOf(ring);
  const unit = Math.max(x1 - x0, y1 - y0) * 1e-7 || 1;
  const points: string[] = [];
  for (let i = 0; i < ring.length; i += 2) {
    const x = Math.round(((ring[i] as number) - x0) / unit);
    const y = Math.round(((ring[i + 1] as number) - y0) / unit);
    points.push(`${x},${y}`);
  }
  const first = points.reduce((best, p, i) => (p < (points[best] as string) ? i : best), 0);
  return [...points.slice(first), ...points.slice(0, first)].join(" ");
}
