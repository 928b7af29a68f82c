import fc from "fast-check";
import { expect, test } from "vitest";
import { editDistance, nearest } from "../../../src/core/job/source/nearest.ts";

const word = fc.string({ unit: fc.constantFrom("a", "b", "c"), maxLength: 8 });

/** All words one step away, the other way round: made, not measured. */
function* oneStep(w: string): Generator<string> {
  for (let i = 0; i <= w.length; i++) {
    const [before, after] = [w.slice(0, i), w.slice(i)];
    if (after !== "") yield before + after.slice(1);
    if (after.length > 1) yield `${before}${after[1]}${after[0]}${after.slice(2)}`;
    for (const letter of "abc") {
      yield before + letter + after;
      if (after !== "") yield before + letter + after.slice(1);
    }
  }
}

test("is one exactly for the words one step away", () => {
  fc.assert(
    fc.property(word, word, (a, b) => {
      const near = new Set(oneStep(a));
      for (const w of near) expect(editDistance(a, w)).toBe(w === a ? 0 : 1);
      if (a !== b) expect(editDistance(a, b) === 1).toBe(near.has(b));
    }),
  );
});

test("is a distance: nothing to itself, the same both ways, at most the longer word", () => {
  fc.assert(
    fc.property(word, word, (a, b) => {
      expect(editDistance(a, a)).toBe(0);
      expect(editDistance(a, b)).toBe(editDistance(b, a));
      expect(editDistance(a, b)).toBeLessThanOrEqual(Math.max(a.length, b.length));
      expect(editDistance(a, b)).toBeGreaterThanOrEqual(Math.abs(a.length - b.length));
    }),
  );
});

test("what was meant", () => {
  const keys = ["thickness", "measuredThickness", "fibreDeg", "margin", "outline"];
  expect(nearest("thicknes", keys)).toBe("thickness");
  expect(nearest("tihckness", keys)).toBe("thickness");
  expect(nearest("FIBRE_DEG", keys)).toBe("fibreDeg");
  expect(nearest("fibre", keys)).toBe("fibreDeg");
  expect(nearest("colour", keys)).toBeUndefined();
});
