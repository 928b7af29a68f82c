/** The feeds that follow from the slotting feed: finishing, plunge, ramp; and whether the chip is thick enough. */

import type { Finding } from "../finding/finding.ts";
import { radians, sin } from "../geometry/trig.ts";
import { chipBand } from "./chip-band.ts";
import { depthDerating, feedPerRevAt, rowFor, teethOf } from "./data/chip-load.ts";
import { cite } from "./data/source.ts";
import { boreFeed, chipThinning } from "./physics/formulas.ts";
import { loadOf } from "./physics/load.ts";
import { DEFLECTION_WANTED } from "./physics/strength.ts";
import {
  energyFor,
  RAMP_SOURCE,
  type RatesInput,
  report,
  round,
  type Talk,
} from "./rates-input.ts";
import { slowerXY, wholeFeed } from "./speed.ts";

export function chooseFinish(input: RatesInput, rpm: number, feed: number, talk: Talk): number {
  const { cutter, material, machine, finishStock, thickness, throughDepth } = input;
  if (finishStock <= 0) return feed;
  const q = finishStock / cutter.diameter;
  const depth = thickness + throughDepth;
  const light = rowFor(cutter, material, "light");
  const lightFeed = feedPerRevAt(light, cutter.diameter).value;
  let perRev = lightFeed;
  let formula = "row light, n as chosen";
  let source = cite(light.feedSource);
  if (q > light.widest) {
    const profile = rowFor(cutter, material, "profile");
    const deep = depthDerating(depth / (profile.deepest * cutter.diameter));
    const thin = q < 0.5 ? chipThinning(q) : 1;
    perRev = Math.min(lightFeed, feedPerRevAt(profile, cutter.diameter).value * thin * deep);
    formula = `row profile × ${round(thin, 3)} for the thinner chip × ${round(deep, 3)} for depth`;
    source = "Stellram/Kennametal p. A194; Dormer Pramet 2021–22 p. 114 (printed)";
  }
  if (q > 0.5) {
    talk.findings.push(
      report("finish-stock-wide", {
        cutter: cutter.name,
        stock: finishStock,
        half: cutter.diameter / 2,
      }),
    );
  }
  const finishFeed = wholeFeed(Math.min(slowerXY(machine), perRev * rpm));
  const load = loadOf(
    cutter,
    { width: finishStock, depth, feed: finishFeed, rpm },
    energyFor(input),
  );
  talk.steps.push(
    { quantity: "finishing feed", formula, value: finishFeed, unit: "mm/min", source },
    {
      quantity: "deflection while finishing",
      formula: "as above, at finishing stock and full depth",
      value: load.deflectionMm,
      unit: "mm",
      source: "estimate",
    },
  );
  if (load.deflectionMm > DEFLECTION_WANTED) {
    talk.findings.push(
      report("finish-bends-cutter", {
        cutter: cutter.name,
        deflection: round(load.deflectionMm, 3),
        limit: DEFLECTION_WANTED,
        stock: finishStock,
      }),
    );
  }
  return finishFeed;
}

/** Plunge and ramp: the feed shared out among the teeth, Z no faster than the machine's. */
export function chooseDown(
  input: RatesInput,
  feed: number,
  talk: Talk,
): { plungeFeed: number; rampFeed: number } {
  const { cutter, machine, rampDeg } = input;
  const teeth = teethOf(cutter);
  const z = machine.maxFeed[2];
  const plungeFeed = wholeFeed(Math.min(feed / Math.max(2, teeth), z));
  const slope = sin(radians(rampDeg));
  const rampFeed = wholeFeed(Math.min(feed / teeth, slope > 0 ? z / slope : feed));
  talk.steps.push(
    {
      quantity: "plunge feed",
      formula: `feed ÷ ${Math.max(2, teeth)}, not above Z's ${z}`,
      value: plungeFeed,
      unit: "mm/min",
      source: "straight down in air only (common practice, no source)",
    },
    {
      quantity: "ramp feed",
      formula: `vf ÷ ${teeth} teeth, Z part not above ${z}`,
      value: rampFeed,
      unit: "mm/min",
      source: cite(RAMP_SOURCE),
    },
  );
  return { plungeFeed, rampFeed };
}

/** Bore to show the correction on, in diameters: an M3 hole of 3.2 mm for a cutter of 2 mm. */
const BORE = 1.6;

/** The toolpath slows the centre by this on every arc that runs inside a wall; a bore shows how much. */
export function explainBores({ cutter }: RatesInput, feed: number, talk: Talk): void {
  const bore = BORE * cutter.diameter;
  talk.steps.push({
    quantity: `centre feed in a bore of Ø${round(bore, 3)}`,
    formula: "vf (Dm − Dc) ÷ Dm, so that the edge at the wall keeps its feed",
    value: wholeFeed(boreFeed(feed, bore / 2, cutter.diameter / 2)),
    unit: "mm/min",
    source: "Sandvik Coromant threading catalogue p. 117; Yamawa 2022–23 p. 1228 (printed)",
  });
}

/** Below this share of the chart the chip is thin enough to say so. */
const THIN = 0.5;

export function checkChip(input: RatesInput, perRev: number, table: number, talk: Talk): void {
  const { cutter, material } = input;
  const band = chipBand(cutter, material);
  talk.steps.push({
    quantity: "least feed per revolution",
    formula: "0.3 of the edge radius × teeth",
    value: band.least,
    unit: "mm/rev",
    source: cite(band.leastSource),
  });
  const data = {
    cutter: cutter.name,
    perRev: round(perRev, 4),
    least: round(band.least, 4),
    table: round(table, 4),
  };
  const thin: Finding[] =
    perRev < band.least
      ? [report("chip-thinner-than-edge", data)]
      : perRev < THIN * table
        ? [report("chip-thinner-than-table", data)]
        : [];
  if (thin.length > 0) talk.limits.push("chip thinner than the edge");
  talk.findings.push(...thin);
}
