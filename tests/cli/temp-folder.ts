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
import { fileURLToPath } from "node:url";
import { onTestFinished } from "vitest";

export const ROOT: string = fileURLToPath(new URL("../../", import.meta.url));

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

/** Every file under a folder with its content, to see that nothing was touched; sorted by name. */
export function contentsOf(folder: string): Record<string, string> {
  const names = readdirSync(folder, { recursive: true }).map(String).sort();
  return Object.fromEntries(
    names
      .filter((name) => statSync(join(folder, name)).isFile())
      .map((name) => [name, readFileSync(join(folder, name), "latin1")]),
  );
}
