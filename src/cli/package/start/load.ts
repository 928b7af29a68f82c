/**
 * Loads the package's files with the bytecode that the build kept beside them, so that V8 neither parses nor compiles
 * what a plan runs: a tenth of a short plan's time. V8 itself refuses bytecode of another Node version, or of another
 * length of text, and then compiles the text as ever; nothing but time depends on it.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { constants, Script } from "node:vm";

/** Bytecode of `x.js` lies in `x.js.bytecode`. */
export const BYTECODE = ".bytecode";

type Loaded = Record<string, unknown>;
type Body = (exports: Loaded, require: (name: string) => unknown, file: string) => void;

export interface Part {
  readonly file: string;
  readonly script: Script;
}

/**
 * What commander asks for at once, for commands that are programs of their own: there is none here, and the module takes
 * longer to load than the help to be written.
 */
const SELDOM: ReadonlySet<string> = new Set(["node:child_process"]);

/** The module, loaded when something of it is first used. */
function whenUsed(load: () => Loaded): Loaded {
  return new Proxy({}, { get: (_none, name) => load()[String(name)] });
}

/** Runs the file `name` of the folder `dir`; `loaded` hears of it and of each file that it loads, then or later. */
export function loadPart(
  dir: string,
  name: string,
  loaded: (part: Part) => void = () => undefined,
): void {
  const outside = createRequire(join(dir, name));
  const known = new Map<string, Loaded>();
  const load = (wanted: string): unknown => {
    if (SELDOM.has(wanted)) return whenUsed(() => outside(wanted));
    if (!wanted.startsWith("./")) return outside(wanted);
    const before = known.get(wanted);
    if (before !== undefined) return before;
    const exports: Loaded = {};
    known.set(wanted, exports);
    const file = join(dir, wanted);
    const script = scriptOf(file);
    loaded({ file, script });
    (script.runInThisContext() as Body)(exports, load, file);
    return exports;
  };
  load(`./${name}`);
}

function scriptOf(file: string): Script {
  // On one line, so that faults are told with the file's own lines.
  const text = `(function (exports, require, __filename) {${readFileSync(file, "utf8")}\n})`;
  return new Script(text, {
    filename: file,
    cachedData: bytecodeOf(file),
    importModuleDynamically: constants.USE_MAIN_CONTEXT_DEFAULT_LOADER,
  });
}

function bytecodeOf(file: string): Buffer | undefined {
  try {
    return readFileSync(file + BYTECODE);
  } catch {
    return undefined;
  }
}
