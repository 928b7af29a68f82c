/** Questions for the tests of rates, each with one thing changed. */
import type { Cutter } from "../../src/core/cutting/cutter.ts";
import type { RatesInput } from "../../src/core/cutting/rates-input.ts";
import type { Machine } from "../../src/core/machine/machine.ts";

export function cutter(change: Partial<Cutter>): Cutter {
  return {
    name: "router",
    kind: "diamond-router",
    diameter: 2,
    fluteLength: 8,
    overhang: 14,
    flutes: 2,
    coating: "none",
    ...change,
  };
}

export function router(change: Partial<Machine> = {}): Machine {
  return {
    name: "test router",
    travel: [300, 200, 60],
    maxFeed: [3000, 2500, 600],
    acceleration: [200, 200, 100],
    junctionDeviation: 0.01,
    spindle: { min: 8000, max: 24_000, powerW: 500, spinUpS: 5 },
    decimals: 4,
    lineLength: 70,
    dwell: "seconds",
    comments: "parentheses",
    repeatMotion: false,
    workOffset: "G54",
    arcs: true,
    blocksPerSecond: 250,
    ...change,
  };
}

export function spindle(min: number, max: number, powerW = 500): Machine {
  return router({ spindle: { min, max, powerW, spinUpS: 5 } });
}

export function ask(change: Partial<RatesInput> = {}): RatesInput {
  return {
    material: "carbon-woven",
    cutter: cutter({}),
    machine: router(),
    thickness: 3,
    throughDepth: 0.25,
    finishStock: 0.1,
    rampDeg: 3,
    ...change,
  };
}
