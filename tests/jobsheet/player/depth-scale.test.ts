/**
 * The scale of depths, judged by published colour science.
 *
 * OKLab: B. Ottosson, A perceptual color space for image processing, 2020, as CSS Color Module Level 4 has it. CIELAB with D65:
 * ISO/CIE 11664-4, by sRGB's own matrix (IEC 61966-2-1). Colour vision deficiencies: G. Machado, M. Oliveira, L. Fernandes,
 * A physiologically-based model for simulation of color vision deficiency, 2009, severity 1.0. Figures from memory.
 */
import { describe, expect, test } from "vitest";
import { colourOf, DEPTHS, LEVELS } from "../../../src/page/player/depth-scale.ts";

type Three = readonly [number, number, number];

function rgbOf(hex: string): Three {
  return [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)) as unknown as Three;
}

const linear = (value: number): number => {
  const v = value / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
};

function times(matrix: readonly Three[], [a, b, c]: Three): Three {
  return matrix.map(([x, y, z]) => x * a + y * b + z * c) as unknown as Three;
}

function oklab(rgb: Three): Three {
  const lms = times(
    [
      [0.4122214708, 0.5363325363, 0.0514459929],
      [0.2119034982, 0.6806995451, 0.1073969566],
      [0.0883024619, 0.2817188376, 0.6299787005],
    ],
    rgb,
  ).map(Math.cbrt) as unknown as Three;
  return times(
    [
      [0.2104542553, 0.793617785, -0.0040720468],
      [1.9779984951, -2.428592205, 0.4505937099],
      [0.0259040371, 0.7827717662, -0.808675766],
    ],
    lms,
  );
}

function cielab(rgb: Three): Three {
  const xyz = times(
    [
      [0.4124, 0.3576, 0.1805],
      [0.2126, 0.7152, 0.0722],
      [0.0193, 0.1192, 0.9505],
    ],
    rgb,
  );
  const white = [0.9505, 1, 1.089];
  const [x, y, z] = xyz.map((v, i) => {
    const t = v / (white[i] ?? 1);
    return t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29;
  }) as unknown as Three;
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

const DEFICIENCIES: Readonly<Record<string, readonly Three[]>> = {
  none: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

const colours = DEPTHS.map((hex) => rgbOf(hex).map(linear) as unknown as Three);
const apart = (a: Three, b: Three): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const gaps = (list: readonly Three[]): number[] =>
  list.slice(1).map((c, i) => apart(c, list[i] as Three));

describe("the scale of depths", () => {
  test("has even steps", () => {
    const steps = gaps(colours.map(oklab));
    // Half a count of eight bits in each channel is up to a twentieth of a step at its dark end.
    expect(Math.max(...steps) / Math.min(...steps)).toBeLessThan(1.1);
    // An older measure of the same, which is less even itself, above all in the dark.
    const older = gaps(colours.map(cielab));
    expect(Math.max(...older) / Math.min(...older)).toBeLessThan(1.8);
  });

  test.each(Object.keys(DEFICIENCIES))(
    "gets darker with every step for eyes with deficiency: %s",
    (name) => {
      const seen = colours.map((c) =>
        times(DEFICIENCIES[name] ?? [], c).map((v) => Math.min(1, Math.max(0, v))),
      ) as unknown as Three[];
      const lightness = seen.map((c) => cielab(c)[0]);
      const falls = lightness.slice(1).map((l, i) => (lightness[i] ?? 0) - l);
      // Sixteen steps over some 75 of lightness; no step is lost.
      expect(Math.min(...falls)).toBeGreaterThan(2.5);
      expect(gaps(seen.map(cielab)).every((gap) => gap > 2.5)).toBe(true);
    },
  );

  test("falls in every channel, so that the darker of two is the deeper", () => {
    const levels = Array.from({ length: LEVELS }, (_, i) =>
      (colourOf(i + 1).match(/\d+/g) ?? []).map(Number),
    );
    for (const channel of [0, 1, 2]) {
      for (let i = 1; i < LEVELS; i++) {
        expect(levels[i]?.[channel]).toBeLessThanOrEqual(levels[i - 1]?.[channel] ?? 0);
      }
    }
    expect(new Set(levels.map((l) => l.join())).size).toBe(LEVELS);
    expect(levels[0]).toEqual(rgbOf(DEPTHS[0] ?? ""));
    expect(levels[LEVELS - 1]).toEqual(rgbOf(DEPTHS.at(-1) ?? ""));
  });
});
