/** `weftcut page [--port N] [--out FILE]`: the browser page, served to this machine or written as a file. */
import { existsSync, readFileSync } from "node:fs";
import process from "node:process";
import { fileURLToPath } from "node:url";
import type { Finding } from "../../core/finding/finding.ts";
import { EXIT, type ExitCode, type Io, printJson } from "../io.ts";
import { printFindings } from "../print-findings.ts";
import { reason, typedFiles } from "../read-file.ts";
import { say } from "../say.ts";
import { writeWhole } from "../write-files.ts";
import { HOST, type Served, serve } from "./serve.ts";

export interface PageOptions {
  readonly port: number;
  readonly out?: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

export async function page(io: Io, options: PageOptions): Promise<ExitCode> {
  const html = await pageText();
  if (typeof html !== "string") return refuse(io, html, options);
  if (options.out !== undefined) {
    const failed = writeWhole(options.out, html, options.force === true);
    if (failed !== undefined) return refuse(io, failed, options);
    if (options.json === true) printJson(io, { file: options.out, findings: [] });
    else io.out(`wrote ${options.out}; open it in a browser\n`);
    return EXIT.done;
  }
  const served = await listening(html, options.port);
  if (!("stop" in served)) return refuse(io, served, options);
  const url = `http://${HOST}:${served.port}/`;
  if (options.json === true) printJson(io, { url, port: served.port, findings: [] });
  else io.out(`${url}\nopen it in a browser on this machine; Ctrl-C ends it\n`);
  await interrupted();
  await served.stop();
  return EXIT.done;
}

function refuse(io: Io, finding: Finding, options: PageOptions): ExitCode {
  if (options.json === true) printJson(io, { findings: [finding] });
  else printFindings(io, [finding], typedFiles);
  return EXIT.usage;
}

/** As it was built; from source it is bundled at once, so that it is never older than what one reads. */
async function pageText(): Promise<string | Finding> {
  const built = fileURLToPath(new URL("../page/index.html", import.meta.url));
  try {
    if (!import.meta.url.endsWith(".ts")) return readFileSync(built, "utf8");
    const { bundlePage } = await import("./bundle.ts");
    return (await bundlePage()).html;
  } catch (error) {
    const missing = (error as NodeJS.ErrnoException).code === "ERR_MODULE_NOT_FOUND";
    if (missing || !existsSync(built)) return say("page-not-built", { why: reason(error) });
    throw error;
  }
}

async function listening(html: string, port: number): Promise<Served | Finding> {
  try {
    return await serve(html, port);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "EADDRINUSE") return say("port-in-use", { port });
    return say("port-refused", { port, why: reason(error) });
  }
}

function interrupted(): Promise<void> {
  return new Promise((resolve) => {
    for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => resolve());
  });
}
