/**
 * `npm run build`: the package as npm takes it, in dist/. The command line with its libraries in a few files, since
 * reading a hundred modules one by one takes longer than a short command does, with their bytecode; the page; and whose
 * work is in them.
 */
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import process from "node:process";
import { fileURLToPath } from "node:url";
import { bundlePage } from "../page/bundle.ts";
import { bundleCli } from "./bundle-cli.ts";
import { noticesOf } from "./notices.ts";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
const DIST = join(ROOT, "dist");

rmSync(DIST, { recursive: true, force: true });
const cli = await bundleCli(join(DIST, "cli"));
const page = await bundlePage();
write("page/index.html", page.html);
write("THIRD-PARTY.txt", noticesOf([...cli, ...page.modules]));
keepBytecode(join(DIST, "cli"));

function write(name: string, text: string): void {
  const file = join(DIST, name);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
}

function keepBytecode(dir: string): void {
  const scratch = mkdtempSync(join(tmpdir(), "weftcut-warm-"));
  const job = join(ROOT, "fixtures/demo/job.yaml");
  const warm = join(dir, "warm.js");
  const args = [warm, dir, job, join(scratch, "out")];
  try {
    execFileSync(process.execPath, args, { stdio: ["ignore", "ignore", "pipe"] });
  } finally {
    rmSync(scratch, { recursive: true, force: true });
    rmSync(warm);
  }
}
