/** A command from its start to its end: wall time as a person waits it, processor time, and the most memory it held. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";

export interface ProcessRun {
  readonly seconds: number;
  /** Of all its threads, in user and system mode: little moved by what else the machine does. */
  readonly cpuSeconds: number;
  /** Peak resident memory, MB of 10⁶ bytes. */
  readonly peakMb: number;
  readonly out: string;
}

/**
 * What a process used, written to a stream of its own when it exits (`maxRSS` is in kilobytes, times in µs). Linux counts
 * what the process that started it held to `maxRSS`: the kernel's own high water mark begins with the program.
 */
const TELL_USE = `
const { readFileSync, writeSync } = require("node:fs");
const peak = () => {
  try {
    return Number(/VmHWM:\\s*(\\d+)/.exec(readFileSync("/proc/self/status", "utf8"))[1]);
  } catch {
    return process.resourceUsage().maxRSS;
  }
};
if (require("node:worker_threads").isMainThread)
  process.on("exit", () =>
    writeSync(3, JSON.stringify({ ...process.resourceUsage(), maxRSS: peak() })));
`;

/** Certificates named here are parsed at each start of Node, which takes it longer than `--help`: a matter of the machine. */
const { NODE_EXTRA_CA_CERTS: _certificates, ...ENV } = process.env;

/** A plan that fails its proof ends 1, and is measured and shown as not proven; anything above is a fault here. */
export function runProcess(args: readonly string[], cwd: string): ProcessRun {
  const folder = mkdtempSync(join(tmpdir(), "weftcut-bench-"));
  const preload = join(folder, "tell-use.cjs");
  writeFileSync(preload, TELL_USE);
  const before = performance.now();
  const ran = spawnSync(process.execPath, ["--require", preload, ...args], {
    cwd,
    env: ENV,
    encoding: "utf8",
    maxBuffer: 2 ** 30,
    stdio: ["ignore", "pipe", "pipe", "pipe"],
  });
  const seconds = (performance.now() - before) / 1000;
  rmSync(folder, { recursive: true });
  if (ran.status !== 0 && ran.status !== 1) {
    throw new Error(`node ${args.join(" ")} ended ${ran.status}\n${ran.stderr.slice(-2000)}`);
  }
  const use: NodeJS.ResourceUsage = JSON.parse(String(ran.output[3]));
  return {
    seconds,
    cpuSeconds: (use.userCPUTime + use.systemCPUTime) / 1e6,
    peakMb: (use.maxRSS * 1024) / 1e6,
    out: ran.stdout,
  };
}
