/**
 * `npm run bench`: measures weftcut and writes docs/BENCHMARKS.md.
 *
 *     npm run bench                     all of it, some minutes
 *     npm run bench -- --rounds 1       one run of each
 *     npm run bench -- --out FILE       somewhere else
 *
 * The package is built first; compiled and uncompiled weftcut are measured as processes, as people run them.
 */
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { jobSheetFigures, jobSheetPart } from "./job-sheet.ts";
import { commitLine, loadLine, machineLine } from "./machine.ts";
import { manyPlates } from "./many-plates.ts";
import { interleaved } from "./numbers.ts";
import { offsetContest } from "./offsets.ts";
import { benchmarksPage } from "./page.ts";
import { pageSpeed, pageSpeedPart } from "./page-redraw.ts";
import type { Planning } from "./stages.ts";
import { type ProcessRun, runProcess } from "./whole-process.ts";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const COMPILED = join(ROOT, "dist/cli/main.js");
const SOURCE = join(ROOT, "src/cli/main.ts");
const STAGES = join(ROOT, "tests/bench/stages.ts");
const DEMO = join(ROOT, "fixtures/demo/job.yaml");
const SEED = 1;
const PLATES = [10, 40, 160];

const { values: options } = parseArgs({
  options: {
    rounds: { type: "string", default: "5" },
    out: { type: "string", default: join(ROOT, "docs/BENCHMARKS.md") },
  },
});
const rounds = Number(options.rounds);
if (!(Number.isInteger(rounds) && rounds > 0))
  throw new Error("--rounds wants a whole number from 1");

function say(text: string): void {
  process.stderr.write(`${text}\n`);
}

function written(folder: string, files: ReadonlyMap<string, string>): string {
  mkdirSync(folder, { recursive: true });
  for (const [name, text] of files) writeFileSync(join(folder, name), text);
  return join(folder, "job.yaml");
}

function planning(job: string): Planning {
  const { out } = runProcess(["--expose-gc", "--import", "tsx", STAGES, job], ROOT);
  return JSON.parse(out) as Planning;
}

async function measure(scratch: string): Promise<void> {
  say("building");
  execFileSync("npm", ["run", "--silent", "build"], {
    cwd: ROOT,
    stdio: ["ignore", "ignore", "inherit"],
  });
  const many = written(join(scratch, "many"), manyPlates({ plates: 40, sheets: 2, seed: SEED }));
  const out = join(scratch, "out");
  const empty = join(scratch, "empty.cjs");
  writeFileSync(empty, "");

  say("whole processes");
  const compiled = (...args: string[]) => runProcess([COMPILED, ...args], ROOT);
  const plan = (job: string) => ["plan", job, "--out", out, "--keep-unproven"];
  const source = (...args: string[]) => runProcess(["--import", "tsx", SOURCE, ...args], ROOT);
  const short = new Map<string, ProcessRun[]>();
  /** What is over in a moment is measured in several, all through this run: the machine's pace changes from one to the next. */
  const aMoment = () =>
    interleaved(
      {
        "Node alone, an empty program": () => runProcess([empty], ROOT),
        "`--help`, compiled": () => compiled("--help"),
        "demo, compiled": () => compiled(...plan(DEMO)),
      },
      rounds,
      short,
    );
  aMoment();
  const long = interleaved(
    {
      "demo, from source": () => source(...plan(DEMO)),
      "40 plates with 600 features, compiled": () => compiled(...plan(many)),
    },
    rounds,
  );

  say("stages");
  const plannings = interleaved(
    { demo: () => planning(DEMO), "40 plates with 600 features": () => planning(many) },
    rounds,
  );

  aMoment();
  say("growth");
  const growing = PLATES.map((plates): [string, () => Planning] => {
    const job = written(join(scratch, `${plates}`), manyPlates({ plates, sheets: 1, seed: SEED }));
    return [String(plates), () => planning(job)];
  });
  const growth = interleaved(Object.fromEntries(growing), Math.min(rounds, 3));

  aMoment();
  say("offsets");
  const offsets = offsetContest(200, rounds);
  say("job sheet and page");
  const sheet = jobSheetPart(await jobSheetFigures(Math.min(rounds, 3)));
  const desk = pageSpeedPart(await pageSpeed(rounds, 20));
  aMoment();
  const page = benchmarksPage({
    machine: machineLine(),
    commit: commitLine(ROOT),
    load: loadLine(),
    rounds,
    seed: SEED,
    short,
    long,
    plannings,
    growth: new Map([...growth].map(([plates, runs]) => [Number(plates), runs])),
    offsets,
  });
  const parts = [page, sheet, desk].map((part) => part.trimEnd());
  writeFileSync(options.out, `${parts.join("\n\n")}\n${keptOf(options.out)}`);
  say(`wrote ${options.out}`);
}

/** The page's last parts come from `npm run bench:order` and `npm run bench:layout`, and stay. */
function keptOf(file: string): string {
  const before = existsSync(file) ? readFileSync(file, "utf8") : "";
  const at = before.search(/^## (Ordering|Strip packing)/m);
  return at < 0 ? "" : `\n${before.slice(at)}`;
}

const scratch = mkdtempSync(join(tmpdir(), "weftcut-bench-"));
try {
  await measure(scratch);
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
