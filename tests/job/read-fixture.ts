import { readFileSync } from "node:fs";
import type { ReadBeside } from "../../src/core/job/parse.ts";

const JOBS = new URL("../../fixtures/jobs/", import.meta.url);

export function jobText(name: string): string {
  return readFileSync(new URL(name, JOBS), "utf8");
}

export const besideJobs: ReadBeside = (path) => {
  try {
    return readFileSync(new URL(path, JOBS));
  } catch {
    return undefined;
  }
};
