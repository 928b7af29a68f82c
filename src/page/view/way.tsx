/** The way of a job from drawing to proof: what each station holds, and how it stands there. */
import type { VNode } from "preact";
import type { Finding } from "../../core/finding/finding.ts";
import { duration } from "../../core/jobsheet/html.ts";
import type { State } from "../state/store.ts";

type Standing = "well" | "look" | "stop" | "wait";

interface Station {
  readonly title: string;
  readonly goes: string;
  readonly standing: Standing;
  readonly said: string;
}

const WORD: Readonly<Record<Standing, string>> = {
  well: "",
  look: "look",
  stop: "stop",
  wait: "…",
};

export function Way({
  state,
  findings,
}: {
  readonly state: State;
  readonly findings: readonly Finding[];
}): VNode {
  return (
    <nav class="way" aria-label="From drawing to proof">
      <ol>
        {stationsOf(state, findings).map(({ title, goes, standing, said }) => (
          <li key={title} class={standing}>
            <a href={`#${goes}`}>
              <strong>{title}</strong>
              <span>
                {said}
                {WORD[standing] === "" ? "" : ` · ${WORD[standing]}`}
              </span>
            </a>
          </li>
        ))}
      </ol>
    </nav>
  );
}

function stationsOf({ told, busy, stale }: State, findings: readonly Finding[]): Station[] {
  const { drawings, plan, proving } = told;
  const asked = drawings.flatMap((d) => d.findings);
  const sheets = plan?.sheets ?? [];
  const plates = sheets.flatMap((s) => s.placements);
  const used = sheets.reduce((sum, s) => sum + s.utilisation, 0) / Math.max(1, sheets.length);
  const waits = (standing: Standing): Standing => (busy !== undefined && stale ? "wait" : standing);
  const ofPlan = plan === undefined ? waits("stop") : undefined;
  const about = (test: (f: Finding) => boolean): Standing => worst(findings.filter(test));
  return [
    {
      title: "Drawing",
      goes: "drawings",
      standing: worst(asked),
      said: many(drawings.length, "drawing"),
    },
    {
      title: "Plate",
      goes: "plates",
      standing: ofPlan ?? about((f) => f.plate !== undefined && f.sheet === undefined),
      said: plan === undefined ? "no plan" : many(plates.length, "plate"),
    },
    {
      title: "Sheet",
      goes: "sheets",
      standing: ofPlan ?? about((f) => f.sheet !== undefined),
      said:
        plan === undefined
          ? "no plan"
          : `${many(sheets.length, "sheet")}, ${(100 * used).toFixed(0)} % used`,
    },
    {
      title: "Cut",
      goes: "cutters",
      standing: ofPlan ?? "well",
      said:
        plan === undefined
          ? "no plan"
          : `${many(plan.programs.length, "program")}, ${duration(plan.estimate.seconds)}`,
    },
    {
      title: "Proof",
      goes: "found",
      standing: proving ? "wait" : (ofPlan ?? (plan?.proof.proven === true ? "well" : "stop")),
      said: proving
        ? "reading back"
        : plan === undefined
          ? "no plan"
          : plan.proof.proven
            ? "proven"
            : "not proven",
    },
  ];
}

function worst(findings: readonly Finding[]): Standing {
  if (findings.some((f) => f.severity === "stop")) return "stop";
  return findings.some((f) => f.severity === "warn") ? "look" : "well";
}

function many(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? "" : "s"}`;
}
