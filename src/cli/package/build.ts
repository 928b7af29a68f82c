/**
 * `npm run build`: the package as npm takes it, in dist/. The command line with its libraries in a few files, since
 * reading a hundred modules one by one takes longer than a short command does; the page; and whose work is in them.
 */
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { bundlePage } from "../page/bundle.ts";
import { bundleCli } from "./bundle-cli.ts";
import { noticesOf } from "./notices.ts";

const DIST = fileURLToPath(new URL("../../../dist/", import.meta.url));

rmSync(DIST, { recursive: true, force: true });
const cli = await bundleCli(join(DIST, "cli"));
const page = await bundlePage();
write("page/index.html", page.html);
write("THIRD-PARTY.txt", noticesOf([...cli, ...page.modules]));

function write(name: string, text: string): void {
  const file = join(DIST, name);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
}
