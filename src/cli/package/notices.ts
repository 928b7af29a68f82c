/** Names, versions and licences of the libraries that went into a bundle, as their licences want them to be told. */
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

/** `modules`: paths of all modules of the bundle. */
export function noticesOf(modules: readonly string[]): string {
  const homes = new Set(modules.flatMap((path) => homeOf(path) ?? []));
  const parts = [...homes].map(noticeOf).sort((a, b) => a.localeCompare(b, "en"));
  return `Libraries in this package, with their licences.\n\n${parts.join("\n")}`;
}

/** The folder of the library that a module belongs to. */
function homeOf(path: string): string | undefined {
  return /^\0?(.*\/node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1];
}

function noticeOf(home: string): string {
  const { name, version, license } = JSON.parse(readFileSync(join(home, "package.json"), "utf8"));
  const text = licenceText(home) ?? headOfMain(home) ?? "";
  return `${"-".repeat(72)}\n${name} ${version}, ${license}\n\n${text.trim()}\n`;
}

function licenceText(home: string): string | undefined {
  const file = readdirSync(home).find((name) => /^(licen[cs]e|copying)/i.test(name));
  return file === undefined ? undefined : readFileSync(join(home, file), "utf8");
}

/** Some have their licence at the head of their code alone, and some in the words of package.json. */
function headOfMain(home: string): string | undefined {
  const { main = "index.js", author } = JSON.parse(
    readFileSync(join(home, "package.json"), "utf8"),
  );
  const file = [main, `${main}.js`].map((name) => join(home, name)).find((path) => isFile(path));
  const text = file === undefined ? "" : readFileSync(file, "utf8");
  const head = /^\/\*[\s\S]*?\*\//.exec(text)?.[0];
  if (head !== undefined && /licen[cs]e/i.test(head)) return head;
  const by = typeof author === "string" ? author : author?.name;
  return by === undefined ? undefined : `by ${by}`;
}

function isFile(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isFile() === true;
}
