/** Sheets, plates and cutters: lists of things with a name, each of which can be added and taken out. */
import type { ComponentChildren, VNode } from "preact";
import type { Finding } from "../../core/finding/finding.ts";
import { withItem } from "../../core/job/source/change.ts";
import { TO_SET } from "../../core/job/source/start-job.ts";
import { findingsOf, listAt, type Spot, spotKey, withValue } from "../state/job-view.ts";
import { Said } from "./field.tsx";
import type { Desk } from "./group.tsx";

export interface Thing {
  readonly index: number;
  readonly name: string;
  readonly base: Spot;
  readonly value: Readonly<Record<string, unknown>>;
}

export function thingsAt({ view }: Desk, list: string): Thing[] {
  return listAt(view, [list]).map((item, index) => {
    const value = Object(item) as Record<string, unknown>;
    const { name } = value;
    return {
      index,
      name: typeof name === "string" ? name : `number ${index + 1}`,
      base: { file: view.file, path: [list, index] },
      value,
    };
  });
}

export function namesAt(desk: Desk, list: string): string[] {
  return thingsAt(desk, list).map((thing) => thing.name);
}

export interface ThingsProps {
  readonly desk: Desk;
  readonly list: string;
  readonly one: string;
  /** A few words beside its name. */
  readonly facts: (thing: Thing) => string;
  readonly add?: { readonly label: string; readonly item: () => Readonly<Record<string, unknown>> };
  readonly children: (thing: Thing) => ComponentChildren;
}

export function Things({ desk, list, one, facts, add, children }: ThingsProps): VNode {
  const things = thingsAt(desk, list);
  const { store, view } = desk;
  const remove = (thing: Thing) => {
    const work = withValue(view.work, thing.base, undefined);
    if (work !== undefined) store.change(work);
    store.notice(`${one} ${thing.name} is taken out; undo brings it back.`);
  };
  const more = () => {
    const { job } = view.work;
    const text = add && job && withItem(job.text, [list], add.item());
    if (job && text) store.change({ ...view.work, job: { ...job, text } });
  };
  return (
    <>
      {things.map((thing) => {
        const said = findingsOf(desk.said, thing.base);
        return (
          <details
            class="thing"
            key={`${list}-${thing.index}`}
            data-spot={spotKey(thing.base)}
            open={things.length === 1}
          >
            <summary>
              <strong>{thing.name}</strong> <span class="facts">{facts(thing)}</span>
              <Counts findings={said} />
            </summary>
            <Said findings={asWhole(desk, thing)} />
            {children(thing)}
            {things.length > 1 && (
              <p class="acts">
                <button type="button" onClick={() => remove(thing)}>
                  Take {thing.name} out
                </button>
              </p>
            )}
          </details>
        );
      })}
      {add !== undefined && (
        <p class="acts">
          <button type="button" onClick={more}>
            {add.label}
          </button>
        </p>
      )}
    </>
  );
}

/** Notes stand among the findings; here they would push the fields away. */
function asWhole(desk: Desk, { base }: Thing): readonly Finding[] {
  return (desk.said.get(spotKey(base)) ?? []).filter((f) => f.severity !== "note");
}

export function Counts({ findings }: { readonly findings: readonly Finding[] }): VNode | null {
  const stops = findings.filter((f) => f.severity === "stop").length;
  const looks = findings.filter((f) => f.severity === "warn").length;
  if (stops > 0) return <span class="count stop"> stop: {stops}</span>;
  return looks > 0 ? <span class="count warn"> look: {looks}</span> : null;
}

/** What a started job does not know yet, until somebody says that it is set. */
export function ToSet({
  desk,
  list,
}: {
  readonly desk: Desk;
  readonly list: string;
}): VNode | null {
  const { store, view } = desk;
  const { job } = view.work;
  const spot = job === undefined ? undefined : toSetIn(job.text, list);
  if (job === undefined || spot === undefined) return null;
  const text = job.text.slice(0, spot[0]) + job.text.slice(spot[1]);
  return (
    <p class="toset">
      These are figures to begin with, not those of yours.{" "}
      <button type="button" onClick={() => store.change({ ...view.work, job: { ...job, text } })}>
        They are mine now
      </button>
    </p>
  );
}

/** The line that says so, under the key of the list. */
function toSetIn(text: string, list: string): [number, number] | undefined {
  const key = new RegExp(`^${list}:[^\\n]*\\n`, "m").exec(text);
  if (key === null) return undefined;
  const from = key.index + key[0].length;
  const next = /^\S/m.exec(text.slice(from))?.index ?? text.length;
  const at = text.slice(from, from + next).indexOf(TO_SET);
  if (at < 0) return undefined;
  const start = text.lastIndexOf("\n", from + at) + 1;
  const end = text.indexOf("\n", from + at);
  return [start, end < 0 ? text.length : end + 1];
}
