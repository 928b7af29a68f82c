/** docs/BENCHMARKS.md: the figures as tables, and what they do not say. */
import { type Spread, shown, spread } from "./numbers.ts";
import type { OffsetRow } from "./offsets.ts";
import type { Planning, Quality } from "./stages.ts";
import type { ProcessRun } from "./whole-process.ts";

export interface Measured {
  readonly machine: string;
  readonly commit: string;
  readonly load: string;
  readonly rounds: number;
  readonly seed: number;
  /** Whole processes by what they did: those over in a moment, measured all through the run, and the others. */
  readonly short: ReadonlyMap<string, readonly ProcessRun[]>;
  readonly long: ReadonlyMap<string, readonly ProcessRun[]>;
  /** Planned in a process of its own, by job. */
  readonly plannings: ReadonlyMap<string, readonly Planning[]>;
  /** The same, by number of plates, least first. */
  readonly growth: ReadonlyMap<number, readonly Planning[]>;
  readonly offsets: readonly OffsetRow[];
}

export function benchmarksPage(m: Measured): string {
  return `${[head(m), whole(m), stages(m), rooms(m), growth(m), offsets(m), caveats()].join("\n\n")}\n`;
}

function head(m: Measured): string {
  return `# Benchmarks

\`npm run bench\` measures all of this and writes this page. Commit ${m.commit}; ${m.machine}; load of the
machine at the end (1, 5, 15 minutes): ${m.load}.

Every figure is the median of ${m.rounds} run${m.rounds === 1 ? "" : "s"} with the least and the most beside it. Contenders of a table take turns, so that a
machine that gets busy is busy for all of them. Seed of the made jobs: ${m.seed}.`;
}

function whole(m: Measured): string {
  const rows = [...m.short, ...m.long].map(([name, runs]) => [
    `${name} (${runs.length})`,
    shown(spread(runs.map((r) => r.seconds)), 2),
    wantedOf(spread(runs.map((r) => r.seconds)), WANTED_SECONDS.get(name)),
    shown(spread(runs.map((r) => r.cpuSeconds)), 2),
    shown(spread(runs.map((r) => r.peakMb)), 0),
  ]);
  return `## Whole process

From the start of Node to its end, drawings read and files written. "Compiled" is what the package holds; "from
source" is TypeScript turned to JavaScript as it is loaded. Processor time is of all threads together, so it
counts compiling and collecting garbage beside the work, and hardly moves when the machine is busy with something else.
A plan is worked out by two threads where there are two processors. NODE_EXTRA_CA_CERTS is not set: the certificates that it
names are parsed at every start of Node, and all those of a Linux system take it longer than \`--help\` does. In brackets: how many
runs; those of the first three rows are spread over all the minutes of this measurement. Node alone says how quick
the machine was meanwhile.

${table(["what", "s", "wanted, s", "processor, s", "peak memory, MB"], rows)}

${quality(m)}`;
}

/** What it is to take at most, by the project's own aims. */
const WANTED_SECONDS: ReadonlyMap<string, number> = new Map([
  ["`--help`, compiled", 0.12],
  ["demo, compiled", 1],
  ["40 plates with 600 features, compiled", 6],
]);

/** A miss says so. */
export function wantedOf({ median }: Spread, most: number | undefined): string {
  if (most === undefined) return "";
  return median <= most ? String(most) : `${most}, missed`;
}

/** Time is worth nothing without what came of it. */
function quality({ plannings }: Measured): string {
  const rows = [...plannings].map(([name, [first]]) => [name, ...qualityCells(first?.quality)]);
  return `What those plans are worth:

${table(["job", "proven", "deepest cut into a plate, mm", "left standing, mm²", "sheet used", "machine time, min", "cut, m", "rapid, m"], rows)}`;
}

function qualityCells(q: Quality | undefined): string[] {
  if (q === undefined) return [];
  return [
    q.proven ? "yes" : "no",
    q.overcutMm.toFixed(4),
    q.leftMm2.toFixed(3),
    `${(100 * q.utilisation).toFixed(0)} %`,
    (q.machineSeconds / 60).toFixed(1),
    q.cutMetres.toFixed(2),
    q.rapidMetres.toFixed(2),
  ];
}

function stages({ plannings }: Measured): string {
  const tables = [...plannings].map(([name, runs]) => {
    const rows = (runs[0]?.stages ?? []).map((stage, i) => [
      stage.name,
      shown(spread(runs.map((r) => r.stages[i]?.ms ?? Number.NaN)), 0),
      shown(spread(runs.map((r) => r.stages[i]?.cpuMs ?? Number.NaN)), 0),
      shown(spread(runs.map((r) => r.stages[i]?.heapMb ?? Number.NaN)), 0),
      shown(spread(runs.map((r) => r.stages[i]?.residentMb ?? Number.NaN)), 0),
    ]);
    return `${name}:\n\n${table(["stage", "ms", "processor, ms", "heap after it, MB", "resident, MB"], rows)}`;
  });
  return `## By stage

In a fresh process each, so with code that is not compiled yet; without loading it. Heap is what is left once
garbage is collected. "Writing programs" holds reading back and timing.

${tables.join("\n\n")}`;
}

function rooms({ plannings }: Measured): string {
  const perSecond = (blocks: number, ms: number) => Math.round((1000 * blocks) / ms);
  const rows = [...plannings].flatMap(([name, runs]) =>
    (["read", "prove", "time"] as const).map((room) => {
      const of = (which: "first" | "again") =>
        spread(runs.map((r) => perSecond(r.blocks, r.rooms[room][which])));
      return [name, room, String(runs[0]?.blocks), shown(of("first"), 0), shown(of("again"), 0)];
    }),
  );
  return `## Programs in: blocks a second

\`read\` is text to trace, \`prove\` a trace against the plan, \`time\` a trace with acceleration. The same programs a
second time in one process, and again, when the code is compiled.

${table(["job", "room", "blocks", "second time", "again"], rows)}`;
}

function growth({ growth: byPlates }: Measured): string {
  const sums = [...byPlates].map(([plates, runs]) => {
    const total = spread(runs.map((r) => r.stages.reduce((sum, s) => sum + s.ms, 0)));
    return { plates, runs, total };
  });
  const least = sums[0];
  const names = least?.runs[0]?.stages.map((s) => s.name) ?? [];
  const rows = sums.map(({ plates, runs, total }) => [
    `${plates} plates, ${plates * 15} features`,
    shown(total, 0),
    least === undefined ? "" : factor(total, least.total),
    ...names.map((_, i) =>
      spread(runs.map((r) => r.stages[i]?.ms ?? Number.NaN)).median.toFixed(0),
    ),
    shown(spread(runs.map((r) => Math.max(...r.stages.map((s) => s.residentMb)))), 0),
  ]);
  return `## Growth

The made job once, four times and sixteen times, all on one sheet, so that nothing is split into small pieces that
would hide how a stage grows. ms; each stage's median.

${table(["job", "all stages", "against the first", ...names, "resident, MB"], rows)}`;
}

function factor(a: Spread, b: Spread): string {
  return `${(a.median / b.median).toFixed(1)} ×`;
}

function offsets({ offsets: rows }: Measured): string {
  return `## Offset against polygon libraries

200 seeded regions of many kinds, five distances. "Off" is the largest difference of one region's area from
clipper2-ts on chords within 0.0001 mm, as a share of the area. Pieces are what a cutter would follow.

${table(
  ["offset", "ms for all", "off", "pieces"],
  rows.map((r) => [r.name, shown(r.ms, 0), r.worstArea.toExponential(1), String(r.pieces)]),
)}`;
}

function caveats(): string {
  return `## What this does not say

One machine, one version of Node, jobs of one make. Peak memory is Linux's count of resident pages, code and
libraries with it. The machine time in the plans is an estimate of weftcut's own and is here to see it change, not to be believed.
A rented machine's own pace changes by half from hour to hour: the libraries' rows above, which no change of ours moves, tell how quick it was.`;
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  const rule = head.map((_, i) => (i === 0 ? "---" : "---:"));
  return [line(head), line(rule), ...rows.map(line)].join("\n");
}
