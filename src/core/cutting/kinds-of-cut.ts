/**
 * Slotting, profiling and light passes side by side at one spindle speed: the feed that the chart's row gives
 * and the depth that this cutter and this spindle bear.
 *
 * A program slots and finishes; profiling is what is had where one side of the cutter is already free. The
 * chosen depth is half of the row's (depth-limits.ts says why), a light pass goes through in one.
 */
import type { PassRates } from "./cutter.ts";
import { type ChipRow, feedPerRevAt, rowFor } from "./data/chip-load.ts";
import { cite } from "./data/source.ts";
import { depthLimits, limitsText, START, settable, tightest } from "./depth-limits.ts";
import { spindleSpeed } from "./physics/formulas.ts";
import { type Load, loadOf } from "./physics/load.ts";
import { energyFor, type RatesInput, type Talk } from "./rates-input.ts";
import { slowerXY, wholeFeed } from "./speed.ts";

/** The slot as it was chosen. */
export interface Slotting {
  readonly rpm: number;
  readonly feed: number;
  readonly passDepth: number;
  readonly load: Load;
}

export function kindsOfCut(input: RatesInput, slot: Slotting, talk: Talk): readonly PassRates[] {
  const { cutter, material } = input;
  const limited = talk.limits.length === 0 ? "table" : talk.limits.join(", ");
  const first: PassRates = {
    ...charted(rowFor(cutter, material, "slot"), input),
    feedPerRev: slot.feed / slot.rpm,
    feed: slot.feed,
    passDepth: slot.passDepth,
    deflectionMm: slot.load.deflectionMm,
    powerW: slot.load.powerW,
    limitedBy: limited,
  };
  return [first, chosen(input, "profile", slot.rpm, talk), chosen(input, "light", slot.rpm, talk)];
}

export function drilling(
  input: RatesInput,
  rpm: number,
  made: { readonly feed: number; readonly passDepth: number; readonly powerW: number },
  limitedBy: string,
): PassRates {
  const row = rowFor(input.cutter, input.material, "drill");
  return {
    ...charted(row, input),
    feedPerRev: made.feed / rpm,
    ...made,
    deflectionMm: 0,
    limitedBy,
  };
}

type Charted = Pick<PassRates, "operation" | "wantedRpm" | "widest" | "deepest">;

function charted(row: ChipRow, { cutter }: RatesInput): Charted {
  return {
    operation: row.operation,
    wantedRpm: spindleSpeed(row.surfaceSpeed, cutter.diameter),
    widest: row.widest * cutter.diameter,
    deepest: Math.min(row.deepest * cutter.diameter, cutter.fluteLength),
  };
}

function chosen(
  input: RatesInput,
  operation: "profile" | "light",
  rpm: number,
  talk: Talk,
): PassRates {
  const { cutter, material, machine } = input;
  const row = rowFor(cutter, material, operation);
  const perRev = feedPerRevAt(row, cutter.diameter).value;
  const feed = wholeFeed(Math.min(slowerXY(machine), perRev * rpm));
  const width = row.widest * cutter.diameter;
  const at = (depth: number): Load => loadOf(cutter, { width, depth, feed, rpm }, energyFor(input));
  const sheet = input.thickness + input.throughDepth;
  const start =
    row.deepest === Number.POSITIVE_INFINITY ? sheet : START * row.deepest * cutter.diameter;
  const limits = depthLimits(cutter, machine, start, at(1));
  const [name, deepest] = tightest(limits);
  const passDepth = settable(Math.min(deepest, sheet));
  const load = at(passDepth);
  talk.steps.push(
    {
      quantity: `feed, ${operation} cut`,
      formula: `f n at ${perRev.toFixed(4)} mm/rev, to ${width.toFixed(2)} mm wide`,
      value: feed,
      unit: "mm/min",
      source: cite(row.feedSource),
    },
    {
      quantity: `pass depth, ${operation} cut`,
      formula: limitsText(limits),
      value: passDepth,
      unit: "mm",
      source:
        operation === "light"
          ? "the chart allows the whole flute (printed); the sheet's depth is all there is"
          : `the chart's maximum is ${row.deepest} D; half of it is taken (common practice, no source)`,
    },
  );
  return {
    ...charted(row, input),
    feedPerRev: feed / rpm,
    feed,
    passDepth,
    deflectionMm: load.deflectionMm,
    powerW: load.powerW,
    limitedBy: feed < Math.floor(perRev * rpm) ? `machine feed, ${name}` : name,
  };
}
