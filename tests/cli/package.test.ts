/** What is published: the files in the tarball, and that it runs from an empty folder. */
import { execFileSync, spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import process from "node:process";
import { expect, test } from "vitest";
import { contentsOf, ROOT, tempFolder } from "./temp-folder.ts";

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
  expect(paths.filter((path) => /^(tests|fixtures|src|bench|tools|\.ci)\//.test(path))).toEqual([]);
});

test.runIf(LONG)(
  "the tarball installs in an empty folder and does the main job from compiled JavaScript",
  () => {
    const packed = tempFolder();
    npm(["pack", "--pack-destination", packed], ROOT);
    const [tarball] = readdirSync(packed).filter((name) => name.endsWith(".tgz"));
    const folder = tempFolder();
    npm(["init", "-y"], folder);
    npm(
      ["install", "--no-audit", "--no-fund", "--prefer-offline", join(packed, String(tarball))],
      folder,
    );
    const weftcut = (...args: string[]) =>
      spawnSync("npx", ["--no-install", "weftcut", ...args], { cwd: folder, encoding: "utf8" });
    const help = weftcut("--help");
    expect([help.status, help.stderr]).toEqual([0, ""]);
    expect(help.stdout).toMatch(/^Usage: weftcut/);
    expect(weftcut("new", "job").status).toBe(0);
    const planned = weftcut("plan", "job/job.yaml", "--out", "out");
    expect([planned.status, planned.stderr]).toMatchObject([
      0,
      expect.not.stringContaining("stop "),
    ]);
    const files = Object.keys(contentsOf(join(folder, "out")));
    expect(files).toContain("plan.json");
    expect(files.some((name) => name.endsWith(".nc"))).toBe(true);
    const schema = join(folder, "node_modules/weftcut/docs/job.schema.json");
    expect(() =>
      execFileSync("node", ["-e", "JSON.parse(fs.readFileSync(process.argv[1]))", schema]),
    ).not.toThrow();
  },
  180_000,
);
