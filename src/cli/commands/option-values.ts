/** Values of options, and what all declarations of commands share. */
import { InvalidArgumentError } from "commander";
import type { ExitCode } from "../io.ts";

export type Finish = (code: ExitCode) => void;

export function example(text: string): string {
  return `\nExample:\n  ${text}`;
}

export function amount(text: string): number {
  const value = Number(text);
  if (text.trim() !== "" && value > 0 && value <= 1e9) return value;
  throw new InvalidArgumentError("A number above 0 is needed.");
}

export function lineNumber(text: string): number {
  const value = Number(text);
  if (/^\d+$/.test(text) && value >= 1 && value <= 1e9) return value;
  throw new InvalidArgumentError("A line number is needed, counted from 1.");
}

export function wholeNumber(text: string): number {
  const value = Number(text);
  if (/^\d+$/.test(text) && value <= 0xffffffff) return value;
  throw new InvalidArgumentError("A whole number, 0 or above, is needed.");
}

export function portNumber(text: string): number {
  const value = Number(text);
  if (/^\d+$/.test(text) && value <= 65_535) return value;
  throw new InvalidArgumentError("A whole number from 0 to 65535 is needed.");
}

export function length(text: string): number {
  const value = Number(text);
  if (text.trim() !== "" && value > 0 && value <= 1000) return value;
  throw new InvalidArgumentError("A length in mm above 0 is needed.");
}
