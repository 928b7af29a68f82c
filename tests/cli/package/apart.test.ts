/** Long work is run by a second Node where processors are few: nobody who calls may tell. */
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { expect, test } from "vitest";
import { MAIN } from "../run-cli.ts";
import { ROOT, tempFolder } from "../temp-folder.ts";

const DEMO = join(ROOT, "fixtures/demo/job.yaml");
const { NODE_OPTIONS: _options, ...env } = process.env;

interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly text: string;
}

/** Closed once everyone who writes there has ended, a second process too. */
function ended(child: ChildProcess): Promise<Ended> {
  let text = "";
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on("data", (bytes: Buffer) => {
      text += bytes.toString();
    });
  }
  return new Promise((resolve) => {
    child.on("close", (code, signal) => resolve({ code, signal, text }));
  });
}

function run(flags: readonly string[], args: readonly string[]): ChildProcess {
  return spawn(process.execPath, [...flags, MAIN, ...args], { env });
}

test.each([
  ["a job that plans", ["check", DEMO]],
  ["a job that is not there", ["plan", "nowhere.yaml", "--out", "nowhere"]],
  ["an option that there is not", ["plan", DEMO, "--outt", "nowhere"]],
])("%s: the same words and the same exit code from one process as from two", async (_, args) => {
  const two = await ended(run([], args));
  const one = await ended(run(["--v8-pool-size=1"], args));
  expect(two).toEqual(one);
  expect(two.text).not.toBe("");
});

test.runIf(availableParallelism() < 5)(
  "told to end, it ends at once with what works for it, and nothing is written",
  async () => {
    const out = join(tempFolder(), "out");
    const child = run([], ["plan", DEMO, "--out", out]);
    const end = ended(child);
    // Long enough that the second one has begun, far too short for a plan.
    await new Promise((resolve) => setTimeout(resolve, 300));
    child.kill("SIGTERM");
    expect(await end).toEqual({ code: null, signal: "SIGTERM", text: "" });
    expect(existsSync(out)).toBe(false);
  },
);
