/**
 * Every key of a job and of a machine profile, spoiled one after the other: each time the command line says so in one
 * line that names file, line, column and the right key, and writes nothing. In this process, since it is
 * done a hundred times.
 */
import { join, relative } from "node:path";
import { describe, expect, test } from "vitest";
import { buildProgram } from "../../src/cli/program.ts";
import { bracketDxf } from "../../src/cli/starter/bracket-dxf.ts";
import { JOB_YAML, MACHINE_YAML } from "../../src/cli/starter/texts.ts";
import { contentsOf, tempFolder } from "./temp-folder.ts";

/** The one key of a machine that no plain router has stands in a comment. */
const MACHINE = MACHINE_YAML.replace("# sAtMax:", "sAtMax:");
const FILES = { "job.yaml": JOB_YAML, "machine.yaml": MACHINE, "bracket.dxf": bracketDxf() };
const EARLIER = { "out/plan.json": '{"weftcut":1,"programs":[]}' };

interface Key {
  readonly file: "job.yaml" | "machine.yaml";
  readonly key: string;
  /** Counted from 1. */
  readonly line: number;
  readonly column: number;
  readonly from: number;
}

/** Keys of plain YAML as the starter is written: a word before a colon, not in a comment. */
function keysOf(file: Key["file"]): Key[] {
  const keys: Key[] = [];
  let start = 0;
  for (const [i, whole] of FILES[file].split("\n").entries()) {
    const text = whole.replace(/#.*/, (comment) => " ".repeat(comment.length));
    for (const match of text.matchAll(/([A-Za-z]+):(?= |$)/g)) {
      const key = String(match[1]);
      keys.push({ file, key, line: i + 1, column: match.index + 1, from: start + match.index });
    }
    start += whole.length + 1;
  }
  return keys;
}

const KEYS = [...keysOf("job.yaml"), ...keysOf("machine.yaml")];

interface Checked {
  readonly code: number;
  readonly err: string;
}

/** `plan` with one file changed; the folder is as it was, or this fails. */
async function planWith(file: string, text: string): Promise<Checked> {
  const folder = tempFolder({ ...FILES, ...EARLIER, [file]: text });
  const before = contentsOf(folder);
  let err = "";
  const io = {
    out: () => undefined,
    err: (more: string) => {
      err += more;
    },
    colourOut: false,
    colourErr: false,
    watched: false,
  };
  const { program, code } = buildProgram(io);
  const args = ["plan", join(folder, "job.yaml"), "--out", join(folder, "out")];
  await program.parseAsync(args, { from: "user" });
  expect(contentsOf(folder)).toEqual(before);
  // Named absolutely or from here, whichever is shorter.
  const said = err.replaceAll(`${folder}/`, "").replaceAll(`${relative(".", folder)}/`, "");
  return { code: code(), err: said };
}

test("there are keys enough", () => {
  expect(KEYS.length).toBeGreaterThan(60);
});

describe("one letter too many", () => {
  test.each(KEYS)("$file:$line:$column $key", async ({ file, key, line, column, from }) => {
    const text = FILES[file];
    const wrong = `${key.slice(0, 1)}q${key.slice(1)}`;
    const { code, err } = await planWith(
      file,
      text.slice(0, from) + wrong + text.slice(from + key.length),
    );
    expect(code).toBe(1);
    const said = err.split("\n").find((l) => l.startsWith(`${file}:${line}:${column} stop `));
    expect(said, err).toBeDefined();
    // Where the key says which form of a thing is meant, the nearest may be of another form.
    expect(said).toMatch(/ unknown-key unknown key "\w+" in |version/);
    expect(err).toContain(key);
  });
});

describe("a value of a kind that no key takes", () => {
  // A list of a list of nothing is never right, and takes the place of any value on one line.
  const single = KEYS.filter(({ file, from, key }) =>
    /^ (?:[^[{#\n,}]+)(?=[,}#\n])/.test(FILES[file].slice(from + key.length + 1)),
  );
  test.each(single)("$file:$line $key", async ({ file, key, line, from }) => {
    const text = FILES[file];
    const at = from + key.length + 1;
    const rest = text.slice(at).replace(/^ [^[{#\n,}]+(?=[,}#\n])/, " [[]]");
    const { code, err } = await planWith(file, text.slice(0, at) + rest);
    expect(code).toBe(1);
    expect(err).toMatch(new RegExp(`^${file}:${line}:\\d+ stop `, "m"));
  });
});
