/**
 * Who may import whom. The rooms of core stand in the order of the way through the house; each imports only
 * what stands before it, and the shells stand outside.
 */

import { readFileSync } from "node:fs";
import { builtinModules } from "node:module";
import { describe, expect, test } from "vitest";
import { filesUnder, importsOf, reachOf } from "./source-files.ts";

const files = filesUnder("src");
const imports = files.flatMap(importsOf);
const graph = new Map(files.map((f) => [f.path, importsOf(f).map((i) => i.to)]));
const core = imports.filter((i) => i.from.startsWith("src/core/"));

/**
 * Rooms in their order, each by the paths that it is made of. A room inside another's folder stands on its
 * own where the others must tell them apart: the pictures are drawn from a finished plan, and the plan's written form
 * is what the pictures, the job sheet and the shells read.
 */
const ROOMS: readonly (readonly [name: string, ...paths: string[]])[] = [
  ["geometry", "geometry/"],
  ["order", "order/"],
  ["finding", "finding/"],
  ["machine", "machine/"],
  ["cutting", "cutting/"],
  ["drawing", "drawing/"],
  ["plate", "plate/"],
  // What a drawing holds, said in terms of plates.
  ["inspect", "drawing/inspect.ts", "drawing/inspect-picture.ts", "drawing/inspect/"],
  ["layout", "layout/"],
  ["toolpath", "toolpath/"],
  ["program/write", "program/write/"],
  ["program/read", "program/read/"],
  ["proof", "proof/"],
  ["motion", "motion/"],
  ["check", "check/"],
  ["fit", "fit/"],
  ["plan", "job/plan-json.ts", "job/job.ts", "job/planning/contour-json.ts"],
  ["pictures", "layout/picture.ts", "layout/drawn/"],
  ["jobsheet", "jobsheet/"],
  ["job", "job/"],
  // Of a finished plan and a program of it.
  ["restart", "restart/"],
  ["air", "air/"],
  // Its file is read as a job's is, and what comes of it is a job.
  ["airframe", "airframe/"],
  // A test piece is a job of its own.
  ["coupon", "coupon/"],
];

/** The most exact path wins. */
function roomOf(path: string): number {
  const inside = path.slice("src/core/".length);
  let best = -1;
  let length = 0;
  for (const [i, [, ...paths]] of ROOMS.entries()) {
    for (const p of paths) {
      if (!(inside === p || (p.endsWith("/") && inside.startsWith(p))) || p.length <= length)
        continue;
      best = i;
      length = p.length;
    }
  }
  return best;
}

test("there is something to look at", () => {
  expect(files.length).toBeGreaterThan(150);
  expect(core.length).toBeGreaterThan(500);
});

describe("core", () => {
  test("every file is in a room", () => {
    const paths = files.map((f) => f.path).filter((path) => path.startsWith("src/core/"));
    expect(paths.filter((path) => roomOf(path) < 0)).toEqual([]);
  });

  test("imports no shell and nothing of Node's", () => {
    const builtins = new Set(builtinModules);
    const bad = core.filter(
      ({ to }) => /^src\/(?!core\/)/.test(to) || to.startsWith("node:") || builtins.has(to),
    );
    expect(bad).toEqual([]);
  });

  test("its rooms import only rooms before them", () => {
    const bad = core
      .filter(({ to }) => to.startsWith("src/core/"))
      .filter(({ from, to }) => roomOf(to) > roomOf(from))
      .map(({ from, to }) => `${from} (${nameOf(from)}) imports ${to} (${nameOf(to)})`);
    expect(bad).toEqual([]);
  });

  test("polygons are clipped in geometry alone, and each library is reached by one room", () => {
    const homes: Readonly<Record<string, RegExp>> = {
      "clipper-lib": /^src\/core\/geometry\//,
      "dxf-parser": /^src\/core\/drawing\/dxf\//,
      saxes: /^src\/core\/drawing\/svg\//,
      svgpath: /^src\/core\/drawing\/svg\//,
      yaml: /^src\/core\/job\//,
      // The page's worker tells it to do without what the page's policy forbids.
      zod: /^src\/(core\/(job|airframe)|page\/worker)\//,
      commander: /^src\/cli\//,
      rolldown: /^src\/cli\/(page|package)\//,
      preact: /^src\/page\//,
      fflate: /^src\/page\/worker\//,
    };
    const packages = imports.filter(({ to }) => !/^(src|docs)\/|^node:/.test(to));
    const bad = packages.filter(({ from, to }) => homes[packageOf(to)]?.test(from) !== true);
    expect(bad).toEqual([]);
    // All that runs is in the package's own files; npm installs nothing beside it.
    expect(JSON.parse(readFileSync("package.json", "utf8"))).not.toHaveProperty("dependencies");
  });
});

/** `dxf-parser/dist/x.js` is dxf-parser's. */
function packageOf(to: string): string {
  return to.split("/")[0] ?? to;
}

function nameOf(path: string): string {
  return ROOMS[roomOf(path)]?.[0] ?? "no room";
}

/** What judges a program may know nothing of how it was made: neither code nor table nor type, however far away. */
describe("kept apart", () => {
  const makes = [/^src\/core\/toolpath\//, /^src\/core\/program\/write\//];
  const offsets = [
    /^src\/core\/geometry\/offset/,
    /^src\/core\/geometry\/(clipper|region)\.ts$/,
    /^clipper-lib$/,
  ];
  test.each([
    ["src/core/program/read/", [...makes, ...offsets, /^src\/core\/(layout|proof|plate)\//]],
    ["src/core/proof/", [...makes, ...offsets, /^src\/core\/layout\/(?!layout\.ts$)/]],
  ])("%s reaches nothing of what it judges", (room, forbidden) => {
    const own = files.filter((f) => f.path.startsWith(room));
    expect(own.length).toBeGreaterThan(5);
    const bad = own.flatMap(({ path }) =>
      [...reachOf(path, graph)]
        .filter((to) => forbidden.some((pattern) => pattern.test(to)))
        .map((to) => `${path} reaches ${to}`),
    );
    expect(bad).toEqual([]);
  });

  test("what makes programs does not look at what judges them", () => {
    const judges = /^src\/core\/(proof|program\/read)\//;
    const own = files.filter((f) => makes.some((pattern) => pattern.test(f.path)));
    expect(own.length).toBeGreaterThan(15);
    const bad = own.flatMap(({ path }) =>
      [...reachOf(path, graph)]
        .filter((to) => judges.test(to))
        .map((to) => `${path} reaches ${to}`),
    );
    expect(bad).toEqual([]);
  });
});

test("sentences stand in core/finding: no other room of core writes a finding by hand", () => {
  const bad = files
    .filter((f) => f.path.startsWith("src/core/") && !f.path.startsWith("src/core/finding/"))
    .filter((f) => /severity:\s*"(stop|warn|note)"\s*,\s*(\n\s*)?message:/.test(f.text));
  expect(bad.map((f) => f.path)).toEqual([]);
});
