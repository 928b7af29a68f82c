/**
 * Files are written whole or not at all.
 *
 * A new folder is filled under another name beside its place, then renamed. An existing one is changed
 * with renames, from a stage inside it that is filled first: weftcut's own earlier files go out, the new ones come in,
 * and if any of it fails all is put back. Files that are not weftcut's are never touched.
 *
 * Words: own files are plan.json and the files that it names.
 */
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import type { Finding } from "../core/finding/finding.ts";
import { fileSlug } from "../core/job/job.ts";
import { reason } from "./read-file.ts";
import { say } from "./say.ts";

export type Files = ReadonlyMap<string, string | Uint8Array>;

/** Programs that failed their proof go here inside the folder, never beside proven ones. */
export const UNPROVEN = "unproven";

/** What stands against writing into `dir`, before any work is done for it. */
export function outFinding(dir: string, force: boolean): Finding | undefined {
  let entries: string[];
  try {
    if (!statSync(dir).isDirectory()) return say("out-is-file", { dir });
    entries = readdirSync(dir).filter((name) => name !== UNPROVEN);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT") return undefined;
    return say("out-unwritable", { dir, why: reason(error) });
  }
  if (force || entries.length === 0 || ownFiles(dir) !== undefined) return undefined;
  const holds = entries.slice(0, 3).join(", ") + (entries.length > 3 ? ", …" : "");
  return say("out-not-ours", { dir, holds });
}

/** Writes `files` as weftcut's whole content of `dir`; a finding where that failed and nothing changed. */
export function writeFolder(dir: string, files: Files): Finding | undefined {
  let stage: string | undefined;
  try {
    const target = existsSync(dir) ? realpathSync(dir) : resolve(dir);
    // Within an existing folder, since it may be a mount: renames do not cross from one disk to another.
    const place = existsSync(target) ? target : dirname(target);
    mkdirSync(place, { recursive: true });
    stage = mkdtempSync(join(place, ".weftcut-"));
    const fresh = join(stage, "new");
    mkdirSync(fresh);
    for (const [name, content] of files) {
      if (basename(name) !== name) throw new Error(`"${name}" is no plain file name`);
      writeFileSync(join(fresh, name), content, { flush: true });
    }
    if (existsSync(target)) swapIn(target, stage, [...files.keys()]);
    else renameSync(fresh, target);
    return undefined;
  } catch (error) {
    return say("out-unwritable", { dir, why: reason(error) });
  } finally {
    if (stage !== undefined) rmSync(stage, { recursive: true, force: true });
  }
}

/** plan.json leaves first and comes last: a folder without one is no plan, should the power fail between. */
function swapIn(target: string, stage: string, names: readonly string[]): void {
  const fresh = join(stage, "new");
  const old = join(stage, "old");
  mkdirSync(old);
  const own = ownFiles(target) ?? [];
  const leaving = [...new Set([...own, ...names])].sort(planFirst);
  const entering = [...names].sort(planFirst).reverse();
  const undo: [string, string][] = [];
  const move = (from: string, to: string) => {
    renameSync(from, to);
    undo.push([to, from]);
  };
  try {
    for (const name of leaving) {
      if (!existsSync(join(target, name))) continue;
      if (!isFile(join(target, name))) throw new Error(`"${name}" is a folder there`);
      move(join(target, name), join(old, name));
    }
    for (const name of entering) move(join(fresh, name), join(target, name));
  } catch (error) {
    for (const [now, before] of undo.reverse()) renameSync(now, before);
    throw error;
  }
}

function planFirst(a: string, b: string): number {
  return Number(b === "plan.json") - Number(a === "plan.json");
}

/** Undefined where `dir` holds no plan of weftcut's. */
function ownFiles(dir: string): readonly string[] | undefined {
  let plan: unknown;
  try {
    plan = JSON.parse(readFileSync(join(dir, "plan.json"), "utf8"));
  } catch {
    return undefined;
  }
  if (typeof plan !== "object" || plan === null || !("weftcut" in plan)) return undefined;
  const programs = listOf(plan, "programs").map((program) => Object(program).file);
  const ofSheets = listOf(plan, "sheets").flatMap((sheet) => {
    const slug = fileSlug(String(Object(sheet).name));
    const offcuts = listOf(Object(sheet), "offcuts").map((offcut) => Object(offcut).file);
    return [`layout-${slug}.svg`, `layout-${slug}.dxf`, `border-${slug}.nc`, ...offcuts];
  });
  const names = ["plan.json", "job-sheet.html", ...programs, ...ofSheets];
  return [...new Set(names)].filter(
    (name): name is string =>
      typeof name === "string" && basename(name) === name && isFile(join(dir, name)),
  );
}

function listOf(value: object, key: string): readonly unknown[] {
  const list = (value as Record<string, unknown>)[key];
  return Array.isArray(list) ? list : [];
}

function isFile(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isFile() ?? false;
}

/** One file, whole or not at all. */
export function writeWhole(
  file: string,
  content: string | Uint8Array,
  force: boolean,
): Finding | undefined {
  if (!force && existsSync(file)) return say("file-in-the-way", { file });
  let stage: string | undefined;
  try {
    stage = mkdtempSync(join(dirname(resolve(file)), ".weftcut-"));
    const fresh = join(stage, basename(file));
    writeFileSync(fresh, content, { flush: true });
    renameSync(fresh, file);
    return undefined;
  } catch (error) {
    return say("file-unwritable", { file, why: reason(error) });
  } finally {
    if (stage !== undefined) rmSync(stage, { recursive: true, force: true });
  }
}
