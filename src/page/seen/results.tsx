/** What the job sheet says of the plan, in its own words: worked out only where somebody looks. */
import type { VNode } from "preact";
import { useState } from "preact/hooks";
import { fileSlug } from "../../core/job/job.ts";
import type { PlanJson } from "../../core/job/plan-json.ts";
import { type Html, render } from "../../core/jobsheet/html.ts";
import { beforePart } from "../../core/jobsheet/part/before.ts";
import { costsPart } from "../../core/jobsheet/part/costs.ts";
import { measurePart } from "../../core/jobsheet/part/measure.ts";
import { programsPart } from "../../core/jobsheet/part/programs.ts";
import { proofPart } from "../../core/jobsheet/part/proof.ts";
import { ratesPart, sourcesPart } from "../../core/jobsheet/part/rates.ts";

const PARTS: readonly (readonly [string, (plan: PlanJson) => Html[]])[] = [
  ["Before you cut", (plan) => [beforePart(plan, borders(plan))]],
  ["Programs, in their order", (plan) => [programsPart(plan, borders(plan))]],
  ["Rates: formula, table row and source", (plan) => [ratesPart(plan), sourcesPart(plan)]],
  ["Proof: every check and its worst place", (plan) => [proofPart(plan, false)]],
  ["Holes and fits to measure", (plan) => [measurePart(plan)]],
  ["Times and costs", (plan) => [costsPart(plan)]],
];

function borders(plan: PlanJson): { borderFiles: Record<string, string> } {
  const names = [...new Set(plan.programs.map((p) => p.sheet))];
  return { borderFiles: Object.fromEntries(names.map((n) => [n, `border-${fileSlug(n)}.nc`])) };
}

export function Results({
  plan,
  proving,
}: {
  readonly plan: PlanJson;
  readonly proving: boolean;
}): VNode {
  return (
    <section class="results" aria-label="What comes of it">
      {PARTS.map(([title, make]) => (
        <Result
          key={title}
          title={title}
          plan={plan}
          make={make}
          wait={proving && title.startsWith("Proof")}
        />
      ))}
    </section>
  );
}

interface ResultProps {
  readonly title: string;
  readonly plan: PlanJson;
  readonly make: (plan: PlanJson) => Html[];
  /** Not known yet. */
  readonly wait: boolean;
}

function Result({ title, plan, make, wait }: ResultProps): VNode {
  const [open, setOpen] = useState(false);
  return (
    <details class="result" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary>{title}</summary>
      {open && wait && <p>The programs are being read back.</p>}
      {open && !wait && <div dangerouslySetInnerHTML={{ __html: render(make(plan)) }} />}
    </details>
  );
}
