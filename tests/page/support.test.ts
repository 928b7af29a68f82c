/** The net in which the other tests of pages run holds: what it should catch is caught. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, test } from "vitest";
import { tempFolder } from "../cli/temp-folder.ts";
import { seriousFaults } from "./support/accessible.ts";
import { usingBrowser } from "./support/browser.ts";

const open = usingBrowser();

function written(body: string): string {
  const path = join(tempFolder(), "page.html");
  writeFileSync(
    path,
    `<!doctype html><html lang="en"><title>t</title><main><h1>t</h1>${body}</main></html>`,
  );
  return pathToFileURL(path).href;
}

test("a request that is not the page's own is refused and told", async () => {
  const { page, refused, complaints } = await open();
  await page.goto(written('<img alt="" src="https://example.org/a.png">'));
  await page.waitForLoadState("load");
  expect(refused).toEqual(["https://example.org/a.png"]);
  expect(complaints).toHaveLength(1);
});

test("an exception and a console error are told", async () => {
  const { page, refused, complaints } = await open();
  await page.goto(written('<script>console.error("one"); throw new Error("two")</script>'));
  expect(new Set(complaints)).toEqual(new Set(["error: one", "exception: two"]));
  expect(refused).toEqual([]);
});

test("a control without a label is a serious fault, one with a label is none", async () => {
  const { page } = await open();
  await page.goto(written('<input type="range">'));
  expect(await seriousFaults(page)).toHaveLength(1);
  await page.goto(written('<label>How far <input type="range"></label>'));
  expect(await seriousFaults(page)).toEqual([]);
});
