/** The project's own files as text, and what they import. Paths are from the root, with `/`. */
import { readdirSync, readFileSync } from "node:fs";
import { join, posix, sep } from "node:path";
import { fileURLToPath } from "node:url";

export const ROOT: string = fileURLToPath(new URL("../../", import.meta.url));

export interface SourceFile {
  readonly path: string;
  readonly text: string;
}

export interface Import {
  readonly from: string;
  /** As written: a package, `node:…`, or the path from the root. */
  readonly to: string;
}

export function textOf(path: string): string {
  return readFileSync(join(ROOT, path), "utf8");
}

/** Every TypeScript file under a folder, ambient declarations too; sorted. */
export function filesUnder(folder: string): SourceFile[] {
  return readdirSync(join(ROOT, folder), { recursive: true })
    .map((name) => `${folder}/${String(name).split(sep).join("/")}`)
    .filter((path) => /\.tsx?$/.test(path))
    .sort()
    .map((path) => ({ path, text: textOf(path) }));
}

/** Every folder under one, itself too, with the names of the files right in it. */
export function foldersUnder(folder: string): Map<string, string[]> {
  const folders = new Map<string, string[]>();
  const visit = (path: string) => {
    const entries = readdirSync(join(ROOT, path), { withFileTypes: true });
    folders.set(
      path,
      entries.filter((e) => e.isFile()).map((e) => e.name),
    );
    for (const entry of entries) if (entry.isDirectory()) visit(`${path}/${entry.name}`);
  };
  visit(folder);
  return folders;
}

const STATIC = /^\s*(?:import|export)\s(?:[^;"']*?\sfrom\s)?\s*["']([^"']+)["']/gm;
const DYNAMIC = /\bimport\(\s*["']([^"']+)["']\s*\)/g;

export function importsOf({ path, text }: SourceFile): Import[] {
  const code = codeOf(text);
  return [...code.matchAll(STATIC), ...code.matchAll(DYNAMIC)].map((match) => {
    const to = String(match[1]);
    if (!to.startsWith(".")) return { from: path, to };
    return { from: path, to: posix.join(posix.dirname(path), to) };
  });
}

/** Without comments. Good enough for files that are formatted alike: a comment stands alone or after a space. */
export function codeOf(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, "").replace(/(^|\s)\/\/.*$/gm, "$1");
}

/** The comment that a file begins with; empty where it has none. */
export function headOf(text: string): string {
  const body = text.replace(/^#!.*\n/, "").replace(/^\/\/\/ .*\n/gm, "");
  return /^\s*(\/\*\*[\s\S]*?\*\/|(?:\/\/.*\n)+)/.exec(body)?.[1] ?? "";
}

/** All that a file draws in, directly or not, by path; packages as they are named. */
export function reachOf(start: string, graph: ReadonlyMap<string, readonly string[]>): Set<string> {
  const reached = new Set<string>();
  const open = [start];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    for (const to of graph.get(next) ?? []) {
      if (reached.has(to)) continue;
      reached.add(to);
      open.push(to);
    }
  }
  return reached;
}
