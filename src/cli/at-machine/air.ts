/** `weftcut air PLAN.json PROGRAM --out FILE`: any program of a plan's sheet, raised, with the spindle off. */
import { basename } from "node:path";
import { type AirRun, airRun } from "../../core/air/air.ts";
import { type Finding, stops } from "../../core/finding/finding.ts";
import { readPlan } from "../../core/job/read-plan.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { printFindings } from "../print-findings.ts";
import { readText, typedFiles } from "../read-file.ts";
import { say } from "../say.ts";
import { writeWhole } from "../write-files.ts";
import { meantFor, type Said, traceOf } from "./meant-for.ts";

export interface AirOptions extends Said {
  readonly raise?: number;
  readonly out: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

export function air(io: Io, planFile: string, file: string, options: AirOptions): ExitCode {
  const text = readText(planFile);
  const program = readText(file);
  if (typeof text !== "string" || typeof program !== "string") {
    const missing = [text, program].filter((t): t is Finding => typeof t !== "string");
    return answer(io, options, undefined, missing, true);
  }
  const { value: plan, findings } = readPlan({ name: planFile, text });
  if (plan === undefined) return answer(io, options, undefined, findings, false);
  const trace = traceOf(plan, basename(file), program);
  const meant = meantFor(plan, file, trace, options);
  if (meant === undefined) {
    return answer(io, options, undefined, [say("program-for-what", { file })], false);
  }
  const { raise, out } = options;
  const read = { file: basename(file), ...meant, trace };
  const made = airRun({ plan, program: read, out: basename(out), raise });
  const all = [...findings, ...made.findings];
  if (made.value === undefined || stops(all)) return answer(io, options, made.value, all, false);
  const problem = writeWhole(out, made.value.text, options.force === true);
  const told = problem === undefined ? all : [...all, problem];
  return answer(io, options, made.value, told, problem !== undefined);
}

function answer(
  io: Io,
  options: AirOptions,
  made: AirRun | undefined,
  findings: readonly Finding[],
  usage: boolean,
): ExitCode {
  const written = made?.proven === true && !stops(findings);
  if (options.json === true) {
    const { text: _text, ...facts } = made ?? {};
    printJson(io, { file: written ? options.out : null, proven: false, ...facts, findings });
  } else {
    printFindings(io, findings, typedFiles);
    if (made !== undefined) {
      const { raise, lowest } = made;
      io.out(
        `${raise} mm higher, never nearer than ${Number(lowest.toFixed(3))} mm, spindle off\n`,
      );
      io.out(written ? `proven: touches nothing\nwrote ${options.out}\n` : "not written\n");
    }
  }
  if (usage) return EXIT.usage;
  return written ? EXIT.done : EXIT.stopped;
}
