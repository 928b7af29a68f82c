/** The demo as the page holds it, and what the page asks of the core for it. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parseJob } from "../../src/core/job/parse.ts";
import { type Planned, planJob } from "../../src/core/job/plan.ts";
import { type JobView, jobView } from "../../src/page/state/job-view.ts";
import { bytesOf, textIn, type Work } from "../../src/page/state/work.ts";
import { ROOT } from "../cli/temp-folder.ts";

const FOLDER = join(ROOT, "fixtures/demo");

export function textOfDemo(name: string): string {
  return readFileSync(join(FOLDER, name), "utf8");
}

export function demoWork(): Work {
  const names = readdirSync(FOLDER).filter(
    (name) => /\.(dxf|yaml)$/.test(name) && name !== "job.yaml",
  );
  return {
    job: { name: "job.yaml", text: textOfDemo("job.yaml") },
    files: new Map(names.map((name) => [name, bytesOf(textOfDemo(name))])),
  };
}

export function viewOf(work: Work): JobView {
  const view = jobView(work);
  if (view === undefined) throw new Error("there is no job");
  return view;
}

export function readIn(work: Work): (file: string) => Uint8Array | undefined {
  return (file) => {
    const text = textIn(work.files, file);
    return text === undefined ? undefined : bytesOf(text);
  };
}

export function plannedWork(work: Work): Planned {
  const { value, findings } = parseJob(work.job ?? { name: "", text: "" }, readIn(work));
  if (value === undefined) throw new Error(findings.map((f) => f.message).join("\n"));
  return planJob(value, readIn(work));
}
