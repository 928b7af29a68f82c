/** From a dropped drawing to programs, as a maker would: each step is seen before the next. */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { weftcut } from "../../cli/run-cli.ts";
import { contentsOf, ROOT, tempFolder } from "../../cli/temp-folder.ts";
import { usingBrowser } from "../support/browser.ts";
import { deskAt, expectQuiet } from "../support/desk.ts";
import { usingServer } from "../support/served.ts";

const open = usingBrowser();
const served = usingServer();

const ARM = readFileSync(join(ROOT, "fixtures/demo/arm.dxf"), "utf8");
/** The same, whose header does not say its unit. */
const WITHOUT_UNITS = ARM.replace(/ {2}9\n\$INSUNITS\n 70\n4\n/, "").replace(
  / {2}9\n\$MEASUREMENT\n 70\n1\n/,
  "",
);

/** What the command line makes of the same job, by name. */
function byCommandLine(files: Readonly<Record<string, string>>): Record<string, string> {
  const folder = tempFolder();
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, name), text);
  }
  const out = join(folder, "out");
  const ran = weftcut(["plan", join(folder, "job.yaml"), "--out", out]);
  expect([ran.code, ran.err]).toMatchObject([0, expect.not.stringContaining("stop ")]);
  const read = contentsOf(out);
  return Object.fromEntries(
    Object.keys(read).map((name) => [name, readFileSync(join(out, name), "utf8")]),
  );
}

test("a drawing without units becomes programs, the same to the byte as the command line's", async () => {
  const desk = await deskAt(open, served());
  const { page } = desk;
  await desk.drop({ "arm.dxf": WITHOUT_UNITS });
  await desk.settled();
  // Seen at once, though nothing can be planned yet.
  expect(await desk.findings()).toContainEqual(expect.stringContaining("does not say its unit"));
  const drawing = page.locator("details.drawing").filter({ hasText: "arm.dxf" });
  expect(await drawing.textContent()).toContain("138.62 × 30 mm");
  expect(await page.getByRole("button", { name: "Take everything" }).isDisabled()).toBe(true);

  await desk.press(/^Millimetres: 138/);
  await desk.settled();
  expect(await desk.jobText()).toContain('units: "mm"');
  expect(await desk.findings()).not.toContainEqual(expect.stringContaining("unit"));
  expect(await page.locator(".way li").last().textContent()).toContain("proven");

  // A cutter that does not pass the holes is told, and gone when it does.
  const diameter = desk.field("router-2", "Diameter");
  await diameter.fill("3.9");
  await desk.settled();
  const wide = await desk.findings();
  expect(wide).toContainEqual(expect.stringMatching(/^\d+Stop:.*cutter/));
  await diameter.fill("1.5");
  await desk.settled();
  expect((await desk.findings()).filter((f) => f.includes("Stop:"))).toEqual([]);

  const text = await desk.jobText();
  const taken = await desk.taken("Take everything");
  expect(Object.keys(taken)).toContain("plan.json");
  expect(Object.keys(taken).filter((name) => name.endsWith(".nc")).length).toBeGreaterThan(1);
  expect(taken).toEqual(byCommandLine({ "job.yaml": text, "arm.dxf": WITHOUT_UNITS }));
  const programs = await desk.taken("Take the programs");
  expect(Object.keys(programs).every((name) => name.endsWith(".nc"))).toBe(true);
  expectQuiet(desk);
});

test("the demo is the command line's demo to the byte", async () => {
  const desk = await deskAt(open, served());
  await desk.press("Look at the demo");
  await desk.settled();
  const taken = await desk.taken("Take everything");
  const folder = join(ROOT, "fixtures/demo");
  const names = ["job.yaml", "small-router.yaml", "arm.dxf", "bottom-plate.dxf"];
  const files = [...names, "top-plate.dxf", "camera-side.dxf"].map((name) => [
    name,
    readFileSync(join(folder, name), "utf8"),
  ]);
  expect(taken).toEqual(byCommandLine(Object.fromEntries(files)));
  expectQuiet(desk);
});

test("undo and redo go through the job's states, and a reload keeps the last", async () => {
  const desk = await deskAt(open, served());
  const { page } = desk;
  await desk.drop({ "arm.dxf": ARM });
  await desk.settled();
  const first = await desk.jobText();
  await page.locator("summary", { hasText: "router-2" }).focus();
  await desk.field("router-2", "Diameter").fill("1.8");
  await desk.field("router-2", "Overhang").fill("12");
  await desk.settled();
  const last = await desk.jobText();
  expect(last).toContain("diameter: 1.8");
  expect(last).toContain("overhang: 12");
  await page.keyboard.press("Control+z");
  expect(await desk.jobText()).toBe(last.replace("overhang: 12", "overhang: 14"));
  await desk.press("Undo");
  expect(await desk.jobText()).toBe(first);
  await page.keyboard.press("Control+Shift+z");
  await page.keyboard.press("Control+y");
  await desk.settled();
  expect(await desk.jobText()).toBe(last);
  await page.waitForTimeout(400);
  await page.reload();
  await page.locator(".way").waitFor();
  await desk.settled();
  expect(await desk.jobText()).toBe(last);
  expect(await page.locator(".way li").last().textContent()).toContain("proven");
  await desk.press("Begin anew");
  await page.getByRole("button", { name: "Look at the demo" }).waitFor();
  expectQuiet(desk);
});
