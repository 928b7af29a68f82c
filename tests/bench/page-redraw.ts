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

export interface PageSpeed {
  /** ms from the navigation's start, and from the page's load event, to the demo's picture on the screen. */
  readonly firstFromStart: readonly number[];
  readonly firstFromLoad: readonly number[];
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
    const firstFromStart: number[] = [];
    const firstFromLoad: number[] = [];
    for (let i = 0; i < loads; i++) {
      const { page, context } = await newPage(browser);
      const { start, load } = await firstPicture(page, url);
      firstFromStart.push(start);
      firstFromLoad.push(load);
      await context.close();
    }
    const { page } = await newPage(browser);
    await firstPicture(page, url);
    await settled(page);
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
      firstFromStart,
      firstFromLoad,
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

async function firstPicture(page: Page, url: string): Promise<{ start: number; load: number }> {
  await page.goto(url);
  await page.locator(".over .plate").first().waitFor();
  return page.evaluate(async () => {
    // The page marks its pictures; a frame later they are on the screen.
    await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
    const at = performance.getEntriesByName("plan-drawn")[0]?.startTime ?? Number.NaN;
    const [navigation] = performance.getEntriesByType(
      "navigation",
    ) as PerformanceNavigationTiming[];
    return { start: at, load: at - (navigation?.loadEventEnd ?? 0) };
  });
}

async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelector(".page[data-state=settled]") !== null);
}

async function changed(page: Page, label: string, value: string) {
  const times = await page.evaluate(
    async ([name, text]) => {
      const labels = [...document.querySelectorAll("label")];
      const input = labels
        .find((l) => l.textContent === name)
        ?.parentElement?.querySelector("input");
      if (!input) throw new Error(`no field ${name}`);
      performance.clearMarks();
      const from = performance.now();
      input.value = text ?? "";
      input.dispatchEvent(new Event("input", { bubbles: true }));
      const marked = async (what: string) => {
        while (performance.getEntriesByName(what).length === 0) {
          await new Promise((done) => setTimeout(done, 2));
        }
        return (performance.getEntriesByName(what)[0]?.startTime ?? Number.NaN) - from;
      };
      return { picture: await marked("plan-drawn"), proof: await marked("plan-proven") };
    },
    [label, value] as const,
  );
  await settled(page);
  return times;
}

export function pageSpeedPart(speed: PageSpeed): string {
  const row = (what: string, values: readonly number[], wanted: string) =>
    `| ${what} | ${shown(spread(values), 0)} | ${wanted} |`;
  return `## Page in the browser

The page as one file from disk in Chromium without a graphics card. The changed value is the ramp's angle, a new one each
time, so that the programs are all routed, written and proven anew. Script and worker are ${(speed.scriptBytes / 1000).toFixed(0)} kB, ${(speed.compressedBytes / 1000).toFixed(0)} kB compressed.

| what | ms | wanted |
| --- | ---: | ---: |
${row("first picture of the demo, from the load event", speed.firstFromLoad, "1000")}
${row("the same, from the navigation's start", speed.firstFromStart, "")}
${row("a changed value's picture", speed.redrawn, "150")}
${row("its proof", speed.proven, "600")}
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
      `first picture of the demo, from the load event: ${ms(speed.firstFromLoad)}`,
      `the same from the navigation's start: ${ms(speed.firstFromStart)}`,
      `a changed value's picture: ${ms(speed.redrawn)}`,
      `its proof: ${ms(speed.proven)}`,
      `script ${(speed.scriptBytes / 1000).toFixed(0)} kB, ${(speed.compressedBytes / 1000).toFixed(0)} kB compressed`,
      "",
    ].join("\n"),
  );
}
