/**
 * Chip load and surface speed as tables: one row for a material, a kind of cutter and a kind of cut.
 *
 * Feed is per revolution, because the source gives it so: a diamond-pattern router has no clean tooth
 * count. Between listed diameters linear interpolation; below the first the feed falls in proportion to
 * the diameter, above the last it stays, both marked as extrapolated. Depths and widths are maxima.
 */
import type { Cutter, CutterKind, RateMaterial } from "../cutter.ts";
import { OWN, type Source } from "./source.ts";

export type Operation = "slot" | "profile" | "light" | "drill";

export interface ChipRow {
  readonly materials: readonly RateMaterial[];
  readonly kinds: readonly CutterKind[];
  readonly operation: Operation;
  /** m/min. */
  readonly surfaceSpeed: number;
  readonly speedSource: Source;
  /** Diameter, mm → feed per revolution, mm. */
  readonly feeds: readonly (readonly [number, number])[];
  readonly feedSource: Source;
  /** Widest and deepest cut that the row is for, in diameters; Infinity is the whole flute. */
  readonly widest: number;
  readonly deepest: number;
}

const SGS: Source = {
  text: "SGS solid-carbide composite routers, series 20M/31M, catalogue p. 13, dry",
  tag: "printed",
};

/** No chart for these cutters at these diameters could be opened. */
const AS_ROUTER: Source = {
  text: "feed per revolution of the composite router's chart (SGS p. 13) taken for two teeth",
  tag: "from memory, 60 % sure",
};

const AS_ROUTER_SPEED: Source = {
  text: "surface speed of the composite router's chart (SGS p. 13)",
  tag: "from memory, 60 % sure",
};

const DRILL: Source = {
  text: "solid-carbide drill in laminate: 80 m/min, 0.012 mm/rev for each mm of diameter",
  tag: "from memory, 50 % sure",
};

/** Well inside what hobby routers do in it: a trial is to show the way of the cutter, not its speed. */
const BOARD: Source = {
  text: "small routers in hardboard: about a thirtieth of the diameter a revolution, as fast as the spindle goes",
  tag: "common practice, no source",
};

const CARBON: readonly RateMaterial[] = ["carbon-woven", "carbon-quasi-isotropic"];
const GLASS: readonly RateMaterial[] = ["glass-epoxy"];
const ANY: readonly RateMaterial[] = [...CARBON, ...GLASS];

const SLOT_FEEDS: ChipRow["feeds"] = [
  [1.6, 0.03],
  [3, 0.06],
  [6, 0.12],
  [10, 0.23],
  [12, 0.305],
];

const LIGHT_FEEDS: ChipRow["feeds"] = [
  [1.6, 0.07],
  [3, 0.14],
  [6, 0.28],
  [10, 0.525],
  [12, 0.7],
];

const OPERATIONS = [
  { operation: "slot", feeds: SLOT_FEEDS, widest: 1, deepest: 1, carbon: 120, glass: 100 },
  { operation: "profile", feeds: SLOT_FEEDS, widest: 0.5, deepest: 1.5, carbon: 150, glass: 120 },
  {
    operation: "light",
    feeds: LIGHT_FEEDS,
    widest: 0.05,
    deepest: Number.POSITIVE_INFINITY,
    carbon: 250,
    glass: 200,
  },
] as const;

function milling(kinds: readonly CutterKind[], feedSource: Source, speedSource: Source): ChipRow[] {
  return OPERATIONS.flatMap(({ carbon, glass, ...rest }) => [
    { ...rest, materials: CARBON, kinds, surfaceSpeed: carbon, feedSource, speedSource },
    { ...rest, materials: GLASS, kinds, surfaceSpeed: glass, feedSource, speedSource },
  ]);
}

const BOARD_SLOT: ChipRow["feeds"] = [
  [1, 0.03],
  [12, 0.36],
];

const BOARD_LIGHT: ChipRow["feeds"] = [
  [1, 0.05],
  [12, 0.6],
];

const BOARD_ROWS: readonly ChipRow[] = OPERATIONS.map(({ operation, widest, deepest, carbon }) => ({
  operation,
  widest,
  deepest,
  materials: ["hardboard"],
  kinds: ["diamond-router", "two-flute", "compression"],
  surfaceSpeed: carbon * 1.2,
  speedSource: BOARD,
  feeds: operation === "light" ? BOARD_LIGHT : BOARD_SLOT,
  feedSource: BOARD,
}));

export const CHIP_ROWS: readonly ChipRow[] = [
  ...BOARD_ROWS,
  {
    materials: ["hardboard"],
    kinds: ["drill"],
    operation: "drill",
    surfaceSpeed: 100,
    speedSource: BOARD,
    feeds: [
      [1, 0.02],
      [6, 0.12],
    ],
    feedSource: BOARD,
    widest: 1,
    deepest: 5,
  },
  ...milling(["diamond-router"], SGS, SGS),
  ...milling(["two-flute", "compression"], AS_ROUTER, AS_ROUTER_SPEED),
  {
    materials: ANY,
    kinds: ["drill"],
    operation: "drill",
    surfaceSpeed: 80,
    speedSource: DRILL,
    feeds: [
      [1, 0.012],
      [6, 0.072],
    ],
    feedSource: DRILL,
    widest: 1,
    deepest: 5,
  },
];

export function chipRow(material: RateMaterial, kind: CutterKind, operation: Operation): ChipRow {
  const row = CHIP_ROWS.find(
    (r) => r.operation === operation && r.materials.includes(material) && r.kinds.includes(kind),
  );
  // Every material has slot, profile and light rows for every router, and drills one of their own.
  if (row === undefined) throw new Error(`no chip-load row for ${kind}, ${operation}, ${material}`);
  return row;
}

/**
 * The row for this cutter: the chart's, or the user's own figures where the cutter has them. Those are for
 * full width; other kinds of cut keep the chart's ratio to a slot.
 */
export function rowFor(cutter: Cutter, material: RateMaterial, operation: Operation): ChipRow {
  const row = chipRow(material, cutter.kind, operation);
  // The user's figures are for the job's own sheets.
  if (material === "hardboard") return row;
  const full = operation === "drill" ? row : chipRow(material, cutter.kind, "slot");
  const own: { -readonly [K in keyof ChipRow]: ChipRow[K] } = { ...row };
  if (cutter.surfaceSpeed !== undefined) {
    own.surfaceSpeed = (cutter.surfaceSpeed * row.surfaceSpeed) / full.surfaceSpeed;
    own.speedSource = OWN;
  }
  if (cutter.feedPerRev !== undefined) {
    const d = cutter.diameter;
    const ratio = feedPerRevAt(row, d).value / feedPerRevAt(full, d).value;
    own.feeds = [[d, cutter.feedPerRev * ratio]];
    own.feedSource = OWN;
  }
  return own;
}

export interface Looked {
  readonly value: number;
  readonly how: "listed" | "interpolated" | "extrapolated";
  /** The listed diameters that it comes from. */
  readonly between: readonly [number, number];
}

export function feedPerRevAt(row: ChipRow, diameter: number): Looked {
  const first = row.feeds[0] as readonly [number, number];
  if (diameter < first[0]) {
    const value = (first[1] * diameter) / first[0];
    return { value, how: "extrapolated", between: [first[0], first[0]] };
  }
  for (let i = 0; i < row.feeds.length; i++) {
    const [d1, f1] = row.feeds[i] as readonly [number, number];
    if (d1 === diameter) return { value: f1, how: "listed", between: [d1, d1] };
    if (d1 < diameter) continue;
    const [d0, f0] = row.feeds[i - 1] as readonly [number, number];
    const value = f0 + ((f1 - f0) * (diameter - d0)) / (d1 - d0);
    return { value, how: "interpolated", between: [d0, d1] };
  }
  const [d, value] = row.feeds.at(-1) as readonly [number, number];
  return { value, how: "extrapolated", between: [d, d] };
}

/** The chart's speeds are centres of a band this wide (SGS PCR catalogue p. 4, series 29). */
export const SPEED_BAND: number = 0.2;

export const DERATING: Source = {
  text: "router-bit makers' charts for wood and plastic: chip load −25 % at 2 D, −50 % at 3 D",
  tag: "printed",
};

/** Chip load that is left at a depth in diameters: 1 to 1 D, 0.75 at 2 D, 0.5 at 3 D and beyond. */
export function depthDerating(diameters: number): number {
  return Math.min(1, Math.max(0.5, 1 - 0.25 * (diameters - 1)));
}

/**
 * Teeth that share a revolution's feed. A diamond pattern has no clean count: two are taken, since the
 * chart's feeds lie where those of two-flute cutters do.
 */
export function teethOf(cutter: { readonly kind: CutterKind; readonly flutes: number }): number {
  return cutter.kind === "diamond-router" ? 2 : Math.max(1, cutter.flutes);
}
