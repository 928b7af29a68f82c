/**
 * HTML as a value: text is escaped because it is text, markup is markup because `h` made it. Nothing else
 * turns a string into markup but `raw`, which is for pictures and style sheets that weftcut wrote itself.
 */
import { escapeText } from "../layout/drawn/svg.ts";

export interface Html {
  readonly html: string;
}

export type Child = Html | string | number | undefined | false | readonly Child[];

type Attributes = Readonly<Record<string, string | number | true | undefined>>;

const VOID = new Set(["br", "input", "meta"]);

export function h(tag: string, attributes: Attributes, ...children: Child[]): Html {
  const written = Object.entries(attributes)
    .map(([name, value]) => {
      if (value === undefined) return "";
      return value === true ? ` ${name}` : ` ${name}="${escapeText(String(value))}"`;
    })
    .join("");
  if (VOID.has(tag)) return { html: `<${tag}${written}>` };
  return { html: `<${tag}${written}>${render(children)}</${tag}>` };
}

export function raw(html: string): Html {
  return { html };
}

export function render(child: Child): string {
  if (child === undefined || child === false) return "";
  if (typeof child === "string" || typeof child === "number") return escapeText(String(child));
  return "html" in child ? child.html : child.map(render).join("");
}

export interface Column {
  readonly head: string;
  /** Numbers stand right and are never broken. */
  readonly number?: boolean;
  /** May be broken anywhere: file names, places. */
  readonly long?: boolean;
}

/** A table that a narrow screen shows as cards: each cell carries its head. The first column names the row. */
export function table(
  caption: string,
  columns: readonly Column[],
  rows: readonly (readonly Child[])[],
): Html {
  const side = (column: Column | undefined): string | undefined =>
    column?.number ? "number" : column?.long ? "long" : undefined;
  return h(
    "table",
    // What has one figure a row needs no card for it.
    { class: columns.length === 2 ? "two" : undefined },
    h("caption", {}, caption),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        columns.map((c) => h("th", { scope: "col", class: side(c) }, c.head)),
      ),
    ),
    h(
      "tbody",
      {},
      rows.map((row) =>
        h(
          "tr",
          {},
          row.map((cell, i) => {
            const column = columns[i];
            return i === 0
              ? h("th", { scope: "row" }, cell)
              : h("td", { class: side(column), "data-head": column?.head }, inOne(cell));
          }),
        ),
      ),
    ),
  );
}

/** A card sets its head and what stands beside it apart, so that must be one thing. */
function inOne(cell: Child): Child {
  return Array.isArray(cell) && render(cell) !== "" ? h("span", {}, cell) : cell;
}

export function section(id: string, title: string, ...children: Child[]): Html {
  return h("section", { "aria-labelledby": id }, h("h2", { id }, title), ...children);
}

/** A place to write a number: typed on a phone, written on paper. What was typed is there again after a reload. */
export function blank(label: string): Html {
  return h("input", {
    class: "blank",
    type: "text",
    inputmode: "decimal",
    "aria-label": label,
  });
}

/** Something to tick. */
export function tick(id: string, ...text: Child[]): Html {
  return h("li", {}, h("input", { type: "checkbox", id }), h("label", { for: id }, ...text));
}

/** At most `digits` decimals, no trailing zeros. */
export function decimals(value: number, digits: number): string {
  const rounded = Number(value.toFixed(digits));
  return String(rounded === 0 ? 0 : rounded);
}

/** Rounded up, so that nobody waits longer than told. */
export function duration(seconds: number): string {
  const whole = Math.ceil(seconds - 1e-6);
  const minutes = Math.floor(whole / 60);
  if (minutes >= 60) return `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
  return minutes === 0 ? `${whole} s` : `${minutes} min ${whole % 60} s`;
}

/** Parts of a sentence with commas between them. */
export function commas(parts: readonly Child[]): Child {
  return parts.map((part, i) => [i > 0 && ", ", part]);
}

/** A program's line; the player, where there is one, goes to it. */
export function programLine(
  at: { readonly file: string; readonly line: number },
  played: boolean,
): Child {
  const text = `${at.file} line ${at.line}`;
  if (!played) return text;
  return h("a", { href: "#motion", "data-file": at.file, "data-line": at.line }, text);
}
