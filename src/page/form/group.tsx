/** Fields of one thing in the job, by keys; those that few need stand under "more". */
import type { VNode } from "preact";
import { pathText } from "../../core/job/source/issues.ts";
import type { Path } from "../../core/job/source/yaml-source.ts";
import {
  type Belongings,
  findingsOf,
  type JobView,
  type Spot,
  spotKey,
  valueHere,
  withValue,
} from "../state/job-view.ts";
import type { Store } from "../state/store.ts";
import { Field } from "./field.tsx";
import { nodeFor } from "./schema.ts";

/** What every part of the form needs. */
export interface Desk {
  readonly store: Store;
  readonly view: JobView;
  readonly said: Belongings;
}

/** `keys` of the schema's node lead to the spot: `["sheets", "margin"]` for every sheet's margin. */
export interface FieldAt {
  readonly keys: readonly string[];
  readonly spot: Spot;
  readonly label?: string | undefined;
  readonly options?: readonly string[] | undefined;
}

export function setValue({ store, view }: Desk, spot: Spot, value: unknown): void {
  const work = withValue(view.work, spot, value);
  const of = `${spot.file}\n${pathText(spot.path)}`;
  if (work !== undefined) store.change(work, of);
  else store.notice("This cannot be written into the job's text: mend the text first.");
}

export function KeyField({ desk, at }: { readonly desk: Desk; readonly at: FieldAt }): VNode {
  const { spot, keys, label, options } = at;
  return (
    <Field
      name={String(keys.at(-1))}
      node={nodeFor(...keys)}
      value={valueHere(desk.view, spot)}
      findings={findingsOf(desk.said, spot)}
      spot={spotKey(spot)}
      {...(label === undefined ? {} : { label })}
      {...(options === undefined ? {} : { options })}
      onValue={(value) => setValue(desk, spot, value)}
    />
  );
}

export interface GroupProps {
  readonly desk: Desk;
  /** Of the schema. */
  readonly of: readonly string[];
  readonly base: Spot;
  /** Keys right in it, or further down with a dot. */
  readonly keys: readonly string[];
  readonly more?: readonly string[];
  readonly options?: Readonly<Record<string, readonly string[]>>;
  readonly labels?: Readonly<Record<string, string>>;
}

export function Group({
  desk,
  of,
  base,
  keys,
  more = [],
  options = {},
  labels = {},
}: GroupProps): VNode {
  const field = (key: string) => {
    const steps = key.split(".");
    const path: Path = [...base.path, ...steps];
    const at = {
      keys: [...of, ...steps],
      spot: { file: base.file, path },
      options: options[key],
      label: labels[key],
    };
    return <KeyField key={key} desk={desk} at={at} />;
  };
  return (
    <>
      <div class="fields">{keys.map(field)}</div>
      {more.length > 0 && (
        <details class="more">
          <summary>More</summary>
          <div class="fields">{more.map(field)}</div>
        </details>
      )}
    </>
  );
}
