/** Everything that weftcut had to say about the job, gravest first. */
import type { Finding, Severity } from "../../finding/finding.ts";
import type { PlanJson } from "../../job/plan-json.ts";
import { type Child, commas, decimals, type Html, h, programLine, section } from "../html.ts";

const WORD: Readonly<Record<Severity, string>> = { stop: "Stop", warn: "Look", note: "Note" };
const ORDER: readonly Severity[] = ["stop", "warn", "note"];

export function findingsPart(plan: PlanJson, played: boolean): Html {
  const sorted = ORDER.flatMap((s) => plan.findings.filter((f) => f.severity === s));
  return section(
    "findings",
    "Findings",
    sorted.length === 0
      ? h("p", {}, "None.")
      : h(
          "ul",
          { class: "findings" },
          sorted.map((f) => h("li", { class: f.severity }, finding(f, played))),
        ),
  );
}

function finding(f: Finding, played: boolean): Child {
  const place = whereOf(f, played);
  return [
    h("strong", {}, WORD[f.severity], ": "),
    sentence(f.message),
    f.hint !== undefined && [" ", h("em", {}, sentence(f.hint))],
    place.length > 0 && h("span", { class: "where" }, " (", commas(place), ")"),
  ];
}

function sentence(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

function whereOf(f: Finding, played: boolean): Child[] {
  const parts: Child[] = [];
  if (f.plate !== undefined) parts.push(f.plate);
  if (f.sheet !== undefined) parts.push(`sheet ${f.sheet}`);
  if (f.at !== undefined) parts.push(`at ${decimals(f.at[0], 2)}, ${decimals(f.at[1], 2)}`);
  if (f.drawing !== undefined) {
    const { file, line, entity } = f.drawing;
    parts.push(
      [file, line === undefined ? undefined : `line ${line}`, entity].filter(Boolean).join(" "),
    );
  }
  if (f.program !== undefined) parts.push(programLine(f.program, played));
  return parts;
}
