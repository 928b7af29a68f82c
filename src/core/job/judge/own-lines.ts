/**
 * The user's own start and end lines, judged by the reader that judges whole programs, one by one: what they may
 * not do is move the machine, turn its spindle, or change a state that the cuts rely on.
 *
 * A line that the reader does not understand is refused, too: nobody could say what it does.
 */
import { type Finding, reporter } from "../../finding/finding.ts";
import { sayJob } from "../../finding/say-job.ts";
import type { Machine } from "../../machine/machine.ts";
import { dialectOf } from "../../program/read/dialect.ts";
import { readProgram } from "../../program/read/read.ts";
import { isMove, type Trace } from "../../program/read/trace.ts";
import type { JobPlace } from "../job.ts";
import { at } from "../source/issues.ts";
import type { Path } from "../source/yaml-source.ts";

const say = reporter(sayJob);

/** States, the line, and a spindle that turns only as fast as the line has said. */
const BEFORE = ["G21", "G90", "G17", "G94"];
const AFTER = ["M3", "M5", "M2"];
const LINE: number = BEFORE.length + 1;

export function checkOwnLines(machine: Machine, placeOf: (path: Path) => JobPlace): Finding[] {
  return (["startLines", "endLines"] as const).flatMap((key) =>
    (machine[key] ?? []).flatMap((text, i) => {
      const fault = faultOf(text, machine);
      if (fault === undefined) return [];
      const { file, line, column } = placeOf([key, i]);
      const data = { line, column, key, number: i + 1, text, ...fault };
      return [say("own-line-refused", data, at(file, { line, column }))];
    }),
  );
}

interface Fault {
  readonly why: string;
  readonly wayOut: string;
}

function faultOf(text: string, machine: Machine): Fault | undefined {
  const obeyed = /[!~?]/.exec(text)?.[0];
  if (obeyed !== undefined) {
    return {
      why: `has "${obeyed}", which streamed controllers obey wherever it stands`,
      wayOut: "Take it out.",
    };
  }
  if (text.length > machine.lineLength) {
    return {
      why: `has ${text.length} characters, and the controller takes ${machine.lineLength}`,
      wayOut: "Write it on two lines.",
    };
  }
  const lines = [...BEFORE, text, ...AFTER].join("\n");
  const trace = readProgram("", lines, dialectOf(machine));
  return notUnderstood(trace) ?? wrongComment(trace, text, machine) ?? forbidden(trace, machine);
}

function notUnderstood({ findings }: Trace): Fault | undefined {
  const told = findings.find((f) => f.severity === "stop" && f.program?.line === LINE);
  if (told === undefined) return undefined;
  // A sentence goes on in small letters, but for the name of a code.
  const sentence = told.message.replace(/\.$/, "");
  const why = sentence.replace(/^[A-Z](?=[a-z ])/, (first) => first.toLowerCase());
  return {
    why: `is not understood: ${why}`,
    wayOut: "Leave it out, and do by hand before the program what it was for.",
  };
}

function wrongComment({ comments }: Trace, text: string, machine: Machine): Fault | undefined {
  if (comments.length === 0 || machine.comments === "parentheses") return undefined;
  if (machine.comments === "semicolon" && !text.includes("(")) return undefined;
  return {
    why: `has a comment, and the controller's comments are: ${machine.comments}`,
    wayOut: "Take the comment out, or say what the controller takes in comments.",
  };
}

const UNITS = "Units, plane, distance and feed mode are stated by weftcut after the start lines.";
const ZERO = "Set zero by hand, and say in workOffset which one the programs are for.";

const CODES: readonly (readonly [codes: RegExp, does: string, wayOut: string])[] = [
  [/^G20$/, "changes the units", UNITS],
  [/^G91$/, "changes the distance mode", UNITS],
  [/^G93$/, "changes the feed mode", UNITS],
  [/^G5(3|[4-9](\.\d)?)$|^G92/, "changes zero", ZERO],
];

function forbidden(trace: Trace, machine: Machine): Fault | undefined {
  const own = trace.steps.filter((s) => s.line === LINE);
  if (own.some(isMove)) {
    return { why: "moves the machine", wayOut: "Only what is proven moves it: leave it out." };
  }
  if (own.some((s) => s.kind === "end")) {
    return { why: "ends the program", wayOut: "Say in programEnd which word ends programs." };
  }
  const turned = own.some((s) => s.kind === "spindle-on" || s.kind === "spindle-reversed");
  if (turned || trace.steps.some((s) => s.kind === "spindle-on" && s.rpm > 0)) {
    const wayOut = "Programs start it and wait for it: see spindle.start.";
    return { why: "sets the spindle", wayOut };
  }
  for (const { code, line } of trace.style?.codes ?? []) {
    if (line !== LINE || code === machine.workOffset) continue;
    const found = CODES.find(([codes]) => codes.test(code));
    if (found !== undefined) return { why: found[1], wayOut: found[2] };
  }
  return undefined;
}
