/**
 * The job sheet: one HTML text from which a person cuts the job, on paper, on a phone beside the machine, at
 * a desk. It asks the network for nothing and runs no script but the player's, which the content security policy names by
 * its hash; without motion it has none.
 *
 * Order of use: what this cuts, before you start, cutters and rates, programs, layout, the motion, proof, holes and
 * fits, times and costs, findings; last what is looked up rather than read.
 */
import { fileSlug } from "../job/job.ts";
import type { PlanJson, PointJson, UnprovenPlan } from "../job/plan-json.ts";
import { kindsOf } from "./from-json.ts";
import { type Child, duration, type Html, h, raw, render } from "./html.ts";
import { entriesOf } from "./motion/entries.ts";
import { type PlayerData, type ProgramRun, playerData } from "./motion/player-data.ts";
import { PLAYER_STYLE } from "./motion/player-style.ts";
import { PLAYER_HASH, PLAYER_SCRIPT } from "./motion/player-text.ts";
import { aboutPart } from "./part/about.ts";
import { beforePart } from "./part/before.ts";
import { costsPart } from "./part/costs.ts";
import { findingsPart } from "./part/findings.ts";
import { layoutPart } from "./part/layout.ts";
import { measurePart } from "./part/measure.ts";
import { motionData, motionPart } from "./part/motion.ts";
import { programsPart } from "./part/programs.ts";
import { proofPart } from "./part/proof.ts";
import { ratesPart, sourcesPart } from "./part/rates.ts";
import { STYLE } from "./style.ts";

/** What plan.json does not hold. Keys are sheet names. */
export interface JobSheetExtras {
  /** The programs as they were read back and timed; absent: the sheet has no player and shows no entries. */
  readonly motion?: readonly ProgramRun[] | undefined;
  /** Where the cutter goes into the sheet, sheet frame; absent: as the motion has it. */
  readonly entries?: Readonly<Record<string, readonly PointJson[]>> | undefined;
  /** File names of the border programs; absent: as `plan` names them. */
  readonly borderFiles?: Readonly<Record<string, string>> | undefined;
}

const POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";
const POLICY_WITH_PLAYER = `${POLICY}; script-src '${PLAYER_HASH}'`;

const PARTS: readonly (readonly [string, string])[] = [
  ["cuts", "What this cuts"],
  ["before", "Before you start"],
  ["rates", "Cutters and rates"],
  ["programs", "Programs"],
  ["layout", "Layout"],
  ["motion", "The motion"],
  ["proof", "Proof"],
  ["fits", "Holes and fits"],
  ["costs", "Times and costs"],
  ["findings", "Findings"],
  ["sources", "Where the rates come from"],
];

export function jobSheet(plan: PlanJson, given: JobSheetExtras = {}): string {
  return beginJobSheet(plan, given)(plan);
}

/** Makes all that shows nothing of the proof; what comes back puts the proof in. */
export function beginJobSheet(
  plan: UnprovenPlan,
  given: JobSheetExtras = {},
): (proven: PlanJson) => string {
  const player = given.motion === undefined ? undefined : playerData(plan, given.motion);
  const extras = {
    ...given,
    borderFiles: given.borderFiles ?? borderFilesOf(plan),
    entries: given.entries ?? entriesOf(plan, given.motion ?? []),
  };
  const head = h(
    "head",
    {},
    h("meta", { charset: "utf-8" }),
    h("meta", {
      "http-equiv": "Content-Security-Policy",
      content: player === undefined ? POLICY : POLICY_WITH_PLAYER,
    }),
    h("meta", { name: "viewport", content: "width=device-width, initial-scale=1" }),
    h("meta", { name: "referrer", content: "no-referrer" }),
    h("title", {}, `${plan.trial === undefined ? "" : "TRIAL: "}${plan.name}: job sheet`),
    h("style", {}, raw(player === undefined ? STYLE : STYLE + PLAYER_STYLE)),
  );
  const title = [h("h1", {}, plan.name), trialBanner(plan), h("p", {}, inOneLine(plan))];
  const toCut = [
    aboutPart(plan),
    beforePart(plan, extras),
    ratesPart(plan),
    programsPart(plan, extras),
    layoutPart(plan, extras),
    player !== undefined && motionPart(player),
  ];
  const toKnow = [measurePart(plan), costsPart(plan)];
  const toLookUp = sourcesPart(plan);
  const end = [
    h(
      "footer",
      {},
      "Made by weftcut. Lengths in mm, feeds in mm/min. Nobody has seen your sheet, clamps and machine but you: ",
      "run above the sheet first, then in cheap board, then in the plate's material.",
    ),
    player !== undefined && [motionData(player), h("script", {}, raw(PLAYER_SCRIPT))],
  ];
  const plays = player !== undefined;
  return (proven) => {
    const header = h("header", {}, title, verdict(proven), contents(player));
    const findings = findingsPart(proven, plays);
    const main = h("main", {}, toCut, proofPart(proven, plays), toKnow, findings, toLookUp);
    const body = h("body", {}, header, main, end);
    return `<!doctype html>\n${render(h("html", { lang: "en" }, head, body))}\n`;
  };
}

/** A sheet from which nothing is cut has no border program. */
function borderFilesOf(plan: UnprovenPlan): Record<string, string> {
  const cut = new Set(plan.programs.map((p) => p.sheet));
  const names = plan.sheets.map((s) => s.name).filter((name) => cut.has(name));
  return Object.fromEntries(names.map((name) => [name, `border-${fileSlug(name)}.nc`]));
}

function inOneLine(plan: UnprovenPlan): string {
  const kinds = kindsOf(plan.sheets);
  const plates = kinds.reduce((sum, k) => sum + k.count, 0);
  const time =
    plan.estimate.seconds > 0 ? `, about ${duration(plan.estimate.seconds)} of machine time` : "";
  return (
    `${many(plates, "plate")} of ${many(kinds.length, "kind")} from ${many(plan.sheets.length, "sheet")}, ` +
    `with ${many(plan.cutters.length, "cutter")} in ${many(plan.programs.length, "program")}${time}, ` +
    `on ${plan.machine.name}.`
  );
}

function trialBanner({ trial, sheets }: UnprovenPlan): Child {
  if (trial === undefined) return false;
  const own = [...new Set(sheets.map((s) => s.material))].join(", ");
  return h(
    "p",
    { class: "trial" },
    h("strong", {}, `Trial in ${trial}: `),
    `these programs are not for ${own}. Their feeds and speeds would break cutters in it. `,
    `Clamp ${trial} of the sheet's thickness; for the sheet itself plan the job without --trial.`,
  );
}

function many(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? "" : "s"}`;
}

function verdict(plan: PlanJson): Html {
  const { proof, findings } = plan;
  const warned = findings.filter((f) => f.severity === "warn").length;
  const look: Child = warned > 0 && [
    ` ${many(warned, "finding")} to look at first: `,
    h("a", { href: "#findings" }, "see the end"),
    ".",
  ];
  if (proof.proven) {
    return h(
      "p",
      { class: "verdict good" },
      h("strong", {}, "Proven: "),
      "the programs were read back and every check holds (",
      h("a", { href: "#proof" }, "proof"),
      ").",
      look,
    );
  }
  const why =
    proof.checks.length === 0
      ? "nothing has read these programs back yet"
      : "at least one check fails";
  return h(
    "p",
    { class: "verdict bad" },
    h("strong", {}, "Not proven: "),
    `${why} (`,
    h("a", { href: "#proof" }, "proof"),
    ").",
    look,
  );
}

function contents(player: PlayerData | undefined): Html {
  return h(
    "nav",
    { "aria-label": "Parts of this sheet" },
    h(
      "ul",
      {},
      PARTS.filter(([id]) => id !== "motion" || player !== undefined).map(([id, title]) =>
        h("li", {}, h("a", { href: `#${id}` }, title)),
      ),
    ),
  );
}
