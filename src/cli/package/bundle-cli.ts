/** The command line as compiled files: what is run, the command, the helper thread, and what these share or load when needed. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));

const PARTS = { weftcut: "src/cli/main.ts", errands: "src/cli/elsewhere/helper.ts" };
const STARTS = {
  main: "src/cli/package/start/main.ts",
  helper: "src/cli/package/start/helper.ts",
  warm: "src/cli/package/start/warm.ts",
};

/** Writes into `dir`; gives the modules that went in. */
export async function bundleCli(dir: string): Promise<string[]> {
  const parts = await bundled(PARTS, dir);
  const starts = await bundled(STARTS, dir);
  // Files of CommonJS in a package of modules: only their text can be run with bytecode.
  writeFileSync(join(dir, "package.json"), '{ "type": "commonjs" }\n');
  return [...parts, ...starts];
}

async function bundled(entries: Record<string, string>, dir: string): Promise<string[]> {
  const { rolldown } = await import("rolldown");
  const bundle = await rolldown({
    input: Object.fromEntries(
      Object.entries(entries).map(([name, file]) => [name, join(ROOT, file)]),
    ),
    cwd: ROOT,
    platform: "node",
    // Has machine code of its own, which does not go into a bundle; only a clone's page asks for it.
    external: "rolldown",
  });
  const { output } = await bundle.write({
    dir,
    format: "cjs",
    comments: { legal: true, annotation: false, jsdoc: false },
  });
  await bundle.close();
  return output.flatMap((file) => (file.type === "chunk" ? file.moduleIds : []));
}
