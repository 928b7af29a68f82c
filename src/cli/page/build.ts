/** Part of `npm run build`: the page as the package holds it. */
import { mkdirSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";
import { bundlePage } from "./bundle.ts";

const FILE = fileURLToPath(new URL("../../../dist/page/index.html", import.meta.url));

mkdirSync(dirname(FILE), { recursive: true });
writeFileSync(FILE, (await bundlePage()).html);
