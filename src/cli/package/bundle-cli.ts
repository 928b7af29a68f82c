/** The command line as compiled files: its entry, the helper thread's, and what both share or load when needed. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
const ENTRIES = ["src/cli/main.ts", "src/cli/elsewhere/helper.ts"];

/** Writes into `dir`; gives the modules that went in. */
export async function bundleCli(dir: string): Promise<string[]> {
  const { rolldown } = await import("rolldown");
  const bundle = await rolldown({
    input: ENTRIES.map((file) => join(ROOT, file)),
    cwd: ROOT,
    platform: "node",
    // Has machine code of its own, which does not go into a bundle; only a clone's page asks for it.
    external: "rolldown",
  });
  const { output } = await bundle.write({ dir, format: "esm" });
  await bundle.close();
  return output.flatMap((file) => (file.type === "chunk" ? file.moduleIds : []));
}
