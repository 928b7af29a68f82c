/**
 * A coupon as a job of its own: one sheet, one cutter, the test piece and its key, planned and proven like any job.
 *
 * The piece lies along the machine's axes in a place of its own, since its walls measure the axes; the key goes where
 * there is room. Its drawings are made here and handed to the pipeline as files.
 */
import { type Cutter, effectiveDiameter } from "../cutting/cutter.ts";
import { writeDxf } from "../drawing/write-dxf.ts";
import type { Finding, Outcome } from "../finding/finding.ts";
import { reportCoupon } from "../finding/say-coupon.ts";
import { bounds, contains, distanceTo, rectangle } from "../geometry/contour.ts";
import type { Contour } from "../geometry/shape.ts";
import type { Job, JobCutter, JobPlate, JobSheet } from "../job/job.ts";
import type { KeepOut } from "../layout/layout.ts";
import type { CouponPlan } from "./measurand.ts";
import { couponPiece, LONG_PAIRS, MARK_DEPTH, type Piece, type PieceWanted } from "./piece.ts";

export interface CouponChoice {
  readonly sheet?: string | undefined;
  readonly cutter?: string | undefined;
  /** The fit that slots and tongues are stepped round, mm in all. */
  readonly clearance: number;
}

export interface Coupon {
  readonly job: Job;
  /** Its drawings, by the names that the job gives them. */
  readonly drawings: ReadonlyMap<string, string>;
  readonly plan: CouponPlan;
}

const PIECE = "coupon";
const KEY = "key";
const CUT = "CUT";
const MARKS = "MARKS";

/** `outline` is that of the sheet, sheet frame; undefined where the job gives its size. */
export function couponOf(
  job: Job,
  choice: CouponChoice,
  outline: (sheet: JobSheet) => Contour | undefined,
): Outcome<Coupon | undefined> {
  const sheet = named(job.sheets, choice.sheet);
  const cutter = named(
    job.cutters.filter((c) => c.kind !== "drill"),
    choice.cutter,
  );
  if (sheet === undefined) return refused(unknown("sheet", choice.sheet, job.sheets));
  if (cutter === undefined) return refused(unknown("cutter", choice.cutter, job.cutters));
  const edge = outline(sheet);
  if (edge === undefined) return refused(reportCoupon("coupon-no-outline", { sheet: sheet.name }));
  const thickness = sheet.measuredThickness ?? sheet.thickness;
  const base = {
    sheet: sheet.name,
    cutter: cutter.name,
    diameter: effectiveDiameter(cutter),
    thickness,
    clearance: choice.clearance,
  };
  const placed = placedPiece(base, sheet, edge);
  if (placed === undefined) {
    const { width, height } = couponPiece({ ...base, long: Math.min(...LONG_PAIRS) });
    return refused(
      reportCoupon("coupon-no-room", { sheet: sheet.name, width, height }, { sheet: sheet.name }),
    );
  }
  const { piece, at } = placed;
  const findings: Finding[] = [];
  if (piece.plan.slots.length < piece.plan.tongues.length) {
    const data = {
      made: piece.plan.slots.length,
      of: piece.plan.tongues.length,
      cutter: cutter.name,
      diameter: base.diameter,
      thickness,
    };
    findings.push(reportCoupon("coupon-slots-left-out", data));
  }
  const value = {
    job: couponJob(job, sheet, cutter, at),
    drawings: drawingsOf(piece),
    plan: piece.plan,
  };
  return { value, findings };
}

function refused(finding: Finding): Outcome<undefined> {
  return { value: undefined, findings: [finding] };
}

function named<T extends { readonly name: string }>(
  list: readonly T[],
  name: string | undefined,
): T | undefined {
  return name === undefined ? list[0] : list.find((x) => x.name === name);
}

function unknown(
  what: string,
  name: string | undefined,
  known: readonly { name: string }[],
): Finding {
  return reportCoupon("coupon-unknown", {
    what,
    name: name ?? "",
    known: known.map((k) => k.name).join(", "),
  });
}

interface Placed {
  readonly piece: Piece;
  readonly at: { readonly x: number; readonly y: number };
}

/** The widest that has room. */
function placedPiece(
  base: Omit<PieceWanted, "long">,
  sheet: JobSheet,
  outline: Contour,
): Placed | undefined {
  for (const long of LONG_PAIRS) {
    const piece = couponPiece({ ...base, long });
    const at = placeFor(piece, sheet, outline, base.diameter);
    if (at !== undefined) return { piece, at };
  }
  return undefined;
}

/** Places are tried this far apart, mm. */
const STEP = 2;
/** Between the piece's cut and a keep-out, mm. */
const CLEAR = 1;

function placeFor(
  { width, height }: Piece,
  sheet: JobSheet,
  outline: Contour,
  cutter: number,
): Placed["at"] | undefined {
  const { min, max } = bounds(outline);
  const room = sheet.margin;
  for (let y = min.y + room; y + height <= max.y - room + 1e-9; y += STEP) {
    for (let x = min.x + room; x + width <= max.x - room + 1e-9; x += STEP) {
      const box = rectangle(x, y, x + width, y + height);
      if (
        inSheet(box, outline, room) &&
        sheet.keepOuts.every((k) => clears(k, x, y, { width, height }, cutter + CLEAR))
      ) {
        return { x, y };
      }
    }
  }
  return undefined;
}

function inSheet(box: Contour, outline: Contour, room: number): boolean {
  return (
    box.segments.every(
      (s) => contains(outline, s.from) && distanceTo(outline, s.from) >= room - 1e-9,
    ) && outline.segments.every((s) => !contains(box, s.from))
  );
}

function clears(
  k: KeepOut,
  x: number,
  y: number,
  { width, height }: { readonly width: number; readonly height: number },
  room: number,
): boolean {
  if (k.kind === "box") {
    const { min, max } = k.box;
    return (
      max.x + room <= x ||
      min.x - room >= x + width ||
      max.y + room <= y ||
      min.y - room >= y + height
    );
  }
  const dx = Math.max(x - k.at.x, 0, k.at.x - x - width);
  const dy = Math.max(y - k.at.y, 0, k.at.y - y - height);
  return Math.sqrt(dx * dx + dy * dy) >= k.diameter / 2 + room;
}

function couponJob(job: Job, sheet: JobSheet, cutter: JobCutter, at: Placed["at"]): Job {
  const { props: _props, ...rest } = job;
  const plate = (name: string, fixed: JobPlate["fixed"]): JobPlate => ({
    name,
    drawing: `${name}.dxf`,
    units: "mm",
    sheet: sheet.name,
    count: 1,
    gap: 6,
    layers: { ignore: [], recess: [{ layer: MARKS, depth: MARK_DEPTH }] },
    mates: [],
    fasteners: [],
    relief: [],
    fixed,
    place: sheet.place,
    drawingPlace: sheet.place,
    sheetPlace: sheet.place,
  });
  return {
    ...rest,
    name: `${job.name}: coupon for ${cutter.name} in ${sheet.name}`,
    sheets: [sheet],
    plates: [plate(PIECE, [{ ...at, rotationDeg: 0, flipped: false }]), plate(KEY, [])],
    cutters: [cutter],
    mates: "named",
    checks: [
      {
        code: "slot-near-cutter-width",
        severity: "note",
        reason: "how wide such slots come out is what the coupon is cut for",
      },
    ],
  };
}

function drawingsOf({ outer, cut, marks, key }: Piece): Map<string, string> {
  const drawing = (contours: readonly Contour[], shallow: readonly Contour[]): string =>
    writeDxf([
      { name: CUT, contours },
      { name: MARKS, contours: shallow },
    ]);
  return new Map([
    [`${PIECE}.dxf`, drawing([outer, ...cut], marks)],
    [`${KEY}.dxf`, drawing([key.outer], key.marks)],
  ]);
}

/** The cutter of a job that a coupon was for. */
export function cutterNamed(job: Job, name: string): Cutter | undefined {
  return job.cutters.find((c) => c.name === name);
}
