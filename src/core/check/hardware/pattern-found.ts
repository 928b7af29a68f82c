/** Hole patterns of motors and boards, by name: told so that a wrong guess is seen. */
import type { Finding } from "../../finding/finding.ts";
import { reportCheck } from "../../finding/say-check.ts";
import { COMMON_PRACTICE, type Rule } from "../rule.ts";
import { MOUNTS_ACROSS, type Pattern, STACK_SIDES } from "../shape/pattern.ts";
import { originOf, type PlateView, pointPlace } from "../view.ts";

export const patternFound: Rule = {
  code: "pattern-recognised",
  asks: "Which hole patterns are those of a motor or a board?",
  reason: "People say across or side: 16 across is 11.3 in side, and a board of 16 is 22.6 across.",
  limits: [
    {
      what: "motors, across opposite holes",
      value: `${MOUNTS_ACROSS.join(", ")} mm, and 16 × 19`,
      source: COMMON_PRACTICE,
    },
    { what: "boards, side", value: `${STACK_SIDES.join(", ")} mm`, source: COMMON_PRACTICE },
    { what: "recognised within", value: "0.35 mm of such a size", source: "derived" },
  ],
  when: "plates",
  run: (view) => view.plates.flatMap(findingsFor),
};

/** Equal patterns of a plate are told once. */
function findingsFor(p: PlateView): Finding[] {
  const byName = new Map<string, Pattern[]>();
  for (const q of p.patterns()) {
    if (q.kind === "rectangle") continue;
    const key = JSON.stringify([q.kind, q.nominal]);
    byName.set(key, [...(byName.get(key) ?? []), q]);
  }
  return [...byName.values()].map((alike) => {
    const q = alike[0] as Pattern;
    const data = {
      kind: q.kind,
      found: q.kind === "mount" ? q.across[0] : q.sides[0],
      wanted: q.nominal[0],
      across: sizes(q.across),
      side: sizes(q.sides),
      hole: q.holes[0].diameter ?? 0,
      count: alike.length,
    };
    return reportCheck("pattern-recognised", data, pointPlace(p, q.centre, originOf(q.holes[0])));
  });
}

function sizes([a, b]: readonly [number, number]): string {
  const text = (v: number): string => String(Number(v.toFixed(2)));
  return Math.abs(a - b) < 0.005 ? text(a) : `${text(a)} × ${text(b)}`;
}
