/**
 * Which cut comes next, and from which of its entries: short ways through the air that keep what must come first first.
 *
 * A plate is finished before the next begins, unless the job wants the sheet ordered as a whole. So plates are ordered first, by where they begin and end; then the features of
 * each, with their entries, between where the cutter comes from and where it goes next, the outline last; then plates
 * once more, now that their beginnings and ends are known. A way costs its seconds, lifts included.
 *
 * Promise: never slower than always going on to the nearest from the usual entries. Cost: the steps, and those are counted.
 */
import { placePoint } from "../geometry/segment.ts";
import type { Contour, Point, Rigid } from "../geometry/shape.ts";
import { shortTour } from "../order/order.ts";
import type { OrderProblem } from "../order/problem.ts";
import type { Cut, Ways } from "./cut.ts";

/** Steps for each cut: some hundredths of a second for the plates of a sheet. */
export const QUICK_STEPS = 400;

/** A feature or an outline: one of its ways is taken. */
export interface Stop {
  readonly ways: Ways;
  /** From the frame of its cuts to the sheet's; absent: that is theirs. */
  readonly toSheet?: Rigid | undefined;
  /** The plate's feature that it opens; absent: the outline. */
  readonly feature?: number | undefined;
  /** What has been cut free from its surroundings afterwards, or on one side. */
  readonly frees?: readonly Contour[] | undefined;
}

/** What one plate gets from one cutter. */
export interface PlateStops {
  /** In any order. */
  readonly inner: readonly Stop[];
  /** After all of these. */
  readonly outline?: Stop | undefined;
  /** Indices of plates that come before this one. */
  readonly after: readonly number[];
}

/** A stop with the way that it is made. Copies of a plate have their ways in common, and stops of their own. */
export interface Made {
  readonly stop: Stop;
  /** One of the stop's ways. */
  readonly cuts: readonly Cut[];
}

export interface Ordered {
  readonly plate: number;
  readonly made: readonly Made[];
}

export interface Travel {
  /** Seconds from the end of one cut (or, at first, from a place at clearance) to where another begins to cut. */
  readonly seconds: (from: Spot, to: Begin) => number;
  readonly origin: Point;
  /** For each stop; none: the nearest from the usual entry. */
  readonly steps: number;
  /** Plates need not be finished one by one. */
  readonly whole?: boolean;
}

/** Where a cut begins. */
export type Begin = Pick<Cut, "start" | "startZ">;

/** Where a cut ends. */
export interface Spot {
  readonly at: Point;
  /** Absent: at clearance. */
  readonly z?: number | undefined;
}

/** Of the plates, which have something to cut each. */
export function shortOrder(plates: readonly PlateStops[], travel: Travel): Ordered[] {
  const ordered = plateByPlate(plates, travel);
  return travel.whole === true ? overWholeSheet(plates, ordered, travel) : ordered;
}

function plateByPlate(plates: readonly PlateStops[], travel: Travel): Ordered[] {
  const usual = plates.map((p) => stopsOf(p).map(usualWay));
  const first = runThrough(plates, platesInOrder(plates, usual, travel), usual, travel);
  if (!(travel.steps > 0)) return first.ordered;
  const known: (readonly Made[])[] = [];
  for (const { plate, made } of first.ordered) known[plate] = made;
  const again = runThrough(plates, platesInOrder(plates, known, travel), known, travel);
  return (again.seconds < first.seconds ? again : first).ordered;
}

function stopsOf({ inner, outline }: PlateStops): Stop[] {
  return outline === undefined ? [...inner] : [...inner, outline];
}

function usualWay(stop: Stop): Made {
  return { stop, cuts: stop.ways[0] ?? [] };
}

function platesInOrder(
  plates: readonly PlateStops[],
  made: readonly (readonly Made[])[],
  { seconds, origin, steps }: Travel,
): readonly number[] {
  const begins = made.map((stops) => beginOf(stops[0] as Made));
  const ends = made.map((stops) => endOf(stops.at(-1) as Made));
  const problem: OrderProblem = {
    choices: plates.map(() => 1),
    after: plates.map((p) => p.after),
    cost: (a, b) => seconds(ends[a] as Spot, begins[b] as Begin),
    start: (b) => seconds({ at: origin }, begins[b] as Begin),
  };
  return shortTour(problem, { steps: steps * plates.length }).stops;
}

interface Run {
  readonly ordered: Ordered[];
  readonly seconds: number;
}

/** Plate after plate in this order; `near` says where the next one is likely to begin. */
function runThrough(
  plates: readonly PlateStops[],
  order: readonly number[],
  near: readonly (readonly Made[])[],
  travel: Travel,
): Run {
  const ordered: Ordered[] = [];
  let from: Spot = { at: travel.origin };
  let sum = 0;
  for (const [k, plate] of order.entries()) {
    const next = near[order[k + 1] ?? -1]?.[0];
    const { made, seconds } = withinPlate(plates[plate] as PlateStops, from, next, travel);
    ordered.push({ plate, made });
    from = endOf(made.at(-1) as Made);
    sum += seconds;
  }
  return { ordered, seconds: sum };
}

/** The seconds are those from `from` to the last cut's end, without the way on. */
function withinPlate(
  plate: PlateStops,
  from: Spot,
  next: Made | undefined,
  travel: Travel,
): { made: Made[]; seconds: number } {
  const stops = stopsOf(plate);
  const ways = stops.flatMap((stop) => stop.ways.map((cuts): Made => ({ stop, cuts })));
  const begins = ways.map(beginOf);
  const ends = ways.map(endOf);
  const on = next === undefined ? undefined : beginOf(next);
  const inner = plate.inner.map((_, i) => i);
  const problem: OrderProblem = {
    choices: stops.map((stop) => stop.ways.length),
    after: stops.map((stop) => (stop === plate.outline ? inner : [])),
    cost: (a, b) => travel.seconds(ends[a] as Spot, begins[b] as Begin),
    start: (b) => travel.seconds(from, begins[b] as Begin),
    end: (a) => (on === undefined ? 0 : travel.seconds(ends[a] as Spot, on)),
  };
  const tour = shortTour(problem, { steps: travel.steps * stops.length });
  const made = tour.choices.map((c) => ways[c] as Made);
  const last = tour.choices.at(-1);
  const wayOn = last === undefined ? 0 : (problem.end?.(last) ?? 0);
  return { made, seconds: tour.cost - wayOn };
}

/**
 * All stops of the sheet in one, beginning with plates one by one. A table of costs is worth its time, so the steps grow
 * with the square.
 */
function overWholeSheet(
  plates: readonly PlateStops[],
  before: readonly Ordered[],
  travel: Travel,
): Ordered[] {
  const ofPlate: number[][] = [];
  const stops = plates.flatMap((plate, n) => {
    const own = stopsOf(plate);
    const from = ofPlate.flat().length;
    ofPlate.push(own.map((_, i) => from + i));
    return own.map((stop) => ({ stop, plate: n }));
  });
  const ways = stops.flatMap(({ stop, plate }) => stop.ways.map((cuts) => ({ plate, stop, cuts })));
  const begins = ways.map(beginOf);
  const ends = ways.map(endOf);
  const firsts = new Map<Stop, number>();
  for (const [c, { stop }] of ways.entries()) if (!firsts.has(stop)) firsts.set(stop, c);
  const start = before.flatMap(({ made }) =>
    made.map(({ stop, cuts }) => (firsts.get(stop) as number) + stop.ways.indexOf(cuts)),
  );
  const tour = shortTour(
    {
      choices: stops.map(({ stop }) => stop.ways.length),
      after: stops.map(({ stop, plate }, i) => {
        const { after, outline } = plates[plate] as PlateStops;
        const nested = after.flatMap((k) => ofPlate[k] ?? []);
        const inner = stop === outline ? (ofPlate[plate] ?? []).filter((k) => k !== i) : [];
        return [...nested, ...inner];
      }),
      cost: (a, b) => travel.seconds(ends[a] as Spot, begins[b] as Begin),
      start: (b) => travel.seconds({ at: travel.origin }, begins[b] as Begin),
    },
    { steps: travel.steps * stops.length * Math.max(1, stops.length / 16), start },
  );
  return inRuns(tour.choices.map((c) => ways[c] as Made & { plate: number }));
}

/** What follows each other on one plate together. */
function inRuns(made: readonly (Made & { readonly plate: number })[]): Ordered[] {
  const runs: { plate: number; made: Made[] }[] = [];
  for (const { plate, ...rest } of made) {
    const last = runs.at(-1);
    if (last?.plate === plate) last.made.push(rest);
    else runs.push({ plate, made: [rest] });
  }
  return runs;
}

function beginOf({ stop, cuts }: Made): Begin {
  const { start, startZ } = cuts[0] as Cut;
  return { start: inSheet(start, stop.toSheet), startZ };
}

function endOf({ stop, cuts }: Made): Spot {
  const { at, z } = spotAfter(cuts.at(-1) as Cut);
  return { at: inSheet(at, stop.toSheet), z };
}

function inSheet(p: Point, toSheet: Rigid | undefined): Point {
  return toSheet === undefined ? p : placePoint(p, toSheet);
}

export function spotAfter({ start, startZ, moves }: Cut): Spot {
  const last = moves.at(-1);
  return { at: last?.to ?? start, z: last?.z ?? startZ };
}
