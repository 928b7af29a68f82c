/** The command line: arguments in, exit code out. */
import process from "node:process";
import { EXIT, type ExitCode, type Io, processIo } from "./io.ts";
import { buildProgram, isUsage } from "./program.ts";

async function run(io: Io, args: readonly string[]): Promise<ExitCode> {
  const { program, code } = buildProgram(io);
  try {
    await program.parseAsync(args, { from: "user" });
    return code();
  } catch (error) {
    // Help and version leave this way too, with 0.
    if (isUsage(error)) return error.exitCode === 0 ? EXIT.done : EXIT.usage;
    const { message, stack } = error instanceof Error ? error : new Error(String(error));
    io.err(`weftcut: a fault in weftcut itself, not in your files: ${message}\n`);
    if (args.includes("--debug")) io.err(`${stack}\n`);
    else io.err("  --debug shows where.\n");
    return EXIT.fault;
  }
}

void run(processIo(), process.argv.slice(2)).then((code) => {
  process.exitCode = code;
});
