/**
 * What of CSS decides whether a thing is drawn: display, visibility, fill and stroke, and the transform
 * property; from presentation attributes, style sheets and style attributes, in this order of weight.
 *
 * Style sheets are read for the selectors that drawings hold: `*`, element, `.class`, `#id`, their compounds
 * and lists. Others, and at-rules, do not apply.
 */
import type { Element } from "./tree.ts";

export interface Rule {
  readonly element: string | undefined;
  readonly id: string | undefined;
  readonly classes: readonly string[];
  readonly weight: number;
  readonly declarations: ReadonlyMap<string, string>;
}

const SELECTOR = /^(\*|[\w-]+)?((?:[.#][\w-]+)*)$/;
const RULES_MOST = 5000;

export function parseSheet(css: string): Rule[] {
  const rules: Rule[] = [];
  const bare = css.replace(/\/\*[\s\S]*?(?:\*\/|$)/g, " ");
  for (const block of bare.split("}")) {
    const open = block.lastIndexOf("{");
    if (open < 0 || rules.length > RULES_MOST) continue;
    const declarations = parseDeclarations(block.slice(open + 1));
    for (const selector of block.slice(block.lastIndexOf("{", open - 1) + 1, open).split(",")) {
      const rule = ruleOf(selector.trim(), declarations);
      if (rule !== undefined) rules.push(rule);
    }
  }
  return rules.sort((a, b) => a.weight - b.weight);
}

function ruleOf(selector: string, declarations: ReadonlyMap<string, string>): Rule | undefined {
  const m = SELECTOR.exec(selector);
  if (m === null || selector === "") return undefined;
  const parts = (m[2] ?? "").match(/[.#][\w-]+/g) ?? [];
  const classes = parts.filter((p) => p.startsWith(".")).map((p) => p.slice(1));
  const id = parts.find((p) => p.startsWith("#"))?.slice(1);
  const element = m[1] === undefined || m[1] === "*" ? undefined : m[1].toLowerCase();
  const weight =
    (id === undefined ? 0 : 100) + 10 * classes.length + (element === undefined ? 0 : 1);
  return { element, id, classes, weight, declarations };
}

export function parseDeclarations(text: string): Map<string, string> {
  const found = new Map<string, string>();
  for (const part of text.split(";")) {
    const colon = part.indexOf(":");
    if (colon < 0) continue;
    const value = part.slice(colon + 1).replace(/!\s*important\s*$/i, "");
    found.set(part.slice(0, colon).trim().toLowerCase(), value.trim());
  }
  return found;
}

/** The value of a property on an element itself; inheritance is the caller's. */
export type StyleOf = (property: string) => string | undefined;

export function styleOf(e: Element, rules: readonly Rule[]): StyleOf {
  const own = parseDeclarations(e.attributes.get("style") ?? "");
  const classes = (e.attributes.get("class") ?? "").split(/\s+/);
  const id = e.attributes.get("id");
  const matching = rules.filter(
    (r) =>
      (r.element === undefined || r.element === e.name.toLowerCase()) &&
      (r.id === undefined || r.id === id) &&
      r.classes.every((c) => classes.includes(c)),
  );
  return (property) => {
    const inline = own.get(property);
    if (inline !== undefined) return inline;
    for (let i = matching.length - 1; i >= 0; i--) {
      const value = matching[i]?.declarations.get(property);
      if (value !== undefined) return value;
    }
    return e.attributes.get(property)?.trim();
  };
}
