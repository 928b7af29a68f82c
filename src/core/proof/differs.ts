/**
 * Where the machine at hand may do something else than RS-274/NGC says (NISTIR 6556, August 2000), though the program
 * is right by it. Warnings: the proof is of what the standard says. Homing and saved places (G28, G30) need none: the
 * reader refuses them.
 */
import { type Finding, reporter } from "../finding/finding.ts";
import { sayController } from "../finding/say-controller.ts";
import type { Machine } from "../machine/machine.ts";
import type { Trace } from "../program/read/trace.ts";

const say = reporter(sayController);

/** Nobody waits longer in a program, nor is anything waited for that is shorter; s, common practice, no source. */
const LONGEST_DWELL = 300;
const SHORTEST_DWELL = 0.02;

export function differs(trace: Trace, machine: Machine, sheet: string): Finding[] {
  const { file, style, steps } = trace;
  const at = (line: number) => ({ sheet, program: { file, line } });
  const found: Finding[] = [];
  for (const { code, line } of style?.codes ?? []) {
    if (code === "M30") found.push(say("end-may-delete", {}, at(line)));
    if (/^M(0|1|60)$/.test(code)) found.push(say("stop-may-be-ignored", { code }, at(line)));
  }
  const odd = steps.find(
    (s) =>
      s.kind === "dwell" &&
      s.seconds > 0 &&
      (s.seconds > LONGEST_DWELL || s.seconds < SHORTEST_DWELL),
  );
  if (odd?.kind === "dwell") {
    const data = { seconds: odd.seconds, unit: machine.dwell };
    found.push(say("dwell-unit-unlikely", data, at(odd.line)));
  }
  return found;
}
