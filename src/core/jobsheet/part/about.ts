/** What the job cuts: every kind of plate with its picture and sizes, count and mass. */
import { bounds } from "../../geometry/contour.ts";
import type { UnprovenPlan } from "../../job/plan-json.ts";
import { num, pathOf } from "../../layout/drawn/svg.ts";
import { asDrawn, type Kind, kindsOf } from "../from-json.ts";
import { decimals, type Html, h, raw, section, table } from "../html.ts";

export function aboutPart(plan: UnprovenPlan): Html {
  const kinds = kindsOf(plan.sheets);
  const mass = plan.sheets.flatMap((s) => s.placements).reduce((sum, p) => sum + p.massG, 0);
  return section(
    "cuts",
    "What this cuts",
    h("div", { class: "plates" }, kinds.map(picture)),
    table(
      "Plates, as drawn",
      [
        { head: "Plate" },
        { head: "Size, mm", number: true },
        { head: "Thick, mm", number: true },
        { head: "Copies", number: true },
        { head: "Each, g", number: true },
        { head: "Openings", number: true },
        { head: "Drawing", long: true },
      ],
      kinds.map((kind) => [
        kind.plate,
        sizeOf(kind).map(size).join(" × "),
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

/** Width and height, mm. */
function sizeOf(kind: Kind): readonly [number, number] {
  const { min, max } = bounds(asDrawn(kind.first.outer, kind.first));
  return [max.x - min.x, max.y - min.y];
}

function size(mm: number): string {
  return decimals(mm, 2);
}

/** rem that a picture takes at most. */
const WIDEST = 14;
const TALLEST = 9;

/** As drawn, each as large as there is room: the sizes beside it tell how large it is. */
function picture(kind: Kind): Html {
  const outer = asDrawn(kind.first.outer, kind.first);
  const inner = kind.first.inner.map((c) => asDrawn(c, kind.first));
  const { min } = bounds(outer);
  const [width, height] = sizeOf(kind);
  const rem = Math.min(WIDEST / width, TALLEST / height);
  const copies = kind.count === 1 ? "once" : `${kind.count} times`;
  return h(
    "figure",
    { class: "plate" },
    h(
      "div",
      { class: "sized" },
      h("span", { class: "tall" }, size(height)),
      raw(
        `<svg aria-hidden="true" width="${num(width * rem)}rem" height="${num(height * rem)}rem" ` +
          `viewBox="${[min.x, -(min.y + height), width, height].map(num).join(" ")}">` +
          `<path d="${[outer, ...inner].map(pathOf).join("")}" fill="#a9c3d3" fill-rule="evenodd" ` +
          `stroke="currentColor" stroke-width="${num(0.07 / rem)}"/></svg>`,
      ),
      h("span", { class: "wide" }, size(width)),
    ),
    h(
      "figcaption",
      {},
      h("strong", {}, kind.plate),
      ` ${copies}, ${decimals(kind.sheet.thickness, 2)} mm thick`,
    ),
  );
}
