/**
 * An SVG text as a tree of elements, each with the line that it began at.
 *
 * Promise: any text gives a tree; what is not well formed is told and the part before it kept. Elements and
 * depth are bounded.
 */
import { SaxesParser } from "saxes";

export interface Element {
  /** Local name, without a prefix. */
  readonly name: string;
  /** By local name; href of any namespace is `href`. */
  readonly attributes: ReadonlyMap<string, string>;
  /** Attributes with a prefix, by their whole name. */
  readonly qualified: ReadonlyMap<string, string>;
  readonly children: readonly Element[];
  readonly line: number;
  /** Character data of `style` elements. */
  readonly text: string;
}

export interface Tree {
  readonly root: Element | undefined;
  /** Line of the first thing that is not well formed. */
  readonly brokenAt: number | undefined;
  readonly comments: readonly string[];
  /** How many elements there are. */
  readonly elements: number;
}

const DEPTH_MOST = 200;
const ELEMENTS_MOST = 500_000;

interface Growing extends Element {
  readonly children: Growing[];
  readonly attributes: Map<string, string>;
  text: string;
}

export function parseTree(source: string): Tree {
  const parser = new SaxesParser({ xmlns: false, position: true });
  const stack: Growing[] = [];
  const comments: string[] = [];
  let root: Growing | undefined;
  let brokenAt: number | undefined;
  let elements = 0;
  let tooDeep = 0;
  let line = 1;
  parser.on("error", () => {
    brokenAt ??= parser.line;
  });
  parser.on("comment", (text) => {
    if (comments.length < 20) comments.push(text);
  });
  parser.on("opentagstart", () => {
    line = parser.line;
  });
  parser.on("opentag", (tag) => {
    if (stack.length >= DEPTH_MOST || ++elements > ELEMENTS_MOST) {
      tooDeep++;
      brokenAt ??= parser.line;
      return;
    }
    const element: Growing = {
      name: local(tag.name),
      attributes: attributesOf(tag.attributes),
      qualified: new Map(Object.entries(tag.attributes).filter(([name]) => name.includes(":"))),
      children: [],
      line,
      text: "",
    };
    const parent = stack[stack.length - 1];
    if (parent === undefined) root ??= element;
    else parent.children.push(element);
    stack.push(element);
  });
  parser.on("closetag", () => {
    if (tooDeep > 0) tooDeep--;
    else stack.pop();
  });
  const characters = (text: string): void => {
    const top = stack[stack.length - 1];
    if (top?.name === "style") top.text += text;
  };
  parser.on("text", characters);
  parser.on("cdata", characters);
  try {
    parser.write(source).close();
  } catch {
    // The library throws where no reading on is possible; what came before stands.
    brokenAt ??= parser.line;
  }
  return { root, brokenAt, comments, elements };
}

function local(name: string): string {
  return name.slice(name.indexOf(":") + 1);
}

function attributesOf(given: Readonly<Record<string, string>>): Map<string, string> {
  const own = new Map<string, string>();
  for (const [name, value] of Object.entries(given)) {
    const key = local(name);
    // A plain attribute outranks one of another namespace with the same local name.
    if (!own.has(key) || !name.includes(":")) own.set(key, value);
  }
  return own;
}

export function attribute(e: Element, name: string): string | undefined {
  return e.attributes.get(name);
}
