/** The job sheet's script as it is made from `src/page/player`. */
import { createHash } from "node:crypto";
import { join } from "node:path";
import { rolldown } from "rolldown";
import { ROOT } from "../../house/source-files.ts";

export async function playerScript(): Promise<string> {
  const bundle = await rolldown({
    input: join(ROOT, "src/page/player/job-sheet-main.ts"),
    platform: "browser",
    transform: { target: "es2020" },
  });
  const { output } = await bundle.generate({ format: "iife", minify: true });
  await bundle.close();
  return output[0].code.trim();
}

/** As a content security policy names a script. */
export function policyHash(script: string): string {
  return `sha256-${createHash("sha256").update(script, "utf8").digest("base64")}`;
}

export function playerText(script: string): string {
  return [
    "/** Made from src/page/player by `npm run player`: the job sheet's script, and its hash for the content security policy. */",
    `export const PLAYER_HASH: string = ${JSON.stringify(policyHash(script))};`,
    `export const PLAYER_SCRIPT: string = ${JSON.stringify(script)};`,
    "",
  ].join("\n");
}
