/** Run once by the build, as `warm.js DIR JOB OUT`: plans a job, and keeps the bytecode of all that ran. */
import { writeFileSync } from "node:fs";
import os from "node:os";
import process from "node:process";
import { setFlagsFromString } from "node:v8";
import { BYTECODE, loadPart, type Part } from "./load.ts";
import { tuneV8 } from "./tier.ts";

const [dir = "", job = "", out = ""] = process.argv.slice(2);
const parts: Part[] = [];

tuneV8();
// With one processor there is no second thread: what it would run is run here, and its bytecode kept with the rest.
os.availableParallelism = () => 1;
// V8 forgets the bytecode of what has not run for a while. Flags are part of what bytecode must agree with, so put back.
setFlagsFromString("--no-flush-bytecode");
process.on("exit", () => {
  setFlagsFromString("--flush-bytecode");
  for (const { file, script } of parts) {
    writeFileSync(file + BYTECODE, script.createCachedData());
  }
});
process.argv.splice(2, Number.POSITIVE_INFINITY, "plan", job, "--out", out);
loadPart(dir, "weftcut.js", (part) => parts.push(part));
