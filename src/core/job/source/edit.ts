/**
 * One key of a YAML or JSON text set to a value, all else left to the letter: comments, order, blanks.
 *
 * Promise: what comes back reads as before but for that key; where that cannot be had, undefined comes back.
 */
import { isMap, isNode, isScalar, type Pair, parseDocument, type YAMLMap } from "yaml";
import type { Path } from "./yaml-source.ts";

export function withKey(text: string, path: Path, key: string, value: unknown): string | undefined {
  const document = parseDocument(text, { prettyErrors: false });
  if (document.errors.length > 0) return undefined;
  const node = path.length === 0 ? document.contents : document.getIn(path, true);
  if (!isMap(node)) return undefined;
  const json = isJson(text);
  const pair = node.items.find((p) => isScalar(p.key) && String(p.key.value) === key);
  const written = flowText(value, json);
  const edited =
    pair === undefined
      ? withNewPair(text, node, `${json ? JSON.stringify(key) : key}: ${written}`)
      : withNewValue(text, pair, written);
  return edited !== undefined && reads(edited, text, [...path, key], value) ? edited : undefined;
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

/** On one line; texts in quotes, so that nothing in them is taken for a number or a date. */
function flowText(value: unknown, json: boolean): string {
  if (Array.isArray(value)) return `[${value.map((v) => flowText(v, json)).join(", ")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const pairs = Object.entries(value)
    .filter(([, v]) => v !== undefined)
    .map(([k, v]) => `${json ? JSON.stringify(k) : k}: ${flowText(v, json)}`);
  return `{ ${pairs.join(", ")} }`;
}

function withNewValue(text: string, pair: Pair, written: string): string | undefined {
  const range = isNode(pair.value) ? pair.value.range : undefined;
  if (range === undefined || range === null) return undefined;
  const [from, to] = range;
  // An empty value has no length and needs a blank before it; a block's end takes its line break along.
  const lead = from === to && !/\s/.test(text[from - 1] ?? " ") ? " " : "";
  const end = from + text.slice(from, to).trimEnd().length;
  return `${text.slice(0, from)}${lead}${written}${text.slice(end)}`;
}

function withNewPair(text: string, map: YAMLMap, written: string): string | undefined {
  const range = map.range;
  if (range === undefined || range === null) return undefined;
  if (map.flow === true) {
    const close = text.lastIndexOf("}", range[1] - 1);
    const before = text.slice(0, close).trimEnd();
    const comma = /[,{]$/.test(before) ? "" : ",";
    return `${before}${comma} ${written}${text.slice(before.length, close) || " "}${text.slice(close)}`;
  }
  const first = map.items[0]?.key;
  const start = isNode(first) ? first.range?.[0] : undefined;
  if (start === undefined) return undefined;
  const column = start - (text.lastIndexOf("\n", start - 1) + 1);
  const end = text.slice(0, range[1]).trimEnd().length;
  const lineEnd = text.indexOf("\n", end);
  const at = lineEnd < 0 ? text.length : lineEnd;
  return `${text.slice(0, at)}\n${" ".repeat(column)}${written}${text.slice(at)}`;
}

/** The edited text holds the value, and everything else that the old one held. */
function reads(edited: string, old: string, path: Path, value: unknown): boolean {
  const after = parseDocument(edited, { prettyErrors: false });
  const before = parseDocument(old, { prettyErrors: false });
  if (after.errors.length > 0) return false;
  before.setIn(path, value);
  return JSON.stringify(sorted(after.toJS())) === JSON.stringify(sorted(before.toJS()));
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, v]) => v !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([k, v]) => [k, sorted(v)]),
  );
}
