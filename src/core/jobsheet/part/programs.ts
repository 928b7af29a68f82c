/** Programs in the order in which they run, and what a person does between them. */
import type { ProgramJson, UnprovenPlan } from "../../job/plan-json.ts";
import { HAND_S } from "../../machine/machine.ts";
import { decimals, duration, type Html, h, section } from "../html.ts";
import type { JobSheetExtras } from "../sheet.ts";

export function programsPart(plan: UnprovenPlan, extras: JobSheetExtras): Html {
  const wear = wearOf(plan);
  return section(
    "programs",
    "Programs, in this order",
    h(
      "ol",
      { class: "programs" },
      plan.programs.map((program, i) =>
        programItem(program, i, wear[i], changes(plan, i, wear[i], extras)),
      ),
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
  /** Share of the cutter's life gone before and after the program. */
  readonly before: number;
  readonly after: number;
  /** A cutter used in an earlier program would wear out in this one. */
  readonly renew: boolean;
}

/** Program by program; undefined where the job does not say how long the cutter lasts. */
function wearOf(plan: UnprovenPlan): (Wear | undefined)[] {
  const used = new Map<string, number>();
  return plan.programs.map((program) => {
    const { lifeBefore, lifeAfter, newCutter } = program;
    if (lifeBefore !== undefined && lifeAfter !== undefined) {
      return { before: lifeBefore, after: lifeAfter, renew: newCutter === true };
    }
    const cutter = plan.cutters.find((c) => c.name === program.cutter);
    if (cutter === undefined || cutter.lifeUsed <= 0 || cutter.cutMetres <= 0) return undefined;
    const share = (cutter.lifeUsed * program.cutMetres) / cutter.cutMetres;
    const gone = used.get(program.cutter) ?? 0;
    const renew = gone > 0 && gone + share > 1;
    const before = renew ? 0 : gone;
    used.set(program.cutter, before + share);
    return { before, after: before + share, renew };
  });
}

function programItem(
  p: ProgramJson,
  index: number,
  wear: Wear | undefined,
  todo: readonly string[],
): Html {
  const id = `ran-${index + 1}`;
  return h(
    "li",
    {},
    h(
      "ul",
      { class: "todo" },
      todo.map((text) => h("li", {}, text)),
    ),
    h(
      "p",
      { class: "file" },
      h("input", { type: "checkbox", id }),
      h("label", { for: id }, h("code", {}, p.file)),
    ),
    h("p", {}, `Works on ${platesOf(p)}.`),
    h(
      "p",
      { class: "facts" },
      [
        p.seconds > 0 ? duration(p.seconds) : "time not reckoned",
        `${decimals(p.cutMetres, 2)} m cut`,
        `${decimals(p.rapidMetres, 2)} m rapid`,
        `${p.blocks} moves`,
        `lowest Z ${decimals(p.deepest, 3)} mm from the sheet's top`,
        wearWords(wear),
      ].join(" · "),
    ),
  );
}

/** `4 × arm, camera-side`, in the order in which they are begun. */
function platesOf(p: ProgramJson): string {
  const copies = new Map<string, number>();
  for (const { plate } of p.plates) copies.set(plate, (copies.get(plate) ?? 0) + 1);
  return [...copies].map(([name, n]) => (n === 1 ? name : `${n} × ${name}`)).join(", ");
}

/** What a person does between the last program and this one. */
function changes(
  plan: UnprovenPlan,
  index: number,
  wear: Wear | undefined,
  extras: JobSheetExtras,
): string[] {
  const p = plan.programs[index];
  const last = plan.programs[index - 1];
  if (p === undefined) return [];
  const todo: string[] = [];
  const newSheet = last?.sheet !== p.sheet;
  const newCutter = last?.cutter !== p.cutter || wear?.renew === true;
  const border = extras.borderFiles?.[p.sheet];
  const stock = plan.trial === undefined ? "" : `${plan.trial} in place of `;
  if (newSheet) todo.push(`Clamp ${stock}sheet ${p.sheet}; set X and Y at its zero.`);
  if (wear?.renew) {
    todo.push(`Put in a new ${p.cutter}: the one used before would wear out in this program.`);
  } else if (newCutter) todo.push(`Put in cutter ${p.cutter}.`);
  if (newSheet || newCutter) {
    const where = plan.origin.z === "sheet-top" ? "the sheet's top" : "the board";
    todo.push(`Set Z at ${where} with this cutter.`);
  }
  if (newSheet && border !== undefined) {
    todo.push(`Run ${border} with the spindle off: round the sheet at clearance height.`);
  }
  const byHand = handWords(plan, p);
  if (byHand !== undefined) todo.push(byHand);
  if (wear !== undefined && wear.after - wear.before > 1) {
    const needed = Math.ceil(wear.after - wear.before - 1e-9);
    todo.push(
      `By the life given for it, this program alone wears out ${needed} of this cutter: watch it, and have them ready.`,
    );
  }
  return todo;
}

function handWords({ machine }: UnprovenPlan, { rpm }: ProgramJson): string | undefined {
  const { start = "program", handS = HAND_S } = machine.spindle;
  if (start === "program") return undefined;
  const when =
    start === "hand-at-stop"
      ? "when the program stops for it, then let it go on"
      : `within ${handS} s of its start`;
  return `Start the spindle by hand at ${rpm} rpm ${when}; stop it by hand at the end.`;
}

function wearWords(wear: Wear | undefined): string {
  if (wear === undefined) return "cutter life not given";
  const { before, after } = wear;
  return after - before > 1
    ? `takes the life of ${decimals(after - before, 1)} such cutters`
    : `cutter worn from ${percent(before)} to ${percent(after)} of its life`;
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}
