/** What is to be measured on a coupon: a part of the job sheet with blanks, and the file that it is typed into. */
import { blank, decimals, type Html, h, render, section, table } from "../jobsheet/html.ts";
import { markWords } from "./marks.ts";
import type { CouponPlan, Measurand } from "./measurand.ts";

const WAY: Readonly<Record<Measurand["side"], string>> = {
  inside: "inside jaws, clear of tab stubs",
  outside: "outside jaws, clear of tab stubs",
};

const TITLE = "Coupon: what was measured";

export function couponForm(plan: CouponPlan, file: string): Html {
  return section(
    "coupon",
    TITLE,
    h(
      "p",
      {},
      `Made for ${plan.cutter} as ${decimals(plan.plannedDiameter, 3)} mm in ${plan.sheet}, ${decimals(plan.thickness, 3)} mm. `,
      "A dot beside a feature is one, a stroke five; walls have their letter's place in the alphabet, in a row that runs the way they are measured. Break one holding tab by hand first: if it tears fibres, tabs are too high. ",
      `Measure to a hundredth, type it into ${file}, then run `,
      h("code", {}, `weftcut coupon --measured ${file}`),
      ".",
    ),
    table(
      "Walls and holes",
      [
        { head: "Mark" },
        { head: "Engraved" },
        { head: "What" },
        { head: "With" },
        { head: "Drawn", number: true },
        { head: "Measured" },
      ],
      plan.walls.map((w) => [
        w.id,
        markWords(w.mark),
        w.what,
        w.axis === "both" ? "pins, or inside jaws both ways" : WAY[w.side],
        decimals(w.drawn, 3),
        blank(`${w.what}, measured, mm`),
      ]),
    ),
    table(
      "Fits",
      [{ head: "What" }, { head: "Steps: room in all" }, { head: "Best" }],
      [
        [
          "slot that a tongue's thickness goes into as wanted",
          stepsText(plan.slots),
          blank("best slot"),
        ],
        [
          "tongue that goes into the square gauge window as wanted",
          stepsText(plan.tongues),
          blank("best tongue"),
        ],
        ["sheet, measured beside the piece", decimals(plan.thickness, 3), blank("thickness, mm")],
      ],
    ),
  );
}

function stepsText(steps: CouponPlan["slots"]): string {
  return steps.map((s) => `${s.number}: ${decimals(s.clearance, 3)}`).join(" · ") || "none";
}

/** The job sheet with the form before its end, and the way to it in its contents. */
export function withForm(sheet: string, plan: CouponPlan, file: string): string {
  const link = render(h("li", {}, h("a", { href: "#coupon" }, TITLE)));
  return sheet
    .replace("</ul></nav>", () => `${link}</ul></nav>`)
    .replace("</main>", () => `${render(couponForm(plan, file))}</main>`);
}

/** The file to be filled in: YAML, with what was planned beside each blank. `job` is the way to the job's file. */
export function measuredTemplate(plan: CouponPlan, job: string): string {
  const rows = plan.walls.map(
    (w) =>
      `  - { id: ${w.id}, axis: ${w.axis}, side: ${w.side}, drawn: ${w.drawn}, measured: }   # ${w.what}`,
  );
  const steps = (list: CouponPlan["slots"]): string =>
    list
      .map((s) => `    - { number: ${s.number}, drawn: ${s.drawn}, clearance: ${s.clearance} }`)
      .join("\n");
  return `# What was measured on the coupon, mm. Fill in after "measured:", leave out what you could not measure,
# then: weftcut coupon --measured THIS-FILE
job: ${JSON.stringify(job)}
sheet: ${JSON.stringify(plan.sheet)}
cutter: ${JSON.stringify(plan.cutter)}
plannedDiameter: ${plan.plannedDiameter}
thickness: ${plan.thickness}      # of the sheet, measured beside the piece
walls:
${rows.join("\n")}
fits:
  wanted: ${plan.wanted}          # the clearance that the steps go round
  gauge: ${plan.gauge}
  bestSlot:            # number of the slot that fits as wanted; 2.5 is between 2 and 3
  bestTongue:
  slots:
${steps(plan.slots)}
  tongues:
${steps(plan.tongues)}
`;
}
