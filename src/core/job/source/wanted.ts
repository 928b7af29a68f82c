/**
 * What the schema wants at a path, in words, and what was found instead. Made from the JSON Schema, so
 * a message cannot say other than the schema does.
 */
import type { SchemaNode } from "../json-schema.ts";
import type { Path } from "./yaml-source.ts";

/** The nodes that may stand at `path`: several where a union leaves it open. */
export function nodesAt(root: SchemaNode, path: Path): readonly SchemaNode[] {
  let nodes: readonly SchemaNode[] = opened(root);
  for (const step of path) {
    nodes = nodes.flatMap((node) => {
      const child = childOf(node, step);
      return child === undefined ? [] : opened(child);
    });
  }
  return nodes;
}

function opened(node: SchemaNode): readonly SchemaNode[] {
  if (node.anyOf !== undefined) return node.anyOf.flatMap(opened);
  // That a blank is welcome goes without saying.
  return node.type === "null" ? [] : [node];
}

function childOf(node: SchemaNode, step: PropertyKey): SchemaNode | undefined {
  if (typeof step === "number") {
    const item = node.prefixItems?.[step] ?? node.items;
    return typeof item === "object" ? item : undefined;
  }
  const key = String(step);
  if (node.properties !== undefined && Object.hasOwn(node.properties, key)) {
    return node.properties[key];
  }
  return typeof node.additionalProperties === "object" ? node.additionalProperties : undefined;
}

export function knownKeys(nodes: readonly SchemaNode[]): readonly string[] {
  return [...new Set(nodes.flatMap((node) => Object.keys(node.properties ?? {})))];
}

export function wanted(nodes: readonly SchemaNode[]): string {
  return [...new Set(nodes.map(wantedOf))].join(" or ") || "nothing";
}

function wantedOf(node: SchemaNode): string {
  if (node.const !== undefined) return String(node.const);
  if (node.enum !== undefined) return `one of ${node.enum.join(", ")}`;
  switch (node.type) {
    case "number":
      return `a number${inUnit(node.unit)}${range(node)}`;
    case "integer":
      return `a whole number${range(node)}`;
    case "string":
      return node.maxLength === undefined ? "text" : `text of 1 to ${node.maxLength} characters`;
    case "boolean":
      return "true or false";
    case "array":
      return wantedList(node);
    default:
      return `a group of keys${keysOf(node)}`;
  }
}

function inUnit(unit: string | undefined): string {
  return unit === undefined || unit === "money" ? "" : ` in ${unit}`;
}

function range(node: SchemaNode): string {
  const { minimum, exclusiveMinimum, maximum } = node;
  if (exclusiveMinimum !== undefined) {
    return ` above ${exclusiveMinimum}${maximum === undefined ? "" : `, at most ${maximum}`}`;
  }
  if (minimum === undefined) return maximum === undefined ? "" : ` of at most ${maximum}`;
  return maximum === undefined ? ` of at least ${minimum}` : ` from ${minimum} to ${maximum}`;
}

function wantedList(node: SchemaNode): string {
  if (node.prefixItems !== undefined) {
    const units = new Set(node.prefixItems.map((item) => item.unit));
    const unit = units.size === 1 ? inUnit([...units][0]) : "";
    return `a list of ${node.prefixItems.length} numbers${unit}`;
  }
  const { minItems, maxItems } = node;
  if (minItems === undefined && maxItems === undefined) return "a list";
  return `a list of ${minItems ?? 0} to ${maxItems ?? "any number of"}`;
}

function keysOf(node: SchemaNode): string {
  const keys = node.required ?? [];
  return keys.length === 0 ? "" : ` with ${keys.join(", ")}`;
}

export function found(value: unknown): string {
  if (value === null || value === undefined) return "nothing";
  if (typeof value === "string") return value === "" ? "empty text" : `the text "${short(value)}"`;
  if (typeof value === "boolean") return String(value);
  if (typeof value === "number" || typeof value === "bigint") return `the number ${value}`;
  if (Array.isArray(value)) return `a list of ${value.length}`;
  const keys = Object.keys(value);
  return keys.length === 0 ? "an empty group" : `a group of keys (${short(keys.join(", "))})`;
}

function short(text: string): string {
  const printable = text.replace(/\s+/g, " ");
  return printable.length <= 40 ? printable : `${printable.slice(0, 37)}…`;
}

/** A way out for the usual slips, or "". */
export function slip(value: unknown, nodes: readonly SchemaNode[]): string {
  const numeric = nodes.some((node) => node.type === "number" || node.type === "integer");
  if (typeof value === "string" && numeric) {
    if (/^[+-]?\d+,\d+$/.test(value)) return "Write a decimal point, not a comma.";
    if (/^[+-]?[\d.]+\s*[A-Za-z"']+/.test(value)) return "Write the number alone, without a unit.";
  }
  if (typeof value === "number" && nodes.some((node) => node.type === "string")) {
    return "Put it in quotes if it is a name.";
  }
  if (typeof value === "string" && nodes.some((node) => node.type === "boolean")) {
    return "Write true or false, without quotes.";
  }
  if (value === null) return "Write a value after the colon, or take the key away.";
  return "";
}
