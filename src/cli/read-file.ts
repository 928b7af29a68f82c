/** Reading the user's files. What cannot be read is a finding, never an exception. */
import { readFileSync } from "node:fs";
import { dirname, relative, resolve } from "node:path";
import type { Finding } from "../core/finding/finding.ts";
import { textOf } from "../core/job/parse.ts";
import type { Sources } from "./print-findings.ts";
import { say } from "./say.ts";

export function readBytes(file: string): Uint8Array | Finding {
  try {
    return readFileSync(file);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT" || code === "ENOTDIR") return say("file-missing", { file });
    if (code === "EISDIR") return say("file-is-folder", { file });
    return say("file-unreadable", { file, why: reason(error) });
  }
}

export function readText(file: string): string | Finding {
  const bytes = readBytes(file);
  return bytes instanceof Uint8Array ? textOf(file, bytes) : bytes;
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: "no permission",
  EPERM: "no permission",
  EROFS: "the disk is read-only",
  ENOSPC: "the disk is full",
  ENOENT: "there is no such folder",
  ENOTDIR: "a part of its path is a file",
  ENAMETOOLONG: "the name is too long",
  ELOOP: "its links go in a circle",
  EXDEV: "it is on another disk",
};

/** A system error in words. */
export function reason(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  return (code === undefined ? undefined : REASONS[code]) ?? code ?? String(message);
}

/** The files beside a job, and which of them could not be read. */
export interface Beside extends Sources {
  readonly read: (file: string) => Uint8Array | undefined;
  readonly unreadable: ReadonlyMap<string, Finding>;
}

export function filesBeside(main: string): Beside {
  const folder = dirname(resolve(main));
  const unreadable = new Map<string, Finding>();
  const known = new Map<string, Uint8Array>();
  const read = (file: string): Uint8Array | undefined => {
    const bytes = known.get(file) ?? readBytes(resolve(folder, file));
    if (bytes instanceof Uint8Array) {
      known.set(file, bytes);
      return bytes;
    }
    unreadable.set(file, bytes);
    return undefined;
  };
  return {
    read,
    unreadable,
    pathOf: (file) => shown(resolve(folder, file)),
    textOf: (file) => {
      const bytes = known.get(file) ?? readBytes(resolve(folder, file));
      if (!(bytes instanceof Uint8Array)) return undefined;
      const text = textOf(file, bytes);
      return typeof text === "string" ? text : undefined;
    },
  };
}

/** A path as people type it: from here, unless that is the longer way. */
export function shown(path: string): string {
  const fromHere = relative(".", path) || ".";
  return fromHere.length < path.length ? fromHere : path;
}

/** For commands whose findings name files as they were typed. */
export const typedFiles: Sources = {
  pathOf: (file) => file,
  textOf: (file) => {
    const text = readText(file);
    return typeof text === "string" ? text : undefined;
  },
};
