/**
 * Tells V8 to leave more code to its quick compilers. A plan is over before most of what V8's optimizing compiler makes of
 * it has paid, and that compiler's threads take the second processor from the plan's own second thread: with the
 * usual budget, planning the demo takes a quarter longer on two processors.
 *
 * Only for the V8 that this was measured with: later ones have a further compiler between, with its own budgets. Nothing
 * but time depends on it. Bytecode must have been made under the same flags to be taken.
 */
import process from "node:process";
import { setFlagsFromString } from "node:v8";

/** Steps of bytecode between two looks at whether a function is hot; V8's own is 67584. */
const BUDGET = 400_000;

export function tuneTiers(): void {
  if (process.versions.v8.startsWith("11.3.")) setFlagsFromString(`--interrupt-budget=${BUDGET}`);
}
