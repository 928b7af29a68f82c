/**
 * Where the machine at hand may do something else than RS-274/NGC says (NISTIR 6556, August 2000), though the program
 * is right by it. Warnings: the proof is of what the standard says, read as the profile has it.
 *
 * Two differences need none here: homing and saved places (G28, G30), which the reader refuses, and a motion code
 * that is forgotten from line to line, which fails the proof where the profile says so (motion-not-repeated).
 */
import { type Finding, reporter } from "../finding/finding.ts";
import { sayController } from "../finding/say-controller.ts";
import { type Machine, rpmPerS } from "../machine/machine.ts";
import type { Trace } from "../program/read/trace.ts";

const say = reporter(sayController);

/** Nobody waits longer in a program, nor is anything waited for that is shorter; s, common practice, no source. */
const LONGEST_DWELL = 300;
const SHORTEST_DWELL = 0.02;

/** Scales of S that are seen where it does not count rpm; common practice, no source. */
const SCALES: readonly number[] = [255, 1000];

/** What the commonest class of small controllers refuses, of what is read here; common practice, no source. */
const OFTEN_REFUSED = /^(G61\.1|G64|G8[123]|G98|G99|M6|M7)$/;

export function differs(trace: Trace, machine: Machine, sheet: string): Finding[] {
  const at = (line: number) => ({ sheet, program: { file: trace.file, line } });
  return [...codeFindings(trace, machine, at), ...dwellFinding(trace, machine, at)].concat(
    speedFinding(trace, machine, at),
  );
}

type At = (line: number) => Pick<Finding, "sheet" | "program">;

function codeFindings({ style }: Trace, machine: Machine, at: At): Finding[] {
  const found: Finding[] = [];
  const { startLines = [], endLines = [], programEnd, spindle, workOffset } = machine;
  // What the profile itself writes, its machine takes.
  const own = new Set([...startLines, ...endLines].flatMap((l) => l.toUpperCase().split(/\s+/)));
  const waits = spindle.start === "hand-at-stop";
  const refused = (style?.codes ?? []).filter(
    (c) => OFTEN_REFUSED.test(c.code) && !own.has(c.code),
  );
  for (const { code, line } of style?.codes ?? []) {
    if (code === "M30" && programEnd !== "M30") found.push(say("end-may-delete", {}, at(line)));
    if (/^M(0|1|60)$/.test(code) && !(waits && code === "M0")) {
      found.push(say("stop-may-be-ignored", { code }, at(line)));
    }
    if (/^G5[4-9]/.test(code) && workOffset !== "none" && code !== workOffset) {
      found.push(say("work-offset-other", { code, own: workOffset }, at(line)));
    }
  }
  const [first] = refused;
  if (first !== undefined) {
    const codes = refused.map((c) => c.code).join(", ");
    found.push(say("codes-often-refused", { codes }, at(first.line)));
  }
  return found;
}

function dwellFinding({ steps }: Trace, machine: Machine, at: At): Finding[] {
  const odd = steps.find(
    (s) =>
      s.kind === "dwell" &&
      s.seconds > 0 &&
      (s.seconds > LONGEST_DWELL || s.seconds < SHORTEST_DWELL),
  );
  if (odd?.kind !== "dwell") return [];
  const data = { seconds: odd.seconds, unit: machine.dwell };
  return [say("dwell-unit-unlikely", data, at(odd.line))];
}

/** A speed outside the spindle's range that is inside it where S counts something else. */
function speedFinding({ steps }: Trace, { spindle }: Machine, at: At): Finding[] {
  const { min, max, sAtMax } = spindle;
  const inside = (rpm: number): boolean => rpm >= min && rpm <= max;
  const scales = sAtMax === undefined ? SCALES : [max, ...SCALES];
  for (const step of steps) {
    if (step.kind !== "spindle-on" || inside(step.rpm)) continue;
    const s = step.rpm / rpmPerS(spindle);
    const other = scales.find((scale) => inside((s * max) / scale));
    if (other === undefined) continue;
    const likely = Math.round((s * max) / other);
    const data = { s: Math.round(s), rpm: Math.round(step.rpm), other, likely, max };
    return [say("speed-scale-unlikely", data, at(step.line))];
  }
  return [];
}
