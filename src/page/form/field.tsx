/** One key of the job as a field: label, unit, range, and whatever the core has to say of it. */
import type { VNode } from "preact";
import { useId, useState } from "preact/hooks";
import type { Finding } from "../../core/finding/finding.ts";
import type { SchemaNode } from "../../core/job/json-schema.ts";
import { optionsOf } from "./schema.ts";
import { defaultOf, labelOf, rangeOf, typed, unitOf } from "./words.ts";

export interface FieldProps {
  readonly name: string;
  /** Instead of the key in words. */
  readonly label?: string;
  readonly node: SchemaNode;
  readonly value: unknown;
  readonly findings: readonly Finding[];
  /** Names its place in the job, for who looks for it. */
  readonly spot?: string;
  /** Names to choose from, where the schema knows none. */
  readonly options?: readonly string[];
  /** undefined takes the key out. */
  readonly onValue: (value: unknown) => void;
}

export function Field(props: FieldProps): VNode {
  const { node, findings, name } = props;
  const id = useId();
  const about = aboutOf(node);
  const worst = findings.some((f) => f.severity === "stop");
  const shared = {
    id,
    "aria-invalid": worst,
    "aria-describedby": `${id}-about${findings.length > 0 ? ` ${id}-said` : ""}`,
  };
  const label = props.label ?? labelOf(name);
  const flag = node.type === "boolean";
  return (
    <div
      class={`field${flag ? " flag" : ""}${(node.prefixItems?.length ?? 0) > 2 ? " wide" : ""}`}
      data-spot={props.spot}
    >
      <label for={node.prefixItems === undefined ? id : `${id}-0`}>{label}</label>
      <span class="entry">
        <Entry {...props} shared={shared} label={label} />
        <span class="unit">{unitOf(node)}</span>
      </span>
      <span class="about" id={`${id}-about`}>
        {about}
      </span>
      <Said id={`${id}-said`} findings={findings} />
    </div>
  );
}

function aboutOf(node: SchemaNode): string {
  const range = rangeOf(node);
  const { description = "" } = node;
  return [description, range === "" ? "" : `${range} ${unitOf(node)}`.trim()]
    .filter((part) => part !== "")
    .join(" ");
}

/** The very sentences of the command line. */
export function Said({
  id,
  findings,
}: {
  readonly id?: string;
  readonly findings: readonly Finding[];
}): VNode | null {
  if (findings.length === 0) return null;
  return (
    <span class="said" {...(id === undefined ? {} : { id })}>
      {findings.map((f, i) => (
        <span key={i} class={`line ${f.severity}`}>
          {f.message}
          {f.hint === undefined ? "" : ` ${f.hint}`}
        </span>
      ))}
    </span>
  );
}

interface EntryProps extends FieldProps {
  readonly shared: {
    readonly id: string;
    readonly "aria-invalid": boolean;
    readonly "aria-describedby": string;
  };
  readonly label: string;
}

function Entry({ node, value, options, onValue, shared, label }: EntryProps): VNode {
  const choices = options ?? optionsOf(node);
  const standing = defaultOf(node);
  if (node.type === "boolean") {
    const on = value === undefined ? standing === "true" : value === true;
    const set = (checked: boolean) => onValue(String(checked) === standing ? undefined : checked);
    return (
      <input
        {...shared}
        type="checkbox"
        checked={on}
        onChange={(e) => set(e.currentTarget.checked)}
      />
    );
  }
  if (choices.length > 0) {
    const shown = value === undefined ? standing : String(value);
    const all = choices.includes(shown) ? choices : [shown, ...choices];
    return (
      <select
        {...shared}
        value={shown}
        onChange={(e) => onValue(e.currentTarget.value || undefined)}
      >
        {all.map((choice) => (
          <option key={choice} value={choice}>
            {choice === "" ? "not said" : choice}
          </option>
        ))}
      </select>
    );
  }
  if (node.type === "array" && node.prefixItems === undefined) {
    return <Lines {...{ value, onValue, shared }} />;
  }
  if (node.prefixItems !== undefined) {
    return <Several {...{ node, value, onValue, shared, label }} />;
  }
  const text = node.type === "string";
  return (
    <Typing
      {...shared}
      text={value === undefined || value === null ? "" : String(value)}
      placeholder={standing}
      numeric={!text}
      onText={(t) => onValue(text ? t || undefined : typed(t))}
    />
  );
}

/** A list of texts, one on a line. */
function Lines({
  value,
  onValue,
  shared,
}: Pick<EntryProps, "value" | "onValue" | "shared">): VNode {
  const [draft, setDraft] = useState<string | undefined>(undefined);
  const text = Array.isArray(value) ? value.map(String).join("\n") : "";
  return (
    <textarea
      {...shared}
      rows={2}
      spellcheck={false}
      value={draft ?? text}
      onInput={(e) => {
        const typing = e.currentTarget.value;
        setDraft(typing);
        const lines = typing.split("\n").filter((line) => line.trim() !== "");
        onValue(lines.length === 0 ? undefined : lines);
      }}
      onBlur={() => setDraft(undefined)}
    />
  );
}

type SeveralProps = Pick<EntryProps, "node" | "value" | "onValue" | "shared" | "label">;

/** A pair or a triple of numbers. */
function Several({ node, value, onValue, shared, label }: SeveralProps): VNode {
  const list = Array.isArray(value) ? value : [];
  const items = node.prefixItems ?? [];
  const { id, ...rest } = shared;
  return (
    <>
      {items.map((_, i) => (
        <Typing
          key={i}
          {...rest}
          id={`${id}-${i}`}
          {...(i === 0 ? {} : { label: `${label}, ${"XYZ"[i]}` })}
          text={list[i] === undefined ? "" : String(list[i])}
          numeric
          onText={(t) => {
            const next = items.map((__, k) => (k === i ? typed(t) : list[k]));
            onValue(next.every((v) => v === undefined) ? undefined : next.map((v) => v ?? 0));
          }}
        />
      ))}
    </>
  );
}

interface TypingProps {
  readonly id: string;
  readonly text: string;
  readonly label?: string;
  readonly placeholder?: string;
  readonly numeric?: boolean;
  readonly onText: (text: string) => void;
  readonly "aria-invalid"?: boolean;
  readonly "aria-describedby"?: string;
}

/** While somebody types, what is typed stays as it is: `2.` is on its way to 2.05. */
export function Typing({ text, label, numeric, onText, ...rest }: TypingProps): VNode {
  const [draft, setDraft] = useState<string | undefined>(undefined);
  return (
    <input
      {...rest}
      type="text"
      autocomplete="off"
      {...(numeric === true ? { inputMode: "decimal" as const, class: "amount" } : {})}
      {...(label === undefined ? {} : { "aria-label": label })}
      value={draft ?? text}
      onInput={(e) => {
        setDraft(e.currentTarget.value);
        onText(e.currentTarget.value);
      }}
      onBlur={() => setDraft(undefined)}
    />
  );
}
