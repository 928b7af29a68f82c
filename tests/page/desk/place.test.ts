/** Plates moved on the sheet: what they meet is seen at once, and where they lie is the job's. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { parse } from "yaml";
import { ROOT } from "../../cli/temp-folder.ts";
import { usingBrowser } from "../support/browser.ts";
import { type Desk, deskAt, expectQuiet } from "../support/desk.ts";
import { usingServer } from "../support/served.ts";

const open = usingBrowser();
const served = usingServer();

interface Place {
  readonly x: number;
  readonly y: number;
  readonly rotationDeg?: number;
}

async function demo(): Promise<Desk> {
  const desk = await deskAt(open, served());
  await desk.press("Look at the demo");
  await desk.settled();
  return desk;
}

const plate = (page: Page, name: string) =>
  page.locator(".over .plate").and(page.getByRole("button", { name: new RegExp(`^${name}\\b`) }));

/** A point of the window where a plate can be taken hold of. */
async function holdOf(page: Page, name: string): Promise<{ x: number; y: number; scale: number }> {
  const hold = await plate(page, name).evaluate((path) => {
    path.scrollIntoView({ block: "center" });
    const { left, top, width, height } = path.getBoundingClientRect();
    for (let i = 1; i < 400; i++) {
      const x = left + width * ((i * 0.618) % 1);
      const y = top + height * ((i * 0.383) % 1);
      const around = [0, 2, -2].flatMap((dx) => [0, 2, -2].map((dy) => [x + dx, y + dy] as const));
      if (around.every(([u, v]) => document.elementFromPoint(u, v) === path)) {
        return { x, y, scale: (path as SVGGraphicsElement).getScreenCTM()?.a ?? 0 };
      }
    }
    return undefined;
  });
  if (hold === undefined) throw new Error(`${name} is nowhere to be taken hold of`);
  return hold;
}

/** By so many mm to the right and up, step by step as a hand does. */
async function dragBy(page: Page, name: string, right: number, up: number): Promise<string> {
  const { scale, ...from } = await holdOf(page, name);
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  for (const part of [0.3, 0.6, 1]) {
    await page.mouse.move(from.x + part * right * scale, from.y - part * up * scale);
  }
  const live = await page.locator(".live").textContent();
  await page.mouse.up();
  return live ?? "";
}

async function placesOf(desk: Desk, name: string): Promise<readonly Place[]> {
  const { plates } = parse(await desk.jobText());
  return plates.find((p: { name: string }) => p.name === name).place ?? [];
}

test("dragging onto another plate says so at once and stops the job; off again, it is planned", async () => {
  const desk = await demo();
  const { page } = desk;
  expect(await placesOf(desk, "arm")).toEqual([]);
  const live = await dragBy(page, "arm 1", 20, 4);
  expect(live).toMatch(/arm 1: .*Stop: the fixed places of arm 1 and arm \d/);
  await desk.settled();
  expect(await desk.findings()).toContainEqual(expect.stringContaining("the fixed places of"));
  expect(await page.locator(".way .stop").count()).toBeGreaterThan(0);
  // The others are kept where they lay: four places for four arms.
  const overlapping = await placesOf(desk, "arm");
  expect(overlapping).toHaveLength(4);
  expect(await placesOf(desk, "bottom-plate")).toEqual([]);

  await page.keyboard.press("Control+z");
  await desk.settled();
  expect(await placesOf(desk, "arm")).toEqual([]);
  await dragBy(page, "arm 1", 2, 90);
  await desk.settled();
  const [moved] = await placesOf(desk, "arm");
  expect(moved?.y).toBeGreaterThan(60);
  expect((await desk.findings()).filter((f) => f.includes("Stop:"))).toEqual([]);
  expect(await page.locator(".way li").last().textContent()).toContain("proven");
  const plan = JSON.parse((await desk.taken("Take everything"))["plan.json"] ?? "");
  const placed = plan.sheets[0].placements.find((p: { copy: number }) => p.copy === 1);
  expect([placed.x, placed.y]).toEqual([moved?.x, moved?.y]);

  await desk.press("Lay this sheet anew");
  await desk.settled();
  expect(await placesOf(desk, "arm")).toEqual([]);
  expectQuiet(desk);
});

test("keys move and turn the plate that is focused", async () => {
  const desk = await demo();
  const { page } = desk;
  await plate(page, "arm 1").focus();
  for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowUp");
  await page.keyboard.press("Shift+ArrowUp");
  await page.keyboard.press("Alt+ArrowRight");
  const [before] = await placesOf(desk, "arm");
  await page.keyboard.press("r");
  await desk.settled();
  const [after] = await placesOf(desk, "arm");
  const turned = ((after?.rotationDeg ?? 0) - (before?.rotationDeg ?? 0) + 360) % 360;
  expect(turned).toBe(90);
  // Across the fibre is where its middle stayed, and what the command line would say.
  expect(await page.locator(".live").textContent()).toMatch(/turned \d+°\. (Stop|Look): /);
  expect(await desk.findings()).toContainEqual(expect.stringMatching(/fibre/));
  // One go of moving is undone in one.
  await page.keyboard.press("Control+z");
  expect(await placesOf(desk, "arm")).toEqual([]);
  expectQuiet(desk);
});

test("pointing at a finding shows it in the picture, and at a plate its findings", async () => {
  const desk = await deskAt(open, served());
  const { page } = desk;
  const arm = readFileSync(join(ROOT, "fixtures/demo/arm.dxf"), "utf8");
  await desk.drop({ "arm.dxf": arm });
  await desk.settled();
  const first = page.locator(".found .findings > li > button").first();
  await first.hover();
  expect(await page.locator(".over .lit").count()).toBeGreaterThan(0);
  await page.mouse.move(1, 1);
  const { x, y } = await holdOf(page, "arm 1");
  await page.mouse.move(x, y);
  expect(await page.locator(".found .findings > li.lit").count()).toBeGreaterThan(0);
  expectQuiet(desk);
});
