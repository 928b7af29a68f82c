/**
 * The page as one HTML text: script, worker and styles inside, so that it opens from disk and asks nobody for
 * anything. A content security policy of hashes says so to the browser.
 *
 * The worker and the samples ride along as JSON in data blocks, which no browser runs; the page reads them.
 */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Samples } from "../../page/samples.ts";
import { PAGE_STYLE } from "../../page/style.ts";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));

export interface PageParts {
  readonly script: string;
  readonly worker: string;
  readonly html: string;
  /** Paths of all modules that went in. */
  readonly modules: readonly string[];
}

export async function bundlePage(): Promise<PageParts> {
  const [script, worker] = await Promise.all([
    bundled("src/page/main.tsx"),
    bundled("src/page/worker/main.ts"),
  ]);
  const modules = [...script.modules, ...worker.modules];
  return {
    script: script.text,
    worker: worker.text,
    html: htmlOf(script.text, worker.text),
    modules,
  };
}

async function bundled(entry: string): Promise<{ text: string; modules: string[] }> {
  const { rolldown } = await import("rolldown");
  const bundle = await rolldown({
    input: join(ROOT, entry),
    cwd: ROOT,
    platform: "browser",
    transform: {
      define: { "process.env.NODE_ENV": '"production"' },
    },
    onLog: (level, log) => {
      if (level === "warn") throw new Error(`bundling the page: ${log.message}`);
    },
  });
  const { output } = await bundle.generate({ format: "iife", minify: true, codeSplitting: false });
  await bundle.close();
  // What an HTML reader would take for the script's end, or for a comment, can only stand in a text or a pattern.
  const text = output[0].code.replace(/<\/(?=script)/gi, "<\\/").replace(/<!--/g, "\\x3c!--");
  return { text, modules: output[0].moduleIds };
}

function htmlOf(script: string, worker: string): string {
  const policy = [
    "default-src 'none'",
    `script-src ${hashOf(script)}`,
    `style-src ${hashOf(PAGE_STYLE)}`,
    "worker-src blob:",
    "img-src data: blob:",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light dark">
<link rel="icon" href="data:,">
<title>weftcut</title>
<style>${PAGE_STYLE}</style></head>
<body><div id="page"></div>
<noscript>This page plans in your browser, and needs its script for that.</noscript>
<script type="application/json" id="worker-text">${json(worker)}</script>
<script type="application/json" id="samples">${json(samples())}</script>
<script>${script}</script>
</body></html>
`;
}

function hashOf(text: string): string {
  return `'sha256-${createHash("sha256").update(text).digest("base64")}'`;
}

/** Safe between script tags. */
function json(value: unknown): string {
  return JSON.stringify(value).replace(/</g, "\\u003c");
}

/** The demo's files, the airframes and the machines that these name, by name. */
function samples(): Samples {
  return {
    machines: textsIn("fixtures/machines", /\.yaml$/),
    demo: textsIn("fixtures/demo", /\.(dxf|yaml)$/),
    airframes: textsIn("fixtures/airframes", /\.yaml$/),
  };
}

function textsIn(folder: string, wanted: RegExp): Record<string, string> {
  const names = readdirSync(join(ROOT, folder)).filter((name) => wanted.test(name));
  return Object.fromEntries(
    names.sort().map((name) => [basename(name), readFileSync(join(ROOT, folder, name), "utf8")]),
  );
}
