/** From what was measured to diameter, axis scales and fit offset, each with its uncertainty (95 %). */
import type { Finding, Outcome } from "../finding/finding.ts";
import { reportCoupon } from "../finding/say-coupon.ts";
import { leastSquares, type Solution, student95 } from "./least-squares.ts";
import type { CouponMeasured, Step } from "./measurand.ts";

export interface Value {
  readonly value: number;
  /** 95 %. */
  readonly plusMinus: number;
}

export interface CouponFound {
  readonly diameter: Value;
  readonly scaleX: Value;
  readonly scaleY: Value;
  readonly fitOffset: Value | undefined;
  /** What each measure is off what these values would give, by id. */
  readonly residuals: readonly { readonly id: string; readonly off: number }[];
}

/** Callipers that show hundredths: their step's standard deviation is 0.01/√12, mm. */
export const CALLIPERS: number = 0.01 / Math.sqrt(12);
/** A measure this far off what the others say is a slip of the hand, mm. */
const SLIP = 0.15;
/** Nothing that a machine does, mm in mm. */
const WILD = 0.02;
/** Nor does a cutter, be it worn or bent: as a share of its diameter. */
const WILD_CUT = 0.5;
/** A fit further off than this has another cause, mm. */
const WILD_FIT = 0.5;

export function couponFound(measured: CouponMeasured): Outcome<CouponFound | undefined> {
  const { walls, plannedDiameter: d0 } = measured;
  const mistyped = [...wildWalls(measured), ...unknownSteps(measured)];
  if (mistyped.length > 0) return { value: undefined, findings: mistyped };
  const rows = walls.map((w) => {
    const sign = w.side === "inside" ? 1 : -1;
    const share = w.axis === "both" ? [0.5, 0.5] : w.axis === "x" ? [1, 0] : [0, 1];
    const length = w.drawn - sign * d0;
    return [...share.map((s) => s * length), sign];
  });
  const solution = leastSquares(
    rows,
    walls.map((w) => w.measured),
    CALLIPERS,
  );
  if (solution === undefined) {
    return {
      value: undefined,
      findings: [reportCoupon("coupon-too-few", { walls: walls.length })],
    };
  }
  const residuals = walls.map((w, i) => ({ id: w.id, off: solution.residuals[i] as number }));
  const [scaleX, scaleY, diameter] = solution.values.map((value, i): Value => {
    const t = student95(solution.freedom);
    return { value, plusMinus: t * (solution.errors[i] as number) };
  }) as [Value, Value, Value];
  const own = { diameter, scaleX, scaleY };
  const fitOffset = offsetOf(measured, own);
  const findings = [...slips(residuals), ...wild(solution), ...wildFit(fitOffset)];
  return { value: { ...own, fitOffset, residuals }, findings };
}

/** Measures that no machine and no cutter give: a point or a row that was missed, inches. */
function wildWalls({ walls, plannedDiameter }: CouponMeasured): Finding[] {
  return walls.flatMap(({ id, drawn, measured }) => {
    const most = WILD * drawn + WILD_CUT * plannedDiameter;
    if (Math.abs(measured - drawn) <= most) return [];
    return [reportCoupon("coupon-wall-wild", { id, found: measured, drawn, wanted: most })];
  });
}

function unknownSteps({ slots, tongues, bestSlot, bestTongue }: CouponMeasured): Finding[] {
  const lists = [
    ["slot", slots, bestSlot],
    ["tongue", tongues, bestTongue],
  ] as const;
  return lists.flatMap(([what, steps, best]) => {
    if (best === undefined || stepAt(steps, best) !== undefined) return [];
    const known = steps.map((s) => s.number).join(", ");
    return [reportCoupon("coupon-no-step", { what, found: best, known })];
  });
}

function wildFit(fit: Value | undefined): Finding[] {
  if (fit === undefined || Math.abs(fit.value) <= WILD_FIT) return [];
  return [reportCoupon("coupon-fit-wild", { found: fit.value, wanted: WILD_FIT })];
}

/** The one that is furthest off: it pulls the others with it. */
function slips(residuals: CouponFound["residuals"]): Finding[] {
  const [worst] = [...residuals].sort((a, b) => Math.abs(b.off) - Math.abs(a.off));
  if (worst === undefined || Math.abs(worst.off) <= SLIP) return [];
  const { id, off } = worst;
  return [reportCoupon("coupon-slip", { id, found: Math.abs(off), wanted: SLIP })];
}

function wild({ values }: Solution): Finding[] {
  return (["X", "Y"] as const).flatMap((axis, i) => {
    const scale = values[i] as number;
    if (Math.abs(scale - 1) <= WILD) return [];
    return [reportCoupon("coupon-scale-wild", { axis, found: scale, wanted: WILD })];
  });
}

type Sizes = Pick<CouponFound, "diameter" | "scaleX" | "scaleY">;

/**
 * Real room where it fits as wanted, less the room that was wanted. Slot and tongue are two measures of it, each known
 * to half a step; their mean is what least squares gives.
 */
function offsetOf(m: CouponMeasured, sizes: Sizes): Value | undefined {
  const { diameter, scaleX, scaleY } = sizes;
  const d0 = m.plannedDiameter;
  const found: Value[] = [];
  const half = halfStep([m.slots, m.tongues].find((s) => s.length > 1) ?? []);
  const slot = stepAt(m.slots, m.bestSlot);
  if (slot !== undefined) {
    // Slots stand upright on the coupon: their width lies along X.
    const real = scaleX.value * (slot - d0) + diameter.value;
    const value = real - m.thickness - m.wanted;
    found.push({ value, plusMinus: together(half, diameter.plusMinus) });
  }
  const tongue = stepAt(m.tongues, m.bestTongue);
  if (tongue !== undefined) {
    const mean = (scaleX.value + scaleY.value) / 2;
    const room = scaleX.value * (m.gauge - d0) + diameter.value;
    const width = mean * (tongue + d0) - diameter.value;
    const value = room - width - m.wanted;
    // The cutter's diameter enters twice: once in the window, once round the tongue.
    found.push({ value, plusMinus: together(half, 2 * diameter.plusMinus) });
  }
  return found.length === 0 ? undefined : weightedMean(found);
}

function halfStep(steps: readonly Step[]): number {
  const [a, b] = steps;
  return a === undefined || b === undefined ? 0 : Math.abs(b.drawn - a.drawn) / 2;
}

/** Between two numbers, between their sizes. */
function stepAt(steps: readonly Step[], number: number | undefined): number | undefined {
  if (number === undefined) return undefined;
  const low = steps.find((s) => s.number === Math.floor(number));
  const high = steps.find((s) => s.number === Math.ceil(number));
  if (low === undefined || high === undefined) return undefined;
  return low.drawn + (high.drawn - low.drawn) * (number - Math.floor(number));
}

function together(a: number, b: number): number {
  return Math.sqrt(a * a + b * b);
}

/** Each weighed by what it is known to: the least-squares value of one unknown measured twice. */
export function weightedMean(values: readonly Value[]): Value {
  const weights = values.map((v) => 1 / (v.plusMinus * v.plusMinus));
  const sum = weights.reduce((s, w) => s + w, 0);
  const value = values.reduce((s, v, i) => s + v.value * (weights[i] as number), 0) / sum;
  return { value, plusMinus: 1 / Math.sqrt(sum) };
}
