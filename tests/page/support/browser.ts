/**
 * Debian's Chromium, driven for tests: nothing reaches the network, and whatever a page asks for, complains of
 * or throws is kept for the test to look at.
 */

import { existsSync } from "node:fs";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, onTestFinished } from "vitest";

const EXECUTABLE = "/usr/bin/chromium";

const FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  // Should a request slip past the tests' own net, no name has an address.
  "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1",
];

export interface PageWish {
  /** CSS pixels; 1280 × 800 unless said. */
  readonly width?: number;
  readonly height?: number;
  readonly scheme?: "light" | "dark";
  readonly reducedMotion?: boolean;
  readonly touch?: boolean;
  /** False: as in a reader that runs none. */
  readonly scripts?: boolean;
  /** Beginnings of addresses that belong to the page, besides files, blobs and data. */
  readonly own?: readonly string[];
}

export interface Opened {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Every address that the page asked for. */
  readonly asked: readonly string[];
  /** Those that were refused: not the page's own. */
  readonly refused: readonly string[];
  /** Console errors and warnings, exceptions, breaches of the content security policy. */
  readonly complaints: readonly string[];
}

export async function launch(): Promise<Browser> {
  if (!existsSync(EXECUTABLE))
    throw new Error(`no browser at ${EXECUTABLE}: apt-get install chromium`);
  return chromium.launch({ executablePath: EXECUTABLE, headless: true, args: FLAGS });
}

/** One browser for a test file; each call of what it gives opens a page that is gone when its test is over. */
export function usingBrowser(): (wish?: PageWish) => Promise<Opened> {
  let browser: Browser | undefined;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(async () => {
    await browser?.close();
  });
  return async (wish = {}) => {
    if (browser === undefined) throw new Error("the browser is not running yet");
    const opened = await newPage(browser, wish);
    onTestFinished(() => opened.context.close());
    return opened;
  };
}

const ALWAYS_OWN = ["file:", "blob:", "data:", "about:"];

export async function newPage(browser: Browser, wish: PageWish = {}): Promise<Opened> {
  const context = await browser.newContext({
    viewport: { width: wish.width ?? 1280, height: wish.height ?? 800 },
    colorScheme: wish.scheme ?? "light",
    reducedMotion: wish.reducedMotion === true ? "reduce" : "no-preference",
    hasTouch: wish.touch ?? false,
    javaScriptEnabled: wish.scripts ?? true,
    acceptDownloads: true,
  });
  // A busy machine takes long over a large picture: only what hangs is ended, with its test.
  context.setDefaultTimeout(110_000);
  const asked: string[] = [];
  const refused: string[] = [];
  const complaints: string[] = [];
  const own = [...ALWAYS_OWN, ...(wish.own ?? [])];
  await context.route("**/*", async (route) => {
    const address = route.request().url();
    if (own.some((start) => address.startsWith(start))) return route.continue();
    refused.push(address);
    return route.abort();
  });
  const page = await context.newPage();
  page.on("request", (request) => asked.push(request.url()));
  page.on("pageerror", (error) => complaints.push(`exception: ${error.message}`));
  page.on("crash", () => complaints.push("the page crashed"));
  page.on("console", (message) => {
    const type = message.type();
    if (type === "error" || type === "warning") complaints.push(`${type}: ${message.text()}`);
  });
  return { page, context, asked, refused, complaints };
}
