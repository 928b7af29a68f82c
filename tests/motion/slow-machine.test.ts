/** What makers see on slow machines: true time over length ÷ feed. */
import { expect, test } from "vitest";
import { timeOf } from "../../src/core/motion/time.ts";
import { arcTo, type Go, go, machine, trace, type Xyz } from "./program.ts";

/** Rows of small slots with round ends, as a lightened plate has them: 240 moves of 0.6 to 6 mm. */
function lightened(): Go[] {
  const moves: Go[] = [];
  let at: Xyz = [0, 0, -1];
  const to = (move: Go): void => {
    moves.push({ ...move, feed: 1700 });
    at = move.to;
  };
  for (let row = 0; row < 30; row++) {
    to({ to: [6, at[1], -1] });
    to(arcTo(at, [6, at[1] + 0.4], Math.PI));
    to({ to: [0, at[1], -1] });
    to(arcTo(at, [0, at[1] + 0.4], -Math.PI));
    for (const x of [0.6, 1.2, 0.6, 0]) to({ to: [x, at[1] + (x === 0 ? 0 : 0.6), -1] });
  }
  return moves;
}

test("on 10, 50 and 500 mm/s²: 5 to 10 times the naive time on the slow one, near it on the quick", () => {
  const program = trace(go([0, 0, -1], lightened()));
  const ratio = (a: number): number => {
    const run = timeOf(program, machine({ acceleration: [a, a, a], blocksPerSecond: 250 }));
    return run.seconds / ((run.cutMetres * 1000) / (1700 / 60));
  };
  expect(ratio(10)).toBeGreaterThan(5);
  expect(ratio(10)).toBeLessThan(10);
  expect(ratio(50)).toBeGreaterThan(2);
  expect(ratio(50)).toBeLessThan(ratio(10));
  expect(ratio(500)).toBeLessThan(2);
});
