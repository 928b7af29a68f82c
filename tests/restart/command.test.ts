/** `weftcut restart`, in this process: what it writes, what it says, and that it writes nothing unproven. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { buildProgram } from "../../src/cli/program.ts";
import { tempFolder } from "../cli/temp-folder.ts";
import { fixtureText } from "../proof/support/planned.ts";
import { listening } from "../support/listening.ts";

const FILES: Readonly<Record<string, string>> = {
  "plan.json": fixtureText("foreign/plan.json"),
  "tag-drill.nc": fixtureText("foreign/tag-drill.nc"),
  "tag-router.nc": fixtureText("foreign/tag-router.nc"),
};

async function run(folder: string, ...args: string[]) {
  const { io, said } = listening();
  const { program, code } = buildProgram(io);
  const files = ["plan.json", "tag-router.nc"].map((name) => join(folder, name));
  const out = ["--out", join(folder, "restart.nc")];
  await program.parseAsync(["restart", ...files, ...out, ...args], { from: "user" });
  return { ...said, code: code() };
}

test("writes a proven program, prints the lines to look at, and does not write over it", async () => {
  const folder = tempFolder(FILES);
  const { out, err, code } = await run(folder, "--line", "60");
  expect(err).toBe("");
  expect(code).toBe(0);
  const text = readFileSync(join(folder, "restart.nc"), "utf8");
  const shown = [...out.matchAll(/^ +(\d+) {2}(.+)$/gm)];
  expect(shown.length).toBeGreaterThan(8);
  for (const [, n, line] of shown) expect(text.split("\n")[Number(n) - 1]).toBe(line);
  expect(out).toMatch(/ G0 Z6$/m);
  expect(out).toMatch(/^proven /m);
  const again = await run(folder, "--line", "60");
  expect(again.code).toBe(2);
  expect(again.err).toMatch(/^stop file-in-the-way /);
  expect((await run(folder, "--line", "60", "--force")).code).toBe(0);
});

test("--json is one document with place, metres, lines to look at and both proofs", async () => {
  const folder = tempFolder(FILES);
  const { out, code } = await run(folder, "--line", "60", "--look-ahead", "10", "--json");
  expect(code).toBe(0);
  const told = JSON.parse(out);
  expect(told.file).toBe(join(folder, "restart.nc"));
  expect(told.proven).toBe(true);
  expect(told.proofs.map((p: { proven: boolean }) => p.proven)).toEqual([true, true]);
  expect(told.line).toBeLessThanOrEqual(50);
  expect(told.cutTo).toBeGreaterThanOrEqual(60);
  expect(told.look[0].text).toBe("G21");
  expect(told.twiceMetres).toBeLessThan(told.metres);
  expect(told.findings).toEqual([]);
});

test.each([
  [["--line", "9999"], 1, "restart-line-beyond"],
  [["--plate", "nothing"], 1, "restart-without-plates"],
  [[], 2, "restart-wants"],
  [["--line", "5", "--plate", "x"], 2, "restart-wants"],
])("%j: code %d, %s, and nothing is written", async (args, expected, finding) => {
  const folder = tempFolder(FILES);
  const { err, code } = await run(folder, ...args);
  expect(code).toBe(expected);
  expect(err).toContain(`stop ${finding} `);
  expect(existsSync(join(folder, "restart.nc"))).toBe(false);
});

test.each(["0", "-3", "1.5", "abc"])("--line %s is bad usage", async (line) => {
  await expect(run(tempFolder(FILES), `--line=${line}`)).rejects.toThrow(/line number/);
});

test("by plate, from a job's own folder: the plates before it are left out", async () => {
  const folder = tempFolder({});
  const said = async (...args: string[]) => {
    const { io, said } = listening();
    const { program, code } = buildProgram(io);
    await program.parseAsync(args, { from: "user" });
    return { ...said, code: code() };
  };
  const job = join(folder, "job");
  expect((await said("new", job)).code).toBe(0);
  const out = join(folder, "out");
  expect((await said("plan", join(job, "job.yaml"), "--out", out)).code).toBe(0);
  const plan = JSON.parse(readFileSync(join(out, "plan.json"), "utf8"));
  const [{ file, plates }] = plan.programs;
  const last = plates.at(-1);
  const taken = await said(
    ...[
      "restart",
      join(out, "plan.json"),
      join(out, file),
      "--plate",
      `${last.plate} ${last.copy}`,
    ],
    ...["--out", join(folder, "restart.nc")],
  );
  expect(taken.err).toBe("");
  expect(taken.code).toBe(0);
  const first = plates
    .slice(0, -1)
    .map((p: { plate: string; copy: number }) => `${p.plate} ${p.copy}`);
  expect(taken.out).toContain(`left out, finished: ${first.join(", ")}`);
  expect(taken.out).toContain(`cut now: ${last.plate} ${last.copy}`);
  const text = readFileSync(join(folder, "restart.nc"), "utf8");
  expect(text).not.toContain(`(plate ${first[0]?.replace(/ (\d+)$/, " copy $1")})`);
});

test("a program that was spoiled, or whose fellow is missing, is not taken up", async () => {
  const shallow = fixtureText("foreign/tag-router.nc").replace(/z-\.004/g, "z-.003");
  const spoiled = tempFolder({ ...FILES, "tag-router.nc": shallow });
  const { "tag-drill.nc": _, ...without } = FILES;
  for (const folder of [spoiled, tempFolder(without)]) {
    const { out, code } = await run(folder, "--line", "60");
    expect(code).toBe(1);
    expect(out).toMatch(/NOT PROVEN, not written/);
    expect(existsSync(join(folder, "restart.nc"))).toBe(false);
  }
});
