/** The job sheet on paper and on other people's terms: printed, without scripts, with hostile names. */
import { writeFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { hostilePlan, MARK, NAMES } from "../jobsheet/hostile-job.ts";
import { artefact, picture } from "./support/artefacts.ts";
import { usingBrowser } from "./support/browser.ts";
import { scrub, shown } from "./support/drive.ts";
import { demoSheet, expectQuiet, openSheet } from "./support/job-sheets.ts";

const open = usingBrowser();

/** Between the margins of `@page`, 12 mm each side, in CSS pixels of 1/96 inch. */
const PAPERS = { A4: 210 - 24, Letter: 215.9 - 24 } as const;

/** Everything in print that is wider than its page, or than the box that would cut it off. */
async function clipped(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const room = document.documentElement.clientWidth;
    const bad: string[] = [];
    for (const element of document.querySelectorAll("main *, header *, footer *")) {
      const box = element.getBoundingClientRect();
      if (box.width === 0 || element.closest("svg") !== null) continue;
      const name = `${element.tagName} ${(element.textContent ?? "").trim().slice(0, 40)}`;
      if (box.right > room + 0.5 || box.left < -0.5) bad.push(`${name}: ${box.left}–${box.right}`);
      const { overflowX } = getComputedStyle(element);
      if (overflowX !== "visible" && element.scrollWidth > element.clientWidth + 1) {
        bad.push(`${name}: cut off at ${element.clientWidth} of ${element.scrollWidth}`);
      }
    }
    return bad;
  });
}

describe("printed", () => {
  test.each(Object.entries(PAPERS))("on %s no table or picture is clipped", async (paper, mm) => {
    const width = Math.floor((mm * 96) / 25.4);
    const opened = await openSheet(open, demoSheet(), { width, height: 1000 });
    const { page } = opened;
    await scrub(page, 0.5);
    await page.emulateMedia({ media: "print" });
    expect(await page.locator("table").count()).toBeGreaterThan(10);
    expect(await clipped(page)).toEqual([]);
    const pdf = await page.pdf({ format: paper as "A4" | "Letter", preferCSSPageSize: false });
    writeFileSync(artefact(`job-sheet-${paper.toLowerCase()}.pdf`), pdf);
    const text = pdf.toString("latin1");
    const pages = text.match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    expect(pages).toBeGreaterThan(5);
    expectQuiet(opened);
  });

  test("a dark screen prints light, and the player is not on paper", async () => {
    const { page } = await openSheet(open, demoSheet(), { scheme: "dark", width: 703 });
    await page.emulateMedia({ media: "print" });
    const seen = await page.evaluate(() => ({
      page: getComputedStyle(document.documentElement).backgroundColor,
      player: document.getElementById("player")?.getBoundingClientRect().height,
      heading: document.getElementById("motion")?.getBoundingClientRect().height,
    }));
    expect(seen).toEqual({ page: "rgb(255, 255, 255)", player: 0, heading: 0 });
  });

  test("what was ticked and written stays on paper", async () => {
    const { page } = await openSheet(open, demoSheet(), { width: 703 });
    const tick = page.getByRole("checkbox").first();
    await tick.check();
    const blank = page.getByRole("textbox").first();
    await blank.fill("2.04");
    await page.emulateMedia({ media: "print" });
    expect(await tick.isChecked()).toBe(true);
    expect(await tick.evaluate((e) => e.getBoundingClientRect().width)).toBeGreaterThan(8);
    expect(await blank.inputValue()).toBe("2.04");
  });
});

test("what was ticked and written is there again after a reload, and not in another sheet", async () => {
  const { page } = await openSheet(open, demoSheet());
  await page.getByRole("checkbox").nth(2).check();
  await page.getByRole("textbox").first().fill("3.98");
  await page.reload();
  expect(await page.getByRole("checkbox").nth(2).isChecked()).toBe(true);
  expect(await page.getByRole("textbox").first().inputValue()).toBe("3.98");
  const other = await openSheet(open, demoSheet());
  expect(await other.page.getByRole("checkbox").nth(2).isChecked()).toBe(false);
});

test("a reader that runs no scripts has the whole sheet but the player, and is told", async () => {
  const { page } = await openSheet(open, demoSheet(), { scripts: false });
  expect(await page.getByText("this reader runs no scripts").count()).toBe(1);
  expect(await page.locator("h2").count()).toBeGreaterThan(9);
});

describe("hostile names", () => {
  test("are text in the page: nothing of them runs, loads or becomes an element", async () => {
    const html = hostilePlan().files.get("job-sheet.html") ?? "";
    const opened = await openSheet(open, html);
    const { page } = opened;
    await scrub(page, 0.5);
    const found = await page.evaluate(
      (mark) => ({
        ran: mark in window,
        foreign: document.querySelectorAll("img,iframe,b[onclick],object,embed,a[href^=javascript]")
          .length,
        handlers: [...document.querySelectorAll("*")].flatMap((e) =>
          e.getAttributeNames().filter((n) => n.startsWith("on")),
        ),
        scripts: document.scripts.length,
        title: document.title,
        heading: document.querySelector("h1")?.textContent,
        text: document.body.textContent ?? "",
        plates: [...document.querySelectorAll("option")].map((o) => o.textContent),
      }),
      MARK,
    );
    expect(found).toMatchObject({ ran: false, foreign: 0, handlers: [], scripts: 2 });
    expect(found.title).toBe(`${NAMES.job}: job sheet`);
    expect(found.heading).toBe(NAMES.job);
    for (const name of [NAMES.sheet, NAMES.plate, NAMES.svgPlate, NAMES.cutter, NAMES.machine]) {
      expect(found.text).toContain(name);
    }
    expect(found.plates).toContain(NAMES.plate);
    expect((await shown(page)).figures["Cutter"]).toContain(NAMES.cutter);
    await picture(page, "job-sheet-hostile", true);
    expectQuiet(opened);
  });

  test("a script that slipped in would not run: the policy lets only the player", async () => {
    const opened = await openSheet(
      open,
      demoSheet().replace("<main>", `<main><script>window.${MARK}=1</script>`),
    );
    expect(await opened.page.evaluate((mark) => mark in window, MARK)).toBe(false);
    expect(opened.complaints.join()).toMatch(/Content Security Policy/);
    // The player itself was let.
    expect(await opened.page.getByLabel("Machine clock").count()).toBe(1);
  });
});
