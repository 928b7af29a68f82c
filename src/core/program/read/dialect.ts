/** A machine profile as far as it changes what a program means. */
import type { Machine } from "../../machine/machine.ts";
import type { ReadOptions } from "./read.ts";

type Dialect = Pick<Machine, "dwell" | "comments" | "programEnd" | "spindle">;

export function dialectOf({ dwell, comments, programEnd, spindle }: Dialect): ReadOptions {
  return {
    dwell,
    semicolons: comments === "semicolon",
    endless: programEnd === "none",
    rpmPerS: spindle.sAtMax === undefined ? 1 : spindle.max / spindle.sAtMax,
  };
}
