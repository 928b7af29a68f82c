/** Job sheets on disk, opened as a person opens them: by their file. */

import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { expect } from "vitest";
import type { Planned } from "../../../src/core/job/plan.ts";
import { tempFolder } from "../../cli/temp-folder.ts";
import { demoJob, planned } from "../../layout-read-back/demo.ts";
import type { Opened, PageWish } from "./browser.ts";

let demo: Planned | undefined;

/** Planned once. */
export function demoPlan(): Planned {
  demo ??= planned(demoJob());
  return demo;
}

export async function openSheet(
  open: (wish?: PageWish) => Promise<Opened>,
  html: string,
  wish: PageWish = {},
): Promise<Opened> {
  const path = join(tempFolder(), "job-sheet.html");
  writeFileSync(path, html);
  const opened = await open(wish);
  await opened.page.goto(pathToFileURL(path).href);
  return opened;
}

export function demoSheet(): string {
  return demoPlan().files.get("job-sheet.html") ?? "";
}

/** One request, for the file itself; no complaint. */
export function expectQuiet({ asked, refused, complaints }: Opened): void {
  expect(complaints).toEqual([]);
  expect(refused).toEqual([]);
  expect(asked).toHaveLength(1);
}
