/** Runs the command line as people do: a process of its own, in a folder of its own. */
import { spawnSync } from "node:child_process";
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import process from "node:process";
import { fileURLToPath } from "node:url";
import { onTestFinished } from "vitest";

export const ROOT: string = fileURLToPath(new URL("../../", import.meta.url));
const MAIN = join(ROOT, "src/cli/main.ts");
/** From where it is installed, since the folder of a test has no node_modules. */
const TSX = import.meta.resolve("tsx");

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
  const ran = spawnSync(process.execPath, ["--import", TSX, MAIN, ...args], {
    cwd,
    env: { ...own, ...env },
    encoding: "utf8",
  });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

/** A folder that is gone when the test is over. */
export function tempFolder(files: Readonly<Record<string, string | Uint8Array>> = {}): string {
  const folder = mkdtempSync(join(tmpdir(), "weftcut-test-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), content);
  }
  return folder;
}

/** Every file under a folder with its content, to see that nothing was touched. */
export function contentsOf(folder: string): Record<string, string> {
  const names = readdirSync(folder, { recursive: true }).map(String).sort();
  return Object.fromEntries(
    names
      .filter((name) => statSync(join(folder, name)).isFile())
      .map((name) => [name, readFileSync(join(folder, name), "latin1")]),
  );
}
