/** The job sheet's player in a browser, opened from disk: what it shows is what the program's own text says. */
import { describe, expect, test } from "vitest";
import { jobSheet } from "../../src/core/jobsheet/sheet.ts";
import { dialectOf } from "../../src/core/program/read/dialect.ts";
import { readProgram } from "../../src/core/program/read/read.ts";
import { isMove, type TraceMove } from "../../src/core/program/read/trace.ts";
import { colourOf, LEVELS } from "../../src/page/player/depth-scale.ts";
import { longJob } from "../jobsheet/player/long-program.ts";
import { seriousFaults } from "./support/accessible.ts";
import { picture } from "./support/artefacts.ts";
import { usingBrowser } from "./support/browser.ts";
import {
  blockBack,
  blockOn,
  clock,
  darkShare,
  difference,
  goToLine,
  keep,
  lookAt,
  pace,
  painted,
  pause,
  play,
  program,
  scrub,
  shown,
} from "./support/drive.ts";
import { demoPlan, demoSheet, expectQuiet, openSheet } from "./support/job-sheets.ts";
import { coloursAt, insidePlates } from "./support/on-sheet.ts";

const open = usingBrowser();

/** Both of the demo's sheets, mm. */
const SHEET = [300, 200] as const;

/** A program of the demo: its lines, and its moves by the line that makes them. */
function programAt(index: number): { file: string; lines: string[]; moves: TraceMove[] } {
  const { plan, files } = demoPlan();
  const file = plan?.programs[index]?.file ?? "";
  const text = files.get(file) ?? "";
  if (plan === undefined || text === "") throw new Error("the demo has three programs");
  const moves = readProgram(file, text, dialectOf(plan.machine)).steps.filter(isMove);
  return { file, lines: text.split("\n"), moves };
}

describe("stepping", () => {
  test("to a block shows its line as the program has it, and where it leaves the cutter", async () => {
    const opened = await openSheet(open, demoSheet());
    const { page } = opened;
    for (const index of [0, 2]) {
      const { lines, moves } = programAt(index);
      await program(page).selectOption(String(index));
      for (let k = 1; k <= 12; k++) {
        const move = moves[Math.floor((k * (moves.length - 1)) / 12)] as TraceMove;
        await goToLine(page, move.line);
        const now = await shown(page);
        expect(now.line).toBe(move.line);
        expect(now.text).toBe(lines[move.line - 1]);
        expect(Number(now.figures["X"])).toBeCloseTo(move.x1, 2);
        expect(Number(now.figures["Y"])).toBeCloseTo(move.y1, 2);
        expect(Number.parseFloat(now.figures["Z"] ?? "")).toBeCloseTo(move.z1, 2);
        expect(now.figures["Feed"]).toBe(
          move.kind === "rapid" ? "rapid" : `${Number(move.feed.toFixed(3))} mm/min`,
        );
      }
    }
    expectQuiet(opened);
  });

  test("on and back, by buttons and keys, goes block by block", async () => {
    const { page } = await openSheet(open, demoSheet());
    const { moves } = programAt(0);
    const start = 500;
    await goToLine(page, moves[start]?.line ?? 0);
    for (let k = 1; k <= 5; k++) {
      await blockOn(page).click();
      expect((await shown(page)).line).toBe(moves[start + k]?.line);
    }
    await blockBack(page).click();
    await clock(page).focus();
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.press("ArrowLeft");
    expect((await shown(page)).line).toBe(moves[start + 2]?.line);
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("PageUp");
    expect((await shown(page)).line).toBe(moves[start + 103]?.line);
    await page.keyboard.press("Home");
    expect((await shown(page)).line).toBe(moves[0]?.line);
    expect(await clock(page).getAttribute("aria-valuetext")).toMatch(/^0 min 0 s, line \d+$/);
  });

  test("to a line that moves nothing says so, and shows the one before it", async () => {
    const { page } = await openSheet(open, demoSheet());
    const { lines, moves } = programAt(0);
    const comment = lines.findIndex((line, i) => i > 100 && line.startsWith("(")) + 1;
    await goToLine(page, comment);
    const now = await shown(page);
    expect(now.line).toBe(Math.max(...moves.map((m) => m.line).filter((l) => l < comment)));
    expect(now.note).toContain(`Line ${comment} moves nothing`);
  });
});

test("a line that the proof names is shown when its link is followed", async () => {
  const { page } = await openSheet(open, demoSheet());
  const { plan, files } = demoPlan();
  const named = plan?.proof.checks.filter((c) => c.program !== undefined) ?? [];
  const check = named.find((c) => c.program?.file === plan?.programs[2]?.file) ?? named[0];
  const { file = "", line = 0 } = check?.program ?? {};
  await page
    .getByRole("link", { name: `${file} line ${line}` })
    .first()
    .click();
  const now = await shown(page);
  expect([now.line, now.text]).toEqual([line, files.get(file)?.split("\n")[line - 1]]);
  await expect.poll(() => page.evaluate(() => location.hash)).toBe("#motion");
});

describe("the picture", () => {
  test("loses more of the sheet the further the program is, and gets it back", async () => {
    const { page } = await openSheet(open, demoSheet());
    await keep(page, "0");
    let last = "0";
    for (const share of [0.2, 0.5, 0.8, 1]) {
      await scrub(page, share);
      await keep(page, String(share));
      const { changed, lighter } = await difference(page, last, String(share));
      expect(changed).toBeGreaterThan(500);
      // The deeper of two cuts stays, so nothing gets lighter.
      expect(lighter).toBe(0);
      last = String(share);
    }
    await scrub(page, 0);
    await keep(page, "again");
    expect((await difference(page, "0", "again")).changed).toBe(0);
  });

  test("is the same whichever way one came, but for the softness of edges", async () => {
    const { page } = await openSheet(open, demoSheet());
    await scrub(page, 0.4);
    await keep(page, "forward");
    await scrub(page, 1);
    await scrub(page, 0.4);
    await keep(page, "back");
    const { pixels, changed } = await difference(page, "forward", "back");
    // Where strokes are cut in two their soft edges lie on one another.
    expect(changed / pixels).toBeLessThan(0.002);
  });

  test("of a later program on the same sheet begins with what the earlier ones took", async () => {
    const { page } = await openSheet(open, demoSheet());
    await program(page).selectOption("1");
    await keep(page, "begun");
    await scrub(page, 1);
    await keep(page, "ended");
    await program(page).selectOption("2");
    await keep(page, "next");
    expect((await difference(page, "ended", "next")).changed).toBe(0);
    expect((await difference(page, "begun", "ended")).changed).toBeGreaterThan(1000);
  });

  test("of a proven sheet cuts into no plate, through every hole, and shows every tab at its depth", async () => {
    const { plan } = demoPlan();
    const { page } = await openSheet(open, demoSheet());
    for (const [index, name] of [
      [0, "carbon-4"],
      [2, "carbon-2"],
    ] as const) {
      const sheet = plan?.sheets.find((s) => s.name === name);
      if (sheet === undefined) throw new Error(`no sheet ${name}`);
      await program(page).selectOption(String(index === 0 ? 0 : 1));
      await scrub(page, 0);
      await keep(page, `${name} whole`);
      await program(page).selectOption(String(index));
      await scrub(page, 1);
      await keep(page, name);
      const inside = await insidePlates(page, `${name} whole`, name);
      expect(inside.pixels).toBeGreaterThan(10_000);
      expect(inside.touched).toBe(0);

      const holes = sheet.placements.flatMap((p) => p.features.filter((f) => f.kind === "hole"));
      expect(holes.length).toBeGreaterThan(10);
      const through = (colourOf(LEVELS).match(/\d+/g) ?? []).map(Number);
      const places = holes.map((f) => f.at);
      for (const colour of await coloursAt(page, name, places, SHEET)) {
        expect(colour).toEqual(through);
      }

      const depth = sheet.thickness + (plan?.throughDepth ?? 0);
      for (const tab of sheet.tabs) {
        const level = ((sheet.thickness - tab.height) / depth) * LEVELS;
        const wanted = (colourOf(Math.ceil(level)).match(/\d+/g) ?? []).map(Number);
        // The groove is beside the edge that the tab is on, to one side or the other.
        const round = Array.from({ length: 24 }, (_, k) => {
          const angle = (2 * Math.PI * k) / 24;
          return [tab.at[0] + Math.cos(angle), tab.at[1] + Math.sin(angle)] as const;
        });
        const seen = await coloursAt(page, name, round, SHEET);
        const nearest = Math.min(
          ...seen.map((c) => Math.max(...c.map((v, i) => Math.abs(v - (wanted[i] ?? 0))))),
        );
        // A level of the scale is some four counts.
        expect(nearest).toBeLessThan(5);
      }
    }
  });

  test("can be of one plate, and is then larger", async () => {
    const { page } = await openSheet(open, demoSheet());
    await scrub(page, 1);
    await keep(page, "whole");
    await lookAt(page).selectOption({ label: "arm 1" });
    await keep(page, "near");
    expect(await darkShare(page, "near")).toBeGreaterThan(1.5 * (await darkShare(page, "whole")));
    await picture(page, "job-sheet-plate");
  });
});

describe("playing", () => {
  test("moves cutter, line and clock, and takes from the sheet, until it is paused", async () => {
    const opened = await openSheet(open, demoSheet());
    const { page } = opened;
    await pace(page).selectOption("240");
    await goToLine(page, 60);
    const before = await shown(page);
    await keep(page, "before");
    await play(page).click();
    await page.waitForFunction(
      (line) =>
        Number(document.querySelector(".player-lines [aria-current] b")?.textContent) > line,
      before.line + 100,
    );
    await pause(page).click();
    await painted(page);
    const after = await shown(page);
    expect(after.line).toBeGreaterThan(before.line + 100);
    expect(after.figures["X"]).not.toBe(before.figures["X"]);
    expect(after.figures["Clock"]).not.toBe(before.figures["Clock"]);
    await keep(page, "after");
    expect((await difference(page, "before", "after")).changed).toBeGreaterThan(100);
    await page.waitForTimeout(300);
    expect(await shown(page)).toEqual(after);
    expectQuiet(opened);
  });

  test("ends at the program's end and begins anew from there", async () => {
    const { page } = await openSheet(open, demoSheet());
    await pace(page).selectOption("240");
    await scrub(page, 0.999);
    await play(page).click();
    await page.getByText("The program's end.").waitFor();
    const { lines } = programAt(0);
    const now = await shown(page);
    expect(now.text).toBe(lines[now.line - 1]);
    expect(now.text).toMatch(/^M(2|30)$/);
    await play(page).click();
    await page.waitForFunction(
      () => Number(document.querySelector(".player-lines [aria-current] b")?.textContent) < 100,
    );
    await pause(page).click();
  });

  test("with reduced motion the picture changes twice a second", async () => {
    const { page } = await openSheet(open, demoSheet(), { reducedMotion: true });
    await pace(page).selectOption("16");
    await goToLine(page, 60);
    await play(page).click();
    const times = await page.evaluate(
      () =>
        new Promise<number[]>((done) => {
          const seen: number[] = [];
          const figure = document.querySelector(".player-figures dd") as HTMLElement;
          new MutationObserver(() => {
            seen.push(performance.now());
            if (seen.length === 4) done(seen);
          }).observe(figure, { childList: true, characterData: true, subtree: true });
        }),
    );
    const gaps = times.slice(1).map((t, i) => t - (times[i] ?? 0));
    expect(Math.min(...gaps)).toBeGreaterThan(400);
  });
});

describe("looked at", () => {
  test.each([
    [1280, "light"],
    [390, "light"],
    [1280, "dark"],
    [390, "dark"],
  ] as const)("at %i, %s: no serious fault, nothing past the edge", async (width, scheme) => {
    const opened = await openSheet(open, demoSheet(), { width, scheme, height: 844 });
    const { page } = opened;
    await scrub(page, 0.55);
    expect(await seriousFaults(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
    await page.locator("section[aria-labelledby=motion]").scrollIntoViewIfNeeded();
    await picture(page, `job-sheet-player-${width}-${scheme}`);
    await picture(page, `job-sheet-${width}-${scheme}`, true);
    expectQuiet(opened);
  });
});

test("a job of 60,000 blocks is under 4 MB, opens, and plays to its end and back", async () => {
  const { plan, motion } = longJob(60_000);
  const html = jobSheet(plan, { motion });
  expect(new TextEncoder().encode(html).length).toBeLessThan(4_000_000);
  const opened = await openSheet(open, html);
  const { page } = opened;
  await keep(page, "whole");
  await scrub(page, 1);
  await keep(page, "end");
  expect((await difference(page, "whole", "end")).changed).toBeGreaterThan(10_000);
  const lines = motion[0]?.text.split("\n") ?? [];
  await goToLine(page, 30_000);
  const now = await shown(page);
  expect([now.line, now.text]).toEqual([30_000, lines[29_999]]);
  await scrub(page, 0);
  await keep(page, "again");
  expect((await difference(page, "whole", "again")).changed).toBe(0);
  expectQuiet(opened);
});
