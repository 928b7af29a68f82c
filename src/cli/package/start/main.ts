#!/usr/bin/env node
/**
 * What the package's command runs. Compiled to CommonJS, where `__dirname` is.
 *
 * Where there are few processors, V8's compiling threads, four unless said otherwise when Node starts, take the
 * processor from the thread that they compile for: on two, planning the demo takes a third longer by it. So what works
 * for a second or more is run by another Node, told to have no more of them than there is room for.
 */
import { spawn } from "node:child_process";
import { availableParallelism } from "node:os";
import process from "node:process";
import { loadPart } from "./load.ts";

const LONG_WORK = ["plan", "check", "compare"];
/** One for V8's usual four threads and one more: then nothing is in the way. */
const ENOUGH = 5;
/** As many threads as there are processors besides the one in use. */
const FEW_THREADS = "--v8-pool-size=0";

// Whoever runs it under a debugger or a profiler wants this process and no other.
const told =
  process.execArgv.length > 0 || /--(v8-pool-size|inspect)/.test(process.env["NODE_OPTIONS"] ?? "");
const long = LONG_WORK.includes(process.argv[2] ?? "") && availableParallelism() < ENOUGH;
if (long && !told) runApart();
else runHere();

function runHere(): void {
  loadPart(__dirname, "weftcut.js");
}

function runApart(): void {
  const args = [FEW_THREADS, __filename, ...process.argv.slice(2)];
  const child = spawn(process.execPath, args, { stdio: "inherit" });
  const pass = (signal: NodeJS.Signals): void => {
    child.kill(signal);
  };
  const signals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;
  for (const signal of signals) process.on(signal, pass);
  child.on("error", () => {
    if (child.pid === undefined) runHere();
  });
  child.on("exit", (code, signal) => {
    for (const s of signals) process.off(s, pass);
    if (signal === null) process.exitCode = code ?? 1;
    // Ended as the other was, so that a shell sees why.
    else process.kill(process.pid, signal);
  });
}
