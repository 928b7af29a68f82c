/** Each sheet with its plates, its tabs in breaking order, and where zero and the fibres are. */
import type { SheetJson, UnprovenPlan } from "../../job/plan-json.ts";
import { layoutSvg, numberedTabs } from "../../layout/picture.ts";
import { type Child, decimals, type Html, h, raw, section } from "../html.ts";
import type { JobSheetExtras } from "../sheet.ts";

export function layoutPart(plan: UnprovenPlan, extras: JobSheetExtras): Html {
  return section(
    "layout",
    "Layout",
    plan.sheets.map((_, i) => onSheet(plan, i, extras)),
    h(
      "p",
      {},
      "Break tabs when the spindle stands still and the plates are still held: in the order of their numbers, opposite pairs ",
      "one after the other, with the thin saw or knife that leaves the plate's edge alone. Then file the stubs wet.",
    ),
  );
}

function onSheet(plan: UnprovenPlan, index: number, extras: JobSheetExtras): Child {
  const sheet = plan.sheets[index];
  if (sheet === undefined) return undefined;
  const entries = extras.entries?.[sheet.name];
  const [x, y] = sheet.originOffset;
  return h(
    "figure",
    {},
    h(
      "figcaption",
      {},
      h("strong", {}, `Sheet ${sheet.name}`),
      `: ${sheet.material}, ${decimals(sheet.thickness, 3)} mm thick, fibre at ${decimals(sheet.fibreDeg, 2)}° from X, `,
      `${decimals(100 * sheet.utilisation, 0)} % of it becomes plates. Program zero lies ${decimals(x, 3)}, ${decimals(y, 3)} mm `,
      "from the lower left corner.",
    ),
    // On a narrow screen the whole sheet is seen first, and its small print by choice.
    h("input", { type: "checkbox", class: "larger", id: `larger-${index + 1}` }),
    h(
      "label",
      { class: "larger", for: `larger-${index + 1}` },
      ` Sheet ${sheet.name} larger (scrolls sideways)`,
    ),
    h(
      "div",
      {
        class: "picture",
        tabindex: 0,
        role: "group",
        "aria-label": `Picture of sheet ${sheet.name}`,
      },
      raw(layoutSvg(sheet, plan.origin, { idPrefix: `sheet-${index + 1}`, entries })),
    ),
    tabList(sheet),
  );
}

/** Tabs by plate, as ranges of the numbers in the picture. */
function tabList(sheet: SheetJson): Child {
  const tabs = numberedTabs(sheet);
  if (tabs.length === 0) return h("p", {}, "No holding tabs on this sheet.");
  const byPlate = new Map<string, number[]>();
  for (const tab of tabs) {
    const many = sheet.placements.filter((p) => p.plate === tab.plate).length > 1;
    const name =
      (many ? `${tab.plate} ${tab.copy}` : tab.plate) +
      (tab.feature === undefined ? "" : ", waste in a window");
    byPlate.set(name, [...(byPlate.get(name) ?? []), tab.number]);
  }
  return h(
    "p",
    { class: "small" },
    "Tabs: ",
    [...byPlate].map(([name, numbers]) => `${name}: ${numbers.join(", ")}`).join("; "),
    ".",
  );
}
