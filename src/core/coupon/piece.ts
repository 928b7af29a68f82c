/**
 * The test piece and its key, as contours.
 *
 * The piece has walls 25 and 125 mm apart along X and 25 and 50 along Y (100 along X where the sheet is small), slots
 * of stepped width for the sheet's own thickness, a gauge window, and three M3 holes. The key is a comb of tongues of
 * stepped width: any of them is tried in the slots, each of them in the gauge window. Holding tabs are those of the
 * job, so there is a tab to break. mm, the piece's own frame, lower-left corner at the origin.
 */
import { disc, roundedBox } from "../airframe/shape/build.ts";
import { smoothed } from "../airframe/shape/round.ts";
import { slotContour } from "../fit/shape/slot-cut.ts";
import { polygon } from "../geometry/contour.ts";
import type { Contour, Point } from "../geometry/shape.ts";
import { type MarkSize, markSize, marks, marksAlong, reachOf } from "./marks.ts";
import type { CouponPlan, Measurand, Step } from "./measurand.ts";

export interface PieceWanted {
  readonly sheet: string;
  readonly cutter: string;
  readonly diameter: number;
  readonly thickness: number;
  /** The fit round which slots and tongues are stepped, mm in all. */
  readonly clearance: number;
  /** The long pair of walls along X. */
  readonly long: number;
}

export interface Piece {
  readonly plan: CouponPlan;
  readonly outer: Contour;
  readonly cut: readonly Contour[];
  readonly marks: readonly Contour[];
  readonly key: { readonly outer: Contour; readonly marks: readonly Contour[] };
  readonly width: number;
  readonly height: number;
}

const SHORT = 25;
const LONG_Y = 50;
/** From the edge to a window, and between windows. */
const RIM = 8;
const WEB = 5;
/** From a feature to its marks, mm. */
const BESIDE = 2;
/** Width of the long windows: room for the jaws of callipers. */
const JAWS = 5;
const TENON = 8;
/** Steps on either side of the wanted fit; common practice: 0.05 mm in all is told by hand. */
const STEPS = [-0.1, -0.05, 0, 0.05, 0.1] as const;
/** Slots are this much longer than a tongue, so that only their width is felt. */
const LOOSE = 0.6;
/** ISO 273: M3 fine, medium, coarse. */
const M3 = [3.2, 3.4, 3.6] as const;
/** A helix wants this much more hole than cutter; common practice, no source. */
const HELIX_ROOM = 1.1;
/** As in the fits: a relief a little larger than the cutter. */
const ROOMY = 1.05;
export const MARK_DEPTH = 0.2;

/** What is tried, the better first. */
export const LONG_PAIRS: readonly number[] = [125, 100];

export function couponPiece(wanted: PieceWanted): Piece {
  const { diameter, long } = wanted;
  const size = markSize(diameter);
  const width = long + 2 * RIM;
  const low = RIM + JAWS + WEB;
  const height = low + LONG_Y + RIM - 2;
  const left = RIM + SHORT + 2 * WEB + JAWS;
  const row = low + LONG_Y - 5;
  const ease = (ROOMY * diameter) / 2;
  const window = (at: Point, w: number, h: number): Contour =>
    roundedBox(at, { x: at.x + w, y: at.y + h }, ease);
  const slots = slotsOf(wanted, { x: left, y: low }, (width - RIM - left) / STEPS.length, size);
  const gauge = { x: left + TENON / 2 + 1, y: row };
  const holes = holesOf(diameter, { x: left + 20, y: row }, width - RIM - size.pitch, size);
  const key = keyOf(wanted, size, ease);
  return {
    plan: {
      sheet: wanted.sheet,
      cutter: wanted.cutter,
      plannedDiameter: diameter,
      thickness: wanted.thickness,
      wanted: wanted.clearance,
      walls: [...wallsOf(long, width, height, low), ...holes.walls],
      slots: slots.steps,
      tongues: key.steps,
      gauge: TENON,
    },
    outer: roundedBox({ x: 0, y: 0 }, { x: width, y: height }, 3),
    cut: [
      window({ x: RIM, y: RIM }, long, JAWS),
      window({ x: RIM, y: low }, SHORT, SHORT),
      window({ x: RIM + SHORT + WEB, y: low }, JAWS, LONG_Y),
      ...slots.cut,
      slotContour(
        { at: gauge, angle: 0, width: TENON, length: TENON, origin: undefined },
        "along-wall",
        ease,
      ).contour,
      ...holes.cut,
    ],
    marks: [...wallMarks(width, height, low, size), ...slots.marks, ...holes.marks],
    key: { outer: key.outer, marks: key.marks },
    width,
    height,
  };
}

function wallsOf(long: number, width: number, height: number, low: number): Measurand[] {
  const inside = { side: "inside" as const };
  const outside = { side: "outside" as const };
  const middle = { x: RIM + SHORT / 2, y: low + SHORT / 2 };
  return [
    {
      id: "A",
      mark: 1,
      what: "long window, left to right",
      axis: "x",
      ...inside,
      drawn: long,
      at: { x: RIM + long / 2, y: RIM + JAWS / 2 },
    },
    {
      id: "B",
      mark: 2,
      what: "square window, left to right",
      axis: "x",
      ...inside,
      drawn: SHORT,
      at: middle,
    },
    {
      id: "C",
      mark: 3,
      what: "square window, front to back",
      axis: "y",
      ...inside,
      drawn: SHORT,
      at: middle,
    },
    {
      id: "D",
      mark: 4,
      what: "upright window, front to back",
      axis: "y",
      ...inside,
      drawn: LONG_Y,
      at: { x: RIM + SHORT + WEB + JAWS / 2, y: low + LONG_Y / 2 },
    },
    {
      id: "E",
      mark: 5,
      what: "the piece, left to right",
      axis: "x",
      ...outside,
      drawn: width,
      at: { x: width / 2, y: height / 2 },
    },
    {
      id: "F",
      mark: 6,
      what: "the piece, front to back",
      axis: "y",
      ...outside,
      drawn: height,
      at: { x: width / 2, y: height / 2 },
    },
  ];
}

/**
 * One dot over the long window, two in a row and three upright over the square one, four beside the upright one; a
 * stroke ends at the right edge, a stroke and a dot at the upper.
 */
function wallMarks(width: number, height: number, low: number, size: MarkSize): Contour[] {
  const half = size.width / 2;
  const right = RIM + SHORT + WEB + JAWS + BESIDE + half;
  const over = low + SHORT + BESIDE;
  const reach = (n: number): number => reachOf(n, size);
  return [
    ...marksAlong("y", 1, { x: right, y: RIM + JAWS + BESIDE }, size),
    ...marksAlong("x", 2, { x: RIM + BESIDE, y: over + half }, size),
    ...marksAlong("y", 3, { x: RIM + SHORT - BESIDE - half, y: over }, size),
    ...marksAlong("y", 4, { x: right, y: low + (LONG_Y - reach(4)) / 2 }, size),
    ...marksAlong("x", 5, { x: width - BESIDE - reach(5), y: height * HIGH }, size),
    ...marksAlong("y", 6, { x: RIM + BESIDE + half, y: height - BESIDE - reach(6) }, size),
  ];
}

/** The stroke at the right edge is between slots and holes, as a share of the height. */
const HIGH = 0.68;

interface Made {
  readonly cut: readonly Contour[];
  readonly marks: readonly Contour[];
}

/** Upright, from left to right; those that the cutter does not enter are left out. */
function slotsOf(
  { thickness, clearance, diameter }: PieceWanted,
  from: Point,
  pitch: number,
  size: MarkSize,
): Made & { steps: Step[] } {
  const steps = STEPS.map((by, i): Step => {
    const room = clearance + by;
    return { number: i + 1, drawn: grid(thickness + room), clearance: grid(room) };
  }).filter((s) => s.drawn >= diameter);
  const length = TENON + LOOSE;
  const made = steps.map((s) => {
    const x = from.x + (s.number - 0.5) * pitch;
    const at = { x, y: from.y + (length + s.drawn) / 2 };
    const wanted = { at, angle: Math.PI / 2, width: s.drawn, length, origin: undefined };
    return {
      cut: slotContour(wanted, "round-ends", 0).contour,
      marks: marks(s.number, { x, y: from.y + length + s.drawn + BESIDE }, size),
    };
  });
  return { steps, cut: made.map((m) => m.cut), marks: made.flatMap((m) => m.marks) };
}

/** Holes that the cutter can bore, each with its dots to its right. */
function holesOf(
  diameter: number,
  from: Point,
  limit: number,
  size: MarkSize,
): Made & { walls: Measurand[] } {
  const pitch = Math.min(18, (limit - from.x) / 2);
  const made = M3.map((d, i) => ({
    d,
    number: i + 1,
    at: { x: from.x + i * pitch, y: from.y },
  })).filter(({ d }) => d >= HELIX_ROOM * diameter);
  return {
    cut: made.map(({ d, at }) => disc(at, d / 2)),
    marks: made.flatMap(({ d, number, at }) =>
      marks(number, { x: at.x + d / 2 + BESIDE + size.width / 2, y: at.y - 4 }, size),
    ),
    walls: made.map(({ d, number, at }) => ({
      id: `H${number}`,
      mark: number,
      what: `hole ${number}`,
      axis: "both",
      side: "inside",
      drawn: d,
      at,
    })),
  };
}

/** A comb, its tongues downwards. */
function keyOf(
  { thickness, clearance }: PieceWanted,
  size: MarkSize,
  ease: number,
): { steps: Step[]; outer: Contour; marks: Contour[] } {
  const reach = Math.max(8, thickness + 5);
  const pitch = TENON + Math.max(6, 4 * ease + 1);
  const body = 2 * BESIDE + reachOfMost(size);
  const steps = STEPS.map((by, i): Step => {
    const room = clearance + by;
    return { number: i + 1, drawn: grid(TENON - room), clearance: grid(room) };
  });
  const width = steps.length * pitch;
  const corners: Point[] = [];
  for (const s of steps) {
    const x = (s.number - 0.5) * pitch;
    const [a, b] = [x - s.drawn / 2, x + s.drawn / 2];
    corners.push({ x: a, y: 0 }, { x: a, y: -reach }, { x: b, y: -reach }, { x: b, y: 0 });
  }
  const outline = polygon([
    { x: 0, y: 0 },
    ...corners,
    { x: width, y: 0 },
    { x: width, y: body },
    { x: 0, y: body },
  ]);
  const [outer] = smoothed([outline], ease, TIP);
  const dots = steps.flatMap((s) =>
    marks(s.number, { x: (s.number - 0.5) * pitch, y: BESIDE }, size),
  );
  return { steps, outer: outer ?? outline, marks: dots };
}

/** Rounding of the tongues' tips, mm: they find the window by it. */
const TIP = 0.6;

function reachOfMost(size: MarkSize): number {
  return Math.max(...STEPS.map((_, i) => reachOf(i + 1, size)));
}

/** Sums of decimals, on the drawing's grid. */
function grid(v: number): number {
  return Math.round(v * 1e4) / 1e4;
}
