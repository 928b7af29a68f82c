/**
 * Spindle speed, feed per revolution and feed of a cut at full width: the chart's, then what spindle and
 * machine make of it.
 */
import { type Machine, rpmPerS } from "../machine/machine.ts";
import {
  type ChipRow,
  chipRow,
  DERATING,
  depthDerating,
  feedPerRevAt,
  rowFor,
} from "./data/chip-load.ts";
import { cite } from "./data/source.ts";
import { spindleSpeed, surfaceSpeed } from "./physics/formulas.ts";
import { type RatesInput, report, round, type Talk } from "./rates-input.ts";

/** Far below the chart's speed: less than this share of it. */
const FAR_BELOW = 0.6;

/** Above this multiple of the fastest printed speed of the material nothing can be promised. */
const TOO_FAST = 1.2;

export function chooseSpeed(input: RatesInput, row: ChipRow, talk: Talk): number {
  const { cutter, machine, material } = input;
  const { min, max } = machine.spindle;
  const wanted = spindleSpeed(row.surfaceSpeed, cutter.diameter);
  const source = cite(row.speedSource);
  talk.steps.push(
    {
      quantity: "surface speed wanted",
      formula: `row ${row.operation}`,
      value: row.surfaceSpeed,
      unit: "m/min",
      source,
    },
    {
      quantity: "spindle speed wanted",
      formula: "n = 1000 vc ÷ (π D)",
      value: wanted,
      unit: "rpm",
      source: "Mitsubishi Materials, Technical Information, Formulas for Milling (printed)",
    },
  );
  const data = { cutter: cutter.name, wanted: Math.round(wanted), min, max };
  if (wanted > max) {
    talk.limits.push("spindle maximum");
    const share = round(max / wanted, 2);
    talk.findings.push(
      report(share < FAR_BELOW ? "spindle-far-below-wanted" : "spindle-below-wanted", {
        ...data,
        share,
      }),
    );
  }
  if (wanted < min) {
    talk.limits.push("spindle minimum");
    const speed = surfaceSpeed(min, cutter.diameter);
    // The user's own slower speed is no reason to call the chart's too fast.
    const lightest = row.operation === "drill" ? "drill" : "light";
    const fastest =
      TOO_FAST *
      Math.max(
        rowFor(cutter, material, lightest).surfaceSpeed,
        chipRow(material, cutter.kind, lightest).surfaceSpeed,
      );
    talk.findings.push(
      speed > fastest
        ? report("spindle-too-fast", { ...data, speed: Math.round(speed), fastest })
        : report("spindle-minimum-above-wanted", { ...data, speed: Math.round(speed) }),
    );
  }
  return Math.min(max, Math.max(min, wanted));
}

export function chooseFeedPerRev(input: RatesInput, row: ChipRow, talk: Talk): number {
  const { cutter } = input;
  const looked = feedPerRevAt(row, cutter.diameter);
  const [from, to] = looked.between;
  const where = from === to ? `Ø${from}` : `Ø${from} and Ø${to}`;
  talk.steps.push({
    quantity: "feed per revolution",
    formula: `row ${row.operation} (${validity(row)}), ${looked.how === "listed" ? "listed at" : `${looked.how} from`} ${where}`,
    value: looked.value,
    unit: "mm/rev",
    source: cite(
      looked.how === "extrapolated"
        ? { text: row.feedSource.text, tag: "derived" }
        : row.feedSource,
    ),
  });
  const name = { cutter: cutter.name, diameter: cutter.diameter };
  if (looked.how === "extrapolated")
    talk.findings.push(report("chip-load-extrapolated", { ...name, listed: from }));
  if (row.feedSource.tag !== "printed" && row.feedSource.tag !== "the user's own")
    talk.findings.push(report("chip-load-not-published", { ...name, kind: cutter.kind }));
  if (row.operation === "drill" || input.passDepth === undefined) return looked.value;
  const depth = Math.min(input.passDepth, input.thickness + input.throughDepth);
  const share = depthDerating(depth / cutter.diameter);
  if (share === 1) return looked.value;
  talk.limits.push("pass depth");
  talk.steps.push({
    quantity: "feed per revolution, deep pass",
    formula: `${round(share, 3)} of the row at ${round(depth / cutter.diameter, 2)} D`,
    value: looked.value * share,
    unit: "mm/rev",
    source: cite(DERATING),
  });
  return looked.value * share;
}

/** For what the row is given: widths and depths in diameters, and the diameters that it lists. */
function validity(row: ChipRow): string {
  const deep = row.deepest === Number.POSITIVE_INFINITY ? "full flute" : `ap to ${row.deepest} D`;
  const [first] = row.feeds[0] ?? [0];
  const [last] = row.feeds.at(-1) ?? [0];
  return `ae to ${row.widest} D, ${deep}, ${first === last ? `Ø${first}` : `Ø${first}–${last}`}`;
}

/** Feed that the machine can have; the spindle slows before the chip thins. */
export function fitFeed(
  input: RatesInput,
  wanted: number,
  perRev: number,
  talk: Talk,
  most: number = slowerXY(input.machine),
): { rpm: number; feed: number } {
  const { machine } = input;
  const capped = perRev * wanted > most;
  // Upwards where the feed is the machine's, so that all of it is used.
  const rpm = capped
    ? sayable(machine, most / perRev, Math.ceil, wanted)
    : sayable(machine, wanted, Math.round);
  const feed = wholeFeed(Math.min(most, perRev * rpm));
  if (capped) {
    talk.limits.push("machine feed");
    talk.findings.push(
      report("machine-feed-limits", {
        cutter: input.cutter.name,
        wanted: Math.round(perRev * wanted),
        most,
        rpm,
      }),
    );
  }
  talk.steps.push(
    {
      quantity: "spindle speed",
      formula: capped
        ? "machine feed ÷ feed per revolution, within the spindle's range"
        : "wanted speed, within the spindle's range",
      value: rpm,
      unit: "rpm",
      source: "machine file",
    },
    {
      quantity: "surface speed",
      formula: "vc = π D n ÷ 1000",
      value: surfaceSpeed(rpm, input.cutter.diameter),
      unit: "m/min",
      source: "Mitsubishi Materials, Formulas for Milling (printed)",
    },
    {
      quantity: "feed",
      formula: capped ? "the machine's, on the slower axis" : "vf = f n",
      value: feed,
      unit: "mm/min",
      source: "SGS composite router catalogue pp. 12–13 (printed); machine file",
    },
  );
  return { rpm, feed };
}

export function slowerXY(machine: Machine): number {
  return Math.min(machine.maxFeed[0], machine.maxFeed[1]);
}

/**
 * A speed near this one that the machine can be told, within the spindle's range and not above `cap`. Nobody sets
 * a spindle finer than to ten turns; a very slow one is left as it is. Where S counts steps, a whole step.
 */
function sayable(
  { spindle }: Machine,
  rpm: number,
  how: (n: number) => number,
  cap: number = spindle.max,
): number {
  const { min, max, sAtMax } = spindle;
  if (sAtMax === undefined) {
    const tens = rpm < 100 ? rpm : how(rpm / 10) * 10;
    return Math.min(cap, max, Math.max(min, tens));
  }
  const step = rpmPerS(spindle);
  // A hair is given, so that a bound that is a whole step is one.
  const slowest = Math.ceil(min / step - 1e-9);
  const fastest = Math.floor(Math.min(cap, max) / step + 1e-9);
  return Math.max(slowest, Math.min(fastest, how(rpm / step))) * step;
}

/** Downwards, so that no limit is passed by rounding. */
export function wholeFeed(feed: number): number {
  if (feed < 1) return feed;
  const grain = feed < 100 ? 10 : 1;
  return Math.floor(feed * grain + 1e-9) / grain;
}
