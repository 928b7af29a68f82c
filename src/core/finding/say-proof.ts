/** What a failed check has to say. `worst` and `limit` are in the check's own unit. */
import { type Catalogue, type Report, reporter } from "./finding.ts";

interface D {
  readonly [key: string]: number | string;
  readonly worst: number;
  readonly limit: number;
  readonly unit: string;
}

const n = (value: number): string => String(Number(value.toFixed(3)));
const both = (d: D): string => `${n(d.worst)} ${d.unit}; ${n(d.limit)} ${d.unit} is allowed`;
const least = (d: D): string =>
  `${n(d.worst)} ${d.unit}; at least ${n(d.limit)} ${d.unit} is wanted`;
const stop = (message: (d: D) => string, hint?: string | ((d: D) => string)) => ({
  severity: "stop" as const,
  message,
  ...(hint === undefined ? {} : { hint: typeof hint === "string" ? (_: D) => hint : hint }),
});

/** Chips are told in thousandths of what lengths are. */
const chip = (value: number): string => String(Number(value.toPrecision(3)));
const roomier = (axis: string) => (d: D) =>
  `Lay the plates nearer together or turned (place), or use a machine with at least ${Math.ceil(d.worst)} mm of travel in ${axis}.`;
const slower = (axis: string) => (d: D) =>
  `Ask for ${n(d.limit / d.worst)} of the feed there; or if ${axis} can go faster, say so in maxFeed.`;

export const sayProof = {
  overcut: stop(
    (d) => `The cutter goes into the plate by ${both(d)}.`,
    "Check the cutter's diameter in the job against the one that the program was made for.",
  ),
  "left-standing": stop(
    (d) => `Material stays on a contour: ${both(d)}.`,
    "A line may be missing there, or the cutter may be smaller than planned.",
  ),
  "corner-left": stop(
    (d) => `An inside corner keeps material up to ${both(d)}.`,
    "Use a smaller cutter, or round the corner.",
  ),
  "tab-width": stop((d) => `A holding tab is too narrow: ${least(d)}.`),
  "tab-height": stop((d) => `A holding tab is too low: ${least(d)}.`),
  "tab-length": stop(
    (d) => `Beside a tab the contour is not cut through over ${both(d)}.`,
    "The cutter must go back to the tab's foot at full depth.",
  ),
  "plate-not-free": stop((d) => `${d.worst} plates still hang on the sheet above their tabs.`),
  "plate-not-held": stop((d) => `${d.worst} plates are cut loose though tabs were planned.`),
  "loose-in-hole": stop(
    (d) => `A loose piece stays in a hole: ${both(d)}.`,
    "Clear it away, or hold it with a tab.",
  ),
  "inner-after-outline": stop(
    (d) => `${d.worst} cuts inside a plate come after its outline was begun.`,
    "Cut holes, slots and windows first.",
  ),
  "rapid-in-stock": stop((d) => `A rapid runs through material, ${n(d.worst)} mm below the top.`),
  "rapid-below-clearance": stop((d) => `A rapid in X or Y is too low: ${least(d)}.`),
  "low-rapid-room": stop(
    (d) =>
      `A rapid below clearance comes too near to the sheet's edge or to a piece that has been cut free: ${least(d)}.`,
    "Such a piece may stand up: rise to clearance before going over it.",
  ),
  "place-unknown": stop(
    (d) => `${d.worst} moves begin at a place that the program does not know.`,
    "Raise Z to a stated height first, then go to a stated X and Y.",
  ),
  "feed-without-spindle": stop((d) => `${d.worst} feed moves run with the spindle stopped.`),
  "feed-without-feed": stop((d) => `${d.worst} feed moves have no feed.`),
  "entry-angle": stop((d) => `The cutter enters material too steeply: ${both(d)}.`),
  "depth-of-cut": stop((d) => `A pass is too deep: ${both(d)}.`),
  "chip-too-thick": stop(
    (d) =>
      `The chip is too thick: ${chip(d.worst)} mm a revolution; ${chip(d.limit)} mm is allowed.`,
    (d) => `Feed at ${n(d.limit / d.worst)} of this, or turn the spindle faster.`,
  ),
  "chip-too-thin": stop(
    (d) =>
      `The chip is too thin: ${chip(d.worst)} mm a revolution; at least ${chip(d.limit)} mm is wanted.`,
    (d) =>
      `The edge would only rub: it wants ${chip(d.limit / d.worst)} times the feed, or as much less spindle speed. What may hold them: the machine's maxFeed (Z on ramps and tabs), spindle.min, blocksPerSecond.`,
  ),
  "through-depth": stop((d) => `The cutter goes below the sheet by ${both(d)}.`),
  "deeper-than-flutes": stop((d) => `The cutter goes deeper than it can: ${both(d)}.`),
  "sheet-edge": stop((d) => `A cut comes too near the sheet's edge: ${least(d)}.`),
  "keep-out": stop(
    (d) => `A move comes too near a keep-out: ${least(d)}.`,
    (d) =>
      `Move clamp or plate ${n(d.limit - d.worst)} mm away. Where only the collet is too near, let the cutter stand further out: overhang.`,
  ),
  "collet-height": stop(
    (d) => `The collet comes down to the sheet: ${least(d)}.`,
    (d) => `Let the cutter stand ${n(d.limit - d.worst)} mm further out, or take a longer one.`,
  ),
  "travel-x": stop(
    (d) => `The program needs more room in X than there is: ${both(d)}.`,
    roomier("X"),
  ),
  "travel-y": stop(
    (d) => `The program needs more room in Y than there is: ${both(d)}.`,
    roomier("Y"),
  ),
  "travel-z": stop(
    (d) => `The program needs more room in Z than there is: ${both(d)}.`,
    (d) => `Lower clearance by ${n(d.worst - d.limit)} mm, or use a machine with more travel in Z.`,
  ),
  "rate-x": stop((d) => `X is asked to go faster than it can: ${both(d)}.`, slower("X")),
  "rate-y": stop((d) => `Y is asked to go faster than it can: ${both(d)}.`, slower("Y")),
  "rate-z": stop((d) => `Z is asked to go faster than it can: ${both(d)}.`, slower("Z")),
  "program-errors": stop((d) => `${d.worst} lines of the program cannot be executed.`),
  "states-not-stated": stop(
    (d) => `${d.worst} of units, distance mode, plane and feed mode are not stated.`,
    "Write G21, G90, G17 and G94 before the first motion.",
  ),
  "line-length": stop(
    (d) => `A line is longer than the controller takes: ${both(d)}.`,
    "Use fewer decimals, or shorter comments; if the controller takes more, say so in lineLength.",
  ),
  decimals: stop((d) => `A coordinate has more digits than the controller takes: ${both(d)}.`),
  "motion-not-repeated": stop(
    () => "A line moves without its own motion code.",
    "Repeat G0 to G3.",
  ),
  "comments-refused": stop((d) => `${d.worst} comments, and the controller takes none.`),
  "words-refused": stop((d) => `${d.worst} codes that this controller does not take.`),
  "arc-ends": stop((d) => `An arc's two radii differ by ${both(d)}.`),
  "arcs-refused": stop((d) => `${d.worst} arcs, and the controller takes none.`),
  "spindle-slow": stop(
    (d) => `The spindle is told to turn too slowly: ${least(d)}.`,
    (d) => `Write S for ${n(d.limit)} rpm or more, and the feed in proportion.`,
  ),
  "spindle-fast": stop(
    (d) => `The spindle is told to turn too fast: ${both(d)}.`,
    (d) => `Write S for ${n(d.limit)} rpm or less, and the feed in proportion.`,
  ),
  "spindle-reversed": stop((d) => `The spindle is reversed ${d.worst} times.`),
  "spin-up": stop((d) => `Cutting begins before the spindle has its speed: ${least(d)}.`),
  "spindle-not-awaited": stop(
    () => "The profile says that a hand starts the spindle, and the program does not wait for it.",
    "Put an M0 between the spindle's M3 and the first cut.",
  ),
  "unsafe-end": stop(
    () => "The program does not end safely.",
    "Its last lines should raise Z to clearance, stop the spindle (M5) and end (M2).",
  ),
  "sheet-not-cut": stop(
    () => "No program cuts this sheet, or a program names a sheet that the plan does not have.",
  ),
} as const satisfies Catalogue;

export type ProofCode = keyof typeof sayProof;

export const reportProof: Report<typeof sayProof> = reporter(sayProof);

export function isProofCode(code: string): code is ProofCode {
  return Object.hasOwn(sayProof, code);
}
