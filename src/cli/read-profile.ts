/** A machine profile from the file that an option names. */
import type { Finding } from "../core/finding/finding.ts";
import { parseMachine } from "../core/job/parse.ts";
import type { Machine } from "../core/machine/machine.ts";
import { readText } from "./read-file.ts";

export interface ReadMachine {
  readonly machine: Machine | undefined;
  readonly findings: readonly Finding[];
  readonly unreadable: boolean;
}

export function readMachine(file: string): ReadMachine {
  const text = readText(file);
  if (typeof text !== "string") return { machine: undefined, findings: [text], unreadable: true };
  const { value, findings } = parseMachine({ name: file, text });
  return { machine: value, findings, unreadable: false };
}
