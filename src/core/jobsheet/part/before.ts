/** Before you start: the cautions, how the sheet is held, where zero is, what must be measured. */
import type { SheetJson, UnprovenPlan } from "../../job/plan-json.ts";
import { type CautionGroup, cautions } from "../cautions.ts";
import { blank, type Child, decimals, type Html, h, section, tick } from "../html.ts";
import type { JobSheetExtras } from "../sheet.ts";

const CORNER: Readonly<Record<UnprovenPlan["origin"]["at"], string>> = {
  "lower-left": "the sheet's lower left corner",
  "lower-right": "the sheet's lower right corner",
  "upper-left": "the sheet's upper left corner",
  "upper-right": "the sheet's upper right corner",
  centre: "the middle of the sheet",
};

export function beforePart(plan: UnprovenPlan, extras: JobSheetExtras): Html {
  return section(
    "before",
    "Before you start",
    h("p", {}, "Tick each line. Stop where one cannot be ticked."),
    h(
      "div",
      { class: "columns" },
      cautions(plan).map(groupOf),
      group("holding", "Holding the sheet", holding(plan)),
      group("zero", "Where zero is", zero(plan)),
      group("border", "Keep-outs and travel", border(plan, extras)),
      group("measure", "Measure", measure(plan)),
    ),
  );
}

function groupOf(caution: CautionGroup): Child {
  return group(caution.id, caution.title, caution.items);
}

function group(id: string, title: string, items: readonly Child[]): Child {
  if (items.length === 0) return undefined;
  return h(
    "div",
    { class: "group" },
    h("h3", {}, title),
    h(
      "ul",
      { class: "ticks" },
      items.map((item, i) => tick(`tick-${id}-${i + 1}`, item)),
    ),
  );
}

function holding(plan: UnprovenPlan): Child[] {
  const { tabs, clearance, hop } = plan.cutting;
  const low =
    hop < clearance
      ? [
          `Over whole sheet rapids pass ${mm(hop)} above its top: nowhere does it stand up that far, and no screw, tape or chip outside the keep-outs does.`,
        ]
      : [];
  return [
    "The sheet lies flat on a surfaced board that may be cut into; a board under it also keeps the lower face from splitting.",
    `Programs cut ${mm(plan.throughDepth)} into the board.`,
    `Clamps and screws are inside the marked keep-outs and lower than ${mm(clearance)} above the sheet: rapids pass at that height.`,
    ...low,
    `Plates stay on tabs, ${mm(tabs.width)} wide and ${mm(tabs.height)} high. They break off by hand or with a saw, after the spindle has stopped.`,
  ];
}

function zero(plan: UnprovenPlan): Child[] {
  const height =
    plan.origin.z === "sheet-top"
      ? "Z0 is the top of the sheet. Touch off there, not on the board."
      : "Z0 is the top of the board under the sheet. Touch off there, not on the sheet.";
  return [
    h("strong", {}, height),
    [
      h("strong", {}, `X0 Y0 is ${CORNER[plan.origin.at]}`),
      ", X to the right along the sheet, Y away from you. The pictures show it.",
    ],
    "Set Z anew after every change of cutter, with the cutter that runs next. X and Y stay.",
  ];
}

function border(plan: UnprovenPlan, extras: JobSheetExtras): Child[] {
  const files = plan.sheets.flatMap((s) => extras.borderFiles?.[s.name] ?? []);
  const [x, y, z] = plan.machine.travel;
  const items: Child[] = [
    `The machine is ${plan.machine.name}, with ${decimals(x, 1)} × ${decimals(y, 1)} × ${decimals(z, 1)} mm of travel: the programs are made for it and no other.`,
  ];
  const clamped = plan.sheets.filter((s) => s.keepOut.length > 0);
  if (clamped.length > 0) {
    const counts = clamped.map((s) => `${s.name}: ${s.keepOut.length}`).join(", ");
    items.push(`Keep-outs are where the clamps really are (${counts}).`);
  }
  if (files.length > 0) {
    items.push([
      "With the spindle off, the border program has gone round the sheet at clearance height and touched nothing: ",
      files.map((file, i) => [i > 0 && ", ", h("code", {}, file)]),
      ".",
    ]);
  }
  return items;
}

function measure(plan: UnprovenPlan): Child[] {
  const sheets = plan.sheets.map(
    (s): Child => [
      `Sheet ${s.name}: planned ${mm(s.thickness)}, measured `,
      blank(`measured thickness of sheet ${s.name}, mm`),
      ` mm. More than 0.1 mm off${tooThick(plan, s)}: plan again with it.`,
    ],
  );
  const cutters = plan.cutters.map(
    (c): Child => [
      `Cutter ${c.name}: planned ${mm(c.effectiveDiameter)}`,
      c.effectiveDiameter === c.diameter ? " (nominal)" : " (as measured)",
      ", slot it cuts measures ",
      blank(`width of a slot cut by ${c.name}, mm`),
      " mm.",
    ],
  );
  return [...sheets, ...cutters];
}

function tooThick(plan: UnprovenPlan, sheet: SheetJson): string {
  return `, or thicker than ${mm(sheet.thickness + plan.throughDepth)}`;
}

function mm(value: number): string {
  return `${decimals(value, 3)} mm`;
}
