/**
 * Findings of the pipeline name a plate, a sheet or a cutter; its author sits before the job file. So
 * whatever has no place of its own in a drawing or a program gets the line in which the job names it.
 */
import type { Finding } from "../finding/finding.ts";
import type { Job, JobPlace } from "./job.ts";

export function withJobPlaces(findings: readonly Finding[], job: Job): Finding[] {
  return findings.map((finding) => {
    if (finding.drawing !== undefined || finding.program !== undefined) return finding;
    const place = placeFor(finding, job);
    if (place === undefined) return finding;
    const { file, line, column } = place;
    return { ...finding, drawing: { file, line }, data: { ...finding.data, line, column } };
  });
}

function placeFor(finding: Finding, job: Job): JobPlace | undefined {
  const named = finding.data["file"];
  const { plate, sheet } = finding;
  // A drawing of several outlines gives plates `name-1`, `name-2`, …
  const own =
    job.plates.find((p) => p.name === plate) ??
    job.plates.find((p) => p.name === plate?.replace(/-\d+$/, ""));
  if (own !== undefined) return named === own.drawing ? own.drawingPlace : own.place;
  const ofSheet = job.sheets.find(
    (s) => s.name === sheet || sheet?.startsWith(`${s.name} `) === true,
  );
  if (ofSheet !== undefined) return ofSheet.place;
  return job.cutters.find((c) => c.name === finding.data["cutter"])?.place;
}
