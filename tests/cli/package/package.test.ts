/** What is published: the files in the tarball, and that it runs from an empty folder. */
import { execFileSync, spawnSync } from "node:child_process";
import {
  chmodSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { dirname, join } from "node:path";
import process from "node:process";
import { expect, test } from "vitest";
import { contentsOf, ROOT, tempFolder } from "../temp-folder.ts";

const LONG = process.env["WEFTCUT_LONG"] !== undefined;

function npm(args: readonly string[], cwd: string): string {
  return execFileSync("npm", args, { cwd, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });
}

test("the tarball holds what is run and read, and no tests", () => {
  const [{ files }] = JSON.parse(npm(["pack", "--dry-run", "--json", "--ignore-scripts"], ROOT));
  const paths: string[] = files.map((file: { path: string }) => file.path);
  expect(paths).toContain("LICENSE");
  expect(paths).toContain("package.json");
  expect(paths).toContain("docs/job.schema.json");
  expect(paths.filter((path) => /^(tests|fixtures|src|lint|\.ci)\//.test(path))).toEqual([]);
});

/**
 * As npm lays a package out, without npm: unpacked under node_modules, nothing beside it, its command linked. So it
 * needs no network and no cache, and a file that the package forgot is missed.
 */
function unpacked(folder: string): void {
  const packed = tempFolder();
  npm(["pack", "--pack-destination", packed], ROOT);
  const [tarball] = readdirSync(packed).filter((name) => name.endsWith(".tgz"));
  const home = join(folder, "node_modules/weftcut");
  mkdirSync(home, { recursive: true });
  execFileSync("tar", ["-xzf", join(packed, String(tarball)), "-C", home, "--strip-components=1"]);
  const { dependencies = {}, bin } = JSON.parse(readFileSync(join(home, "package.json"), "utf8"));
  expect(dependencies).toEqual({});
  const command = join(folder, "node_modules/.bin/weftcut");
  mkdirSync(dirname(command));
  symlinkSync(join(home, bin.weftcut), command);
  chmodSync(join(home, bin.weftcut), 0o755);
}

function expectMainJob(folder: string): void {
  const weftcut = (...args: string[]) =>
    spawnSync("npx", ["--no-install", "weftcut", ...args], { cwd: folder, encoding: "utf8" });
  const help = weftcut("--help");
  expect([help.status, help.stderr]).toEqual([0, ""]);
  expect(help.stdout).toMatch(/^Usage: weftcut/);
  expect(weftcut("new", "job").status).toBe(0);
  const planned = weftcut("plan", "job/job.yaml", "--out", "out");
  expect([planned.status, planned.stderr]).toMatchObject([0, expect.not.stringContaining("stop ")]);
  const files = contentsOf(join(folder, "out"));
  expect(Object.keys(files)).toEqual(expect.arrayContaining(["plan.json", "job-sheet.html"]));
  expect(Object.keys(files).some((name) => name.endsWith(".nc"))).toBe(true);
  expect(weftcut("page", "--out", "page.html")).toMatchObject({ status: 0, stderr: "" });
  expect(readFileSync(join(folder, "page.html"), "utf8")).toMatch(
    /^<!doctype html>[\s\S]*<script>/,
  );
  const schema = contentsOf(join(folder, "node_modules/weftcut/docs"))["job.schema.json"];
  expect(JSON.parse(schema ?? "")).toHaveProperty("properties.weftcut");
  const { "THIRD-PARTY.txt": notices, "page/index.html": page } = contentsOf(
    join(folder, "node_modules/weftcut/dist"),
  );
  expect(page).toMatch(/^<!doctype html>/);
  // Every library whose code is in the package, with words of its licence.
  const { devDependencies } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));
  for (const name of ["clipper-lib", "commander", "dxf-parser", "preact", "saxes", "yaml", "zod"]) {
    expect(notices).toContain(`${name} ${devDependencies[name].replace("^", "")}`);
  }
  expect(notices).toContain("Boost Software License");
}

test("the tarball, unpacked with nothing beside it, does the main job from compiled JavaScript", () => {
  const folder = tempFolder({ "package.json": "{}" });
  unpacked(folder);
  expectMainJob(folder);
}, 300_000);

/** Whether V8 took the bytecode of each file that `weftcut --help` loads, and what that printed. */
function bytecodeTaken(cli: string): { taken: boolean[]; help: string } {
  const part = (name: string): string =>
    readdirSync(cli).find((file) => file.startsWith(`${name}-`) && file.endsWith(".js")) ?? "";
  const script = `
    const taken = [];
    process.on("exit", () => process.stderr.write(JSON.stringify(taken)));
    process.argv.push("weftcut", "--help");
    require("./${part("tier")}").tuneV8();
    require("./${part("load")}").loadPart(process.cwd(), "weftcut.js", ({ script }) =>
      taken.push(script.cachedDataRejected === false));`;
  const run = spawnSync(process.execPath, ["-e", script], { cwd: cli, encoding: "utf8" });
  return { taken: JSON.parse(run.stderr), help: run.stdout };
}

test("the package's bytecode is taken by the Node that made it, and left by any other", () => {
  const folder = tempFolder({ "package.json": "{}" });
  unpacked(folder);
  const cli = join(folder, "node_modules/weftcut/dist/cli");
  const whole = bytecodeTaken(cli);
  expect(whole.help).toMatch(/^Usage: weftcut/);
  expect(whole.taken.length).toBeGreaterThan(1);
  expect(whole.taken).not.toContain(false);
  for (const name of readdirSync(cli).filter((n) => n.endsWith(".bytecode"))) {
    const bytes = readFileSync(join(cli, name));
    // After a magic number comes the hash of V8's version.
    bytes.writeUInt32LE(bytes.readUInt32LE(4) ^ 1, 4);
    writeFileSync(join(cli, name), bytes);
  }
  expect(bytecodeTaken(cli)).toEqual({ taken: whole.taken.map(() => false), help: whole.help });
}, 300_000);

/** The true way, which may ask the registry for what is not in npm's cache. */
test.runIf(LONG)(
  "npm installs the tarball in an empty folder",
  () => {
    const packed = tempFolder();
    npm(["pack", "--pack-destination", packed], ROOT);
    const [tarball] = readdirSync(packed).filter((name) => name.endsWith(".tgz"));
    const folder = tempFolder();
    const quiet = ["--no-audit", "--no-fund", "--prefer-offline"];
    npm(["install", ...quiet, join(packed, String(tarball))], folder);
    expectMainJob(folder);
  },
  300_000,
);
