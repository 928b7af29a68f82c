/**
 * The job sheet in a browser: how large it is, how soon it is there, how smoothly its player plays. Alone by
 * `npm run bench:sheet -- [--rounds N]`; `jobSheetFigures` and `jobSheetPart` for whoever gathers all figures.
 *
 * "Opens" ends with the second frame after the script has run, so that the player stands there drawn. Frames are counted by the browser's
 * own calls for them; it gives 60 a second at the most.
 */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import type { Browser, Page } from "playwright-core";
import { encodeMotion } from "../../src/core/jobsheet/motion/encode.ts";
import { runsOf } from "../../src/core/jobsheet/motion/player-data.ts";
import { jobSheet } from "../../src/core/jobsheet/sheet.ts";
import { longJob } from "../jobsheet/player/long-program.ts";
import { demoJob, planned } from "../layout-read-back/demo.ts";
import { launch, newPage } from "../page/support/browser.ts";
import { goToLine, pace, pause, play } from "../page/support/drive.ts";
import { loadLine, machineLine } from "./machine.ts";
import { type Spread, shown, spread, timed } from "./numbers.ts";

export interface JobSheetRow {
  readonly name: string;
  readonly bytes: number;
  /** Writing the motion, and the whole sheet with it. */
  readonly encodeMs: Spread;
  readonly writeMs: Spread;
  readonly openMs: Spread;
  /** At 240 times the machine's pace. */
  readonly framesPerSecond: Spread;
  readonly longestFrameMs: Spread;
  /** From the beginning to the end, and one block back from the middle, until the picture is there. */
  readonly toEndMs: Spread;
  readonly blockBackMs: Spread;
}

interface Task {
  readonly name: string;
  readonly encode: () => unknown;
  readonly write: () => string;
  readonly middleLine: number;
}

const BLOCKS = 60_000;
const PLAY_MS = 3000;

export async function jobSheetFigures(rounds: number): Promise<JobSheetRow[]> {
  const rows: JobSheetRow[] = [];
  const browser = await launch();
  try {
    for (const task of tasks()) rows.push(await measured(browser, task, rounds));
  } finally {
    await browser.close();
  }
  return rows;
}

function tasks(): Task[] {
  const { plan, files } = planned(demoJob());
  if (plan === undefined) throw new Error("the demo has a plan");
  const task = (name: string, job: ReturnType<typeof longJob>, middleLine: number): Task => ({
    name,
    encode: () => job.motion.map((run) => encodeMotion(run.trace, run.time.stepSeconds)),
    write: () => jobSheet(job.plan, { motion: job.motion }),
    middleLine,
  });
  return [
    task("demo", { plan, motion: runsOf(plan, files) }, 1200),
    task(`${BLOCKS} blocks`, longJob(BLOCKS), BLOCKS / 2),
  ];
}

async function measured(browser: Browser, task: Task, rounds: number): Promise<JobSheetRow> {
  const folder = mkdtempSync(join(tmpdir(), "weftcut-bench-"));
  const path = join(folder, "job-sheet.html");
  const runs: Record<"encode" | "write" | "open" | "fps" | "longest" | "end" | "back", number[]> = {
    encode: [],
    write: [],
    open: [],
    fps: [],
    longest: [],
    end: [],
    back: [],
  };
  let bytes = 0;
  try {
    for (let round = 0; round < rounds; round++) {
      runs.encode.push(timed(task.encode).ms);
      const written = timed(task.write);
      runs.write.push(written.ms);
      bytes = Buffer.byteLength(written.value);
      writeFileSync(path, written.value);
      const { page, context } = await newPage(browser);
      // tsx names functions by a helper that a function sent into the page does not find there.
      await page.addInitScript("globalThis.__name ??= (named) => named");
      runs.open.push(await opening(page, path));
      const { framesPerSecond, longest } = await playing(page);
      runs.fps.push(framesPerSecond);
      runs.longest.push(longest);
      runs.end.push(await caughtUp(page, "end"));
      await goToLine(page, task.middleLine);
      runs.back.push(await caughtUp(page, "back"));
      await context.close();
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  return {
    name: task.name,
    bytes,
    encodeMs: spread(runs.encode),
    writeMs: spread(runs.write),
    openMs: spread(runs.open),
    framesPerSecond: spread(runs.fps),
    longestFrameMs: spread(runs.longest),
    toEndMs: spread(runs.end),
    blockBackMs: spread(runs.back),
  };
}

async function opening(page: Page, path: string): Promise<number> {
  const before = performance.now();
  await page.goto(pathToFileURL(path).href);
  await page.evaluate(
    () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))),
  );
  return performance.now() - before;
}

async function playing(page: Page): Promise<{ framesPerSecond: number; longest: number }> {
  await pace(page).selectOption("240");
  await page.locator("#player").scrollIntoViewIfNeeded();
  await play(page).click();
  const counted = await page.evaluate(
    (most) =>
      new Promise<{ framesPerSecond: number; longest: number }>((done) => {
        const start = performance.now();
        let [last, frames, longest] = [start, 0, 0];
        const next = (): void => {
          const now = performance.now();
          longest = Math.max(longest, now - last);
          last = now;
          frames++;
          if (now - start < most) requestAnimationFrame(next);
          else done({ framesPerSecond: (1000 * frames) / (now - start), longest });
        };
        requestAnimationFrame(next);
      }),
    PLAY_MS,
  );
  await pause(page).click();
  return counted;
}

/** ms until the picture has caught up. */
async function caughtUp(page: Page, what: "end" | "back"): Promise<number> {
  return page.evaluate(
    (to) =>
      new Promise<number>((done) => {
        const clock = document.querySelector("#player input[type=range]") as HTMLInputElement;
        const back = document.querySelectorAll("#player button")[1] as HTMLButtonElement;
        const before = performance.now();
        if (to === "back") back.click();
        else {
          clock.value = clock.max;
          clock.dispatchEvent(new Event("input"));
        }
        const look = (): void => {
          if (document.querySelector(".player-busy") === null) done(performance.now() - before);
          else requestAnimationFrame(look);
        };
        look();
      }),
    what,
  );
}

export function jobSheetPart(rows: readonly JobSheetRow[]): string {
  const head =
    "| job | size, MB | motion written, ms | sheet written, ms | opens, ms | frames a second | longest frame, ms | to the end, ms | block back, ms |";
  const rule = `|${" --- |"}${" ---: |".repeat(8)}`;
  const lines = rows.map((r) => {
    const ms = (s: Spread): string => shown(s, 0);
    const cells = [
      r.name,
      (r.bytes / 1e6).toFixed(2),
      ms(r.encodeMs),
      ms(r.writeMs),
      ms(r.openMs),
      shown(r.framesPerSecond, 1),
      ms(r.longestFrameMs),
      ms(r.toEndMs),
      ms(r.blockBackMs),
    ];
    return `| ${cells.join(" | ")} |`;
  });
  return `## Job sheet in the browser

Opened from disk in Chromium without a graphics card, 1280 × 800. The made job is one program of ${BLOCKS} blocks, each with
every word that a block can have. Played at 240 times the machine's pace for ${PLAY_MS / 1000} s; the browser gives no more than 60 frames a second.

${[head, rule, ...lines].join("\n")}
`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { values } = parseArgs({ options: { rounds: { type: "string", default: "3" } } });
  const rows = await jobSheetFigures(Math.max(1, Number(values.rounds)));
  process.stdout.write(`${jobSheetPart(rows)}\n${machineLine()}; load ${loadLine()}\n`);
}
