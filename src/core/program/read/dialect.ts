/** A machine profile as far as it changes what a program means. */
import type { Machine } from "../../machine/machine.ts";
import type { ReadOptions } from "./read.ts";

export function dialectOf({ dwell, comments }: Pick<Machine, "dwell" | "comments">): ReadOptions {
  return { dwell, semicolons: comments === "semicolon" };
}
