/**
 * Runs the command line as people do: a process of its own, with arguments, streams and an exit code.
 *
 * It is compiled once for each test file, since loading a hundred modules of TypeScript anew for every
 * process takes three times as long as what they do.
 */
import { spawn, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import process from "node:process";
import { rolldown } from "rolldown";
import { afterAll } from "vitest";
import { ROOT } from "./temp-folder.ts";

export const MAIN: string = await compiled();

async function compiled(): Promise<string> {
  // Inside node_modules, so that what is not bundled is found.
  const cache = join(ROOT, "node_modules/.cache");
  mkdirSync(cache, { recursive: true });
  const dir = mkdtempSync(join(cache, "weftcut-cli-"));
  afterAll(() => rmSync(dir, { recursive: true, force: true }));
  const bundle = await rolldown({
    input: ["src/cli/main.ts", "src/cli/elsewhere/helper.ts"].map((file) => join(ROOT, file)),
    platform: "node",
    // Has machine code of its own, which does not go into a bundle.
    external: "rolldown",
  });
  await bundle.write({ dir, format: "esm" });
  await bundle.close();
  return join(dir, "main.js");
}

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

export interface RunOptions {
  readonly cwd?: string;
  readonly env?: Readonly<Record<string, string>>;
}

export function weftcut(args: readonly string[], { cwd, env = {} }: RunOptions = {}): Ran {
  const { NO_COLOR: _a, FORCE_COLOR: _b, ...own } = process.env;
  const ran = spawnSync(process.execPath, [MAIN, ...args], {
    cwd,
    env: { ...own, ...env },
    encoding: "utf8",
  });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

/** Runs it for a reader who has gone away; gives the exit code. */
export function weftcutUnread(args: readonly string[], cwd: string): Promise<number | null> {
  const child = spawn(process.execPath, [MAIN, ...args], {
    cwd,
    stdio: ["ignore", "pipe", "pipe"],
  });
  child.stdout.destroy();
  child.stderr.destroy();
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("exit", resolve);
  });
}
