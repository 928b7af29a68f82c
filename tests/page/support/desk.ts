/** The page as its user has it before him: what is dropped, typed, pressed and taken. */
import { readFileSync } from "node:fs";
import { unzipSync } from "fflate";
import type { Locator, Page } from "playwright-core";
import { expect } from "vitest";
import type { Opened, PageWish } from "./browser.ts";
import type { Served } from "./served.ts";

export type Dropped = Readonly<Record<string, string | Uint8Array>>;

export interface Desk extends Opened {
  /** Waits until the last change is planned and proven, or stopped. */
  readonly settled: () => Promise<void>;
  readonly drop: (files: Dropped) => Promise<void>;
  readonly press: (name: string | RegExp) => Promise<void>;
  /** A field by its label, in a thing of the form by its name. */
  readonly field: (thing: string, label: string | RegExp) => Locator;
  /** What the job file says now. */
  readonly jobText: () => Promise<string>;
  /** Members of the zip that a button hands over. */
  readonly taken: (button: string) => Promise<Record<string, string>>;
  readonly findings: () => Promise<string[]>;
}

type Open = (wish?: PageWish) => Promise<Opened>;

export async function deskAt(open: Open, served: Served, wish: PageWish = {}): Promise<Desk> {
  const opened = await open({ ...wish, own: [served.url] });
  const { page } = opened;
  await page.goto(served.url);
  const settled = async () => {
    await page.waitForFunction(() => document.querySelector(".page[data-state=settled]") !== null);
  };
  return {
    ...opened,
    settled,
    drop: (files) => dropped(page, files),
    press: (name) => page.getByRole("button", { name, exact: typeof name === "string" }).click(),
    field: (thing, label) =>
      page
        .locator("details.thing, section.part")
        .filter({ has: page.locator("summary, h2", { hasText: thing }) })
        .getByLabel(label, { exact: typeof label === "string" })
        .first(),
    jobText: () =>
      page.evaluate(
        () => document.querySelector<HTMLTextAreaElement>("textarea[data-job]")?.value ?? "",
      ),
    taken: async (button) => {
      const [download] = await Promise.all([
        page.waitForEvent("download"),
        page.getByRole("button", { name: button, exact: true }).click(),
      ]);
      const members = unzipSync(readFileSync(await download.path()));
      return Object.fromEntries(
        Object.entries(members).map(([name, bytes]) => [name, new TextDecoder().decode(bytes)]),
      );
    },
    findings: () => page.locator(".found .findings > li > button").allTextContents(),
  };
}

/** As the browser gives it to a page: a drop with files, anywhere. */
async function dropped(page: Page, files: Dropped): Promise<void> {
  const sent = Object.entries(files).map(([name, content]) => ({
    name,
    base64: Buffer.from(content).toString("base64"),
  }));
  const before = await page.locator(".page").getAttribute("data-past");
  await page.evaluate((all) => {
    const transfer = new DataTransfer();
    for (const { name, base64 } of all) {
      const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
      transfer.items.add(new File([bytes], name));
    }
    const init = { bubbles: true, cancelable: true, dataTransfer: transfer };
    document.body.dispatchEvent(new DragEvent("dragover", init));
    document.body.dispatchEvent(new DragEvent("drop", init));
  }, sent);
  // Files are read before anything changes.
  await page.waitForFunction(
    (past) => document.querySelector(".page")?.getAttribute("data-past") !== past,
    before,
  );
}

/** Nothing was asked of anybody else, and nothing was complained of. */
export function expectQuiet({ refused, complaints }: Opened): void {
  expect([...refused, ...complaints]).toEqual([]);
}
