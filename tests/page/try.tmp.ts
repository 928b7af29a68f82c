import { launch, newPage } from "./support/browser.ts";
const browser = await launch();
const { page, complaints, refused } = await newPage(browser);
await page.goto("file:///tmp/page.html");
await page.evaluate(() => { (globalThis as any).t0 = performance.now(); });
const t = await page.evaluate(async () => {
  const t0 = performance.now();
  const out: Record<string, number> = {};
  [...document.querySelectorAll("button")].find((b) => b.textContent === "The demo")?.click();
  await new Promise<void>((done) => {
    const i = setInterval(() => {
      if (document.querySelector("svg") && !out.svg) out.svg = performance.now() - t0;
      if (document.querySelector("[role=status]")?.textContent === "ready" && performance.now() - t0 > 300) { out.ready = performance.now() - t0; clearInterval(i); done(); }
    }, 5);
  });
  return out;
});
console.log(t, complaints, refused);
await page.screenshot({ path: "/tmp/pg/a.png" });
await browser.close();
