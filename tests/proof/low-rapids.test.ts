/** How low a rapid may go, and over what: ways put into a program written by hand (support/job.ts). */
import { expect, test } from "vitest";
import type { ProofCheck } from "../../src/core/proof/proof.ts";
import { prove } from "../../src/core/proof/prove.ts";
import { inputOf, limits, program, sheet } from "./support/job.ts";

const HOP = { ...limits, hop: 1 };
const whole = program();
const OUTLINE = "G0 Z5\nG0 X8.9 Y30";
const END = /G0 Z5\nM5/;

function checked(text: string, limit = HOP, change: Partial<typeof sheet> = {}) {
  expect(text).not.toBe(whole);
  const { value } = prove(inputOf(text, { limits: limit, sheets: [{ ...sheet, ...change }] }));
  const of = (code: string): ProofCheck | undefined => value.checks.find((c) => c.code === code);
  return { proven: value.proven, low: of("low-rapid-room"), height: of("rapid-below-clearance") };
}

test("over whole sheet it may be as low as the hop, and no lower", () => {
  const at = (z: string) => checked(whole.replace(OUTLINE, `G0 Z${z}\nG0 X8.9 Y30`));
  expect(at("1").proven).toBe(true);
  const lower = at("0.9");
  expect(lower.proven).toBe(false);
  expect(lower.height).toMatchObject({ passed: false, worst: 0.9 });
});

test("where the hop is as high as clearance, it may not be lower than that", () => {
  const { height } = checked(whole.replace(OUTLINE, "G0 Z1\nG0 X8.9 Y30"), limits);
  expect(height).toMatchObject({ passed: false, worst: 1 });
});

/** At the end, from beside the plate's left side at X8.9 on to a place; the plate is cut out by then. */
const onTo = (place: string): string =>
  whole.replace(END, `G0 Z5\nG0 X8.9 Y30\nG0 Z1\nG0 ${place}\nG0 Z5\nM5`);

test("a plate that has been cut out is passed over at clearance alone", () => {
  expect(checked(onTo("X75 Y30")).low).toMatchObject({ passed: false, worst: -1 });
  expect(checked(onTo("X75 Y30").replace("G0 Z1\nG0 X75", "G0 Z5\nG0 X75")).low?.passed).toBe(true);
});

test("beside it the cutter's side may be in its kerf, and no nearer", () => {
  expect(checked(onTo("X8.9 Y45")).low).toMatchObject({ passed: true });
  expect(checked(onTo("X9.04 Y45")).low).toMatchObject({ passed: true });
  expect(checked(onTo("X9.06 Y45")).low).toMatchObject({ passed: false });
});

test("the sheet's edge is not left low", () => {
  expect(checked(onTo("X1.1 Y30")).low).toMatchObject({ passed: true });
  expect(checked(onTo("X0.9 Y30")).low).toMatchObject({ passed: false });
  expect(checked(onTo("X-3 Y30")).low).toMatchObject({ passed: false });
});

test("nor is a keep-out passed low: that is judged with all moves", () => {
  const keepOuts = [{ kind: "disc", at: { x: 4, y: 30 }, diameter: 4 }] as const;
  expect(checked(onTo("X8.9 Y45"), HOP, { keepOuts }).proven).toBe(true);
  expect(checked(onTo("X6.5 Y30"), HOP, { keepOuts }).proven).toBe(false);
});
