/** A plan is worked out by two threads where there are two processors: nobody who calls may tell. */
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import process from "node:process";
import { expect, test } from "vitest";
import { MAIN } from "../run-cli.ts";
import { contentsOf, ROOT, tempFolder } from "../temp-folder.ts";

const DEMO = join(ROOT, "fixtures/demo/job.yaml");

interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
}

function ended(child: ChildProcess): Promise<Ended> {
  const said = { out: "", err: "" };
  child.stdout?.on("data", (bytes: Buffer) => {
    said.out += bytes.toString();
  });
  child.stderr?.on("data", (bytes: Buffer) => {
    said.err += bytes.toString();
  });
  return new Promise((resolve) => {
    child.on("close", (code, signal) => resolve({ code, signal, ...said }));
  });
}

/** `processors` as Node is to take the machine for. */
function run(processors: number, args: readonly string[], cwd: string): ChildProcess {
  const folder = tempFolder({
    "processors.cjs": `require("node:os").availableParallelism = () => ${processors};`,
  });
  const preload = ["--require", join(folder, "processors.cjs")];
  return spawn(process.execPath, [...preload, MAIN, ...args], { cwd });
}

test.each([
  ["a job that plans", ["plan", DEMO, "--out", "out"]],
  ["a job that is not there", ["plan", "nowhere.yaml", "--out", "out"]],
  ["an option that there is not", ["plan", DEMO, "--outt", "out"]],
])("%s: the same words, exit code and files from one thread as from two", async (_, args) => {
  const [one, two] = [tempFolder(), tempFolder()];
  const apart = await ended(run(2, args, two));
  expect(apart).toEqual(await ended(run(1, args, one)));
  expect(apart.out + apart.err).not.toBe("");
  expect(contentsOf(two)).toEqual(contentsOf(one));
});

test("told to end, it ends at once with both threads, and nothing is written", async () => {
  const folder = tempFolder();
  const child = run(2, ["plan", DEMO, "--out", "out"], folder);
  const end = ended(child);
  // Long enough that the second thread is there, far too short for a plan.
  await new Promise((resolve) => setTimeout(resolve, 300));
  child.kill("SIGTERM");
  expect(await end).toEqual({ code: null, signal: "SIGTERM", out: "", err: "" });
  expect(existsSync(join(folder, "out"))).toBe(false);
});
