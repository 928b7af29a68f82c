/**
 * How long a program takes on a machine, from its trace.
 *
 * Promise: never below length ÷ feed, never above a full stop at every block, never slower with more
 * acceleration. What the machine's file does not say (how many blocks the controller sees ahead, whether
 * it limits jerk) is an option with a default that is told in `assumptions`.
 * Cost: linear, about a microsecond a block; five with jerk.
 */
import { type Finding, type Report, reporter } from "../finding/finding.ts";
import { sayMotion } from "../finding/say-motion.ts";
import type { Machine } from "../machine/machine.ts";
import type { Trace, TraceMove } from "../program/read/trace.ts";
import { type Blocks, blocksOf } from "./blocks.ts";
import { plan } from "./planner.ts";

export interface TimeOptions {
  /** Blocks that the controller sees ahead. */
  readonly lookAhead?: number | undefined;
  /** mm/s³. */
  readonly jerk?: number | undefined;
}

/** Seconds by what the motion does, from its direction alone. */
export interface MotionSeconds {
  readonly rapid: number;
  /** Straight down at feed. */
  readonly plunge: number;
  /** Down while going along: ramps and helices. */
  readonly ramp: number;
  /** All other feed moves. */
  readonly level: number;
  readonly dwell: number;
}

export interface TraceTime {
  readonly seconds: number;
  /** All moves at feed. */
  readonly cuttingSeconds: number;
  readonly rapidSeconds: number;
  readonly dwellSeconds: number;
  readonly cutMetres: number;
  readonly rapidMetres: number;
  /** Moves. */
  readonly blocks: number;
  readonly byMotion: MotionSeconds;
  /** Seconds of each step of the trace, in order. */
  readonly stepSeconds: Float64Array;
  readonly assumptions: readonly string[];
  readonly findings: readonly Finding[];
}

const report: Report<typeof sayMotion> = reporter(sayMotion);

/** The least seen among hobby controllers, so that dense programs are not promised too fast. */
export const LOOK_AHEAD: number = 15;

export function timeOf(trace: Trace, machine: Machine, options: TimeOptions = {}): TraceTime {
  const lookAhead = options.lookAhead ?? LOOK_AHEAD;
  const stepSeconds = new Float64Array(trace.steps.length);
  const bad = machineFindings(machine);
  const blocks = blocksOf(trace, machine);
  if (bad.length === 0) {
    const seconds = plan(blocks, { lookAhead, jerk: options.jerk });
    for (let i = 0; i < blocks.count; i++) {
      stepSeconds[blocks.step[i] as number] = seconds[i] as number;
    }
  }
  return {
    ...total(trace, blocks, stepSeconds),
    stepSeconds,
    assumptions: assumptionsOf(lookAhead, options.jerk),
    findings: [...bad, ...untimedFindings(trace, blocks.untimed)],
  };
}

type Totals = Omit<TraceTime, "stepSeconds" | "assumptions" | "findings">;

function total(trace: Trace, blocks: Blocks, stepSeconds: Float64Array): Totals {
  const by = { rapid: 0, plunge: 0, ramp: 0, level: 0, dwell: 0 };
  let moves = 0;
  let cut = 0;
  let rapid = 0;
  for (let i = 0; i < trace.steps.length; i++) {
    const step = trace.steps[i] as Trace["steps"][number];
    if (step.kind === "dwell") {
      stepSeconds[i] = Number.isFinite(step.seconds) ? Math.max(0, step.seconds) : 0;
      by.dwell += stepSeconds[i] as number;
    } else if (step.kind === "rapid" || step.kind === "feed") {
      moves++;
      by[motionOf(step)] += stepSeconds[i] as number;
    }
  }
  for (let k = 0; k < blocks.count; k++) {
    const length = blocks.length[k] as number;
    if (trace.steps[blocks.step[k] as number]?.kind === "rapid") rapid += length;
    else cut += length;
  }
  const cuttingSeconds = by.plunge + by.ramp + by.level;
  return {
    seconds: by.rapid + cuttingSeconds + by.dwell,
    cuttingSeconds,
    rapidSeconds: by.rapid,
    dwellSeconds: by.dwell,
    cutMetres: cut / 1000,
    rapidMetres: rapid / 1000,
    blocks: moves,
    byMotion: by,
  };
}

function motionOf(move: TraceMove): "rapid" | "plunge" | "ramp" | "level" {
  if (move.kind === "rapid") return "rapid";
  if (!(move.z1 < move.z0)) return "level";
  return move.arc === undefined && move.x0 === move.x1 && move.y0 === move.y1 ? "plunge" : "ramp";
}

function assumptionsOf(lookAhead: number, jerk: number | undefined): readonly string[] {
  return [
    "Axes accelerate and corners are taken as the machine file says; curves by centripetal acceleration.",
    `The controller sees ${lookAhead} blocks ahead.`,
    jerk === undefined ? "No jerk limit." : `Jerk limit ${jerk} mm/s³.`,
    "Rapids run straight at the axes' rates; the first move from an unknown place is not counted.",
    "Stops for the operator take no time; feed and rapid overrides stand at 100 %.",
  ];
}

function machineFindings(machine: Machine): readonly Finding[] {
  const { acceleration, maxFeed, junctionDeviation } = machine;
  const good =
    acceleration.every((a) => Number.isFinite(a) && a > 0) &&
    maxFeed.every((f) => Number.isFinite(f) && f > 0) &&
    junctionDeviation >= 0;
  return good ? [] : [report("machine-cannot-be-timed", { machine: machine.name })];
}

function untimedFindings(trace: Trace, untimed: readonly TraceMove[]): readonly Finding[] {
  const first = untimed[0];
  if (first === undefined) return [];
  const program = { file: trace.file, line: first.line };
  return [report("moves-not-timed", { count: untimed.length, line: first.line }, { program })];
}
