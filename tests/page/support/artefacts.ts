/** Pictures of pages, kept beside the test results to be looked at. The folder is not in git. */

import { mkdirSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { ROOT } from "../../house/source-files.ts";

export const ARTEFACTS: string = join(ROOT, "test-results/page");

export function artefact(name: string): string {
  mkdirSync(ARTEFACTS, { recursive: true });
  return join(ARTEFACTS, name);
}

/** `all`: the whole page instead of what the window shows. */
export async function picture(page: Page, name: string, all = false): Promise<void> {
  await page.screenshot({ path: artefact(`${name}.png`), fullPage: all, timeout: 0 });
}
