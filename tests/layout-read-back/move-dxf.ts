/**
 * What a person does to a layout in a drawing program, done to the DXF's text alone: entities of a layer turned
 * and shifted, begun elsewhere, run the other way, broken into lines and arcs. Knows nothing of weftcut's types.
 */
export interface Move {
  /** Degrees counter-clockwise about zero, before the shift. */
  readonly turn: number;
  readonly x: number;
  readonly y: number;
  readonly mirrored?: boolean;
  readonly scale?: number;
}

export interface Habit {
  /** Vertices by which the start of every outline goes on. */
  readonly start?: number;
  readonly reversed?: boolean;
  readonly exploded?: boolean;
  /** Decimals that the program writes. */
  readonly decimals?: number;
}

interface Vertex {
  readonly x: number;
  readonly y: number;
  readonly bulge: number;
}

interface Entity {
  readonly type: string;
  readonly layer: string;
  readonly tags: readonly (readonly [number, string])[];
}

const STILL: Move = { turn: 0, x: 0, y: 0 };

export function moveDxf(
  text: string,
  moveOf: (layer: string) => Move | undefined,
  habit: Habit = {},
): string {
  const entities = entitiesOf(text);
  const body = entities.flatMap((e) => written(e, moveOf(e.layer) ?? STILL, habit));
  const head = [0, "SECTION", 2, "HEADER", 9, "$INSUNITS", 70, 4, 0, "ENDSEC"];
  const all = [...head, 0, "SECTION", 2, "ENTITIES", ...body, 0, "ENDSEC", 0, "EOF"];
  return `${all.join("\n")}\n`;
}

export function layersOf(text: string): string[] {
  return [...new Set(entitiesOf(text).map((e) => e.layer))];
}

function entitiesOf(text: string): Entity[] {
  const lines = text.split(/\r?\n/).map((line) => line.trim());
  const tags: [number, string][] = [];
  for (let i = 0; i + 1 < lines.length; i += 2) tags.push([Number(lines[i]), lines[i + 1] ?? ""]);
  const begin = tags.findIndex(([code, value]) => code === 2 && value === "ENTITIES");
  const entities: Entity[] = [];
  let current: [number, string][] = [];
  const close = (): void => {
    const type = current[0]?.[1] ?? "";
    const layer = current.find(([code]) => code === 8)?.[1];
    if (layer !== undefined) entities.push({ type, layer, tags: current });
  };
  for (const tag of tags.slice(begin + 1)) {
    if (tag[0] === 0) {
      close();
      current = [];
      if (tag[1] === "ENDSEC") break;
    }
    current.push(tag);
  }
  return entities;
}

function written(e: Entity, move: Move, habit: Habit): (number | string)[] {
  const num = (v: number): string => v.toFixed(habit.decimals ?? 9);
  const to = (x: number, y: number): readonly [number, number] => {
    const k = move.scale ?? 1;
    const a = (move.turn * Math.PI) / 180;
    const [u, v] = [(move.mirrored ? -x : x) * k, y * k];
    return [u * Math.cos(a) - v * Math.sin(a) + move.x, u * Math.sin(a) + v * Math.cos(a) + move.y];
  };
  const value = (code: number): number => Number(e.tags.find(([c]) => c === code)?.[1]);
  if (e.type === "CIRCLE") {
    const [x, y] = to(value(10), value(20));
    const r = value(40) * (move.scale ?? 1);
    return [0, "CIRCLE", 8, e.layer, 10, num(x), 20, num(y), 40, num(r)];
  }
  if (e.type !== "LWPOLYLINE") return [];
  let ring = verticesOf(e).map((v): Vertex => {
    const [x, y] = to(v.x, v.y);
    return { x, y, bulge: move.mirrored ? -v.bulge : v.bulge };
  });
  if (habit.reversed) ring = reversedRing(ring);
  const by = (habit.start ?? 0) % ring.length;
  ring = [...ring.slice(by), ...ring.slice(0, by)];
  return habit.exploded ? exploded(ring, e.layer, num) : polyline(ring, e.layer, num);
}

function verticesOf(e: Entity): Vertex[] {
  const ring: { x: number; y: number; bulge: number }[] = [];
  for (const [code, value] of e.tags) {
    const last = ring.at(-1);
    if (code === 10) ring.push({ x: Number(value), y: 0, bulge: 0 });
    else if (code === 20 && last !== undefined) last.y = Number(value);
    else if (code === 42 && last !== undefined) last.bulge = Number(value);
  }
  return ring;
}

/** The bulge belongs to the way from a vertex to the next. */
function reversedRing(ring: readonly Vertex[]): Vertex[] {
  const n = ring.length;
  return ring.map((_, i) => {
    const v = ring[n - 1 - i] as Vertex;
    const before = ring[(2 * n - 2 - i) % n] as Vertex;
    return { x: v.x, y: v.y, bulge: -before.bulge };
  });
}

type Num = (v: number) => string;

function polyline(ring: readonly Vertex[], layer: string, num: Num): (number | string)[] {
  const vertices = ring.flatMap((v) => [10, num(v.x), 20, num(v.y), 42, v.bulge.toFixed(12)]);
  return [0, "LWPOLYLINE", 8, layer, 90, ring.length, 70, 1, ...vertices];
}

function exploded(ring: readonly Vertex[], layer: string, num: Num): (number | string)[] {
  const parts = ring.map((a, i) => {
    const b = ring[(i + 1) % ring.length] as Vertex;
    if (a.bulge === 0)
      return [0, "LINE", 8, layer, 10, num(a.x), 20, num(a.y), 11, num(b.x), 21, num(b.y)];
    // The centre lies on the chord's middle line, (1 − b²) / 4b chords to its left.
    const off = (1 - a.bulge * a.bulge) / (4 * a.bulge);
    const cx = (a.x + b.x) / 2 - off * (b.y - a.y);
    const cy = (a.y + b.y) / 2 + off * (b.x - a.x);
    const r = Math.hypot(a.x - cx, a.y - cy);
    const deg = (p: Vertex): string =>
      ((Math.atan2(p.y - cy, p.x - cx) * 180) / Math.PI).toFixed(9);
    const [from, end] = a.bulge > 0 ? [deg(a), deg(b)] : [deg(b), deg(a)];
    return [0, "ARC", 8, layer, 10, num(cx), 20, num(cy), 40, num(r), 50, from, 51, end];
  });
  // Nobody keeps the order of what was broken up.
  const odd = parts.filter((_, i) => i % 2 === 1);
  return [...parts.filter((_, i) => i % 2 === 0), ...odd].flat();
}
