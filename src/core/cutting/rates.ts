/**
 * Spindle speed, feeds and pass depth for one cutter in one sheet on one machine, each with its reason.
 *
 * Promise: feed per revolution comes from the chart and is kept where the spindle cannot have the chart's
 * speed; what is then too fast for the machine lowers the spindle speed before it thins the chip. Every
 * number has a step that names formula, row and source, and what held it below the chart is in `limitedBy`.
 * A program runs at one spindle speed: light passes keep it and take their feed per revolution from it.
 * The table is read at the cutter's nominal diameter.
 */
import type { Outcome } from "../finding/finding.ts";
import type { Rates } from "./cutter.ts";
import { rowFor } from "./data/chip-load.ts";
import { cite, GEOMETRY } from "./data/source.ts";
import { checkChip, chooseDown, chooseFinish, explainBores } from "./feeds.ts";
import { drilling, kindsOfCut } from "./kinds-of-cut.ts";
import { choosePassDepth } from "./pass-depth.ts";
import { surfaceSpeed } from "./physics/formulas.ts";
import { loadOf } from "./physics/load.ts";
import { energyFor, inputFindings, type RatesInput, type Talk } from "./rates-input.ts";
import { chooseFeedPerRev, chooseSpeed, fitFeed } from "./speed.ts";

const NO_RATES: Rates = {
  rpm: 0,
  feed: 0,
  finishFeed: 0,
  plungeFeed: 0,
  rampFeed: 0,
  passDepth: 0,
  feedPerRev: 0,
  surfaceSpeed: 0,
  deflectionMm: 0,
  powerW: 0,
  limitedBy: "no rates",
  steps: [],
};

export function chooseRates(input: RatesInput): Outcome<Rates> {
  const talk: Talk = { steps: [], limits: [], findings: inputFindings(input) };
  if (talk.findings.some((f) => BLOCKING.has(f.code)))
    return { value: NO_RATES, findings: talk.findings };
  const value = input.cutter.kind === "drill" ? drillRates(input, talk) : routerRates(input, talk);
  return { value, findings: talk.findings };
}

/** Findings after which there is nothing to compute with. */
const BLOCKING: ReadonlySet<string> = new Set(["rates-measure-invalid", "spindle-range-invalid"]);

function routerRates(input: RatesInput, talk: Talk): Rates {
  const { cutter, material } = input;
  const row = rowFor(cutter, material, "slot");
  const wanted = chooseSpeed(input, row, talk);
  const perRev = chooseFeedPerRev(input, row, talk);
  const { rpm, feed } = fitFeed(input, wanted, perRev, talk);
  const { passDepth, load } = choosePassDepth(input, { rpm, feed }, talk);
  const finishFeed = chooseFinish(input, rpm, feed, talk);
  const down = chooseDown(input, feed, talk);
  explainBores(input, feed, talk);
  checkChip(input, feed / rpm, perRev, talk);
  const passes = kindsOfCut(input, { rpm, feed, passDepth, load }, talk);
  return {
    rpm,
    feed,
    finishFeed,
    ...down,
    passDepth,
    feedPerRev: feed / rpm,
    surfaceSpeed: surfaceSpeed(rpm, cutter.diameter),
    deflectionMm: load.deflectionMm,
    powerW: load.powerW,
    limitedBy: talk.limits.length === 0 ? "table" : talk.limits.join(", "),
    passes,
    steps: talk.steps,
  };
}

function drillRates(input: RatesInput, talk: Talk): Rates {
  const { cutter, material, machine, thickness, throughDepth } = input;
  const row = rowFor(cutter, material, "drill");
  const wanted = chooseSpeed(input, row, talk);
  const perRev = chooseFeedPerRev(input, row, talk);
  const { rpm, feed } = fitFeed(input, wanted, perRev, talk, machine.maxFeed[2]);
  checkChip(input, feed / rpm, perRev, talk);
  const depth = thickness + throughDepth;
  // Both lips together cut the whole face: a removal of π/4 D² vf, as a cut of D by π/4 D.
  const cut = { width: cutter.diameter, depth: (Math.PI / 4) * cutter.diameter, feed, rpm };
  const { powerW } = loadOf(cutter, cut, energyFor(input));
  talk.steps.push(
    {
      quantity: "plunge feed",
      formula: "f n",
      value: feed,
      unit: "mm/min",
      source: cite(row.feedSource),
    },
    {
      quantity: "depth in one go",
      formula: "thickness + through depth",
      value: depth,
      unit: "mm",
      source: cite(GEOMETRY),
    },
    {
      quantity: "power",
      formula: "u π/4 D² vf",
      value: powerW,
      unit: "W",
      source: "specific energy as for routers (from memory, 50 % sure)",
    },
    {
      quantity: "deflection",
      formula: "0, no force across the axis",
      value: 0,
      unit: "mm",
      source: cite(GEOMETRY),
    },
  );
  const limitedBy = talk.limits.length === 0 ? "table" : talk.limits.join(", ");
  return {
    rpm,
    feed,
    finishFeed: feed,
    plungeFeed: feed,
    rampFeed: feed,
    passDepth: depth,
    feedPerRev: feed / rpm,
    surfaceSpeed: surfaceSpeed(rpm, cutter.diameter),
    deflectionMm: 0,
    powerW,
    limitedBy,
    passes: [drilling(input, rpm, { feed, passDepth: depth, powerW }, limitedBy)],
    steps: talk.steps,
  };
}
