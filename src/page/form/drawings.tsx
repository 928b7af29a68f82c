/** Drawings as they were understood: size and features at once, and what they leave open to be answered. */
import type { VNode } from "preact";
import type { Finding } from "../../core/finding/finding.ts";
import { baseOf, forDrawing, questionsOf } from "../state/answers.ts";
import { listAt } from "../state/job-view.ts";
import { withoutDrawing } from "../state/take-in.ts";
import type { Inspected, LayerSeen } from "../worker/protocol.ts";
import { Said } from "./field.tsx";
import type { Desk } from "./group.tsx";
import { Counts } from "./things.tsx";

export interface DrawingsProps {
  readonly desk: Desk;
  readonly drawings: readonly Inspected[];
  readonly onShow: (file: string) => void;
}

export function Drawings({ desk, drawings, onShow }: DrawingsProps): VNode {
  return (
    <>
      {drawings.map((seen) => (
        <OneDrawing key={seen.file} desk={desk} seen={seen} onShow={onShow} />
      ))}
    </>
  );
}

function OneDrawing({
  desk,
  seen,
  onShow,
}: {
  readonly desk: Desk;
  readonly seen: Inspected;
  readonly onShow: (file: string) => void;
}): VNode {
  const { store, view } = desk;
  const questions = questionsOf(view, seen);
  const asked = new Set(questions.flatMap((q) => q.findings));
  const rest = seen.findings.filter((f) => !asked.has(f));
  return (
    <details class="thing drawing" data-file={seen.file} open={questions.length > 0}>
      <summary>
        <strong>{seen.file}</strong> <span class="facts">{sizeOf(seen)}</span>
        <Counts findings={seen.findings} />
      </summary>
      <p class="facts">{seen.units}.</p>
      {questions.map(({ findings, answers }, i) => (
        <fieldset class="question" key={i}>
          <legend class="hidden">Question about {seen.file}</legend>
          <Said findings={findings.slice(0, 3)} />
          <p class="acts">
            {answers.map((answer) => (
              <button type="button" key={answer.label} onClick={() => store.change(answer.work)}>
                {answer.label}
              </button>
            ))}
          </p>
        </fieldset>
      ))}
      <ul class="plain">
        {seen.plates.map((p) => (
          <li key={p.name}>
            <strong>{p.name}</strong>: {size(p.width, p.height)}, {p.area.toFixed(0)} mm²
            {p.counts.map(({ kind, count }) => `, ${count} ${manyOf(kind, count)}`).join("")}
          </li>
        ))}
      </ul>
      <Layers desk={desk} seen={seen} />
      <Rest findings={rest} />
      <p class="acts">
        <button type="button" onClick={() => onShow(seen.file)}>
          Show {seen.file}
        </button>
        <button type="button" onClick={() => store.change(withoutDrawing(view.work, seen.file))}>
          Take {seen.file} out
        </button>
      </p>
    </details>
  );
}

/** Notes are for who asks. */
function Rest({ findings }: { readonly findings: readonly Finding[] }): VNode | null {
  const loud = findings.filter((f) => f.severity !== "note");
  const notes = findings.filter((f) => f.severity === "note");
  if (findings.length === 0) return null;
  return (
    <>
      <Said findings={loud.slice(0, 12)} />
      {notes.length > 0 && (
        <details class="more">
          <summary>Mended and noted: {notes.length}</summary>
          <Said findings={notes} />
        </details>
      )}
    </>
  );
}

function sizeOf(seen: Inspected): string {
  const [only] = seen.plates;
  if (only === undefined) return "nothing to cut";
  return size(seen.width, seen.height);
}

function size(width: number, height: number): string {
  return `${Number(width.toFixed(2))} × ${Number(height.toFixed(2))} mm`;
}

function manyOf(kind: string, count: number): string {
  if (count === 1) return kind;
  return kind === "recess" ? "recesses" : `${kind}s`;
}

const ROLES = ["cut", "left out"] as const;

/** What each layer is for, where there are several. */
function Layers({ desk, seen }: { readonly desk: Desk; readonly seen: Inspected }): VNode | null {
  const named = seen.layers.filter((layer) => layer.name !== "");
  if (named.length < 2) return null;
  const set = (layer: LayerSeen, role: string) => {
    const { cut, ignore } = lists(desk, seen.file);
    const others = named.filter((l) => l.name !== layer.name).filter((l) => l.drawn > 0);
    const hidden = role === "cut" && (cut !== undefined || layer.leftOut !== undefined);
    const work =
      role === "cut"
        ? forDrawing(desk.view, seen.file, "layers", (old) => ({
            ...Object(old),
            ...(hidden && !ignore.includes(layer.name)
              ? { cut: [...new Set([...(cut ?? others.map((l) => l.name)), layer.name])] }
              : {}),
            ignore: ignore.filter((name) => name !== layer.name),
          }))
        : forDrawing(desk.view, seen.file, "layers", (old) => ({
            ...Object(old),
            ...(cut === undefined ? {} : { cut: cut.filter((name) => name !== layer.name) }),
            ignore: cut === undefined ? [...ignore, layer.name] : ignore,
          }));
    if (work !== undefined) desk.store.change(work);
  };
  return (
    <fieldset class="layers">
      <legend>Layers</legend>
      {named.map((layer) => (
        <label key={layer.name}>
          <select
            value={layer.drawn > 0 ? "cut" : "left out"}
            onChange={(e) => set(layer, e.currentTarget.value)}
          >
            {ROLES.map((role) => (
              <option key={role}>{role}</option>
            ))}
          </select>{" "}
          <span class="name">{layer.name}</span>
          {layer.leftOut === undefined ? "" : ` (${layer.leftOut})`}
        </label>
      ))}
    </fieldset>
  );
}

function lists(desk: Desk, file: string): { cut: string[] | undefined; ignore: string[] } {
  const plate = listAt(desk.view, ["plates"]).find(
    (p) => baseOf(String(Object(p).drawing)) === baseOf(file),
  );
  const { cut, ignore } = Object(Object(plate).layers);
  return {
    cut: Array.isArray(cut) ? cut.map(String) : undefined,
    ignore: Array.isArray(ignore) ? ignore.map(String) : [],
  };
}
