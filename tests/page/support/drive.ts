/** The player as a person works it: by the names of its controls. */

import type { Page } from "playwright-core";

export interface Shown {
  readonly figures: Readonly<Record<string, string>>;
  /** The program's line that is marked, and its text. */
  readonly line: number;
  readonly text: string;
  readonly note: string;
}

export async function shown(page: Page): Promise<Shown> {
  return page.evaluate(() => {
    const figures: Record<string, string> = {};
    for (const row of document.querySelectorAll(".player-figures div")) {
      const [name, value] = [row.querySelector("dt"), row.querySelector("dd")];
      figures[name?.textContent ?? ""] = value?.textContent ?? "";
    }
    const current = document.querySelector(".player-lines [aria-current]");
    return {
      figures,
      line: Number(current?.querySelector("b")?.textContent),
      text: current?.querySelector("code")?.textContent ?? "",
      note: document.querySelector(".player-note")?.textContent ?? "",
    };
  });
}

export const play = (page: Page) => page.getByRole("button", { name: "Play", exact: true });
export const pause = (page: Page) => page.getByRole("button", { name: "Pause", exact: true });
export const blockOn = (page: Page) => page.getByRole("button", { name: "Block on", exact: true });
export const blockBack = (page: Page) =>
  page.getByRole("button", { name: "Block back", exact: true });
export const clock = (page: Page) => page.getByLabel("Machine clock");
export const program = (page: Page) => page.getByRole("combobox", { name: "Program", exact: true });
export const lookAt = (page: Page) => page.getByRole("combobox", { name: "Look at", exact: true });
export const pace = (page: Page) => page.getByRole("combobox", { name: "Pace", exact: true });

/** Types a line's number, as a person does. */
export async function goToLine(page: Page, line: number): Promise<void> {
  const field = page.getByLabel("Line", { exact: true });
  await field.fill(String(line));
  await field.press("Enter");
  await painted(page);
}

/** Of the machine's clock, from 0 to 1. */
export async function scrub(page: Page, share: number): Promise<void> {
  await clock(page).evaluate((element, value) => {
    const input = element as HTMLInputElement;
    input.value = String(value * Number(input.max));
    input.dispatchEvent(new Event("input"));
  }, share);
  await painted(page);
}

/** Until the picture has caught up with the figures. */
export async function painted(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelector(".player-busy") === null);
}

/** Keeps the picture as it is now, in the page, under a name. */
export async function keep(page: Page, name: string): Promise<void> {
  await painted(page);
  await page.evaluate((key) => {
    const stock = document.querySelector(".player-stock") as HTMLCanvasElement;
    // A copy: reading the player's own canvas would change how it is drawn.
    const copy = document.createElement("canvas");
    copy.width = stock.width;
    copy.height = stock.height;
    const context = copy.getContext("2d", { willReadFrequently: true }) as CanvasRenderingContext2D;
    context.drawImage(stock, 0, 0);
    const { data } = context.getImageData(0, 0, copy.width, copy.height);
    const world = globalThis as unknown as { kept?: Record<string, Uint8ClampedArray> };
    world.kept = { ...world.kept, [key]: data };
  }, name);
}

export interface Difference {
  readonly pixels: number;
  readonly changed: number;
  /** Those of them that became lighter in some channel. */
  readonly lighter: number;
}

/** From one kept picture to another. */
export async function difference(page: Page, from: string, to: string): Promise<Difference> {
  return page.evaluate(
    ([a, b]) => {
      const { kept = {} } = globalThis as unknown as { kept?: Record<string, Uint8ClampedArray> };
      const [before, after] = [kept[a ?? ""], kept[b ?? ""]];
      if (before === undefined || after === undefined || before.length !== after.length) {
        throw new Error("no two pictures of one size");
      }
      let [changed, lighter] = [0, 0];
      for (let i = 0; i < before.length; i += 4) {
        const by = [0, 1, 2].map((k) => (after[i + k] ?? 0) - (before[i + k] ?? 0));
        if (by.some((d) => d !== 0)) changed++;
        if (by.some((d) => d > 0)) lighter++;
      }
      return { pixels: before.length / 4, changed, lighter };
    },
    [from, to],
  );
}

/** Share of the picture that is as dark as a cut through the sheet. */
export async function darkShare(page: Page, name: string): Promise<number> {
  return page.evaluate((key) => {
    const { kept = {} } = globalThis as unknown as { kept?: Record<string, Uint8ClampedArray> };
    const data = kept[key] ?? new Uint8ClampedArray();
    let dark = 0;
    for (let i = 0; i < data.length; i += 4) {
      if ((data[i] ?? 0) < 60 && (data[i + 2] ?? 0) < 80) dark++;
    }
    return (4 * dark) / data.length;
  }, name);
}
