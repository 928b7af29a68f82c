/**
 * Core runs anywhere: bundled as for a browser it asks for nothing of Node's, and run in a world that has
 * nothing but the language it says the same as here.
 */
import { readdirSync } from "node:fs";
import { isBuiltin } from "node:module";
import { join } from "node:path";
import { createContext, runInContext } from "node:vm";
import { type Plugin, rolldown } from "rolldown";
import { expect, test } from "vitest";
import { parseJob } from "../../src/core/job/parse.ts";
import { jobText } from "../job/read-fixture.ts";
import { starterFiles } from "../job/starter-plan.ts";
import { ROOT } from "./temp-folder.ts";

const CORE = join(ROOT, "src/core");

function coreModules(): readonly string[] {
  return readdirSync(CORE, { recursive: true })
    .map(String)
    .filter((name) => name.endsWith(".ts") && !name.endsWith(".d.ts"))
    .sort()
    .map((name) => join(CORE, name));
}

interface Bundled {
  readonly code: string;
  readonly builtins: readonly string[];
  readonly logs: readonly string[];
}

async function bundled(source: string): Promise<Bundled> {
  const builtins: string[] = [];
  const logs: string[] = [];
  const entry: Plugin = {
    name: "entry",
    resolveId: (id, importer) => {
      if (isBuiltin(id)) builtins.push(`${id} from ${importer}`);
      return id === "entry" ? id : null;
    },
    load: (id) => (id === "entry" ? source : null),
  };
  const bundle = await rolldown({
    input: "entry",
    platform: "browser",
    plugins: [entry],
    onLog: (level, log) => {
      logs.push(`${level}: ${log.message}`);
    },
  });
  const { output } = await bundle.generate({ format: "iife", name: "core" });
  await bundle.close();
  return { code: output[0].code, builtins, logs };
}

test("every module of core bundles for a browser without Node's", async () => {
  const modules = coreModules();
  expect(modules.length).toBeGreaterThan(40);
  const source = modules
    .map((path, i) => `export * as m${i} from ${JSON.stringify(path)};`)
    .join("\n");
  const { code, builtins, logs } = await bundled(source);
  expect(builtins).toEqual([]);
  expect(logs.filter((log) => /UNRESOLVED|could not resolve|external/i.test(log))).toEqual([]);
  // It loads where there is neither a page nor a process.
  const world = createContext({});
  expect(() => runInContext(code, world)).not.toThrow();
});

test("a job is read the same in a bare world", async () => {
  const { code } = await bundled(`export * from ${JSON.stringify(join(CORE, "job/parse.ts"))};`);
  const world = createContext({});
  runInContext(code, world);
  for (const text of [jobText("least.yaml"), jobText("full.yaml"), "weftcut: 2\nplats: [}"]) {
    const here = JSON.stringify(parseJob({ name: "j.yaml", text }, () => undefined));
    const call = `JSON.stringify(core.parseJob({ name: "j.yaml", text: ${JSON.stringify(text)} }, () => undefined))`;
    expect(runInContext(call, world)).toBe(here);
  }
});

test("a plan is the same to the byte in a bare world", async () => {
  const source = `export * from ${JSON.stringify(join(ROOT, "tests/job/starter-plan.ts"))};`;
  const { code } = await bundled(source);
  const world = createContext({});
  runInContext(code, world);
  const here = starterFiles();
  expect(here.length).toBeGreaterThan(10_000);
  expect(runInContext("core.starterFiles()", world)).toBe(here);
});
