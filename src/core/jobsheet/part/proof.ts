/** What was proven about the programs by reading them back, with the worst place of every check. */
import type { PlanJson } from "../../job/plan-json.ts";
import type { ProofCheck } from "../../proof/proof.ts";
import {
  type Child,
  commas,
  decimals,
  type Html,
  h,
  programLine,
  section,
  table,
} from "../html.ts";

export function proofPart(plan: PlanJson, played: boolean): Html {
  const { proof } = plan;
  if (proof.checks.length === 0) {
    return section(
      "proof",
      "Proof",
      h(
        "p",
        { class: "verdict bad" },
        h("strong", {}, "Not proven."),
        " Nothing has read these programs back. Step through them above the sheet before cutting.",
      ),
    );
  }
  const failed = proof.checks.filter((c) => !c.passed);
  return section(
    "proof",
    "Proof",
    h(
      "p",
      { class: proof.proven ? "verdict good" : "verdict bad" },
      verdict(proof.proven, failed.length),
    ),
    table(
      "Checks of the programs as they were read back",
      [
        { head: "Check" },
        { head: "Result" },
        { head: "Worst", number: true },
        { head: "Limit", number: true },
        { head: "Unit" },
        { head: "Where", long: true },
      ],
      [...failed, ...proof.checks.filter((c) => c.passed)].map((c) => [
        c.code.replace(/-/g, " "),
        c.passed ? "holds" : h("strong", {}, "FAILS"),
        decimals(c.worst, 4),
        limitOf(c),
        c.unit,
        whereOf(c, played),
      ]),
    ),
    h(
      "p",
      { class: "small" },
      `Deepest cut into any plate ${decimals(proof.overcutMm, 4)} mm. `,
      `Left standing that should be gone ${decimals(proof.leftMm2, 3)} mm²; `,
      `corners that no round cutter reaches ${decimals(proof.cornerMm2, 3)} mm².`,
    ),
  );
}

function verdict(proven: boolean, failed: number): Child {
  return proven
    ? [
        h("strong", {}, "Proven."),
        " The programs were read back from their text and every check below holds. ",
        "That is about the programs: not about the sheet, the clamps, the cutter or the machine.",
      ]
    : [
        h("strong", {}, "Not proven."),
        ` ${failed === 1 ? "One check fails" : `${failed} checks fail`}: do not cut with these programs.`,
      ];
}

/** Which side of the limit is the right one shows in the check itself; at the limit both are. */
function limitOf({ worst, limit, passed }: ProofCheck): string {
  const text = decimals(limit, 4);
  if (worst === limit) return text;
  return `${worst < limit === passed ? "≤" : "≥"} ${text}`;
}

function whereOf(c: ProofCheck, played: boolean): Child {
  const parts: Child[] = [];
  if (c.plate !== undefined) parts.push(c.plate);
  if (c.sheet !== undefined) parts.push(`sheet ${c.sheet}`);
  if (c.at !== undefined) parts.push(`at ${decimals(c.at[0], 2)}, ${decimals(c.at[1], 2)}`);
  if (c.program !== undefined) parts.push(programLine(c.program, played));
  return commas(parts);
}
