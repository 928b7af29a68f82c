/** All that was found, gravest first, beside the picture and tied to it: pointing at one shows the other. */
import type { VNode } from "preact";
import { useState } from "preact/hooks";
import type { Finding, Severity } from "../../core/finding/finding.ts";
import type { SheetJson } from "../../core/job/plan-json.ts";
import type { Lying } from "./lying.ts";
import { isAbout } from "./marks.ts";
import type { Pointed } from "./picture.tsx";

const WORD: Readonly<Record<Severity, string>> = { stop: "Stop", warn: "Look", note: "Note" };
/** As many of one kind are shown before somebody asks for the rest. */
const ALIKE = 5;

export interface FindingsProps {
  readonly findings: readonly Finding[];
  readonly all: readonly Lying[];
  readonly sheet: SheetJson | undefined;
  readonly pointed: Pointed;
  readonly onPoint: (pointed: Pointed) => void;
  /** Shows where it is: the sheet, the drawing, the field. */
  readonly onGo: (finding: Finding) => void;
}

export function Findings(props: FindingsProps): VNode {
  const { findings } = props;
  const [whole, setWhole] = useState(false);
  const counts = new Map<string, number>();
  const shown = findings.flatMap((finding, i) => {
    const n = (counts.get(finding.code) ?? 0) + 1;
    counts.set(finding.code, n);
    return whole || n <= ALIKE ? [{ finding, number: i + 1 }] : [];
  });
  const rest = findings.length - shown.length;
  return (
    <section aria-labelledby="found" class="found">
      <h2 id="found">Findings</h2>
      <p class="facts">{countsIn(findings)}</p>
      <ol class="findings">
        {shown.map(({ finding, number }) => (
          <OneFinding key={number} {...props} finding={finding} number={number} />
        ))}
      </ol>
      {(rest > 0 || whole) && (
        <p class="acts">
          <button type="button" onClick={() => setWhole(!whole)}>
            {whole ? "Show fewer of a kind" : `Show ${rest} more like these`}
          </button>
        </p>
      )}
    </section>
  );
}

export function countsIn(findings: readonly Finding[]): string {
  const words = { stop: "stop", warn: "to look at", note: "noted" } as const;
  const parts = (["stop", "warn", "note"] as const).flatMap((severity) => {
    const n = findings.filter((f) => f.severity === severity).length;
    return n === 0 ? [] : [`${n} ${words[severity]}${severity === "stop" && n > 1 ? "s" : ""}`];
  });
  return parts.join(", ") || "None.";
}

interface OneProps extends FindingsProps {
  readonly finding: Finding;
  readonly number: number;
}

function OneFinding({ finding, number, all, sheet, pointed, onPoint, onGo }: OneProps): VNode {
  const { plate } = pointed;
  const one =
    plate && all.find((l) => l.placement.plate === plate.plate && l.placement.copy === plate.copy);
  const lit =
    pointed.finding === finding ||
    (one !== undefined && sheet !== undefined && isAbout(finding, one, sheet));
  const where = whereOf(finding);
  return (
    <li value={number} class={`${finding.severity}${lit ? " lit" : ""}`}>
      <button
        type="button"
        onPointerEnter={() => onPoint({ finding })}
        onFocus={() => onPoint({ finding })}
        onClick={() => onGo(finding)}
      >
        <span class="number" aria-hidden="true">
          {number}
        </span>
        <strong>{WORD[finding.severity]}:</strong> {finding.message}
        {where !== "" && <span class="where"> ({where})</span>}
      </button>
      {finding.hint !== undefined && <span class="hint">{finding.hint}</span>}
    </li>
  );
}

function whereOf({ plate, sheet, drawing, program, data }: Finding): string {
  const parts: string[] = [];
  if (plate !== undefined) parts.push(plate);
  if (sheet !== undefined) parts.push(`sheet ${sheet}`);
  if (drawing !== undefined) {
    const { line = data["line"] } = drawing;
    parts.push(`${drawing.file}${line === undefined ? "" : ` line ${line}`}`);
  }
  if (program !== undefined) parts.push(`${program.file} line ${program.line}`);
  return parts.join(", ");
}
