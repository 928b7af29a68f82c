/** What the documents say of the project is so: folders, files, commands and scripts that they name. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import type { Command } from "commander";
import { describe, expect, test } from "vitest";
import { buildProgram } from "../../src/cli/program.ts";
import { foldersUnder, ROOT, textOf } from "./source-files.ts";

const READERS = ["README.md", "DEVELOPERS.md", "docs/ARCHITECTURE.md"];

function commands(): readonly Command[] {
  const nobody = () => undefined;
  const io = { out: nobody, err: nobody, colourOut: false, colourErr: false, watched: false };
  return buildProgram(io).program.commands;
}

describe("docs/ARCHITECTURE.md", () => {
  const text = textOf("docs/ARCHITECTURE.md");

  test("is read at one sitting", () => {
    expect(text.split("\n").length).toBeLessThan(200);
  });

  test("every folder that it names exists", () => {
    const named = [...text.matchAll(/`((?:src|tests|fixtures|docs|lint)\/[\w./-]*)`/g)].map((m) =>
      String(m[1]),
    );
    expect(named.length).toBeGreaterThan(20);
    expect(named.filter((path) => !existsSync(join(ROOT, path)))).toEqual([]);
  });

  test("every room of core, and every shell, is named", () => {
    const folders = foldersUnder("src");
    const holds = (path: string) =>
      [...folders].some(([p, files]) => `${p}/`.startsWith(`${path}/`) && files.length > 0);
    const rooms = [...folders.keys()]
      .filter((path) => /^src\/(core\/(program\/)?)?[\w-]+$/.test(path))
      // A folder in which nothing has been put yet is on no other machine.
      .filter(holds);
    expect(rooms.length).toBeGreaterThan(15);
    const missing = rooms
      .filter((path) => path !== "src/core" && path !== "src/core/program")
      .filter((path) => !text.includes(`\`${path}\``));
    expect(missing).toEqual([]);
  });
});

describe("README.md", () => {
  const text = textOf("README.md");
  const rows = new Map(
    [...text.matchAll(/^\| `weftcut ([a-z]+)([^`]*)` \| (.+) \|$/gm)].map((m) => [
      String(m[1]),
      String(m[2]),
    ]),
  );

  test("its table of commands is that of --help", () => {
    expect(new Set(rows.keys())).toEqual(new Set(commands().map((c) => c.name())));
  });

  test("every option that a command needs stands in its row", () => {
    const missing = commands().flatMap((command) =>
      command.options
        .filter((option) => option.mandatory)
        .filter((option) => rows.get(command.name())?.includes(String(option.long)) !== true)
        .map((option) => `${command.name()} ${option.long}`),
    );
    expect(missing).toEqual([]);
  });

  test("its pictures are there, and are the demo's", () => {
    const pictures = [...text.matchAll(/!\[[\s\S]*?\]\(([^)]+)\)/g)].map((m) => String(m[1]));
    expect(pictures.length).toBeGreaterThan(0);
    for (const path of pictures) expect(textOf(path)).toMatch(/^<svg /);
  });
});

test.each(READERS)("%s links to files that are there", (path) => {
  const folder = join(ROOT, path, "..");
  const links = [...textOf(path).matchAll(/\]\((?!https?:|#)([^)#]+)[^)]*\)/g)].map((m) => m[1]);
  expect(links.filter((link) => !existsSync(join(folder, String(link))))).toEqual([]);
});

test.each(READERS)("%s names npm scripts and files that are there", (path) => {
  const text = textOf(path);
  const { scripts } = JSON.parse(textOf("package.json"));
  const run = [...text.matchAll(/\bnpm run ([a-z:-]+)/g)].map((m) => String(m[1]));
  expect(run.filter((name) => !(name in scripts))).toEqual([]);
  const files = [...text.matchAll(/`((?:src|tests|fixtures|lint|docs|\.ci)\/[\w./-]+)`/g)];
  const missing = files.map((m) => String(m[1])).filter((file) => !existsSync(join(ROOT, file)));
  expect(missing).toEqual([]);
});
