/**
 * How fast the page is, as its user waits for it: the first picture of the demo, a changed value's picture and its
 * proof, and how large the script is. In Debian's Chromium, from one file on disk.
 *
 *     npx tsx tests/bench/page-redraw.ts      prints them
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { fileURLToPath, pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";
import type { Page } from "playwright-core";
import { bundlePage } from "../../src/cli/page/bundle.ts";
import { launch, newPage } from "../page/support/browser.ts";
import { shown, spread } from "./numbers.ts";
import { wantedOf } from "./page.ts";

export interface PageSpeed {
  /** ms from the page's load event to the demo's drawings, its plates on their sheets, and its plan, on the screen. */
  readonly firstDrawing: readonly number[];
  readonly firstSheets: readonly number[];
  readonly firstPlan: readonly number[];
  /** ms from a typed value to the plan's picture, and to its proof. */
  readonly redrawn: readonly number[];
  readonly proven: readonly number[];
  /** Bytes of script and worker together, and as gzip sends them. */
  readonly scriptBytes: number;
  readonly compressedBytes: number;
}

export async function pageSpeed(loads: number, changes: number): Promise<PageSpeed> {
  const { script, worker, html } = await bundlePage();
  const folder = mkdtempSync(join(tmpdir(), "weftcut-bench-page-"));
  const file = join(folder, "weftcut.html");
  writeFileSync(file, html);
  const browser = await launch();
  try {
    const url = `${pathToFileURL(file).href}#demo`;
    const firstDrawing: number[] = [];
    const firstSheets: number[] = [];
    const firstPlan: number[] = [];
    for (let i = 0; i < loads; i++) {
      const { page, context } = await newPage(browser);
      const { drawing, sheets, plan } = await firstPicture(page, url);
      firstDrawing.push(drawing);
      firstSheets.push(sheets);
      firstPlan.push(plan);
      await context.close();
    }
    const { page } = await newPage(browser);
    await firstPicture(page, url);
    await page.waitForFunction(() => performance.getEntriesByName("plan-proven").length > 0);
    const redrawn: number[] = [];
    const proven: number[] = [];
    for (let i = 0; i < changes; i++) {
      // Every value is new, so that nothing is taken from an earlier plan that a user would wait for.
      const { picture, proof } = await changed(page, "Ramp", String(2.4 + 0.03 * i));
      redrawn.push(picture);
      proven.push(proof);
    }
    const both = script + worker;
    return {
      firstDrawing,
      firstSheets,
      firstPlan,
      redrawn,
      proven,
      scriptBytes: Buffer.byteLength(both),
      compressedBytes: gzipSync(both).length,
    };
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function firstPicture(
  page: Page,
  url: string,
): Promise<{ drawing: number; sheets: number; plan: number }> {
  await page.goto(url);
  await page.waitForFunction(() => performance.getEntriesByName("plan-drawn").length > 0);
  return page.evaluate(async () => {
    // The page marks its pictures; a frame later they are on the screen.
    await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
    const [navigation] = performance.getEntriesByType(
      "navigation",
    ) as PerformanceNavigationTiming[];
    const load = navigation?.loadEventEnd ?? 0;
    const [drawing = Number.NaN, sheets = Number.NaN, plan = Number.NaN] = [
      "drawings-drawn",
      "sheets-drawn",
      "plan-drawn",
    ].map((mark) => performance.getEntriesByName(mark)[0]?.startTime);
    return { drawing: drawing - load, sheets: sheets - load, plan: plan - load };
  });
}

async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelector(".page[data-state=settled]") !== null);
}

async function changed(page: Page, label: string, value: string) {
  await page.evaluate(
    ([name, text]) => {
      const labels = [...document.querySelectorAll("label")];
      const field = labels.find((l) => l.textContent === name)?.parentElement;
      const input = field?.querySelector("input");
      if (!input) throw new Error(`no field ${name}`);
      performance.clearMarks();
      performance.mark("typed");
      input.value = text ?? "";
      input.dispatchEvent(new Event("input", { bubbles: true }));
    },
    [label, value] as const,
  );
  await page.waitForFunction(() => performance.getEntriesByName("plan-proven").length > 0);
  await settled(page);
  const [typed = 0, picture = Number.NaN, proof = Number.NaN] = await page.evaluate(() =>
    ["typed", "plan-drawn", "plan-proven"].map(
      (mark) => performance.getEntriesByName(mark)[0]?.startTime,
    ),
  );
  return { picture: picture - typed, proof: proof - typed };
}

export function pageSpeedPart(speed: PageSpeed): string {
  const row = (what: string, values: readonly number[], wanted?: number) =>
    `| ${what} | ${shown(spread(values), 0)} | ${wantedOf(spread(values), wanted)} |`;
  return `## Page in the browser

The page as one file from disk in Chromium without a graphics card. The changed value is the ramp's angle, a new one each
time, so that the programs are all routed, written and proven anew. Script and worker are ${(speed.scriptBytes / 1000).toFixed(0)} kB, ${(speed.compressedBytes / 1000).toFixed(0)} kB compressed.

| what | ms | wanted |
| --- | ---: | ---: |
${row("first picture of the demo, its drawings, from the load event", speed.firstDrawing, 1000)}
${row("its plates on their sheets, from the load event", speed.firstSheets, 1000)}
${row("its first plan, from the load event", speed.firstPlan, 1000)}
${row("a changed value's picture", speed.redrawn, 150)}
${row("its proof", speed.proven, 600)}
`;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? Number.NaN;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const speed = await pageSpeed(5, 20);
  const ms = (values: readonly number[]) =>
    `${median(values).toFixed(0)} ms (${values.map((v) => v.toFixed(0)).join(" ")})`;
  process.stdout.write(
    [
      `from the load event to the demo's drawings: ${ms(speed.firstDrawing)}`,
      `from the load event to its plates on their sheets: ${ms(speed.firstSheets)}`,
      `from the load event to its plan: ${ms(speed.firstPlan)}`,
      `a changed value's picture: ${ms(speed.redrawn)}`,
      `its proof: ${ms(speed.proven)}`,
      `script ${(speed.scriptBytes / 1000).toFixed(0)} kB, ${(speed.compressedBytes / 1000).toFixed(0)} kB compressed`,
      "",
    ].join("\n"),
  );
}
