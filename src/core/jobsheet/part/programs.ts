/** Programs in the order in which they run, and what a person does between them. */
import type { CutterJson, PlanJson, ProgramJson } from "../../job/plan-json.ts";
import { decimals, duration, type Html, h, section } from "../html.ts";

export function programsPart(plan: PlanJson): Html {
  const used = new Map<string, number>();
  return section(
    "programs",
    "Programs, in this order",
    h(
      "ol",
      { class: "programs" },
      plan.programs.map((program, i) => {
        const cutter = plan.cutters.find((c) => c.name === program.cutter);
        const before = used.get(program.cutter) ?? 0;
        const share = lifeShare(program, cutter);
        used.set(program.cutter, before + share);
        return programItem(plan, i, {
          before,
          after: before + share,
          known: (cutter?.lifeUsed ?? 0) > 0,
        });
      }),
    ),
    h(
      "p",
      {},
      "Every program starts by going up before it moves sideways, and stops the spindle at its end. ",
      "A program that was interrupted must not be started in the middle by hand: have a restart program made.",
    ),
  );
}

interface Wear {
  readonly before: number;
  readonly after: number;
  /** False where the job does not say how long the cutter lasts. */
  readonly known: boolean;
}

/** The cutter's life is shared out by metres. */
function lifeShare(program: ProgramJson, cutter: CutterJson | undefined): number {
  if (cutter === undefined || cutter.cutMetres <= 0) return 0;
  return (cutter.lifeUsed * program.cutMetres) / cutter.cutMetres;
}

function programItem(plan: PlanJson, index: number, wear: Wear): Html {
  const p = plan.programs[index] as ProgramJson;
  const last = plan.programs[index - 1];
  const id = `ran-${index + 1}`;
  return h(
    "li",
    {},
    h(
      "ul",
      { class: "todo" },
      changes(plan, p, last, wear).map((text) => h("li", {}, text)),
    ),
    h(
      "p",
      { class: "file" },
      h("input", { type: "checkbox", id }),
      h("label", { for: id }, h("code", {}, p.file)),
    ),
    h(
      "p",
      { class: "facts" },
      [
        p.seconds > 0 ? duration(p.seconds) : "time not reckoned",
        `${decimals(p.cutMetres, 2)} m cut`,
        `${decimals(p.rapidMetres, 2)} m rapid`,
        `${p.blocks} moves`,
        `lowest Z ${decimals(p.deepest, 3)} mm from the sheet's top`,
        wear.known
          ? `cutter worn from ${percent(wear.before)} to ${percent(wear.after)} of its life`
          : "cutter life not given",
      ].join(" · "),
    ),
  );
}

function changes(
  plan: PlanJson,
  p: ProgramJson,
  last: ProgramJson | undefined,
  wear: Wear,
): string[] {
  const todo: string[] = [];
  const where = plan.origin.z === "sheet-top" ? "the sheet's top" : "the board";
  if (last?.sheet !== p.sheet) todo.push(`Clamp sheet ${p.sheet}; set X and Y at its zero.`);
  if (last?.cutter !== p.cutter) todo.push(`Put in cutter ${p.cutter}.`);
  if (last === undefined || last.cutter !== p.cutter || last.sheet !== p.sheet) {
    todo.push(`Set Z at ${where} with this cutter.`);
  }
  if (wear.after > 1 && wear.before > 0)
    todo.push("Put in a new cutter of the kind first, and set Z again: this one would wear out.");
  else if (wear.after > 1)
    todo.push(
      "This program alone takes more than the life given for the cutter: listen, look, have a second one ready.",
    );
  return todo;
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}
