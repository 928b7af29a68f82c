/** Files that one can read at a sitting, in folders that one can take in at a glance. */
import { expect, test } from "vitest";
import { codeOf, filesUnder, foldersUnder, headOf } from "./source-files.ts";

const files = [...filesUnder("src"), ...filesUnder("tests")];
/** Code of another world as a text: made from `src/page/player`, which a test compares it with. */
const OTHER_WORLD = "src/core/jobsheet/motion/player-text.ts";
const MOST_LINES = 350;
const MOST_FILES = 12;

/** Folders that hold more, and why. */
const WIDE: Readonly<Record<string, string>> = {
  "src/core/finding": "one catalogue of sentences for each room, and nothing else",
};

test(`no file is longer than ${MOST_LINES} lines unless its head says why it is long`, () => {
  const bad = files
    .map(({ path, text }) => ({ path, lines: text.split("\n").length - 1, head: headOf(text) }))
    .filter(({ lines, head }) => lines > MOST_LINES && !/\blong(er)?\b/i.test(head))
    .map(({ path, lines }) => `${path}: ${lines}`);
  expect(bad).toEqual([]);
});

test("no folder holds more than a dozen files", () => {
  const bad = ["src", "tests", "fixtures/demo", "fixtures/machines", "lint"]
    .flatMap((top) => [...foldersUnder(top)])
    .filter(([path, names]) => names.length > MOST_FILES && WIDE[path] === undefined)
    .map(([path, names]) => `${path}: ${names.length}`);
  expect(bad).toEqual([]);
});

test("every module of core says at its head what it is", () => {
  const bad = filesUnder("src/core").filter(({ text }) => headOf(text) === "");
  expect(bad.map((f) => f.path)).toEqual([]);
});

test("nothing is exported by default, and no file only hands on what others export", () => {
  const allowed = /\.d\.ts$|-reporter\.ts$/;
  const bad = files
    .filter(({ path }) => !allowed.test(path))
    .filter(({ text }) => /^export (default\b|\*|\{[^}]*\} from\b)/m.test(codeOf(text)));
  expect(bad.map((f) => f.path)).toEqual([]);
});

/**
 * Math.sqrt, abs, floor and the like are exact by the language's standard; these are not, and engines differ. Squares and
 * powers of two they agree on.
 */
test("what engines may round differently is asked of geometry/trig alone", () => {
  const inexact =
    /\bMath\.(a?(sin|cos|tan)h?|atan2|hypot|pow|exp|expm1|log|log2|log10|log1p|cbrt)\b|(?<!\b2 )\*\*(?!\s*2\b(?![.\d]))/;
  const bad = filesUnder("src/core")
    .filter(({ path }) => path !== "src/core/geometry/trig.ts" && path !== OTHER_WORLD)
    .filter(({ text }) => inexact.test(codeOf(text)));
  expect(bad.map((f) => f.path)).toEqual([]);
});

test("core asks for no clock, no chance and no locale", () => {
  const impure =
    /\bMath\.random\b|\bnew Date\b|\bDate\.now\b|\bperformance\.|\btoLocale\w+|\bIntl\.|\bconsole\.|\bprocess\./;
  const bad = filesUnder("src/core")
    .filter(({ path }) => path !== OTHER_WORLD)
    .filter(({ text }) => impure.test(codeOf(text)));
  expect(bad.map((f) => f.path)).toEqual([]);
});
