/** What engines round differently comes out the same to the bit here and in the browser. */
import { join } from "node:path";
import { rolldown } from "rolldown";
import { expect, test } from "vitest";
import * as trig from "../../src/core/geometry/trig.ts";
import { ROOT } from "../cli/temp-folder.ts";
import { usingBrowser } from "./support/browser.ts";

const open = usingBrowser();
const NAMES = ["sin", "cos", "tan", "asin", "acos", "atan", "exp", "log"] as const;
const COUNT = 40_000;

/** Hashes of many values of each function and of whole powers, in whichever engine runs it. */
function hashes(own: typeof trig, names: readonly (typeof NAMES)[number][], count: number) {
  const bits = new DataView(new ArrayBuffer(8));
  let seed = 1;
  const random = () => {
    seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
    return seed / 2 ** 32;
  };
  const hash = (f: () => number) => {
    let sum = 0;
    for (let i = 0; i < count; i++) {
      bits.setFloat64(0, f());
      sum = (Math.imul(sum, 31) + bits.getInt32(0) + bits.getInt32(4)) | 0;
    }
    return sum;
  };
  const range = (name: string) =>
    /^a(sin|cos)$/.test(name)
      ? 2 * random() - 1
      : name === "log"
        ? 50 * random()
        : 20 * random() - 10;
  return {
    ...Object.fromEntries(names.map((name) => [name, hash(() => own[name](range(name)))])),
    square: hash(() => (100 * random()) ** 2),
    cube: hash(() => own.power(100 * random(), 3)),
    fourth: hash(() => own.power(100 * random(), -4)),
    power: hash(() => own.pow(100 * random(), random())),
    angle: hash(() => own.atan2(random() - 0.5, random() - 0.5)),
    root: hash(() => Math.sqrt(100 * random())),
  };
}

test("trigonometry, powers and roots are the same in both engines", async () => {
  const bundle = await rolldown({ input: join(ROOT, "src/core/geometry/trig.ts") });
  const { output } = await bundle.generate({ format: "iife", name: "trig" });
  await bundle.close();
  const { page } = await open();
  const there = await page.evaluate(
    `(() => { ${output[0].code}; return (${hashes.toString()})(trig, ${JSON.stringify(NAMES)}, ${COUNT}); })()`,
  );
  expect(there).toEqual(hashes(trig, NAMES, COUNT));
});
