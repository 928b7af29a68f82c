/**
 * How quick timing is, and whether it stays linear: blocks a second for programs of growing length. A bench, no
 * test: `npx tsx tests/motion/timing-bench.ts`. Rows are CPU seconds of this process (other work on the machine does
 * not count) and wall seconds, each the median of seven runs.
 */
import process from "node:process";
import { timeOf } from "../../src/core/motion/time.ts";
import { arcTo, type Go, go, machine, trace, type Xyz } from "./program.ts";

const RUNS = 7;

/** Short lines and arcs of mixed feeds round and round, going down slowly: nothing is straight for long. */
function program(blocks: number): Go[] {
  const moves: Go[] = [];
  let at: Xyz = [0, 0, 0];
  for (let i = 0; i < blocks; i++) {
    const feed = 400 + 300 * (i % 5);
    const to: Xyz = [30 * Math.cos(i / 40) + (i % 7) / 10, 30 * Math.sin(i / 40), -i * 1e-5];
    const move: Go =
      i % 4 === 3 ? arcTo(at, [at[0] + 0.4, at[1] + 0.2], i % 8 === 3 ? 1.5 : -1.5) : { to, feed };
    moves.push({ ...move, feed });
    at = move.to;
  }
  return moves;
}

function median(values: number[]): number {
  return values.sort((a, b) => a - b)[values.length >> 1] ?? Number.NaN;
}

process.stdout.write("blocks    jerk   CPU ms   wall ms   blocks a CPU second\n");
for (const jerk of [undefined, 5000]) {
  for (const blocks of [50_000, 100_000, 200_000, 400_000, 800_000]) {
    const made = trace(go([0, 0, 0], program(blocks)));
    const cpu: number[] = [];
    const wall: number[] = [];
    for (let run = 0; run < RUNS; run++) {
      const before = process.cpuUsage();
      const since = performance.now();
      timeOf(made, machine(), { jerk });
      wall.push(performance.now() - since);
      const used = process.cpuUsage(before);
      cpu.push((used.user + used.system) / 1000);
    }
    const ms = median(cpu);
    const row = [String(blocks).padEnd(9), (jerk === undefined ? "none" : String(jerk)).padEnd(6)];
    row.push(ms.toFixed(1).padStart(7), median(wall).toFixed(1).padStart(9));
    row.push(String(Math.round((1000 * blocks) / ms)).padStart(14));
    process.stdout.write(`${row.join(" ")}\n`);
  }
}
