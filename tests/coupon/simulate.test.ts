/**
 * A coupon, cut by a simulated machine that moves too far with a cutter that is too thin, measured from what its
 * programs leave: the same scale and cutter come back.
 */
import { describe, expect, test } from "vitest";
import type { Coupon } from "../../src/core/coupon/coupon.ts";
import { couponFound } from "../../src/core/coupon/found.ts";
import type { CouponMeasured, Measurand } from "../../src/core/coupon/measurand.ts";
import { placePoint } from "../../src/core/geometry/segment.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import type { TraceMove } from "../../src/core/program/read/trace.ts";
import { deepMoves, openUntil } from "../fit/sweep.ts";
import { couponFor, planned } from "./job.ts";

const COUPON = couponFor();
const made = planned(COUPON);

interface Simulated {
  readonly scale: readonly [number, number];
  readonly cutter: number;
}

const scaled = (m: TraceMove, s: number): TraceMove => ({
  ...m,
  x0: m.x0 * s,
  y0: m.y0 * s,
  x1: m.x1 * s,
  y1: m.y1 * s,
  arc:
    m.arc === undefined
      ? undefined
      : { ...m.arc, cx: m.arc.cx * s, cy: m.arc.cy * s, radius: m.arc.radius * s },
});

/** What callipers would say, before they round: between the swept walls, or across what is left between them. */
function measured(coupon: Coupon, { scale: [s], cutter }: Simulated): Map<string, number> {
  const programs = made.plan?.programs ?? [];
  const { thickness } = coupon.plan;
  const moves = programs
    .flatMap(({ file }) => deepMoves(readProgram(file, made.files.get(file) ?? ""), -thickness))
    .map((m) => scaled(m, s));
  const placement = made.plan?.sheets[0]?.placements.find((p) => p.plate === "coupon");
  if (placement === undefined) throw new Error("no coupon was placed");
  const toSheet = { x: placement.x, y: placement.y, angle: 0, flipped: false };
  const at = (w: Measurand) => {
    const p = placePoint(w.at, toSheet);
    return { x: p.x * s, y: p.y * s };
  };
  const across = (w: Measurand, u: { x: number; y: number }): number => {
    const o = at(w);
    const v = { x: -u.x, y: -u.y };
    // From the kerf along each wall: big windows fall out whole, so their middle was not swept.
    const way = w.side === "inside" ? 1 : -1;
    // Where a holding tab stands there is no wall down to the sheet's underside: jaws go beside it.
    for (const beside of [0, 7, -7, 14, -14]) {
      const spot = { x: o.x + beside * u.y, y: o.y + beside * u.x };
      const ray = { o: spot, half: w.drawn / 2, cutter, way } as const;
      const [one, two] = [wall(moves, { ...ray, d: u }), wall(moves, { ...ray, d: v })];
      if (one !== undefined && two !== undefined) return one + two;
    }
    throw new Error(`${w.id} has no two walls opposite each other`);
  };
  return new Map(
    coupon.plan.walls.map((w) => {
      const x = () => across(w, { x: 1, y: 0 });
      const y = () => across(w, { x: 0, y: 1 });
      return [w.id, w.axis === "x" ? x() : w.axis === "y" ? y() : (x() + y()) / 2];
    }),
  );
}

interface Ray {
  /** The middle between the walls, and the way to one of them. */
  readonly o: { readonly x: number; readonly y: number };
  readonly d: { readonly x: number; readonly y: number };
  readonly half: number;
  readonly cutter: number;
  /** 1: the wall is beyond the kerf; −1: the kerf is beyond the wall. */
  readonly way: 1 | -1;
}

/** From the middle to the wall, if there is one: begun in the kerf, gone on towards the wall. */
function wall(moves: readonly TraceMove[], { o, d, half, cutter, way }: Ray): number | undefined {
  const start = half - (way * cutter) / 2;
  const from = { x: o.x + start * d.x, y: o.y + start * d.y };
  const open = openUntil(moves, from, { x: way * d.x, y: way * d.y }, cutter / 2, 3);
  // Nothing was cut here.
  return open < 0.01 ? undefined : start + way * open;
}

const round = (v: number, to: number): number => (to === 0 ? v : Math.round(v / to) * to);

function foundWith(coupon: Coupon, machine: Simulated, callipers: number) {
  const values = measured(coupon, machine);
  const { plan } = coupon;
  const filled: CouponMeasured = {
    ...plan,
    walls: plan.walls.map((w) => ({
      ...w,
      measured: round(values.get(w.id) as number, callipers),
    })),
  };
  return couponFound(filled);
}

describe("a machine of scale 1.002 with a cutter of 1.96, planned as 2.00", () => {
  const coupon = COUPON;
  const machine: Simulated = { scale: [1.002, 1.002], cutter: 1.96 };

  test.each([
    ["by callipers that show hundredths", 0.01],
    ["measured exactly", 0],
  ])("%s: scale within 0.002 and cutter within 0.005 mm come back", (_, callipers) => {
    const { value, findings } = foundWith(coupon, machine, callipers);
    expect(findings).toEqual([]);
    expect(Math.abs((value?.scaleX.value ?? 0) - 1.002)).toBeLessThan(0.0002);
    expect(Math.abs((value?.scaleY.value ?? 0) - 1.002)).toBeLessThan(0.0002);
    expect(Math.abs((value?.diameter.value ?? 0) - 1.96)).toBeLessThan(0.005);
    // The truth lies within what is said of the uncertainty.
    for (const [v, truth] of [
      [value?.scaleX, 1.002],
      [value?.scaleY, 1.002],
      [value?.diameter, 1.96],
    ] as const) {
      expect(Math.abs((v?.value ?? 0) - truth)).toBeLessThanOrEqual(v?.plusMinus ?? 0);
    }
    expect(value?.diameter.plusMinus).toBeLessThan(0.02);
  });
});

test("a perfect machine comes back as perfect", () => {
  const { value } = foundWith(COUPON, { scale: [1, 1], cutter: 2 }, 0);
  expect(value?.scaleX.value).toBeCloseTo(1, 4);
  expect(value?.diameter.value).toBeCloseTo(2, 3);
});
