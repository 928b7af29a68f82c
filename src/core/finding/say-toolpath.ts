/** What the toolpath has to say. */
import { type Catalogue, type Finding, mm } from "./finding.ts";

export const sayToolpath = {
  "slot-narrower-than-cutter": {
    severity: "stop",
    message: (d: { feature: string; width: number; cutter: string; diameter: number }) =>
      `${d.feature} is ${mm(d.width)} wide; the smallest cutter, ${d.cutter}, cuts ${mm(d.diameter)}.`,
    hint: (d: { width: number }) => `Add a cutter of ${mm(d.width)} or less, or widen it.`,
  },
  "hole-is-cutter-width": {
    severity: "stop",
    message: (d: { width: number; cutter: string; diameter: number }) =>
      `The ${mm(d.width)} hole is no wider than ${d.cutter} (${mm(d.diameter)}): it would be a straight plunge, which only a drill may do.`,
    hint: (d: { width: number }) =>
      `Add a drill of ${mm(d.width)}, or a cutter at least 0.02 mm smaller than the hole.`,
  },
  "neck-narrower-than-cutter": {
    severity: "stop",
    message: (d: { feature: string; cutter: string; diameter: number; leftMm2: number }) =>
      `${d.feature} has a place that ${d.cutter} (${mm(d.diameter)}) cannot pass: ${Number(d.leftMm2.toFixed(2))} mm² would stay.`,
    hint: () => "Add a smaller cutter, or widen the neck.",
  },
  "curve-tighter-than-cutter": {
    severity: "warn",
    message: (d: { feature: string; cutter: string; diameter: number; leftMm2: number }) =>
      `${d.feature} has inside curves tighter than ${d.cutter} (${mm(d.diameter)}): ${Number(d.leftMm2.toFixed(3))} mm² stays in them.`,
    hint: (d: { diameter: number }) =>
      `Round its inside corners to ${mm(d.diameter / 2)} or more, or add a smaller cutter.`,
  },
  "corner-stays-round": {
    severity: "note",
    message: (d: { feature: string; cutter: string; cornerMm: number; leftMm2: number }) =>
      `${d.feature} has sharp inside corners; ${d.cutter} stays ${mm(d.cornerMm)} short of their tips (${Number(d.leftMm2.toFixed(3))} mm² in all).`,
    hint: () => "Fine where nothing has to sit in the corner.",
  },
  "no-cutter": {
    severity: "stop",
    message: () => "The job has no cutter that can go round an outline: a drill only goes down.",
    hint: () => "Add a router, two-flute or compression cutter.",
  },
  "plate-without-tab": {
    severity: "stop",
    message: (d: { perimeter: number; width: number }) =>
      `No place for a holding tab of ${mm(d.width)} on this outline of ${mm(d.perimeter)}: the plate would come loose under the cutter.`,
    hint: () =>
      "Make tabs.width smaller, give the plate a straight edge clear of corners, or more gap to its neighbours.",
  },
  "fewer-tabs": {
    severity: "warn",
    message: (d: { placed: number; wanted: number; perimeter: number }) =>
      `Room for ${d.placed} of ${d.wanted} holding tabs on this outline of ${mm(d.perimeter)}.`,
    hint: () =>
      "Narrower tabs (tabs.width) would fit more; hold the plate by tape or screws as well.",
  },
  "narrower-tabs": {
    severity: "warn",
    message: (d: { made: number; width: number; perimeter: number }) =>
      `Holding tabs of ${mm(d.made)} instead of ${mm(d.width)}: that is all there is room for on this outline of ${mm(d.perimeter)}.`,
    hint: () => "Hold a plate so small by tape or screws as well.",
  },
  "slug-without-tab": {
    severity: "stop",
    message: (d: { feature: string }) =>
      `${d.feature} holds other plates, and there is no place for tabs that would hold its slug.`,
    hint: () => "Make tabs.width smaller, or place the inner plates elsewhere.",
  },
  "cut-without-finishing": {
    severity: "note",
    message: (d: { feature: string; stock: number }) =>
      `${d.feature} has a place that the cutter just enters, so it is cut to size at once: nothing of the ${mm(d.stock)} for finishing is left on it.`,
    hint: () => "A smaller cutter or a wider place leaves room for a finishing pass.",
  },
  "slug-neck-cleared": {
    severity: "note",
    message: (d: { feature: string; rings: number; neck: number }) =>
      `${d.feature} is cleared whole, in ${d.rings} ring${d.rings === 1 ? "" : "s"}: what comes loose in it would hang together by a neck of less than ${mm(d.neck)}, which breaks.`,
    hint: (d: { most: number; least: number }) =>
      `Nothing need be done. Where that takes too long: a narrow place of the opening, up to ${mm(d.most)} or from ${mm(d.least)} on, leaves slugs that tabs can hold.`,
  },
  "slug-cleared": {
    severity: "note",
    message: (d: { feature: string; rings: number }) =>
      `${d.feature} is cleared whole, in ${d.rings} ring${d.rings === 1 ? "" : "s"}: a loose slug of its size could jam.`,
    hint: () => "Nothing need be done; a smaller cutter would leave a slug that tabs can hold.",
  },
} satisfies Catalogue;

const moreCleared = (n: number): string =>
  `${n} more opening${n === 1 ? "" : "s"} of this plate ${n === 1 ? "is" : "are"} cleared so.`;

/** What a plate can have several of, and how the others are told beside the first. */
const TOLD_ONCE: Readonly<Record<string, (others: number) => string>> = {
  "slug-neck-cleared": moreCleared,
  "slug-cleared": moreCleared,
  "cut-without-finishing": (n) =>
    `${n} more contour${n === 1 ? "" : "s"} of this plate ${n === 1 ? "is" : "are"} cut so.`,
};

/** Openings of a plate that are cleared whole, or not finished, are told once, with the first one's place and their number. */
export function oncePerPlate(findings: readonly Finding[]): Finding[] {
  return findings.flatMap((f, i) => {
    const told = TOLD_ONCE[f.code];
    if (told === undefined) return [f];
    const alike = (g: Finding): boolean => g.code === f.code && g.plate === f.plate;
    if (findings.findIndex(alike) !== i) return [];
    const others = findings.filter(alike).length - 1;
    if (others === 0) return [f];
    return [{ ...f, message: `${f.message} ${told(others)}`, data: { ...f.data, others } }];
  });
}
