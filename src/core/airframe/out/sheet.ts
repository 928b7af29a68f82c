/**
 * The airframe's own sheet: pictures, plates and masses, hardware, estimates with their limits, cautions. One HTML
 * text that needs nothing else.
 */
import type { Finding } from "../../finding/finding.ts";
import { decimals, h, raw, render, section, table } from "../../jobsheet/html.ts";
import { STYLE } from "../../jobsheet/style.ts";
import { patternName } from "../arms/mount.ts";
import type { Airframe } from "../build-plates.ts";
import type { AirframeEstimate } from "../estimate/estimate.ts";
import { LAMINATE_SOURCE } from "../estimate/laminate.ts";
import type { HardwareItem } from "./parts.ts";

export interface SheetInput {
  readonly airframe: Airframe;
  readonly estimate: AirframeEstimate;
  readonly hardware: readonly HardwareItem[];
  readonly above: string;
  readonly side: string;
  readonly findings: readonly Finding[];
}

export const CAUTIONS: readonly string[] = [
  "Flying is governed by local aviation rules: registration, markings, height, distance from people and licences differ from place to place. Find out before the first flight.",
  "Test unloaded first: without propellers, then tied down, then low, over empty ground, with nothing on board that matters.",
  "Estimates here are estimates. They say nothing of vibration, of a hard landing, or of plates cut across their fibres.",
  "Carbon conducts: isolate every solder joint and lead that may touch a plate. Seal cut edges.",
  "Propellers cut. Nobody stands in the plane of their discs.",
];

export function airframeSheet(input: SheetInput): string {
  const { airframe, estimate, hardware, above, side, findings } = input;
  const { spec } = airframe.setting;
  const body = [
    h("h1", {}, spec.name),
    h(
      "p",
      {},
      `${spec.layout}, ${spec.construction}; motors ${patternName(spec.motor)}; propellers ${decimals(spec.propeller.diameter, 1)} mm. Screw holes: ISO 273, ${spec.fit}. Pads, rims and webs: common practice.`,
    ),
    section(
      "assembly",
      "Assembly",
      picture(above, "From above; forward is up."),
      picture(side, "From the right; forward is right."),
    ),
    section("plates", "Plates", plates(estimate), h("p", { class: "small" }, massNote(estimate))),
    section("hardware", "Hardware", parts(hardware)),
    section("estimates", "Estimates", figures(estimate), arms(estimate), ...beamNotes()),
    section(
      "cautions",
      "Before it flies",
      h(
        "ul",
        {},
        CAUTIONS.map((c) => h("li", {}, c)),
      ),
    ),
    findings.length > 0 &&
      section(
        "remarks",
        "Remarks",
        h(
          "ul",
          { class: "findings" },
          findings.map((f) =>
            h("li", { class: f.severity }, h("strong", {}, f.severity), ` ${f.message}`),
          ),
        ),
      ),
  ];
  const head = h(
    "head",
    {},
    h("meta", { charset: "utf-8" }),
    h("meta", { name: "viewport", content: "width=device-width, initial-scale=1" }),
    h("title", {}, spec.name),
    h("style", {}, raw(`${STYLE}${WHOLE}`)),
  );
  return `<!doctype html>\n${render(h("html", { lang: "en" }, head, h("body", {}, ...body)))}\n`;
}

/** Unlike a sheet's layout, an assembly is looked at whole, on a narrow screen too; its words stand below it. */
const WHOLE = ".picture svg{min-width:0}";

function picture(svg: string, caption: string) {
  return h(
    "figure",
    {},
    h("div", { class: "picture" }, raw(svg.replace(/^<\?xml[^>]*\?>\s*/, ""))),
    h("figcaption", { class: "small" }, caption),
  );
}

function plates(e: AirframeEstimate) {
  return table(
    "Plates, one of each",
    [
      { head: "plate" },
      { head: "count", number: true },
      { head: "thick, mm", number: true },
      { head: "mass, g", number: true },
      { head: "saved by windows, g", number: true },
      { head: "all, g", number: true },
    ],
    e.plates.map((p) => [
      p.plate,
      String(p.count),
      decimals(p.thickness, 2),
      decimals(p.mass.g, 1),
      p.saved > 0 ? decimals(p.saved, 1) : "",
      decimals(p.mass.g * p.count, 1),
    ]),
  );
}

function massNote(e: AirframeEstimate): string {
  const first = e.plates[0];
  const set = `The set of plates: ${decimals(e.platesMass, 1)} g.`;
  return first === undefined ? set : `${set} ${first.mass.assumption}`;
}

function parts(items: readonly HardwareItem[]) {
  return table(
    "What else it takes",
    [{ head: "item" }, { head: "count", number: true }, { head: "for" }],
    items.map((i) => [i.item, String(i.count), i.use]),
  );
}

function figures(e: AirframeEstimate) {
  const point = (p: AirframeEstimate["centre"]): string =>
    `${decimals(p.x, 1)}, ${decimals(p.y, 1)}, ${decimals(p.z, 1)} mm`;
  const rows: [string, string][] = [
    ["wheelbase", `${decimals(e.wheelbase, 1)} mm`],
    ["between propeller discs", `${decimals(e.discClearance, 1)} mm`],
    ...(e.bodyClearance === undefined
      ? []
      : [
          ["disc to top plate, from above", `${decimals(e.bodyClearance, 1)} mm`] as [
            string,
            string,
          ],
        ]),
    ["counted mass", `${decimals(e.countedMass, 0)} g`],
    ["its centre (right, forward, up)", point(e.centre)],
    ["centre of the plates alone", point(e.centreOfPlates)],
  ];
  return h(
    "dl",
    { class: "figures" },
    rows.map(([k, v]) => h("div", {}, h("dt", {}, k), h("dd", {}, v))),
  );
}

function arms(e: AirframeEstimate) {
  const [first] = e.arms;
  const under = first === undefined ? "" : `${decimals(first.force, 1)} N at the motor`;
  const carried = first === undefined ? "" : `${decimals(first.tipMass, 1)} g at the tip`;
  return table(
    `Arms, clamped where the body ends: lengths in mm, E in GPa; bent by ${under}; swinging with ${carried}`,
    [
      { head: "arm" },
      { head: "free", number: true },
      { head: "narrowest", number: true },
      { head: "off fibre", number: true },
      { head: "E along", number: true },
      { head: "tip bends", number: true },
      { head: "first bending, Hz", number: true },
    ],
    e.arms.map((a) => [
      `${a.arm} (${a.plate})`,
      decimals(a.free, 1),
      decimals(a.narrowest, 1),
      `${decimals(a.offFibreDeg, 0)}°`,
      decimals(a.modulus, 1),
      decimals(a.deflection, 2),
      decimals(a.frequency, 0),
    ]),
  );
}

function beamNotes() {
  return [
    h(
      "p",
      { class: "small" },
      "Tip: y = ∫ F (L − x)² / (E I(x)) dx with I = b(x) t³/12, b the material left across the arm. First bending: Stodola's iteration on the same beam with the tip mass, f = ω/2π. ",
      `E: ${LAMINATE_SOURCE}.`,
    ),
    h(
      "p",
      { class: "small" },
      "Limits: small bending, no shear and no twist, a clamp that does not give, in-plane moduli taken for bending. A bolted root gives: expect more bending and a lower frequency. Without a thrust in the file the force is 1 N; without masses the frequency is that of the bare arm, which is too high. Keep it well away from the motors' turning frequency.",
    ),
  ];
}
