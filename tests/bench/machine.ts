/** On what and of what the figures are: without these they say nothing. */
import { execFileSync } from "node:child_process";
import { cpus, loadavg, totalmem, type } from "node:os";
import process from "node:process";

export function machineLine(): string {
  const cores = cpus();
  const model = cores[0]?.model.trim() || "unknown processor";
  const memory = Math.round(totalmem() / 2 ** 30);
  return `${model}, ${cores.length} cores, ${memory} GiB, ${type()}, Node ${process.versions.node}`;
}

/** How busy the machine was with other work: above the number of cores, times are too long. */
export function loadLine(): string {
  return loadavg()
    .map((load) => load.toFixed(1))
    .join(", ");
}

/** Commit and day of it, marked where the tree has changes that are in no commit. */
export function commitLine(root: string): string {
  const git = (...args: string[]) =>
    execFileSync("git", ["--no-optional-locks", ...args], { cwd: root, encoding: "utf8" }).trim();
  try {
    const changed = git("status", "--porcelain", "--", "src", "fixtures", "package-lock.json");
    const mark = changed === "" ? "" : ", with changes that are not committed";
    return `${git("log", "-1", "--format=%h of %cs")}${mark}`;
  } catch {
    return "unknown (no repository)";
  }
}
