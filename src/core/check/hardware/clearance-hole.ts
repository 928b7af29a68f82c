/**
 * Screw holes against ISO 273: for the screw that the job names, or the one that the size suggests. Holes of one size
 * in one plate are told together.
 */

import type { Finding } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { distance } from "../../geometry/segment.ts";
import type { Feature } from "../../plate/plate.ts";
import type { Screw } from "../../plate/screw.ts";
import { clearanceHole, nominal } from "../../plate/screw.ts";
import { nameOf } from "../../toolpath/choose/assign.ts";
import { AT_LIMIT, type Rule } from "../rule.ts";
import { screwHoles, suggested } from "../shape/screw-holes.ts";
import { featurePlace, type PlateView } from "../view.ts";

/** A point of the job means the hole that is this near, mm. */
const NEAR = 1;
/** Wider than the coarse series by this and still meant for the screw: beyond it the size suggests nothing, mm. */
const SLACK = 0.15;

export const clearance: Rule = {
  code: "clearance-hole-off",
  asks: "Do screws go through their holes, without rattling in them?",
  reason:
    "A screw that has to be forced in delaminates the hole; one that rattles lets the arm move.",
  limits: [
    {
      what: "a hole's diameter, mm",
      value: "M2 2.2–2.6 · M2.5 2.7–3.1 · M3 3.2–3.6 · M4 4.3–4.8 · M5 5.3–5.8",
      source: "ISO 273, fine to coarse series",
    },
  ],
  when: "plates",
  run: (view) => view.plates.flatMap(findingsFor),
};

function findingsFor(p: PlateView): Finding[] {
  const told = new Map<string, { first: Feature; finding: Finding; count: number }>();
  const holes = new Set([...screwHoles(p), ...(p.fasteners ?? []).flatMap((f) => holeAt(p, f.at))]);
  for (const hole of holes) {
    const { screw, named } = screwFor(p, hole);
    const finding = screw === undefined ? undefined : judge(p, hole, screw, named);
    if (finding === undefined) continue;
    const key = JSON.stringify([hole.diameter, screw, named]);
    const before = told.get(key);
    told.set(key, {
      first: before?.first ?? hole,
      finding: before?.finding ?? finding,
      count: (before?.count ?? 0) + 1,
    });
  }
  return [...told.values()].map(({ first, finding, count }) =>
    count === 1 ? finding : again(p, first, finding, count),
  );
}

function holeAt(p: PlateView, at: { x: number; y: number } | undefined): Feature[] {
  if (at === undefined) return [];
  return p.holes.filter((h) => distance(h.at, at) <= NEAR).slice(0, 1);
}

function screwFor(p: PlateView, hole: Feature): { screw: Screw | undefined; named: boolean } {
  const named = p.fasteners?.find((f) => holeAt(p, f.at)[0] === hole);
  if (named !== undefined) return { screw: named.screw, named: true };
  const size = hole.diameter ?? 0;
  // Screws named for the whole plate: the largest of them that goes in.
  const ofPlate = (p.fasteners ?? [])
    .filter((f) => f.at === undefined && nominal(f.screw) <= size + AT_LIMIT)
    .sort((a, b) => nominal(b.screw) - nominal(a.screw))[0];
  if (ofPlate !== undefined && size <= clearanceHole(ofPlate.screw, "coarse") + SLACK) {
    return { screw: ofPlate.screw, named: true };
  }
  return { screw: suggested(size), named: false };
}

function judge(p: PlateView, hole: Feature, screw: Screw, named: boolean): Finding | undefined {
  const size = hole.diameter ?? 0;
  const [fine, coarse] = [clearanceHole(screw, "fine"), clearanceHole(screw, "coarse")];
  const tight = size < fine - AT_LIMIT;
  if (!tight && (size <= coarse + AT_LIMIT || (!named && size > coarse + SLACK))) return undefined;
  const data = {
    feature: nameOf(hole),
    found: size,
    wanted: tight ? fine : coarse,
    screw,
    said: named ? "named" : "suggested",
    medium: clearanceHole(screw, "medium"),
    fit: tight ? "tight" : "loose",
    holes: 1,
  };
  const finding = reportCheck("clearance-hole-off", data, featurePlace(p, hole));
  if (named && size < nominal(screw) - AT_LIMIT) return { ...finding, severity: "stop" };
  // Above M3 holes serve bushes and dampers as often as screws; a loose hole does no harm by itself.
  const doubtful = !named && (!tight || nominal(screw) > 3);
  return doubtful ? { ...finding, severity: "note" } : finding;
}

function again(p: PlateView, first: Feature, { severity, data }: Finding, holes: number): Finding {
  const all = { ...data, holes } as Parameters<typeof reportCheck<"clearance-hole-off">>[1];
  return { ...reportCheck("clearance-hole-off", all, featurePlace(p, first)), severity };
}
