/** What the job cuts: every kind of plate with its picture, size, count and mass. */
import { bounds } from "../../geometry/contour.ts";
import type { PlanJson } from "../../job/plan-json.ts";
import { num, pathOf } from "../../layout/drawn/svg.ts";
import { asDrawn, type Kind, kindsOf } from "../from-json.ts";
import { decimals, type Html, h, raw, section, table } from "../html.ts";

export function aboutPart(plan: PlanJson): Html {
  const kinds = kindsOf(plan.sheets);
  const mass = plan.sheets.flatMap((s) => s.placements).reduce((sum, p) => sum + p.massG, 0);
  return section(
    "cuts",
    "What this cuts",
    table(
      "Plates, as drawn",
      [
        { head: "Plate" },
        { head: "Looks like" },
        { head: "Size, mm", number: true },
        { head: "Thick, mm", number: true },
        { head: "Copies", number: true },
        { head: "Each, g", number: true },
        { head: "Openings", number: true },
        { head: "Drawing", long: true },
      ],
      kinds.map((kind) => [
        kind.plate,
        thumbnail(kind),
        sizeOf(kind),
        decimals(kind.sheet.thickness, 2),
        kind.count,
        kind.first.massG.toFixed(1),
        kind.first.features.length,
        kind.first.drawing,
      ]),
    ),
    h(
      "p",
      { class: "small" },
      `All plates together about ${decimals(mass, 0)} g, reckoned from area, thickness and density; `,
      "weighed plates come out within some 8 %. Compare a printed size with the drawing before you cut.",
    ),
  );
}

function sizeOf(kind: Kind): string {
  const { min, max } = bounds(asDrawn(kind.first.outer, kind.first));
  return `${decimals(max.x - min.x, 2)} × ${decimals(max.y - min.y, 2)}`;
}

/** Decoration beside the row's own words, so it is hidden from screen readers. */
function thumbnail(kind: Kind): Html {
  const outer = asDrawn(kind.first.outer, kind.first);
  const inner = kind.first.inner.map((c) => asDrawn(c, kind.first));
  const { min, max } = bounds(outer);
  const size = Math.max(max.x - min.x, max.y - min.y);
  const pad = size * 0.02;
  const view = [min.x - pad, -max.y - pad, max.x - min.x + 2 * pad, max.y - min.y + 2 * pad];
  return raw(
    `<svg class="thumb" aria-hidden="true" viewBox="${view.map(num).join(" ")}">` +
      `<path d="${[outer, ...inner].map(pathOf).join("")}" fill="#a9c3d3" fill-rule="evenodd" ` +
      `stroke="#1d2b36" stroke-width="${num(size / 150)}"/></svg>`,
  );
}
