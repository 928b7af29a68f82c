/** Runs the command line as people do: a process of its own, with arguments, streams and an exit code. */
import { spawn, spawnSync } from "node:child_process";
import process from "node:process";
import { inject } from "vitest";

/** Of tests/support/compiled-cli.setup.ts. */
export const MAIN: string = inject("cli");

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
