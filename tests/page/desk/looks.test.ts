/** For whoever looks at it or cannot: faults of accessibility in light and dark, wide and narrow, and pictures to be looked at. */
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import process from "node:process";
import { pathToFileURL } from "node:url";
import { expect, test } from "vitest";
import type { SchemaNode } from "../../../src/core/job/json-schema.ts";
import { nodeFor, objectIn } from "../../../src/page/form/schema.ts";
import { ROOT, tempFolder } from "../../cli/temp-folder.ts";
import { seriousFaults } from "../support/accessible.ts";
import { picture } from "../support/artefacts.ts";
import { usingBrowser } from "../support/browser.ts";
import { type Desk, deskAt, expectQuiet } from "../support/desk.ts";
import { usingServer } from "../support/served.ts";

const open = usingBrowser();
const served = usingServer();

async function opened(desk: Desk): Promise<void> {
  await desk.page.evaluate(() => {
    for (const details of document.querySelectorAll("details")) details.open = true;
  });
}

const LOOKS = ([1280, 390] as const).flatMap((width) =>
  (["light", "dark"] as const).map((scheme) => ({ width, scheme })),
);

test.each(LOOKS)(
  "no serious fault and no clipped line at $width, $scheme",
  async ({ width, scheme }) => {
    const desk = await deskAt(open, served(), { width, height: 860, scheme, reducedMotion: true });
    const { page } = desk;
    await page.getByRole("button", { name: "Look at the demo" }).waitFor();
    expect(await seriousFaults(page)).toEqual([]);
    await picture(page, `page-start-${width}-${scheme}`);
    await desk.press("Look at the demo");
    await desk.settled();
    expect(await seriousFaults(page)).toEqual([]);
    await picture(page, `page-demo-${width}-${scheme}`);
    // With everything open; with a question, which stops the job; with what is typed wrong.
    await opened(desk);
    await page.locator(".player-all").waitFor();
    expect(await seriousFaults(page)).toEqual([]);
    await picture(page, `page-open-${width}-${scheme}`, true);
    const arm = readFileSync(join(ROOT, "fixtures/demo/arm.dxf"), "utf8");
    await desk.drop({ "plain.dxf": arm.replace("$INSUNITS\n 70\n4", "$INSUNITS\n 70\n0") });
    await desk.settled();
    await opened(desk);
    expect(await seriousFaults(page)).toEqual([]);
    await picture(page, `page-question-${width}-${scheme}`, true);
    const text = (await desk.jobText()).replace("fluteLength: 8", "fluteLength: 0");
    await page.getByLabel(/^All that the job says/).fill(text);
    await desk.settled();
    expect(await seriousFaults(page)).toEqual([]);
    await picture(page, `page-stopped-${width}-${scheme}`, true);
    const wider = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(wider).toBeLessThanOrEqual(0);
    expectQuiet(desk);
  },
);

/** Lists of things are reached through the job's text, which stands below the form. */
const TEXT_ONLY =
  /^(weftcut|mates|checks|props|ledger|.*\.(coupons|mates|fasteners|relief|points|place|layers))$/;

test("every key of one value has its field", async () => {
  const desk = await deskAt(open, served());
  await desk.press("Look at the demo");
  await desk.settled();
  const spots = await desk.page
    .locator("[data-spot]")
    .evaluateAll((all) => all.map((e) => (e as HTMLElement).dataset["spot"] ?? ""));
  const shown = new Set(
    spots.map((s) =>
      s
        .replace(/^small-router.yaml\n/, "machine.")
        .replace(/^.*\n/, "")
        .replace(/\[0\]/g, ""),
    ),
  );
  const wanted: string[] = [];
  const walk = (node: SchemaNode, path: string): void => {
    const inside = objectIn(node);
    for (const [key, child] of Object.entries(inside.properties ?? {})) {
      const at = path === "" ? key : `${path}.${key}`;
      if (TEXT_ONLY.test(at) || /keepOut|outline$/.test(at)) continue;
      if (objectIn(child).properties !== undefined) walk(child, at);
      else wanted.push(at);
    }
  };
  walk(nodeFor(), "");
  expect(wanted.length).toBeGreaterThan(70);
  expect(wanted.filter((key) => !shown.has(key) && key !== "name")).toEqual([]);
});

test("it fits from 390 to 1920", async () => {
  const desk = await deskAt(open, served());
  const { page } = desk;
  await desk.press("Look at the demo");
  await desk.settled();
  for (const width of [390, 600, 768, 1024, 1100, 1440, 1920]) {
    await page.setViewportSize({ width, height: 900 });
    const wider = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect([width, wider]).toEqual([width, 0]);
  }
  await picture(page, "page-demo-1920-light");
  expectQuiet(desk);
});

test("every control can be reached by keys, and shows that it is", async () => {
  const desk = await deskAt(open, served());
  const { page } = desk;
  await desk.press("Look at the demo");
  await desk.settled();
  const wanted = await page.evaluate(
    () =>
      [
        ...document.querySelectorAll("button:enabled, input, select, textarea, summary, .plate"),
      ].filter(
        (e) => e.closest("details:not([open]) > :not(summary)") === null && e.checkVisibility(),
      ).length,
  );
  await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
  const seen = new Set<string>();
  for (let i = 0; i < wanted + 20; i++) {
    await page.keyboard.press("Tab");
    const at = await page.evaluate(() => {
      const e = document.activeElement;
      if (e === null || e === document.body) return "";
      const style = getComputedStyle(e.closest(".choose") ?? e);
      const marked = e instanceof SVGElement && /^rgb\(/.test(style.stroke);
      const shown = style.outlineStyle !== "none" || marked;
      const path = [];
      for (let n: Element | null = e; n !== null; n = n.parentElement) {
        path.push([...(n.parentElement?.children ?? [])].indexOf(n));
      }
      return `${path.join(".")} ${shown ? "shown" : "hidden"}`;
    });
    if (at !== "") seen.add(at);
  }
  expect(seen.size).toBeGreaterThanOrEqual(wanted);
  expect([...seen].filter((at) => at.endsWith("hidden"))).toEqual([]);
  expectQuiet(desk);
});

test("as one file it opens from disk, plans, and keeps its work where the browser lets it", async () => {
  const file = join(tempFolder(), "weftcut.html");
  const main = join(ROOT, "src/cli/main.ts");
  execFileSync(process.execPath, ["--import", "tsx", main, "page", "--out", file], { cwd: ROOT });
  const desk = await deskAt(open, { ...served(), url: pathToFileURL(file).href });
  await desk.press("Look at the demo");
  await desk.settled();
  expect(await desk.page.locator(".way li").last().textContent()).toContain("proven");
  expect(Object.keys(await desk.taken("Take everything"))).toContain("plan.json");
  expect(desk.asked.filter((url) => !/^(file|blob|data):/.test(url))).toEqual([]);
  expectQuiet(desk);
});
