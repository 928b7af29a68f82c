/** Whatever is dropped or typed: the same findings as the command line's, shown; never an exception. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { Finding } from "../../../src/core/finding/finding.ts";
import { weftcut } from "../../cli/run-cli.ts";
import { ROOT, tempFolder } from "../../cli/temp-folder.ts";
import { usingBrowser } from "../support/browser.ts";
import { deskAt, expectQuiet } from "../support/desk.ts";
import { usingServer } from "../support/served.ts";

const open = usingBrowser();
const served = usingServer();

const DEMO = readFileSync(join(ROOT, "fixtures/demo/job.yaml"), "utf8");
const MACHINE = readFileSync(join(ROOT, "fixtures/demo/small-router.yaml"), "utf8");
const drawing = (name: string) => readFileSync(join(ROOT, `fixtures/demo/${name}.dxf`), "utf8");
const WHOLE = {
  "job.yaml": DEMO,
  "small-router.yaml": MACHINE,
  ...Object.fromEntries(
    ["arm", "bottom-plate", "camera-side", "top-plate"].map((n) => [`${n}.dxf`, drawing(n)]),
  ),
};

function saidByCommandLine(files: Readonly<Record<string, string>>): string[] {
  const folder = tempFolder();
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  const { out } = weftcut(["check", join(folder, "job.yaml"), "--json"]);
  const { findings } = JSON.parse(out) as { findings: readonly Finding[] };
  return findings.map((f) => f.message);
}

const BAD: readonly (readonly [string, Readonly<Record<string, string>>])[] = [
  ["a misspelt key", { ...WHOLE, "job.yaml": DEMO.replace("thickness: 4", "thicknes: 4") }],
  ["no YAML", { ...WHOLE, "job.yaml": `${DEMO}\nplates: [}` }],
  [
    "a value out of range",
    { ...WHOLE, "job.yaml": DEMO.replace("diameter: 2\n", "diameter: -2\n") },
  ],
  [
    "a sheet that is not there",
    { ...WHOLE, "job.yaml": DEMO.replace("sheet: carbon-4", "sheet: x") },
  ],
  ["nothing but a job", { "job.yaml": DEMO }],
  ["a bad machine", { ...WHOLE, "small-router.yaml": MACHINE.replace(/travel:.*/, "travel: [1]") }],
  ["a drawing that is none", { ...WHOLE, "arm.dxf": "<html><body>sign in</body></html>" }],
  ["an empty drawing", { ...WHOLE, "arm.dxf": "" }],
  [
    "a sheet too small",
    { ...WHOLE, "job.yaml": DEMO.replace("size: [300, 200]", "size: [120, 60]") },
  ],
];

test.each(BAD)("%s", async (_, files) => {
  const desk = await deskAt(open, served());
  await desk.drop(files);
  await desk.settled();
  const more = desk.page.getByRole("button", { name: /^Show \d+ more/ });
  if ((await more.count()) > 0) await more.click();
  const shown = await desk.findings();
  const wanted = saidByCommandLine(files);
  expect(wanted.length).toBeGreaterThan(0);
  for (const message of wanted) expect(shown).toContainEqual(expect.stringContaining(message));
  expect(shown).toHaveLength(wanted.length);
  expect(await desk.page.locator(".fault").count()).toBe(0);
  expectQuiet(desk);
});

test("what is typed wrong is told at its field in the command line's words, and gone when it is right", async () => {
  const desk = await deskAt(open, served());
  await desk.drop(WHOLE);
  await desk.settled();
  const { page } = desk;
  await page.locator("summary", { hasText: "router-2" }).click();
  await page.locator("summary", { hasText: "router-2" }).click();
  const length = desk.field("router-2", "Flute length");
  await length.fill("none");
  await desk.settled();
  expect(await length.getAttribute("aria-invalid")).toBe("true");
  const said = await page
    .locator(`[id="${(await length.getAttribute("id")) ?? ""}-said"]`)
    .textContent();
  const files = { ...WHOLE, "job.yaml": DEMO.replace("fluteLength: 8", 'fluteLength: "none"') };
  expect(said).toContain(saidByCommandLine(files)[0]?.replace(/ \(line.*/, ""));
  // The machine stands in a file of its own: its fields write there.
  await length.fill("8");
  await desk.field("Machine", "Fastest").fill("5000");
  await desk.settled();
  const reversed = saidByCommandLine({
    ...WHOLE,
    "small-router.yaml": MACHINE.replace(/max: \d+/, "max: 5000"),
  });
  expect(await desk.findings()).toContainEqual(expect.stringContaining(reversed[0] ?? "?"));
  expect(await desk.jobText()).toBe(DEMO);
  expectQuiet(desk);
});

/** Names with markup and scripts in drawings and jobs. */
test("hostile names show as text", async () => {
  const desk = await deskAt(open, served());
  const { page } = desk;
  const layer = '<img src=x onerror="alert(1)">';
  const dxf = drawing("arm").replaceAll(/\n {2}8\n[^\n]+/g, `\n  8\n${layer}`);
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
<script>document.title = "taken"; fetch("https://example.org/")</script>
<image href="https://example.org/a.png" width="5" height="5"/>
<g id="&lt;b onclick=alert(1)&gt;"><rect x="5" y="5" width="50" height="30" onclick="alert(2)"/></g>
<style>@import url("https://example.org/a.css");</style></svg>`;
  await desk.drop({ '<b>bold</b> & "quoted".dxf': dxf, "script.svg": svg });
  await desk.settled();
  expect(await page.locator(".page b, .page script, .page image, .page img").count()).toBe(0);
  expect(await page.title()).toBe("weftcut");
  expect(
    await page.locator("summary", { hasText: '<b>bold</b> & "quoted"' }).count(),
  ).toBeGreaterThan(0);
  const taken = await desk.taken("Take everything");
  expect(taken["job-sheet.html"]).not.toMatch(/<b>bold|<img src=x/);
  expectQuiet(desk);
});

test("a drawing dropped on a job becomes a plate of it; one that it names fills its place", async () => {
  const desk = await deskAt(open, served());
  const { "arm.dxf": arm, ...rest } = WHOLE as Record<string, string>;
  await desk.drop(rest);
  await desk.settled();
  expect(await desk.findings()).toContainEqual(expect.stringContaining("arm.dxf"));
  await desk.drop({ "arm.dxf": arm ?? "" });
  await desk.settled();
  expect(await desk.jobText()).toBe(DEMO);
  expect((await desk.findings()).filter((f) => f.includes("Stop:"))).toEqual([]);
  await desk.drop({ "spare.dxf": arm ?? "" });
  await desk.settled();
  expect(await desk.jobText()).toContain("spare.dxf");
  expectQuiet(desk);
});
