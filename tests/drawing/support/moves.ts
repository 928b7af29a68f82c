/**
 * DXF texts turned, mirrored, shifted, scaled, shuffled and reversed, entity by entity, by the meaning of their
 * groups: what is drawn stays the same, how it is written does not. Knows nothing of the reader under test.
 */

interface Tag {
  readonly code: number;
  readonly value: string;
}
/** One entity with all its tags; a POLYLINE with its vertices. */
type Drawn = readonly Tag[];

export interface Text {
  readonly before: readonly Tag[];
  readonly entities: readonly Drawn[];
  readonly after: readonly Tag[];
}

export function parse(source: string): Text {
  const lines = source.replace(/^\u00ef\u00bb\u00bf|^\ufeff/, "").split(/\r\n|\n|\r/);
  const tags: Tag[] = [];
  for (let i = 0; i + 1 < lines.length; i += 2) {
    tags.push({ code: Number(lines[i]), value: (lines[i + 1] ?? "").trim() });
  }
  const start = tags.findIndex(
    (t, i) => t.code === 2 && t.value === "ENTITIES" && tags[i - 1]?.value === "SECTION",
  );
  const rest = tags.slice(start + 1);
  const end = rest.findIndex((t) => t.code === 0 && (t.value === "ENDSEC" || t.value === "EOF"));
  const inside = end < 0 ? rest : rest.slice(0, end);
  const entities: Tag[][] = [];
  for (const t of inside) {
    const own =
      t.code !== 0 ||
      (/^(VERTEX|SEQEND)$/.test(t.value) && entities.at(-1)?.[0]?.value === "POLYLINE");
    if (own) entities.at(-1)?.push(t);
    else entities.push([t]);
  }
  return { before: tags.slice(0, start + 1), entities, after: end < 0 ? [] : rest.slice(end) };
}

export function write({ before, entities, after }: Text): string {
  return [...before, ...entities.flat(), ...after].map((t) => `${t.code}\n${t.value}\n`).join("");
}

const numberOf = (t: Tag | undefined): number => Number((t?.value ?? "0").replace(",", "."));
const tag = (code: number, value: number | string): Tag => ({ code, value: String(value) });
const typeOf = (e: Drawn): string => e[0]?.value ?? "";
const first = (e: Drawn, code: number): Tag | undefined => e.find((t) => t.code === code);

/** Kinds whose coordinates are those of their own plane. */
const OWN_PLANE = new Set(["CIRCLE", "ARC", "LWPOLYLINE", "POLYLINE", "INSERT"]);
/** Points, and vectors, by the code of their x. */
const POINTS: Readonly<Record<string, readonly number[]>> = {
  LINE: [10, 11],
  SPLINE: [10, 11],
  ELLIPSE: [10],
  CIRCLE: [10],
  ARC: [10],
  LWPOLYLINE: [10],
  POLYLINE: [10],
  INSERT: [10],
};
const VECTORS: Readonly<Record<string, readonly number[]>> = { ELLIPSE: [11], SPLINE: [12, 13] };

type Map2 = (x: number, y: number) => readonly [number, number];

/** The nth x goes with the nth y, in whatever order they stand. */
function mapped(e: Drawn, codes: readonly number[], f: Map2): Drawn {
  const out = [...e];
  for (const code of codes) {
    const xs = e.flatMap((t, i) => (t.code === code ? [i] : []));
    const ys = e.flatMap((t, i) => (t.code === code + 10 ? [i] : []));
    xs.forEach((ix, n) => {
      const iy = ys[n];
      if (iy === undefined) return;
      const [x, y] = f(numberOf(e[ix]), numberOf(e[iy]));
      out[ix] = tag(code, x);
      out[iy] = tag(code + 10, y);
    });
  }
  return out;
}

function changed(e: Drawn, code: number, f: (v: number) => number, absent?: number): Drawn {
  if (first(e, code) === undefined) return absent === undefined ? e : [...e, tag(code, f(absent))];
  return e.map((t) => (t.code === code ? tag(code, f(numberOf(t))) : t));
}

/** −1 where an entity of its own plane is seen from below. */
const facing = (e: Drawn): number =>
  OWN_PLANE.has(typeOf(e)) && numberOf(first(e, 230)) < 0 ? -1 : 1;

function overturned(e: Drawn): Drawn {
  const down = numberOf(first(e, 230)) < 0;
  const bare = e.filter((t) => t.code !== 210 && t.code !== 220 && t.code !== 230);
  const head = bare.findIndex((t, i) => i > 0 && t.code === 0);
  const own = head < 0 ? bare : bare.slice(0, head);
  const z = down ? 1 : -1;
  return [...own, tag(210, 0), tag(220, 0), tag(230, z), ...(head < 0 ? [] : bare.slice(head))];
}

const each = (t: Text, f: (e: Drawn) => Drawn): Text => ({ ...t, entities: t.entities.map(f) });

export function turned(t: Text, degrees: number): Text {
  return each(t, (e) => {
    const own = degrees * facing(e);
    const a = (own * Math.PI) / 180;
    const [c, s] = [Math.cos(a), Math.sin(a)];
    const codes = [...(POINTS[typeOf(e)] ?? []), ...(VECTORS[typeOf(e)] ?? [])];
    let out = mapped(e, codes, (x, y) => [c * x - s * y, s * x + c * y]);
    if (typeOf(e) === "ARC") for (const k of [50, 51]) out = changed(out, k, (v) => v + own);
    if (typeOf(e) === "INSERT") out = changed(out, 50, (v) => v + own, 0);
    return out;
  });
}

export function shifted(t: Text, dx: number, dy: number): Text {
  return each(t, (e) => mapped(e, POINTS[typeOf(e)] ?? [], (x, y) => [x + dx * facing(e), y + dy]));
}

/** X to −X: what has a plane of its own is seen from the other side, the rest is drawn mirrored. */
export function mirrored(t: Text): Text {
  return each(t, (e) => {
    if (OWN_PLANE.has(typeOf(e))) return overturned(e);
    const codes = [...(POINTS[typeOf(e)] ?? []), ...(VECTORS[typeOf(e)] ?? [])];
    const out = mapped(e, codes, (x, y) => [-x, y]);
    return typeOf(e) === "ELLIPSE" ? overturned(out) : out;
  });
}

export function scaled(t: Text, k: number, units: number | undefined): Text {
  const before = t.before.map((g, i) =>
    t.before[i - 1]?.value === "$INSUNITS" && units !== undefined ? tag(70, units) : g,
  );
  return each({ ...t, before }, (e) => {
    const codes = [...(POINTS[typeOf(e)] ?? []), ...(VECTORS[typeOf(e)] ?? [])];
    let out = mapped(e, codes, (x, y) => [x * k, y * k]);
    if (typeOf(e) === "CIRCLE" || typeOf(e) === "ARC") out = changed(out, 40, (v) => v * k);
    if (typeOf(e) === "INSERT") {
      for (const c of [41, 42, 43]) out = changed(out, c, (v) => v * k, 1);
      for (const c of [44, 45]) out = changed(out, c, (v) => v * k);
    }
    return out;
  });
}

/** In an order that a number decides. */
export function shuffled(t: Text, seed: number): Text {
  const keyed = t.entities.map((e, i) => ({ e, key: Math.sin(seed * 1000 + i * 77.7) }));
  keyed.sort((a, b) => a.key - b.key);
  return { ...t, entities: keyed.map((k) => k.e) };
}

export function reversed(t: Text): Text {
  return each(t, (e) => {
    switch (typeOf(e)) {
      case "LINE": {
        const other: Readonly<Record<number, number>> = { 10: 11, 11: 10, 20: 21, 21: 20 };
        return e.map((g) => ({ ...g, code: other[g.code] ?? g.code }));
      }
      case "ARC":
        return reversedArc(e);
      case "ELLIPSE":
        return reversedEllipse(e);
      case "LWPOLYLINE":
        return reversedLight(e);
      case "POLYLINE":
        return reversedHeavy(e);
      case "SPLINE":
        return reversedSpline(e);
      default:
        return e;
    }
  });
}

function reversedArc(e: Drawn): Drawn {
  const [a0, a1] = [numberOf(first(e, 50)), numberOf(first(e, 51))];
  const out = overturned(mapped(e, [10], (x, y) => [-x, y]));
  return changed(
    changed(out, 50, () => 180 - a1),
    51,
    () => 180 - a0,
  );
}

function reversedEllipse(e: Drawn): Drawn {
  const a0 = numberOf(first(e, 41));
  const a1 = first(e, 42) === undefined ? 2 * Math.PI : numberOf(first(e, 42));
  return changed(
    changed(overturned(e), 41, () => -a1),
    42,
    () => -a0,
  );
}

/** Bulges belong to the stretch after their vertex: reversed, to the vertex before. */
function reversedBulges(bulges: readonly number[]): number[] {
  const n = bulges.length;
  return bulges.map((_, i) => -(bulges[(2 * n - 2 - i) % n] as number));
}

function reversedLight(e: Drawn): Drawn {
  const xs = e.filter((g) => g.code === 10);
  const ys = e.filter((g) => g.code === 20);
  const bulges: number[] = [];
  for (const g of e) {
    if (g.code === 10) bulges.push(0);
    if (g.code === 42 && bulges.length > 0) bulges[bulges.length - 1] = numberOf(g);
  }
  const back = reversedBulges(bulges);
  const rest = e.filter((g) => ![10, 20, 42, 91].includes(g.code));
  const points = xs.map((_, i) => {
    const j = xs.length - 1 - i;
    return [xs[j] as Tag, ys[j] as Tag, tag(42, back[i] as number)];
  });
  return [...rest, ...points.flat()];
}

function reversedHeavy(e: Drawn): Drawn {
  const starts = e.flatMap((g, i) => (g.code === 0 ? [i] : []));
  const parts = starts.map((s, i) => e.slice(s, starts[i + 1] ?? e.length));
  const vertices = parts.filter((p) => p[0]?.value === "VERTEX");
  const back = reversedBulges(vertices.map((v) => numberOf(first(v, 42))));
  const turnedRound = [...vertices]
    .reverse()
    .map((v, i) => changed(v, 42, () => back[i] as number, 0));
  const others = parts.filter((p) => p[0]?.value !== "VERTEX");
  return [...(others[0] ?? []), ...turnedRound.flat(), ...others.slice(1).flat()];
}

function reversedSpline(e: Drawn): Drawn {
  const of = (code: number): Tag[] => e.filter((g) => g.code === code);
  const knots = of(40).map(numberOf);
  const sum = (knots[0] ?? 0) + (knots.at(-1) ?? 0);
  const backward = new Map<number, Tag[]>();
  for (const code of [10, 20, 30, 41, 11, 21, 31]) backward.set(code, of(code).reverse());
  backward.set(
    40,
    [...knots].reverse().map((k) => tag(40, sum - k)),
  );
  const out = e.map((g) => backward.get(g.code)?.shift() ?? g);
  // End directions change places and signs.
  const opposite: Readonly<Record<number, number>> = {
    12: 13,
    13: 12,
    22: 23,
    23: 22,
    32: 33,
    33: 32,
  };
  return out.map((g) => {
    const code = opposite[g.code];
    return code === undefined ? g : tag(code, -numberOf(g));
  });
}
