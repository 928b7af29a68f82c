/** Holes that screws go through, by the standard's table. */
import { describe, expect, it } from "vitest";
import { clearanceName } from "../../src/core/plate/screw.ts";

describe("clearance holes", () => {
  // ISO 273, fine, medium, coarse.
  it.each([
    [2.2, "M2 fine"],
    [2.4, "M2 medium"],
    [2.9, "M2.5 medium"],
    [3.2, "M3 fine"],
    [3.4, "M3 medium"],
    [3.6, "M3 coarse"],
    [4.5, "M4 medium"],
    [5.5, "M5 medium"],
    [3.3, undefined],
    [6, undefined],
  ])("%s mm", (diameter, expected) => {
    expect(clearanceName(diameter)).toBe(expected);
  });
});
