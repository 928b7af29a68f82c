/**
 * Numbers, comments and lines of a program in the dialect of one machine.
 *
 * Comments hold only letters, digits, space and `. , - + = _ / :`: streamed controllers obey `!`, `~`,
 * `?` and bytes above 127 even inside them.
 */
import { power } from "../../geometry/trig.ts";
import type { Machine } from "../../machine/machine.ts";

/** A coordinate with at most the profile's decimals, no trailing zeros, never −0. */
export function number(value: number, decimals: number): string {
  // The shortest text of a number that has so few decimals is its plain decimal one.
  return String(rounded(value, decimals));
}

/** Rounded as it will be written. */
export function rounded(value: number, decimals: number): number {
  const unit = power(10, decimals);
  const nearest = Math.round(value * unit) / unit;
  return nearest === 0 ? 0 : nearest;
}

export function plainAscii(text: string): string {
  return text
    .normalize("NFKD")
    .replace(/[\u0300-\u036f]/g, "")
    .replace(/[^A-Za-z0-9 .,\-+=_/:]/g, " ")
    .replace(/ +/g, " ")
    .trim();
}

/** A comment on lines of its own, wrapped to the profile's line length; nothing where it takes none. */
export function comment(text: string, machine: Machine): string[] {
  if (machine.comments === "none") return [];
  const [open, close] = machine.comments === "semicolon" ? ["; ", ""] : ["(", ")"];
  const room = machine.lineLength - open.length - close.length;
  return wrap(plainAscii(text), room).map((line) => `${open}${line}${close}`);
}

function wrap(text: string, room: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    const next = line === "" ? word : `${line} ${word}`;
    if (next.length <= room) {
      line = next;
      continue;
    }
    if (line !== "") lines.push(line);
    line = word.slice(0, room);
  }
  if (line !== "") lines.push(line);
  return lines;
}

/** G4's P in what the profile counts. */
export function dwell(seconds: number, machine: Machine): string {
  return machine.dwell === "milliseconds"
    ? `G4 P${Math.round(seconds * 1000)}`
    : `G4 P${number(seconds, 3)}`;
}
