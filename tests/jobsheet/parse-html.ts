/**
 * A strict reader of the HTML and SVG that weftcut writes: every tag is closed in order, every attribute is
 * quoted or bare, every `&` begins an entity. Throws where the text is anything else, so that markup that
 * came out of a name cannot hide.
 */
export interface Element {
  readonly tag: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly (Element | string)[];
}

const VOID = new Set(["br", "input", "meta"]);
/** What is in them is no markup. */
const RAW = new Set(["script", "style"]);
const ENTITIES: Readonly<Record<string, string>> = {
  "&amp;": "&",
  "&lt;": "<",
  "&gt;": ">",
  "&quot;": '"',
  "&#39;": "'",
};

interface Open {
  readonly tag: string;
  readonly attributes: Map<string, string>;
  readonly children: (Element | string)[];
}

export function parseHtml(text: string): Element {
  const root: Open = { tag: "#root", attributes: new Map(), children: [] };
  const stack: Open[] = [root];
  let at = 0;
  while (at < text.length) {
    const top = stack[stack.length - 1] as Open;
    const asIs = RAW.has(top.tag);
    const end = asIs ? endOfRaw(text, at, top.tag) : nextTag(text, at);
    if (end > at) {
      top.children.push(decoded(text.slice(at, end), asIs));
      at = end;
      continue;
    }
    const tag = /^<(\/?)([a-zA-Z][a-zA-Z0-9]*)((?:\s+[a-zA-Z:-]+(?:="[^"<>]*")?)*)\s*(\/?)>/.exec(
      text.slice(at, at + 20000),
    );
    const doctype = /^<!doctype html>/.exec(text.slice(at, at + 20));
    if (doctype !== null) {
      at += doctype[0].length;
      continue;
    }
    if (tag === null) throw new Error(`no tag at ${text.slice(at, at + 60)}`);
    at += tag[0].length;
    if (tag[1] === "/") close(stack, tag[2] as string);
    else open(stack, tag[2] as string, tag[3] as string, tag[4] === "/");
  }
  if (stack.length !== 1) throw new Error(`${stack[stack.length - 1]?.tag} is left open`);
  return root;
}

/** As browsers do it: whatever stands there, it ends at the first end tag of its name; `<!--` would change that. */
function endOfRaw(text: string, at: number, tag: string): number {
  const end = text.slice(at).search(new RegExp(`</${tag}|<!--|<${tag}`, "i"));
  if (end < 0) throw new Error(`${tag} has no end`);
  return at + end;
}

function nextTag(text: string, at: number): number {
  const end = text.indexOf("<", at);
  return end < 0 ? text.length : end;
}

function open(stack: Open[], tag: string, written: string, selfClosed: boolean): void {
  const attributes = new Map<string, string>();
  for (const m of written.matchAll(/([a-zA-Z:-]+)(?:="([^"]*)")?/g)) {
    if (attributes.has(m[1] as string)) throw new Error(`${m[1]} twice on ${tag}`);
    attributes.set(m[1] as string, decoded(m[2] ?? "", false));
  }
  const element = { tag, attributes, children: [] };
  (stack[stack.length - 1] as Open).children.push(element);
  if (!selfClosed && !VOID.has(tag)) stack.push(element);
}

function close(stack: Open[], tag: string): void {
  const top = stack.pop();
  if (top?.tag !== tag) throw new Error(`</${tag}> closes ${top?.tag}`);
}

function decoded(text: string, asIs: boolean): string {
  if (asIs) return text;
  return text.replace(/&[^;\s]*;?/g, (entity) => {
    const meant = ENTITIES[entity];
    if (meant === undefined) throw new Error(`entity ${entity}`);
    return meant;
  });
}

export function all(root: Element, tag?: string): Element[] {
  const found: Element[] = [];
  for (const child of root.children) {
    if (typeof child === "string") continue;
    if (tag === undefined || child.tag === tag) found.push(child);
    found.push(...all(child, tag));
  }
  return found;
}

export function textOf(node: Element | string): string {
  return typeof node === "string" ? node : node.children.map(textOf).join("");
}
