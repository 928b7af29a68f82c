/**
 * The command line, compiled once for all tests that run it: loading hundreds of modules of TypeScript anew for every
 * process takes three times as long as what they do.
 */
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { TestProject } from "vitest/node";
import { bundleCli } from "../../src/cli/package/bundle-cli.ts";

declare module "vitest" {
  interface ProvidedContext {
    cli: string;
  }
}

// Inside node_modules, so that what is not bundled is found.
const CACHE = fileURLToPath(new URL("../../node_modules/.cache", import.meta.url));

export async function setup(project: TestProject): Promise<() => void> {
  mkdirSync(CACHE, { recursive: true });
  const dir = mkdtempSync(join(CACHE, "weftcut-cli-"));
  await bundleCli(dir);
  project.provide("cli", join(dir, "main.js"));
  return () => rmSync(dir, { recursive: true, force: true });
}
