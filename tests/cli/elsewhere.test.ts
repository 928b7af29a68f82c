/** Errands come back right whatever becomes of the thread that is asked to do them. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, test, vi } from "vitest";
import { runnerOn } from "../../src/cli/elsewhere/runner.ts";
import { startHelper } from "../../src/cli/elsewhere/thread.ts";
import { rectangle } from "../../src/core/geometry/contour.ts";
import { doErrand } from "../../src/core/job/work/do-errand.ts";
import { HERE } from "../../src/core/job/work/errands.ts";
import type { Sheet } from "../../src/core/layout/layout.ts";
import { tempFolder } from "./temp-folder.ts";

const sheet = {
  name: "carbon",
  material: "carbon-woven",
  thickness: 2,
  outline: rectangle(0, 0, 200, 100),
  fibreDeg: 0,
  margin: 5,
  keepOuts: [],
} satisfies Sheet;

const asks = {
  sheet,
  plates: [
    {
      outer: rectangle(10, 10, 60, 60),
      windows: [],
      places: [{ x: 0, y: 0, angle: 0, flipped: false }],
    },
  ],
  options: { kerf: 2, leastWidth: 30 },
};

const here = () => doErrand("offcuts", asks);

/** A helper that marks in its folder that it has taken an errand, and then answers with these messages. */
const taking = (answers: string): string => `
import { workerData } from "node:worker_threads";
import { writeFileSync } from "node:fs";
const { port, states } = workerData;
port.on("message", ({ number }) => {
  Atomics.store(states, number, 1);
  writeFileSync(new URL("taken", import.meta.url), "");
  for (const answer of ${answers}) {
    port.postMessage(answer);
  }
  Atomics.store(states, number, 3);
  Atomics.notify(states, number);
});`;

async function answerOf(text: string): Promise<unknown> {
  const folder = tempFolder({ "helper.js": text, "package.json": '{"type":"module"}' });
  const helper = startHelper(pathToFileURL(join(folder, "helper.js")));
  try {
    const { fetch } = runnerOn(helper)("offcuts", asks, here);
    if (text.includes("taken")) await vi.waitUntil(() => existsSync(join(folder, "taken")), 20_000);
    return fetch();
  } finally {
    helper?.end();
  }
}

test.each([
  ["never comes up", "throw new Error('no');"],
  ["does nothing", ""],
  ["takes the errand and fails", taking("[{ number, failed: true }]")],
])("a helper that %s", async (_what, text) => {
  expect(await answerOf(text)).toEqual(here());
});

test("an answer is taken for its own errand, whatever comes before it", async () => {
  const answers = `[
    { number: number + 7, value: "another's", failed: false },
    { number, value: "its own", failed: false },
  ]`;
  expect(await answerOf(taking(answers))).toBe("its own");
});

test("from source all is done here", () => {
  expect(startHelper()).toBeUndefined();
  expect(runnerOn(undefined)).toBe(HERE);
});
