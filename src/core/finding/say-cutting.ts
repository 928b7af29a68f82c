/** What the cutting room has to say. */
import { type Entry, mm } from "./finding.ts";

type Named = { cutter: string };
type Spindle = Named & { wanted: number; min: number; max: number };
type Depth = Named & { depth: number; thickness: number; throughDepth: number };
type Pass = Named & { passDepth: number };
type Weak = { usable: number; depth: number; charted: number; wanted: number; rated: number };
type Chip = Named & { perRev: number; least: number; table: number };

const entry = <D extends Record<string, number | string>>(e: Entry<D>): Entry<D> => e;

const shallower = (d: { better: number }): string =>
  `Set passDepth to ${mm(d.better)} or less, or leave it out and weftcut chooses.`;

export const sayCutting = {
  "rates-measure-invalid": entry<Named & { field: string; value: string }>({
    severity: "stop",
    message: (d) => `No rates for cutter ${d.cutter}: ${d.field} is ${d.value}.`,
    hint: (d) => `Give ${d.field} as a number above zero.`,
  }),
  "spindle-range-invalid": entry<{ min: string; max: string }>({
    severity: "stop",
    message: (d) => `The spindle cannot run from ${d.min} to ${d.max} rpm.`,
    hint: () => "Give spindle.min and spindle.max in rpm, the smaller one first.",
  }),
  "flute-shorter-than-cut": entry<Depth & { fluteLength: number }>({
    severity: "stop",
    message: (d) =>
      `The flutes of ${d.cutter} are ${mm(d.fluteLength)} long, the cut is ${mm(d.depth)} deep.`,
    hint: (d) =>
      d.fluteLength > d.thickness
        ? `Take a cutter with flutes of at least ${mm(d.depth)}, or a throughDepth of at most ${mm(d.fluteLength - d.thickness)}.`
        : `Take a cutter with flutes of at least ${mm(d.depth)}, or a thinner sheet.`,
  }),
  "overhang-shorter-than-cut": entry<Depth & { overhang: number }>({
    severity: "stop",
    message: (d) =>
      `${d.cutter} stands ${mm(d.overhang)} out of the collet, the cut is ${mm(d.depth)} deep: the collet would touch the sheet.`,
    hint: (d) => `Clamp it with more than ${mm(d.depth)} standing out.`,
  }),
  "drill-deep": entry<Depth & { diameters: number }>({
    severity: "warn",
    message: (d) => `Drill ${d.cutter} goes ${d.diameters} diameters deep in one go.`,
    hint: () => "Bore the hole with a router on a helix, or take a thicker drill.",
  }),
  "spindle-below-wanted": entry<Spindle & { share: number }>({
    severity: "note",
    message: (d) =>
      `${d.cutter} would run at ${d.wanted} rpm; the spindle ends at ${d.max}. Feed per revolution is kept, so the feed is lower.`,
    hint: () => "Nothing need be done; a larger cutter comes nearer to its speed.",
  }),
  "spindle-far-below-wanted": entry<Spindle & { share: number }>({
    severity: "warn",
    message: (d) =>
      `${d.cutter} would run at ${d.wanted} rpm; the spindle ends at ${d.max}, ${Math.round(d.share * 100)} % of it. Feed per revolution is kept, so cutting is slow.`,
    hint: () => "A larger cutter comes nearer to its speed; or take a faster spindle.",
  }),
  "spindle-minimum-above-wanted": entry<Spindle & { speed: number }>({
    severity: "warn",
    message: (d) =>
      `${d.cutter} would run at ${d.wanted} rpm, but the spindle does not go below ${d.min}: ${d.speed} m/min at the edge, hotter and with more fine dust. Feed per revolution is kept, so the feed is higher.`,
    hint: () => "A smaller cutter suits this spindle better.",
  }),
  "spindle-too-fast": entry<Spindle & { speed: number; fastest: number }>({
    severity: "stop",
    message: (d) =>
      `At the spindle's lowest speed of ${d.min} rpm the edge of ${d.cutter} runs at ${d.speed} m/min; ${d.fastest} is the most for this material.`,
    hint: (d) => `Take a smaller cutter, or a spindle that runs at ${d.wanted} rpm.`,
  }),
  "machine-feed-limits": entry<Named & { wanted: number; most: number; rpm: number }>({
    severity: "note",
    message: (d) =>
      `${d.cutter} could feed at ${d.wanted} mm/min; the machine's slower axis does ${d.most}. The spindle is set to ${d.rpm} rpm to keep the chip.`,
    hint: () => "If the machine goes faster, say so in maxFeed; a smaller cutter feeds slower.",
  }),
  "chip-thinner-than-edge": entry<Chip>({
    severity: "warn",
    message: (d) =>
      `${d.cutter} moves ${d.perRev} mm in a revolution, less than its edges can bite (${d.least}): they rub, heat up and wear.`,
    hint: () => "Feed faster, run the spindle slower, or take a shallower pass.",
  }),
  "chip-thinner-than-table": entry<Chip>({
    severity: "warn",
    message: (d) =>
      `${d.cutter} moves ${d.perRev} mm in a revolution where the table has ${d.table}: more heat and fine dust, shorter life.`,
    hint: () => "Run the spindle slower if it can, or take a smaller cutter.",
  }),
  "chip-load-extrapolated": entry<Named & { diameter: number; listed: number }>({
    severity: "note",
    message: (d) =>
      `The table has no Ø${d.diameter}: feed per revolution of ${d.cutter} is carried over from Ø${d.listed}, an estimate.`,
  }),
  "chip-load-not-published": entry<Named & { diameter: number; kind: string }>({
    severity: "note",
    message: (d) =>
      `No published chip load was found for a ${d.kind} of Ø${d.diameter}: the rates of ${d.cutter} are an estimate.`,
    hint: () => "Use what the cutter's maker prints, where there is something.",
  }),
  "finish-stock-wide": entry<Named & { stock: number; half: number }>({
    severity: "note",
    message: (d) =>
      `${mm(d.stock)} of finishing stock is more than half of ${d.cutter}: that is no light pass.`,
    hint: (d) => `Set finish.stock below ${mm(d.half)}; 0.1 mm is usual.`,
  }),
  "finish-bends-cutter": entry<Named & { deflection: number; limit: number; stock: number }>({
    severity: "warn",
    message: (d) =>
      `${d.cutter} bends about ${mm(d.deflection)} in the finishing pass; ${mm(d.limit)} is wanted.`,
    hint: (d) => `Leave less than ${mm(d.stock)} to finish, or clamp the cutter shorter.`,
  }),
  "compression-pass-shallow": entry<Pass & { diameter: number }>({
    severity: "note",
    message: (d) =>
      `Passes of ${mm(d.passDepth)} use only the tip of ${d.cutter}, where its edges pull up: the top face frays as with any upward spiral.`,
    hint: () =>
      "A compression cutter needs passes deeper than its upward part; see its maker's length.",
  }),
  "cutter-too-slender": entry<Named & { depth: number; least: number; limit: string }>({
    severity: "warn",
    message: (d) =>
      `${d.cutter} allows passes of ${mm(d.depth)} (${d.limit}); ${mm(d.least)} is taken, the shallowest that cuts.`,
    hint: () => "Clamp it shorter, or take shorter flutes or a thicker cutter.",
  }),
  "spindle-limits-passes": entry<Named & Weak>({
    severity: "note",
    message: (d) =>
      `The spindle gives ${d.usable} W at the cutter: ${d.cutter} takes passes of ${mm(d.depth)} instead of ${mm(d.charted)}.`,
    hint: (d) => `Passes of ${mm(d.charted)} take about ${d.wanted} W, so ${d.rated} W of powerW.`,
  }),
  "spindle-too-weak": entry<Named & Weak>({
    severity: "warn",
    message: (d) =>
      `The spindle gives ${d.usable} W at the cutter; even passes of ${mm(d.depth)}, the shallowest that cut, take ${d.wanted} W with ${d.cutter}: it would stall.`,
    hint: (d) => `Take a smaller cutter, or a spindle of at least ${d.rated} W.`,
  }),
  "pass-depth-derated": entry<Pass & { diameters: number }>({
    severity: "note",
    message: (d) =>
      `Passes of ${mm(d.passDepth)} are ${d.diameters} diameters of ${d.cutter}: the feed is lowered for them.`,
  }),
  "pass-depth-beyond-chart": entry<Pass & { diameters: number }>({
    severity: "warn",
    message: (d) =>
      `Passes of ${mm(d.passDepth)} are ${d.diameters} diameters of ${d.cutter}; no table goes beyond 3.`,
    hint: () => "Take passes of one diameter or less.",
  }),
  "pass-depth-bends-cutter": entry<Pass & { deflection: number; limit: number; better: number }>({
    severity: "warn",
    message: (d) =>
      `Passes of ${mm(d.passDepth)} bend ${d.cutter} by about ${mm(d.deflection)}; ${mm(d.limit)} is wanted.`,
    hint: shallower,
  }),
  "pass-depth-stresses-cutter": entry<Pass & { stress: number; limit: number; better: number }>({
    severity: "warn",
    message: (d) =>
      `Passes of ${mm(d.passDepth)} stress ${d.cutter} to about ${d.stress} N/mm²; ${d.limit} is safe for carbide.`,
    hint: shallower,
  }),
  "power-above-spindle": entry<Pass & { power: number; usable: number; better: number }>({
    severity: "warn",
    message: (d) =>
      `Passes of ${mm(d.passDepth)} with ${d.cutter} need about ${d.power} W; the spindle has ${d.usable} W to give.`,
    hint: shallower,
  }),
};
