/**
 * Holes that must line up between plates: those of standoffs and through-screws.
 *
 * Two plates are held against each other where their four-hole rectangles are nearly alike, and, where they are
 * drawn in one frame (three holes and more coincide), hole by hole.
 */
import type { Finding } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { distance } from "../../geometry/segment.ts";
import type { Feature } from "../../plate/plate.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";
import type { Pattern } from "../shape/pattern.ts";
import { screwHoles } from "../shape/screw-holes.ts";
import { featurePlace, originOf, type PlateView, pointPlace } from "../view.ts";

/** Holes that line up do so within this; further off than the second, they were not meant to, mm. */
export const IN_LINE = 0.05;
export const APART = 1;
/** As many holes coincide where two plates are drawn in one frame. */
const ONE_FRAME = 3;

export const aligned: Rule = {
  code: "holes-do-not-line-up",
  asks: "Do the holes of standoffs line up from plate to plate?",
  reason: "The last screw does not go in, or the standoffs lean and the plates are bent.",
  limits: [
    {
      what: "a hole from its partner in the other plate",
      value: `up to ${IN_LINE} mm, or ${APART} mm and more (then they are not partners)`,
      source: `${COMMON_PRACTICE}: repeatability of about 0.05 mm at home`,
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap((b, i) =>
      view.plates.slice(0, i).flatMap((a) => {
        const holes = inOneFrame(a, b);
        return holes.length > 0 ? holes : rectangles(a, b);
      }),
    ),
};

function inOneFrame(a: PlateView, b: PlateView): Finding[] {
  const [as, bs] = [screwHoles(a), screwHoles(b)];
  const pairs = bs.flatMap((hole) => {
    const partner = nearest(as, hole);
    if (partner === undefined) return [];
    return [{ hole, partner, off: distance(hole.at, partner.at) }];
  });
  const same = pairs.filter((q) => q.off <= IN_LINE + AT_LIMIT).length;
  if (same < ONE_FRAME) return [];
  const off = pairs
    .filter((q) => q.off > IN_LINE + AT_LIMIT && q.off < APART - AT_LIMIT)
    .sort((x, y) => y.off - x.off);
  const [worst] = off;
  if (worst === undefined) return [];
  const data = { found: worst.off, wanted: IN_LINE, other: a.plate.name, holes: off.length };
  return [reportCheck("holes-do-not-line-up", data, featurePlace(b, worst.hole))];
}

function nearest(holes: readonly Feature[], to: Feature): Feature | undefined {
  return holes.reduce<Feature | undefined>(
    (best, h) =>
      best === undefined || distance(h.at, to.at) < distance(best.at, to.at) ? h : best,
    undefined,
  );
}

function rectangles(a: PlateView, b: PlateView): Finding[] {
  const own = a.patterns();
  const off = b.patterns().flatMap((q) => {
    const close = own.map((o) => ({ q, off: difference(o, q) })).sort((x, y) => x.off - y.off)[0];
    return close === undefined ? [] : [close];
  });
  // A plate may have many rectangles; only where none of these two agrees is one of them wrong.
  if (off.some((o) => o.off <= IN_LINE + AT_LIMIT)) return [];
  const [worst] = off.filter((o) => o.off < APART - AT_LIMIT).sort((x, y) => x.off - y.off);
  if (worst === undefined) return [];
  const data = { found: worst.off, wanted: IN_LINE, other: a.plate.name, holes: 4 };
  return [
    reportCheck(
      "holes-do-not-line-up",
      data,
      pointPlace(b, worst.q.centre, originOf(worst.q.holes[0])),
    ),
  ];
}

function difference(a: Pattern, b: Pattern): number {
  return Math.max(Math.abs(a.sides[0] - b.sides[0]), Math.abs(a.sides[1] - b.sides[1]));
}
