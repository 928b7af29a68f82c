/**
 * The commands, their options and their help. What a command does is imported when it is called, so
 * that `--help` is quick.
 */
import { Command, CommanderError, Option } from "commander";
import { addAtMachine } from "./at-machine/declare.ts";
import {
  amount,
  example,
  type Finish,
  length,
  portNumber,
  wholeNumber,
} from "./commands/option-values.ts";
import { EXIT, type ExitCode, type Io } from "./io.ts";

export const VERSION = "0.1.0";

export interface Invocation {
  readonly program: Command;
  /** What the command that ran came to. */
  readonly code: () => ExitCode;
}

export function buildProgram(io: Io): Invocation {
  let code: ExitCode = EXIT.done;
  const finish = (result: ExitCode) => {
    code = result;
  };
  const program = new Command("weftcut")
    .description("Cuts carbon-fibre plates on a hobby router: drawings in, proven programs out.")
    .version(VERSION)
    .showHelpAfterError("(--help shows how)")
    .exitOverride()
    .configureOutput({
      writeOut: io.out,
      writeErr: io.err,
      getOutHasColors: () => io.colourOut,
      getErrHasColors: () => io.colourErr,
    })
    .addHelpText(
      "after",
      "\nStart with:\n  weftcut new my-job\n  weftcut plan my-job/job.yaml --out my-job/out",
    );
  addJobCommands(program, io, finish);
  addPlan(program, io, finish);
  addFileCommands(program, io, finish);
  addProve(program, io, finish);
  addAtMachine(program, io, finish);
  addRates(program, io, finish);
  addDraft(program, io, finish);
  addLife(program, io, finish);
  addCoupon(program, io, finish);
  addPage(program, io, finish);
  for (const command of program.commands) {
    command
      .option("--json", "one JSON document on stdout, nothing else there")
      .option("--debug", "show where in weftcut a fault comes from");
  }
  return { program, code: () => code };
}

function addJobCommands(program: Command, io: Io, finish: Finish): void {
  program
    .command("new")
    .summary("a starter job that plans as it stands")
    .description(
      "Writes a starter job into DIR: job, machine profile and a drawing, every line explained.",
    )
    .argument("<dir>", "folder to write into")
    .option("--force", "write even where DIR holds files of these names")
    .addHelpText("after", example("weftcut new my-job"))
    .action(async (dir, options) => {
      const { newJob } = await import("./commands/new.ts");
      finish(newJob(io, dir, options));
    });
}

const SEED_HELP = "another seed, another layout of the same effort";

function effortOption(): Option {
  const says = "how long to search for a layout: about 0.3, 10 or 60 s";
  return new Option("--effort <effort>", says).choices(["quick", "normal", "long"]);
}

function addPlan(program: Command, io: Io, finish: Finish): void {
  program
    .command("plan")
    .summary("the main job: drawings to proven programs")
    .description(
      "Checks, layout, toolpath, programs, proof, time and job sheet of a job, written into DIR.",
    )
    .argument("<job>", "job file, YAML or JSON")
    .requiredOption("--out <dir>", "folder to write into")
    .option("--force", "write even where DIR holds files that are not weftcut's")
    .option("--keep-unproven", "write programs that fail their proof, too, into DIR/unproven")
    .option("--trial", "feeds and speeds for hardboard, to try the very same moves in it first")
    .addOption(effortOption())
    .option("--seed <n>", SEED_HELP, wholeNumber)
    .addHelpText("after", example("weftcut plan my-job/job.yaml --out my-job/out"))
    .action(async (job, options) => {
      const { withHelper } = await import("./elsewhere/thread.ts");
      const code = await withHelper(async (helper) => {
        const { plan } = await import("./commands/plan.ts");
        return plan(io, job, options, helper);
      });
      finish(code);
    });
  program
    .command("check")
    .summary("the findings alone, nothing written")
    .description("Goes the same way as plan and says what it found, without writing anything.")
    .argument("<job>", "job file, YAML or JSON")
    .addOption(effortOption())
    .option("--seed <n>", SEED_HELP, wholeNumber)
    .addHelpText("after", example("weftcut check my-job/job.yaml"))
    .action(async (job, options) => {
      const { withHelper } = await import("./elsewhere/thread.ts");
      const code = await withHelper(async (helper) => {
        const { check } = await import("./commands/plan.ts");
        return check(io, job, options, helper);
      });
      finish(code);
    });
}

function addProve(program: Command, io: Io, finish: Finish): void {
  program
    .command("prove")
    .summary("proves any program against a plan")
    .description(
      "Whether programs, whoever wrote them, make the plates of a plan. 0 only if all do.",
    )
    .argument("<plan>", "plan.json")
    .argument("<program...>", "RS-274 programs")
    .option("--sheet <name>", "the plan's sheet that they are for, where they do not say so")
    .option("--cutter <name>", "the plan's cutter that they are for, where they do not say so")
    .addHelpText("after", example("weftcut prove out/plan.json out/01-carbon-3-router-2.nc"))
    .action(async (plan, files, options) => {
      const { prove } = await import("./commands/prove.ts");
      finish(prove(io, plan, files, options));
    });
}

function addDraft(program: Command, io: Io, finish: Finish): void {
  program
    .command("draft")
    .summary("plates of an airframe from its parameters")
    .description(
      "Draws the plates of a multirotor from a file of parameters, with a job that cuts them, parts and pictures.",
    )
    .argument("<airframe>", "airframe file, YAML or JSON")
    .requiredOption("--out <dir>", "folder to write into")
    .option("--force", "write even where DIR holds files that are not weftcut's")
    .addHelpText("after", example("weftcut draft my-airframe.yaml --out my-airframe"))
    .action(async (airframe, options) => {
      const { draft } = await import("./commands/draft.ts");
      finish(draft(io, airframe, options));
    });
}

function addFileCommands(program: Command, io: Io, finish: Finish): void {
  program
    .command("inspect")
    .summary("what is in a drawing: sizes, features, repairs, what was ignored")
    .description("What weftcut sees in drawings; a folder stands for the drawings in it.")
    .argument("<drawing...>", "DXF or SVG files, or folders of them")
    .addOption(new Option("--units <unit>", "instead of what the file says").choices(["mm", "in"]))
    .option("--picture <file>", "draw what was read into an SVG file")
    .option("--force", "replace the picture's file where it is there already")
    .addHelpText("after", example("weftcut inspect my-job/bracket.dxf"))
    .action(async (files, options) => {
      const { inspect } = await import("./commands/inspect.ts");
      finish(inspect(io, files, options));
    });
  program
    .command("time")
    .summary("acceleration-limited time of any program")
    .description("How long programs take on a machine, with its acceleration, corners and dwells.")
    .argument("<program...>", "RS-274 programs")
    .requiredOption("--machine <file>", "machine profile")
    .option("--jerk <mm/s3>", "limit of jerk, where the controller has one", amount)
    .option(
      "--look-ahead <blocks>",
      "blocks that the controller sees ahead; 15 if not said",
      amount,
    )
    .addHelpText(
      "after",
      example("weftcut time out/01-carbon-3-router-2.nc --machine small-router.yaml"),
    )
    .action(async (files, options) => {
      const { time } = await import("./commands/time.ts");
      finish(time(io, files, options));
    });
}

const MATERIALS = ["carbon-woven", "carbon-quasi-isotropic", "glass-epoxy", "hardboard"];

function addRates(program: Command, io: Io, finish: Finish): void {
  program
    .command("rates")
    .summary("spindle speed, feed and depth, with formula and source")
    .description(
      "Spindle speed, feeds and pass depth for a cutter: each figure's formula, row and source.",
    )
    .addOption(new Option("--material <name>", "what is cut").choices(MATERIALS))
    .option("--cutter <file|diameter>", "cutter file, or a diameter in mm for a usual cutter")
    .option("--machine <file>", "machine profile")
    .option("--job <file>", "instead: compare the cutters of a job on its plates, sheet by sheet")
    .option(
      "--usual",
      "with --job: compare usual routers of 1 to 3.175 mm instead of the job's own",
    )
    .option("--thickness <mm>", "of the sheet", length, 2)
    .option("--pass-depth <mm>", "your own, instead of the one that is chosen", length)
    .addHelpText(
      "after",
      example("weftcut rates --material carbon-woven --cutter 2 --machine small-router.yaml"),
    )
    .action(async (options, command: Command) => {
      if (options.job !== undefined) {
        const { compare } = await import("./commands/compare.ts");
        finish(compare(io, options));
        return;
      }
      for (const needed of ["material", "cutter", "machine"]) {
        if (options[needed] === undefined) {
          command.error(`error: --${needed} is needed, or --job to compare a job's cutters`);
        }
      }
      const { rates } = await import("./commands/rates.ts");
      finish(rates(io, options));
    });
}

function addCoupon(program: Command, io: Io, finish: Finish): void {
  program
    .command("coupon")
    .summary("a test piece for kerf, fits and axis scale")
    .description(
      "Plans a test piece for one sheet and cutter of a job, proven like any job; with --measured, turns what was measured on it into diameter, axis scale and fit, and writes them into the job's files.",
    )
    .argument("[job]", "job file, YAML or JSON; with --measured the file names it")
    .option("--out <dir>", "folder to write into")
    .option("--sheet <name>", "the job's sheet; without it the first")
    .option("--cutter <name>", "the job's cutter; without it the first that goes round")
    .option("--clearance <mm>", "the fit that slots are stepped round, in all", length, 0.1)
    .option("--measured <file>", "what was measured, in the file that came with the coupon")
    .option("--date <date>", "of the measuring; without it today")
    .option("--dry", "with --measured: say what was found, write nothing")
    .option("--force", "write even where DIR holds files that are not weftcut's")
    .addHelpText("after", example("weftcut coupon my-job/job.yaml --out my-job/coupon"))
    .action(async (job, options) => {
      const { coupon } = await import("./commands/coupon.ts");
      finish(await coupon(io, job, options));
    });
}

function addLife(program: Command, io: Io, finish: Finish): void {
  const life = program
    .command("life")
    .summary("metres cut by each cutter: show, record, renew")
    .description(
      "Keeps a ledger of what each cutter has cut, in a file that is only ever appended to. Plans reckon with it.",
    )
    .option("--ledger <file>", "the ledger; without it cutter-life.jsonl in this folder")
    .addHelpText("after", example("weftcut life record my-job/out"));
  life
    .command("show", { isDefault: true })
    .description("What each cutter has behind it, and what was measured.")
    .addHelpText("after", example("weftcut life show"))
    .action(async (_options, command: Command) => {
      const { show } = await import("./commands/life.ts");
      finish(show(io, command.optsWithGlobals()));
    });
  life
    .command("record")
    .description("The programs of a planned folder were cut.")
    .argument("<dir>", "folder that plan wrote")
    .option("--program <file...>", "only these of its programs were cut")
    .option("--again", "they were cut once more, though the ledger has them")
    .addHelpText(
      "after",
      example("weftcut life record my-job/out --program 01-carbon-2-router-2.nc"),
    )
    .action(async (dir, _options, command: Command) => {
      const { record } = await import("./commands/life.ts");
      finish(await record(io, dir, command.optsWithGlobals()));
    });
  life
    .command("renew")
    .description("A new cutter was put in; what the old one truly did, where you know it.")
    .argument("<cutter>", "its name in the job")
    .option("--minutes <min>", "true minutes of machine time with it", amount)
    .option("--metres <m>", "true metres of plate edge that it cut until it was worn", amount)
    .addHelpText("after", example("weftcut life renew router-2 --minutes 95 --metres 4.6"))
    .action(async (cutter, _options, command: Command) => {
      const { renew } = await import("./commands/life.ts");
      finish(renew(io, cutter, command.optsWithGlobals()));
    });
}

/** One port, so that the browser finds again what it keeps for the page. */
const PAGE_PORT = 8641;

function addPage(program: Command, io: Io, finish: Finish): void {
  program
    .command("page")
    .summary("the same in a browser: drop drawings, see the plan")
    .description(
      "Serves the page on 127.0.0.1, to this machine alone; all work is done in the browser. Ctrl-C ends it.",
    )
    .option("--port <n>", "port to listen on; 0 takes any that is free", portNumber, PAGE_PORT)
    .option("--out <file>", "instead: write the page as one file, which opens from disk")
    .option("--force", "with --out: replace the file where it is there already")
    .addHelpText("after", example("weftcut page --port 8642"))
    .action(async (options) => {
      const { page } = await import("./page/page.ts");
      finish(await page(io, options));
    });
}

export function isUsage(error: unknown): error is CommanderError {
  return error instanceof CommanderError;
}
