/** What goes wrong in weftcut itself, and what takes too long: the user's work is never lost by it. */
import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { usingBrowser } from "../support/browser.ts";
import { deskAt, expectQuiet } from "../support/desk.ts";
import { usingServer } from "../support/served.ts";

const open = usingBrowser();
const served = usingServer();

async function savedText(page: Page, button: string): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: button, exact: true }).first().click(),
  ]);
  return readFileSync(await download.path(), "utf8");
}

test("planning is cancelled, and taken up again", async () => {
  const desk = await deskAt(open, served());
  const { page } = desk;
  // The page looks first for work that was kept, and shows the way in when there is none.
  await page.getByRole("button", { name: "Look at the demo" }).waitFor();
  await page.evaluate(() => {
    const wanted = (name: string) =>
      [...document.querySelectorAll("button")].find((b) => b.textContent === name);
    return new Promise<void>((done) => {
      const watch = new MutationObserver(() => {
        const cancel = wanted("Cancel");
        if (cancel === undefined) return;
        watch.disconnect();
        cancel.click();
        done();
      });
      // By changes and not by a clock: on a busy machine a plan is done between two looks.
      watch.observe(document.body, { childList: true, subtree: true, characterData: true });
      wanted("Look at the demo")?.click();
    });
  });
  await desk.settled();
  expect(await page.getByText("Planning was cancelled.").count()).toBe(1);
  expect(await page.getByRole("button", { name: "Take everything" }).isDisabled()).toBe(true);
  expect(await savedText(page, "Save the job file")).toBe(await desk.jobText());
  await desk.press("Plan it");
  await desk.settled();
  expect(await page.locator(".way li").last().textContent()).toContain("proven");
  expectQuiet(desk);
});

test("an exception in the worker is shown as a fault, with the job still to be saved", async () => {
  const desk = await deskAt(open, served());
  const { page } = desk;
  await desk.press("Look at the demo");
  await desk.settled();
  await page.evaluate(() => {
    const send = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (this: Worker, asked: unknown) {
      const bad = Object(asked).kind === "plan" ? { ...Object(asked), job: null } : asked;
      Reflect.apply(send, this, [bad]);
    } as typeof send;
  });
  await page.getByLabel("Ramp").fill("2.75");
  await page.getByRole("alert").waitFor();
  expect(await page.getByRole("alert").textContent()).toContain("A fault in weftcut itself");
  const text = await savedText(page, "Save the job file");
  expect(text).toContain("rampDeg: 2.75");
  expectQuiet(desk);
});

test("while a value is typed the newest plan wins, and each state that was passed is left out", async () => {
  const desk = await deskAt(open, served());
  const { page } = desk;
  await desk.press("Look at the demo");
  await desk.settled();
  await page.getByLabel("Ramp").fill("");
  await page.getByLabel("Ramp").pressSequentially("12.5", { delay: 30 });
  await desk.settled();
  expect(await desk.jobText()).toContain("rampDeg: 12.5");
  const plan = JSON.parse((await desk.taken("Take everything"))["plan.json"] ?? "");
  expect(plan.cutting.rampDeg).toBe(12.5);
  expectQuiet(desk);
});

test("an airframe is drafted, and its job planned", async () => {
  const desk = await deskAt(open, served());
  const { page } = desk;
  await page.locator(".airframes button").first().waitFor();
  const names = await page.locator(".airframes button").allTextContents();
  expect(names.length).toBe(6);
  await desk.press(names[0] ?? "");
  await page.locator(".way").waitFor();
  await desk.settled();
  expect(await desk.jobText()).toContain("weftcut: 1");
  expect(await page.locator(".over .plate").count()).toBeGreaterThan(0);
  expectQuiet(desk);
});
