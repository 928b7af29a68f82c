/**
 * A job of many plates, made by a seed: what a small shop cuts in a day, and four and sixteen times that.
 *
 * Eight drawings of different outlines, each cut as often as it takes. A plate is some 90 × 60 mm and has fifteen features in a
 * grid of five by three: eight holes of ISO 273 sizes, four slots, two windows, and one hole that only the
 * small cutter fits. Drawings come from the demo's pen, which shares no code with weftcut.
 */
import { type Corner, circle, dxf, type Entity, polygon, slot } from "../../fixtures/demo/pen.ts";
import { type Random, seeded } from "../../src/core/geometry/seeded.ts";

export interface Wanted {
  readonly plates: number;
  readonly sheets: number;
  readonly seed: number;
}

export const FEATURES_EACH = 15;

const DRAWINGS = 8;
const COLUMNS = 5;
const ROWS = 3;
/** Room for one feature, mm. */
const CELL = 16;
const RIM = 6;
const WIDTH = COLUMNS * CELL + 2 * RIM;
const HEIGHT = ROWS * CELL + 2 * RIM;
const GAP = 6;
const MARGIN = 8;

/** ISO 273 medium for M2, M2.5, M3, M4; 6.5 is an antenna's socket (common practice, no source). */
const HOLES = [2.4, 2.9, 3.4, 4.5, 6.5];
const SMALL_HOLE = 1.6;

/** The job's files by name: job.yaml and its drawings. */
export function manyPlates(wanted: Wanted): Map<string, string> {
  const random = seeded(wanted.seed);
  const names = Array.from(
    { length: Math.min(DRAWINGS, wanted.plates) },
    (_, i) => `plate-${i + 1}`,
  );
  const files = new Map<string, string>();
  for (const name of names) files.set(`${name}.dxf`, dxf([name], plate(random)));
  files.set("job.yaml", JSON.stringify(jobOf(names, wanted), null, 1));
  return files;
}

function jobOf(names: readonly string[], { plates, sheets }: Wanted): object {
  const size = sheetSize(Math.ceil(plates / sheets));
  const sheetNames = Array.from({ length: sheets }, (_, i) => `carbon-${i + 1}`);
  /** Copies of drawing `n` on sheet `i`; who gets the odd one goes round, so that sheets fill alike. */
  const perSheet = (n: number, i: number, count: number) => share((i + n) % sheets, count, sheets);
  return {
    weftcut: 1,
    name: `${plates} plates`,
    machine: machineFor(size),
    sheets: sheetNames.map((name) => ({
      name,
      material: "carbon-woven",
      thickness: 2,
      size,
      margin: MARGIN,
      price: 60,
    })),
    plates: names.flatMap((name, n) => {
      const count = share(n, plates, names.length);
      return sheetNames
        .map((sheet, i) => ({ sheet, count: perSheet(n, i, count) }))
        .filter((p) => p.count > 0)
        .map((p) => ({
          name: `${name}-of-${p.sheet}`,
          drawing: `${name}.dxf`,
          ...p,
          fibreDeg: 0,
          gap: GAP,
        }));
    }),
    cutters: [
      { name: "router-2", kind: "diamond-router", diameter: 2, fluteLength: 8, overhang: 14 },
      { name: "router-1", kind: "diamond-router", diameter: 1, fluteLength: 4, overhang: 10 },
    ],
    cutting: { clearance: 6 },
  };
}

/** The `i`th of `among` shares of `count` whole things. */
function share(i: number, count: number, among: number): number {
  return Math.floor(((i + 1) * count) / among) - Math.floor((i * count) / among);
}

/** Room for so many plates in rows, with a tenth to spare, about 4 : 3. */
function sheetSize(plates: number): [number, number] {
  const [w, h] = [WIDTH + GAP, HEIGHT + GAP];
  const columns = Math.max(1, Math.round(Math.sqrt((plates * h * 4) / (w * 3))));
  const rows = Math.ceil((1.1 * plates) / columns) + 1;
  return [Math.ceil(columns * w + 2 * MARGIN), Math.ceil(rows * h + 2 * MARGIN)];
}

/** A machine that the sheet fits on, however large: what is measured is weftcut, not the router. */
function machineFor([x, y]: readonly [number, number]): object {
  return {
    name: "bench router",
    travel: [Math.max(840, x), Math.max(600, y), 125],
    maxFeed: [8000, 8000, 3000],
    acceleration: [600, 600, 400],
    junctionDeviation: 0.02,
    spindle: { min: 6000, max: 24000, powerW: 1500, spinUpS: 12 },
  };
}

function plate(random: Random): Entity[] {
  const entities: Entity[] = [polygon(outline(random))];
  const kinds = shuffled(
    [
      ...Array<"hole">(8).fill("hole"),
      ...Array<"slot">(4).fill("slot"),
      "window",
      "window",
      "small",
    ] as const,
    random,
  );
  for (const [i, kind] of kinds.entries()) {
    const x = RIM + CELL * ((i % COLUMNS) + 0.5);
    const y = RIM + CELL * (Math.floor(i / COLUMNS) + 0.5);
    entities.push(feature(kind, { x, y }, random));
  }
  return entities;
}

/** A box whose sides are bent in at their middles by up to 3 mm, every corner rounded. */
function outline(random: Random): Corner[] {
  const r = () => 2 + 3 * random();
  const bend = () => 3 * random();
  return [
    { x: 0, y: 0, r: r() },
    { x: WIDTH / 2, y: bend(), r: 20 },
    { x: WIDTH, y: 0, r: r() },
    { x: WIDTH - bend(), y: HEIGHT / 2, r: 20 },
    { x: WIDTH, y: HEIGHT, r: r() },
    { x: WIDTH / 2, y: HEIGHT - bend(), r: 20 },
    { x: 0, y: HEIGHT, r: r() },
    { x: bend(), y: HEIGHT / 2, r: 20 },
  ];
}

type Kind = "hole" | "slot" | "window" | "small";

function feature(kind: Kind, at: { x: number; y: number }, random: Random): Entity {
  switch (kind) {
    case "hole":
      return circle(at.x, at.y, HOLES[Math.floor(random() * HOLES.length)] as number);
    case "small":
      return circle(at.x, at.y, SMALL_HOLE);
    case "slot":
      return slot({ ...at, width: 3, length: 8 + 3 * random(), along: random() < 0.5 ? "x" : "y" });
    case "window": {
      const reach = () => 4 + 1.5 * random();
      return polygon([
        { x: at.x - reach(), y: at.y - reach(), r: 1.5 },
        { x: at.x + reach(), y: at.y - reach(), r: 1.5 },
        { x: at.x + reach(), y: at.y + reach(), r: 1.5 },
        { x: at.x - reach(), y: at.y + reach(), r: 1.5 },
      ]);
    }
  }
}

function shuffled<T>(items: readonly T[], random: Random): T[] {
  const out = [...items];
  for (let i = out.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [out[i], out[j]] = [out[j] as T, out[i] as T];
  }
  return out;
}
