/** The commands for who stands at the machine: programs made of a program. */
import type { Command } from "commander";
import { amount, example, type Finish, length, lineNumber } from "../commands/option-values.ts";
import type { Io } from "../io.ts";

export function addAtMachine(program: Command, io: Io, finish: Finish): void {
  program
    .command("restart")
    .summary("a proven program that takes up an interrupted one")
    .description(
      "Takes up an interrupted program at the start of the pass that was interrupted, entering where it is cut already; proven against what is left of the sheet.",
    )
    .argument("<plan>", "plan.json")
    .argument("<program>", "the interrupted program of that plan")
    .option("--line <n>", "line at which it was interrupted", lineNumber)
    .option(
      "--look-ahead <blocks>",
      "with --line: blocks that the controller may have shown before it cut them; 0 if not said",
      amount,
    )
    .option(
      "--plate <name>",
      "instead of --line: the plate that was being cut; nothing of it is taken to be cut",
    )
    .requiredOption("--out <file>", "file to write")
    .option("--force", "replace the file where it is there already")
    .addHelpText(
      "after",
      example(
        "weftcut restart out/plan.json out/01-carbon-3-router-2.nc --line 412 --out restart.nc",
      ),
    )
    .action(async (plan, file, options) => {
      const { restartProgram } = await import("./restart.ts");
      finish(restartProgram(io, plan, file, options));
    });
  program
    .command("air")
    .summary("a program raised above the sheet, spindle off")
    .description(
      "Writes any program of a plan's sheet so much higher that it touches nothing, with the spindle off; proven to.",
    )
    .argument("<plan>", "plan.json")
    .argument("<program>", "RS-274 program")
    .option("--raise <mm>", "by how much; without it the deepest cut comes to clearance", length)
    .option("--sheet <name>", "the plan's sheet that it is for, where it does not say so")
    .option("--cutter <name>", "the plan's cutter that it is for, where it does not say so")
    .requiredOption("--out <file>", "file to write")
    .option("--force", "replace the file where it is there already")
    .addHelpText(
      "after",
      example("weftcut air out/plan.json out/01-carbon-3-router-2.nc --out air.nc"),
    )
    .action(async (plan, file, options) => {
      const { air } = await import("./air.ts");
      finish(air(io, plan, file, options));
    });
}
