/**
 * What the checks have to say: each with the number found, the number wanted, and a way out. Why a rule asks stands in
 * the rule itself and in docs/CHECKS.md.
 */
import {
  type Catalogue,
  type Finding,
  mm,
  type Report,
  reporter,
  type Severity,
} from "./finding.ts";

type Measured = { readonly found: number; readonly wanted: number };
type Feature = Measured & { readonly feature: string };
type Cut = Feature & { readonly cutter: string; readonly diameter: number };

const mm2 = (v: number): string => `${Number(v.toFixed(3))} mm²`;
const num = (v: number, digits = 2): string => String(Number(v.toFixed(digits)));
/** A feature's name within a sentence. */
const inside = (name: string): string => name.replace(/^The /, "the ");
const more = (n: number, what: string): string =>
  n === 0
    ? ""
    : ` ${n} more ${what}${n === 1 ? "" : "s"} of this plate ${n === 1 ? "is" : "are"} as near.`;
const line = (d: { axis: string; middle: number }): string =>
  `the mirror line ${d.axis.toLowerCase()} = ${num(d.middle, 3)}`;
const partOf = (kind: string): string => (kind === "mount" ? "motor" : "board");
const largest = (d: number): string =>
  d > 0 ? `the largest cutter that makes it is ${mm(d)}` : "no cutter makes it";

const cutting = {
  "slot-narrower-than-cutter": {
    severity: "stop",
    message: (d: Cut & { width: number; largest: number }) =>
      `${d.feature} is ${mm(d.found)} wide; the smallest cutter, ${d.cutter}, cuts ${mm(d.wanted)}; ${largest(d.largest)}.`,
    hint: (d: { largest: number; wanted: number }) =>
      d.largest > 0
        ? `Add a cutter of ${mm(d.largest)} or less, or draw it wider than ${mm(d.wanted)}.`
        : `Draw it wider than ${mm(d.wanted)}.`,
  },
  "neck-narrower-than-cutter": {
    severity: "stop",
    message: (d: Cut & { leftMm2: number; largest: number }) =>
      `${d.feature} has a place that ${d.cutter} (${mm(d.wanted)}) cannot pass: ${mm2(d.leftMm2)} would stay; ${largest(d.largest)}.`,
    hint: (d: { largest: number; wanted: number }) =>
      d.largest > 0
        ? `Add a cutter of ${mm(d.largest)} or less, or widen the passage to more than ${mm(d.wanted)}.`
        : `Widen the passage to more than ${mm(d.wanted)}.`,
  },
  "slot-near-cutter-width": {
    severity: "warn",
    message: (d: Cut) =>
      `${d.feature} is only ${mm(d.found - d.diameter)} wider than ${d.cutter}: one pass cuts both walls, and makes it oversize.`,
    hint: (d: Cut) =>
      `Draw it ${mm(d.wanted)} wide, or take a smaller cutter, if its width matters.`,
  },
  "corner-stays-round": {
    severity: "note",
    message: (d: Cut & { corners: number; cornerMm: number; leftMm2: number; mates: string }) =>
      `${d.feature} has ${d.corners} sharp inside corner${d.corners === 1 ? "" : "s"}; ${d.cutter} stays ${mm(d.cornerMm)} short of the tip (${mm2(d.leftMm2)} in all)${d.mates === "yes" ? ", and a plate has to sit there" : "; nothing mates there"}.`,
    hint: (d: { mates: string; wanted: number }) =>
      d.mates === "yes"
        ? "Name the mate with a fit, or ask for relief, so that the corners are cut free."
        : `Fine as it is; with a radius of ${mm(d.wanted)} it would come out as drawn.`,
  },
  "curve-tighter-than-cutter": {
    severity: "warn",
    message: (d: Cut & { corners: number; cornerMm: number; leftMm2: number }) =>
      `${d.feature} has ${d.corners} inside curve${d.corners === 1 ? "" : "s"} of radius ${mm(d.found)}; ${d.cutter} makes no less than ${mm(d.wanted)}: ${mm(d.cornerMm)} stays (${mm2(d.leftMm2)} in all).`,
    hint: (d: Cut) =>
      `Round it to ${mm(d.wanted)} or more, or add a cutter of ${mm(2 * d.found)} or less.`,
  },
  "flute-shorter-than-cut": {
    severity: "stop",
    message: (d: Measured & { cutter: string; thickness: number; through: number }) =>
      `The flutes of ${d.cutter} are ${mm(d.found)} long; the sheet of ${mm(d.thickness)} and ${mm(d.through)} below it ask for ${mm(d.wanted)}.`,
    hint: (d: Measured) => `Take a cutter with flutes of at least ${mm(d.wanted)}.`,
  },
  "collet-near-keep-out": {
    severity: "warn",
    message: (d: Measured & { cutter: string; plate: string; height: number; clearance: number }) =>
      `${d.cutter} passes ${mm(d.found)} from a keep-out round ${d.plate}; the collet's nut, ${mm(d.wanted)} from the axis and ${mm(d.height)} above the sheet at full depth, would hit a clamp of ${mm(d.clearance)}.`,
    hint: (d: { overhang: number; wanted: number }) =>
      `Let the cutter stand out ${mm(d.overhang)}, use clamps that are lower than the nut, or give the keep-out ${mm(d.wanted)} more room.`,
  },
  "sheet-thickness-off": {
    severity: "warn",
    message: (d: Measured & { off: number; most: number }) =>
      `The sheet is ${mm(d.wanted)} by name and ${mm(d.found)} by measure: ${mm(d.off)} off, such sheets are within ${mm(d.most)}.`,
    hint: () =>
      "Measure away from the edge and without burrs, or give the thickness that it was sold with.",
  },
  "size-unlike-a-plate": {
    severity: "warn",
    message: (d: Measured & { width: number; height: number; meant: string }) =>
      `The drawing is ${num(d.width)} × ${num(d.height)} mm; plates are ${d.found < d.wanted ? `${mm(d.wanted)} and longer` : `${mm(d.wanted)} and shorter`}.`,
    hint: (d: { meant: string }) =>
      d.meant === ""
        ? "Look at its unit and its scale."
        : `Look at its unit: with a factor of ${d.meant} it would have the size of a plate.`,
  },
  "axis-scale-off": {
    severity: "warn",
    message: (d: Measured & { axis: string; scale: number; side: number; machine: string }) =>
      `${d.machine} moves ${num(d.scale, 5)} mm in ${d.axis} for each mm: ${mm(d.found)} over ${mm(d.side)}, more than ${mm(d.wanted)}.`,
    hint: (d: { axis: string; scale: number }) =>
      `Divide the controller's steps a millimetre in ${d.axis} by ${num(d.scale, 5)}, and take axisScale out of the machine's file.`,
  },
} satisfies Catalogue;

const holding = {
  "features-overlap": {
    severity: "stop",
    message: (d: Feature & { other: string }) =>
      `${d.feature} touches or crosses ${inside(d.other)}.`,
    hint: () => "Draw the outline of both as one, or move them apart.",
  },
  "sliver-left": {
    severity: "stop",
    message: (d: Feature & { other: string }) =>
      `Between ${inside(d.feature)} and ${inside(d.other)} stays a sliver of ${mm(d.found)}; ${mm(d.wanted)} is the least that stands.`,
    hint: (d: Measured) =>
      `Move them ${mm(d.wanted - d.found)} apart, or make one opening of both.`,
  },
  "web-between-thin": {
    severity: "warn",
    message: (d: Feature & { other: string }) =>
      `The web between ${inside(d.feature)} and ${inside(d.other)} is ${mm(d.found)}; ${mm(d.wanted)} is wanted in this sheet.`,
    hint: (d: Measured) => `Move them ${mm(d.wanted - d.found)} apart, or make one smaller.`,
  },
  "web-to-edge-thin": {
    severity: "warn",
    message: (d: Feature) =>
      `The web from ${inside(d.feature)} to the edge is ${mm(d.found)}; ${mm(d.wanted)} is wanted in this sheet.`,
    hint: (d: Measured) => `Move it ${mm(d.wanted - d.found)} in, or draw the edge further out.`,
  },
  "neck-thin": {
    severity: "warn",
    message: (d: Measured) =>
      `The plate is ${mm(d.found)} wide at its neck; ${mm(d.wanted)} is wanted in this sheet.`,
    hint: (d: Measured) => `Widen it by ${mm(d.wanted - d.found)}.`,
  },
  "hole-near-edge": {
    severity: "warn",
    message: (d: Feature & { distance: number; others: number }) =>
      `${d.feature} has its middle ${num(d.found)} diameters (${mm(d.distance)}) from the edge; ${num(d.wanted)} are wanted.${more(d.others, "hole")}`,
    hint: (d: { wantedMm: number; distance: number }) =>
      `Move it ${mm(d.wantedMm - d.distance)} in, or draw the edge further out.`,
  },
  "holes-close-together": {
    severity: "warn",
    message: (d: Feature & { other: string; distance: number; others: number }) =>
      `${d.feature} and ${inside(d.other)} are ${num(d.found)} diameters (${mm(d.distance)}) apart; ${num(d.wanted)} are wanted.${more(d.others, "pair")}`,
    hint: (d: Measured) =>
      `Draw them ${num(d.wanted)} diameters apart, or spread the load with a washer plate.`,
  },
  "outside-corner-sharp": {
    severity: "note",
    message: (d: Measured & { corners: number }) =>
      `The outline has ${d.corners} sharp outside corner${d.corners === 1 ? "" : "s"} (radius ${mm(d.found)}; ${mm(d.wanted)} and more is wanted).`,
    hint: () => "Round them by 1–3 mm: they split first in a crash.",
  },
  "arm-off-fibre": {
    severity: "warn",
    message: (d: Measured & { offDeg: number; armDeg: number }) =>
      `The arm at ${num(d.armDeg)}° in the drawing lies ${num(d.offDeg)}° off the fibres: it keeps ${num(100 * d.found, 0)} % of its stiffness, ${num(100 * d.wanted, 0)} % is wanted.`,
    hint: (d: { armDeg: number; arms: number; fixed: string }) =>
      d.arms > 1
        ? `Set fibreDeg: ${num(d.armDeg)} so that this arm and all at right angles to it lie on the fibres; arms at other angles want plates of their own.`
        : `${d.fixed === "no" ? "Set" : "Change to"} fibreDeg: ${num(d.armDeg)}, the direction along the arm.`,
  },
} satisfies Catalogue;

const fitting = {
  "clearance-hole-off": {
    severity: "warn",
    message: (d: Feature & { screw: string; said: string; fit: string; holes: number }) =>
      `${d.feature}${d.holes > 1 ? ` and ${d.holes - 1} like it` : ""} (${d.said === "named" ? `for ${d.screw}` : `by its size for ${d.screw}`}): ${mm(d.found)} is ${d.fit === "tight" ? "under the fine" : "over the coarse"} series' ${mm(d.wanted)}.`,
    hint: (d: { screw: string; medium: number; said: string }) =>
      `ISO 273 medium for ${d.screw} is ${mm(d.medium)}.${d.said === "named" ? "" : " If it is for another screw, name that under fasteners."}`,
  },
  "hole-not-round": {
    severity: "warn",
    message: (d: Measured & { least: number; most: number }) =>
      `This opening is nearly round, but not: ${mm(d.least)} to ${mm(d.most)} across, ${mm(d.found)} out of round, more than ${mm(d.wanted)}.`,
    hint: (d: { least: number }) =>
      `Draw it as a circle; ${mm(d.least)} is what goes through as it is.`,
  },
  "pattern-recognised": {
    severity: "note",
    message: (
      d: Measured & { kind: string; across: string; side: string; hole: number; count: number },
    ) =>
      `${d.count > 1 ? `${d.count} patterns` : "A pattern"} of four ${mm(d.hole)} holes, bolt circle ${d.across} mm across, side ${d.side} mm: taken for a ${d.kind === "mount" ? `motor of ${d.wanted} across` : `board of ${d.wanted} in side`}.`,
    hint: () => "If it is something else, nothing follows from it but the checks of this pattern.",
  },
  "pattern-not-true": {
    severity: "warn",
    message: (d: Feature & { kind: string }) =>
      `${d.feature} is ${mm(d.found)} from where the ${partOf(d.kind)}'s pattern would have it; ${mm(d.wanted)} is allowed.`,
    hint: () => "Draw the four holes at equal distances from one middle and square to each other.",
  },
  "pattern-off-size": {
    severity: "warn",
    message: (d: Measured & { kind: string; most: number }) =>
      `The ${partOf(d.kind)}'s pattern is ${mm(d.found)} ${d.kind === "mount" ? "across" : "in side"}; the part has ${mm(d.wanted)}, ${mm(d.most)} off is allowed.`,
    hint: (d: Measured) => `Draw it ${mm(d.wanted)}, or say why with a note in checks.`,
  },
  "motor-relief-missing": {
    severity: "warn",
    message: (d: Measured & { across: number }) =>
      `The middle of the motor pattern of ${num(d.across)} across is open for ${mm(d.found)}; ${mm(d.wanted)} is wanted for the shaft's clip.`,
    hint: (d: Measured) => `Draw a hole of ${mm(d.wanted)} or more in the pattern's middle.`,
  },
  "stack-off-centre": {
    severity: "warn",
    message: (d: Measured & { side: number; axis: string; middle: number }) =>
      `The board's pattern of ${num(d.side)} is ${mm(d.found)} off ${line(d)}; ${mm(d.wanted)} is allowed.`,
    hint: (d: { axis: string; middle: number }) =>
      `Move it so that its middle has ${d.axis.toLowerCase()} = ${num(d.middle, 3)}.`,
  },
  "holes-do-not-line-up": {
    severity: "warn",
    message: (d: Measured & { other: string; holes: number }) =>
      `${d.holes === 1 ? "A hole is" : `${d.holes} holes are`} ${mm(d.found)} off their partners in ${d.other}; ${mm(d.wanted)} is allowed.`,
    hint: (d: { other: string }) => `Copy the pattern from ${d.other}.`,
  },
  "nearly-symmetric": {
    severity: "warn",
    message: (d: Measured & { axis: string; middle: number; points: number }) =>
      `The plate is symmetric about ${line(d)} but for ${d.points} point${d.points === 1 ? "" : "s"}, up to ${mm(d.found)} off; ${mm(d.wanted)} is allowed.`,
    hint: () => "Draw one half and mirror it.",
  },
} satisfies Catalogue;

const flying = {
  "propeller-discs-near": {
    severity: "warn",
    message: (d: Measured & { one: number; two: number; diameter: number }) =>
      `Propellers ${d.one} and ${d.two} of ${mm(d.diameter)} ${d.found < 0 ? `overlap by ${mm(-d.found)}` : `are ${mm(d.found)} apart`}; ${mm(d.wanted)} is wanted.`,
    hint: (d: Measured & { diameter: number }) =>
      `Move the motors ${mm(d.wanted - d.found)} apart, or take propellers of ${mm(d.diameter - (d.wanted - d.found))}.`,
  },
  "propeller-near-plate": {
    severity: "warn",
    message: (d: Measured & { disc: number; diameter: number }) =>
      `Propeller ${d.disc} of ${mm(d.diameter)} ${d.found < 0 ? `reaches ${mm(-d.found)} over the plate` : `passes ${mm(d.found)} from the plate`}; ${mm(d.wanted)} is wanted.`,
    hint: (d: Measured & { diameter: number }) =>
      `Cut the plate back by ${mm(d.wanted - d.found)}, or take propellers of ${mm(d.diameter - 2 * (d.wanted - d.found))}.`,
  },
  "arm-width-for-propeller": {
    severity: "note",
    message: (d: Measured & { chord: number }) =>
      `The arm is ${mm(d.found)} wide under a blade of ${mm(d.chord)}; ${d.found < d.wanted ? `${mm(d.wanted)} and more` : `no more than ${mm(d.wanted)}`} is usual.`,
    hint: (d: Measured) => `Draw it about ${mm(d.wanted)} wide there.`,
  },
} satisfies Catalogue;

export const sayCheck = { ...cutting, ...holding, ...fitting, ...flying };

export type CheckCode = keyof typeof sayCheck;
export const CHECK_CODES = Object.keys(sayCheck) as [CheckCode, ...CheckCode[]];

export const reportCheck: Report<typeof sayCheck> = reporter(sayCheck);

const sayChecking = {
  "weight-unused": {
    severity: "note",
    message: (d: { rule: string; severity: string; reason: string }) =>
      `checks makes ${d.rule} a ${d.severity} (${d.reason}), and nothing of that kind was found here.`,
    hint: () => "Take it out if it is mended, or look at the plate's name.",
  },
} satisfies Catalogue;

/** Of the checks themselves; no rule has this code. */
export const reportChecking: Report<typeof sayChecking> = reporter(sayChecking);

/** The finding with the weight that the job gives it, and the reason that the job gives for that. */
export function weighed(finding: Finding, severity: Severity, reason: string): Finding {
  return {
    ...finding,
    severity,
    message: `${finding.message} (${finding.severity} made ${severity} by the job: ${reason})`,
    data: { ...finding.data, severityBefore: finding.severity, reason },
  };
}
