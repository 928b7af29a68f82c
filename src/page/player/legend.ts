/** The scale of depths under the picture, with the sheet's underside and the cutter's depth marked on it. */

import { LEVELS } from "./depth-scale.ts";
import { element, type Parts } from "./parts.ts";
import type { Stage } from "./stage.ts";

export function showLegend(parts: Parts, { sheet }: Stage): void {
  const { thickness, depth } = sheet;
  const mm = (value: number): string => String(Number(value.toFixed(2)));
  const marks: (readonly [number, string])[] = [
    [0, "top"],
    [thickness / 2, `${mm(thickness / 2)} mm`],
    [thickness, `${mm(thickness)} mm, underside`],
  ];
  const ticks = marks.map(([below, text]) => {
    const tick = element("span", "tick", text);
    tick.style.left = `${(100 * below) / depth}%`;
    if (below > 0.8 * depth) tick.classList.add("player-last");
    return tick;
  });
  parts.scale.replaceChildren(parts.depthNow, ...ticks);
  const cuts = depth > thickness ? `, ${mm(depth - thickness)} mm into the board` : "";
  parts.scale.setAttribute("role", "img");
  parts.scale.setAttribute(
    "aria-label",
    `Colours of depth: from light at the sheet's top to dark at ${mm(depth)} mm below it${cuts}.`,
  );
}

/** Beside the scale while the cutter is above the sheet. */
export function showDepth(parts: Parts, { sheet }: Stage, z: number): void {
  const below = sheet.topZ - z;
  parts.depthNow.hidden = below <= 0;
  const level = Math.round((LEVELS * Math.min(below, sheet.depth)) / sheet.depth);
  parts.depthNow.style.left = `${(100 * level) / LEVELS}%`;
}
