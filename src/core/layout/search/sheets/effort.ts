/**
 * How long the search may go on: counted in steps, so that the same seed and effort give the same layout on
 * every machine. A clock is only a ceiling, and the shell's: where it ends the search early, the layout is as
 * sound as any other, but the next run may differ from it.
 *
 * Step: one place of one piece looked at, or work of that cost. About a million take a second (measured on one
 * core of a 2020s server, plates of a frame).
 */
export type Effort = "quick" | "normal" | "long";

export interface SearchOptions {
  readonly effort: Effort;
  readonly seed: number;
  /** Instead of the effort's own number. */
  readonly steps?: number | undefined;
  /** True once the shell wants the best so far: its clock, or its user. */
  readonly over?: (() => boolean) | undefined;
  readonly progress?: ((progress: SearchProgress) => void) | undefined;
}

export interface SearchProgress {
  readonly sheet: string;
  /** 0 … 1 of the steps. */
  readonly share: number;
  readonly sheets: number;
  readonly missing: number;
  /** Length used of the last sheet, mm. */
  readonly used: number;
}

/** 0.3 s, 10 s and 60 s, about: a quick one starts cold, and takes twice as long in its first second of life. */
const STEPS: Readonly<Record<Effort, number>> = {
  quick: 150_000,
  normal: 10_000_000,
  long: 60_000_000,
};

/** Steps for so many pieces: a quick search of few pieces ends sooner. */
export function stepsFor(
  { steps, effort }: SearchOptions,
  pieces = Number.POSITIVE_INFINITY,
): number {
  if (steps !== undefined) return steps;
  return effort === "quick" ? Math.min(STEPS.quick, QUICK_EACH * pieces) : STEPS[effort];
}

/** Measured on the demo and the frames of fixtures/airframes: three times as many find next to nothing more. */
const QUICK_EACH = 12_500;

/**
 * Steps without gain after which a search of so many pieces ends; without bound where time was asked for. Measured on
 * the demo, the frames of fixtures/airframes and the benchmark's plates: twice as many leave a hundredth more at best.
 */
export function patienceFor({ effort }: SearchOptions, pieces: number): number | undefined {
  return effort === "quick" ? IDLE + IDLE_EACH * pieces : undefined;
}

const IDLE = 3_000;
const IDLE_EACH = 300;

/** Turning of plates without a fibre direction, degrees: each turn costs time to get to know. */
const TURNING: Readonly<Record<Effort, number>> = { quick: 90, normal: 15, long: 15 };

export function turningFor(options: SearchOptions): number {
  return TURNING[options.effort];
}

/** Cells of a no-fit region along its longer side: more make each look cheaper, but are made when first looked at. */
const CELLS: Readonly<Record<Effort, number>> = { quick: 16, normal: 32, long: 32 };

export function cellsFor(options: SearchOptions): number {
  return CELLS[options.effort];
}
