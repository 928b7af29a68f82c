/**
 * Changes of a YAML or JSON text as a form makes them: a value set or taken out, an item added or taken out.
 *
 * What is not changed stays to the letter wherever the text allows it; else the text is written anew, with its
 * comments. A text that cannot be parsed is not changed: undefined comes back.
 *
 * Promise: what comes back reads as the old text with that one change.
 */
import { type Document, isMap, isNode, isScalar, isSeq, type Node, parseDocument } from "yaml";
import { withKey } from "./edit.ts";
import type { Path } from "./yaml-source.ts";

/** `value` undefined takes the key or the item out. */
export function changed(text: string, path: Path, value: unknown): string | undefined {
  const parent = path.slice(0, -1);
  const last = path.at(-1);
  if (last === undefined) return undefined;
  if (value === undefined) return without(text, path);
  const document = parsed(text);
  if (document === undefined) return undefined;
  const holder = nodeAt(document, parent);
  if (typeof last === "number") {
    const list = isSeq(holder) ? [...(holder.toJS(document) as unknown[])] : [];
    list[last] = value;
    return changed(text, parent, list);
  }
  if (isMap(holder)) {
    return (
      withKey(text, parent, String(last), value) ?? rewritten(text, (d) => d.setIn(path, value))
    );
  }
  if (parent.length === 0) return undefined;
  return changed(text, parent, { [String(last)]: value });
}

/** Adds an item at the end of the list at `path`, which may not be there yet. */
export function withItem(text: string, path: Path, item: unknown): string | undefined {
  const document = parsed(text);
  if (document === undefined) return undefined;
  const list = nodeAt(document, path);
  if (!isSeq(list) || list.items.length === 0) return changed(text, path, [item]);
  const add = (d: Document): void => d.addIn(path, item);
  const range = (list.items.at(-1) as Node).range;
  if (list.flow === true || !range) return rewritten(text, add);
  const first = (list.items[0] as Node).range?.[0] ?? 0;
  const dash = text.lastIndexOf("-", first);
  const indent = text.slice(text.lastIndexOf("\n", dash) + 1, dash);
  const end = lineEnd(text, text.slice(0, range[1]).trimEnd().length);
  const edited = `${text.slice(0, end)}\n${indent}- ${flow(item)}${text.slice(end)}`;
  return /^\s*$/.test(indent) && same(edited, text, add) ? edited : rewritten(text, add);
}

/** Whole lines go where the thing stands on lines of its own. */
function without(text: string, path: Path): string | undefined {
  const document = parsed(text);
  if (document === undefined) return undefined;
  const remove = (d: Document): unknown => d.deleteIn(path);
  if (nodeAt(document, path) === undefined && !hasKey(document, path)) return text;
  const range = linesOf(document, text, path);
  const edited = range === undefined ? "" : text.slice(0, range[0]) + text.slice(range[1]);
  return range !== undefined && same(edited, text, remove) ? edited : rewritten(text, remove);
}

function hasKey(document: Document, path: Path): boolean {
  const holder = nodeAt(document, path.slice(0, -1));
  return (isMap(holder) || isSeq(holder)) && holder.has(path.at(-1));
}

function linesOf(document: Document, text: string, path: Path): [number, number] | undefined {
  const holder = nodeAt(document, path.slice(0, -1));
  const last = path.at(-1);
  // Of the last one only the holder would stay, which is no list and no map then.
  if (!(isMap(holder) || isSeq(holder)) || holder.flow === true || holder.items.length < 2) return;
  const pair = isMap(holder)
    ? holder.items.find((p) => isScalar(p.key) && String(p.key.value) === String(last))
    : undefined;
  const from = isSeq(holder) ? holder.items[Number(last)] : pair?.key;
  const to = isSeq(holder) ? from : (pair?.value ?? pair?.key);
  if (!isNode(from) || !isNode(to) || !from.range || !to.range) return undefined;
  const start = text.lastIndexOf("\n", from.range[0] - 1) + 1;
  if (!/^[\s-]*$/.test(text.slice(start, from.range[0]))) return undefined;
  const end = lineEnd(text, text.slice(0, to.range[1]).trimEnd().length);
  return [start, Math.min(text.length, end + 1)];
}

function lineEnd(text: string, from: number): number {
  const at = text.indexOf("\n", from);
  return at < 0 ? text.length : at;
}

function parsed(text: string): Document | undefined {
  const document = parseDocument(text, { prettyErrors: false });
  return document.errors.length > 0 ? undefined : document;
}

function nodeAt(document: Document, path: Path): unknown {
  return path.length === 0 ? document.contents : document.getIn(path, true);
}

type Change = (document: Document) => unknown;

/** JSON stays JSON. */
function rewritten(text: string, change: Change): string | undefined {
  const document = parsed(text);
  if (document === undefined) return undefined;
  change(document);
  try {
    JSON.parse(text);
    return `${JSON.stringify(document.toJS(), null, 2)}\n`;
  } catch {
    return document.toString({ lineWidth: 0 });
  }
}

function same(edited: string, old: string, change: Change): boolean {
  const after = parsed(edited);
  const before = parsed(old);
  if (after === undefined || before === undefined) return false;
  change(before);
  return JSON.stringify(after.toJS()) === JSON.stringify(before.toJS());
}

function flow(item: unknown): string {
  if (Array.isArray(item)) return `[${item.map(flow).join(", ")}]`;
  if (typeof item !== "object" || item === null) return JSON.stringify(item);
  const pairs = Object.entries(item).filter(([, v]) => v !== undefined);
  return `{ ${pairs.map(([k, v]) => `${k}: ${flow(v)}`).join(", ")} }`;
}
