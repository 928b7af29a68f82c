/** Every rule, in the order in which docs/CHECKS.md names them. */
import { collet } from "./cut/collet.ts";
import { flutes } from "./cut/flutes.ts";
import { insideCorner } from "./cut/inside-corner.ts";
import { narrow } from "./cut/narrow.ts";
import { nearWidth } from "./cut/near-width.ts";
import { passage } from "./cut/passage.ts";
import { scale } from "./cut/scale.ts";
import { size } from "./cut/size.ts";
import { thickness } from "./cut/thickness.ts";
import { tightCurve } from "./cut/tight-curve.ts";
import { aligned } from "./hardware/aligned.ts";
import { clearance } from "./hardware/clearance-hole.ts";
import { patternFound } from "./hardware/pattern-found.ts";
import { patternSize } from "./hardware/pattern-size.ts";
import { patternTrue } from "./hardware/pattern-true.ts";
import { relief } from "./hardware/relief.ts";
import { round } from "./hardware/round.ts";
import { stackCentred } from "./hardware/stack-centred.ts";
import { symmetric } from "./hardware/symmetric.ts";
import { edgeDistance } from "./hold/edge-distance.ts";
import { edgeWeb } from "./hold/edge-web.ts";
import { fibre } from "./hold/fibre.ts";
import { neck } from "./hold/neck.ts";
import { outsideCorner } from "./hold/outside-corner.ts";
import { overlap } from "./hold/overlap.ts";
import { pitch } from "./hold/pitch.ts";
import { sliver } from "./hold/sliver.ts";
import { web } from "./hold/web.ts";
import { armWidth } from "./propeller/arm-width.ts";
import { beside } from "./propeller/beside.ts";
import { discs } from "./propeller/discs.ts";
import type { Rule } from "./rule.ts";

export interface RuleGroup {
  readonly title: string;
  readonly rules: readonly Rule[];
}

export const RULE_GROUPS: readonly RuleGroup[] = [
  {
    title: "Will it cut",
    rules: [
      narrow,
      passage,
      nearWidth,
      insideCorner,
      tightCurve,
      flutes,
      collet,
      thickness,
      size,
      scale,
    ],
  },
  {
    title: "Will it hold",
    rules: [overlap, sliver, web, edgeWeb, neck, edgeDistance, pitch, outsideCorner, fibre],
  },
  {
    title: "Will it fit",
    rules: [
      clearance,
      round,
      patternFound,
      patternTrue,
      patternSize,
      relief,
      stackCentred,
      aligned,
      symmetric,
    ],
  },
  { title: "Will it fly", rules: [discs, beside, armWidth] },
];

export const RULES: readonly Rule[] = RULE_GROUPS.flatMap((g) => g.rules);
