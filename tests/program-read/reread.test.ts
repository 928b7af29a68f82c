/** Reading again what was read before, with lines changed, is the same as reading it anew: whatever the change. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { readProgram } from "../../src/core/program/read/read.ts";
import { rereadProgram } from "../../src/core/program/read/reread.ts";

const LINES = [
  "(mudflat quad)",
  "(about 0.0 minutes)",
  "(about 55.3 minutes)",
  "(a very long comment that no other line of the program comes near in length)",
  "()",
  "G21 G90 G17 G94",
  "G0 Z6",
  "(in) G1 X3 F300",
  "G1 X3 (nested (twice) Z-1)",
  "(open G1 Z-2",
  "; all the rest (of it)",
  "G1 X1 Y2 F400",
  "G2 X0 Y0 I-0.5 J-1",
  "/ (gone) G0 X9",
  "%",
  "",
  "M2",
];
const line = fc.constantFrom(...LINES);
const program = fc.array(line, { minLength: 1, maxLength: 12 });

const change = fc.tuple(fc.nat(), line);
const changes = fc.array(change, { minLength: 1, maxLength: 3 });
const end = fc.constantFrom("\n", "\n", "\n", "", "\n\n");

test("lines changed, of any kind into any other: as if read anew", () => {
  let shortened = 0;
  fc.assert(
    fc.property(program, changes, end, end, fc.boolean(), (lines, list, e, f, semicolons) => {
      const text = lines.join("\n") + e;
      const others = list.reduce((ls, [k, other]) => ls.with(k % ls.length, other), lines);
      const changed = others.join("\n") + f;
      const trace = readProgram("a.nc", text, { semicolons });
      const again = rereadProgram({ text, trace }, changed, { semicolons });
      if (again.steps === trace.steps && text !== changed) shortened++;
      expect(again).toEqual(readProgram("a.nc", changed, { semicolons }));
    }),
    { numRuns: 3000 },
  );
  // Else the law would hold by reading everything twice.
  expect(shortened).toBeGreaterThan(20);
});
