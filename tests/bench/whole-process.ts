/** A command from its start to its end: wall time as a person waits it, processor time and memory of all its processes. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";

export interface ProcessRun {
  readonly seconds: number;
  /** Of all its threads, in user and system mode: little moved by what else the machine does. */
  readonly cpuSeconds: number;
  /** Peak resident memory, MB of 10⁶ bytes; of several processes the sum of their peaks. */
  readonly peakMb: number;
  readonly out: string;
}

/** Every process of a command notes what it used when it exits (`maxRSS` is in kilobytes, times in µs). */
const NOTE_USE = `
const { appendFileSync } = require("node:fs");
process.on("exit", () =>
  appendFileSync(process.env.WEFTCUT_BENCH_USE, JSON.stringify(process.resourceUsage()) + "\\n"));
`;

/** A plan that fails its proof ends 1, and is measured and shown as not proven; anything above is a fault here. */
export function runProcess(args: readonly string[], cwd: string): ProcessRun {
  const notes = mkdtempSync(join(tmpdir(), "weftcut-bench-"));
  const preload = join(notes, "note-use.cjs");
  const uses = join(notes, "use");
  writeFileSync(preload, NOTE_USE);
  const env = {
    ...process.env,
    NODE_OPTIONS: `--require=${preload}`,
    WEFTCUT_BENCH_USE: uses,
  };
  const before = performance.now();
  const ran = spawnSync(process.execPath, args, {
    cwd,
    env,
    encoding: "utf8",
    maxBuffer: 2 ** 30,
    stdio: ["ignore", "pipe", "pipe"],
  });
  const seconds = (performance.now() - before) / 1000;
  if (ran.status !== 0 && ran.status !== 1) {
    throw new Error(`node ${args.join(" ")} ended ${ran.status}\n${ran.stderr.slice(-2000)}`);
  }
  const used = readFileSync(uses, "utf8").trim().split("\n");
  rmSync(notes, { recursive: true });
  const all = used.map((line): NodeJS.ResourceUsage => JSON.parse(line));
  const sum = (of: (use: NodeJS.ResourceUsage) => number): number =>
    all.reduce((total, use) => total + of(use), 0);
  return {
    seconds,
    cpuSeconds: sum((use) => use.userCPUTime + use.systemCPUTime) / 1e6,
    peakMb: (sum((use) => use.maxRSS) * 1024) / 1e6,
    out: ran.stdout,
  };
}
