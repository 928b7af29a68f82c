import { expect, test } from "vitest";
import {
  firstFrequency,
  type Station,
  tipDeflection,
} from "../../src/core/airframe/estimate/beam.ts";
import { CARBON_CLOTH, laminate, modulus } from "../../src/core/airframe/estimate/laminate.ts";

const L = 100;
const E = 70_000;
const RHO = 1.55e-9;

function beam(width: (s: number) => number, thick: (s: number) => number): Station[] {
  return Array.from({ length: 401 }, (_, i) => {
    const s = i / 400;
    const [b, t] = [width(s), thick(s)];
    return { x: s * L, stiffness: (E * b * t ** 3) / 12, mass: b * t * RHO };
  });
}

const EI = (E * 15 * 4 ** 3) / 12;
const M = 15 * 4 * RHO;
const within = (value: number, wanted: number, share: number) =>
  expect(Math.abs(value / wanted - 1), `${value} against ${wanted}`).toBeLessThan(share);

test("a beam of one width bends as F L³ / 3 E I", () => {
  within(
    tipDeflection(
      beam(
        () => 15,
        () => 4,
      ),
      10,
    ),
    (10 * L ** 3) / (3 * EI),
    1e-5,
  );
});

test("a beam that narrows to a point bends half as much again (Timoshenko, Strength of Materials, uniform strength)", () => {
  const pointed = beam(
    (s) => Math.max(15 * (1 - s), 1e-7),
    () => 4,
  );
  within(tipDeflection(pointed, 10), (1.5 * 10 * L ** 3) / (3 * EI), 1e-4);
});

test("trapezoidal leaves bend by the spring formula 3 (1/2 − 2B + B² (3/2 − ln B)) / (1 − B)³ (SAE spring manual, from memory)", () => {
  for (const B of [0.2, 0.5, 0.8]) {
    const K = (3 * (0.5 - 2 * B + B * B * (1.5 - Math.log(B)))) / (1 - B) ** 3;
    const leaf = beam(
      (s) => 15 * (1 - (1 - B) * s),
      () => 4,
    );
    within(tipDeflection(leaf, 10), (K * 10 * L ** 3) / (3 * EI), 1e-4);
  }
});

test("a clamped bar swings at 1.8751² √(E I / m L⁴) / 2π (Timoshenko, Vibration Problems in Engineering)", () => {
  const closed = (1.8751040687 ** 2 / (2 * Math.PI)) * Math.sqrt(EI / (M * L ** 4));
  within(
    firstFrequency(
      beam(
        () => 15,
        () => 4,
      ),
      0,
    ),
    closed,
    1e-4,
  );
});

test("a wedge that thins to an edge swings at 5.315 √(E I / m L⁴) (Kirchhoff 1879, in Timoshenko)", () => {
  const wedge = beam(
    () => 15,
    (s) => Math.max(4 * (1 - s), 1e-4),
  );
  const k = firstFrequency(wedge, 0) * 2 * Math.PI * Math.sqrt((M * L ** 4) / EI);
  within(k, 5.315, 5e-4);
});

test("a bar with a tip mass swings as its frequency equation says", () => {
  // cos λ cosh λ + 1 = μ λ (sin λ cosh λ − cos λ sinh λ), μ the tip's mass over the bar's: the classical equation.
  for (const mu of [0.1, 1, 10]) {
    const f = (x: number) =>
      Math.cos(x) * Math.cosh(x) +
      1 -
      mu * x * (Math.sin(x) * Math.cosh(x) - Math.cos(x) * Math.sinh(x));
    let [lo, hi] = [0.1, 1.8751];
    for (let i = 0; i < 80; i++) {
      const middle = (lo + hi) / 2;
      if (f(middle) > 0) lo = middle;
      else hi = middle;
    }
    const closed = (lo ** 2 / (2 * Math.PI)) * Math.sqrt(EI / (M * L ** 4));
    within(
      firstFrequency(
        beam(
          () => 15,
          () => 4,
        ),
        mu * M * L,
      ),
      closed,
      2e-4,
    );
  }
});

test("a laminate turned 45° is as soft as the published one (open laminate calculator's regression data)", () => {
  const ply = { e1: 66.775, e2: 66.775, g12: 6.93, nu12: 0.06268 };
  const turned = laminate([{ ply, angle: Math.PI / 4 }]);
  expect(turned.e).toBeCloseTo(23.205, 2);
  expect(turned.nu).toBeCloseTo(0.67427, 4);
  expect(turned.g).toBeCloseTo(31.418, 2);
});

test("plies at 0 and 90 make the laminate of Hyer's constituents", () => {
  const ply = { e1: 118.81, e2: 13.86, g12: 6.93, nu12: 0.3 };
  const made = laminate([
    { ply, angle: 0 },
    { ply, angle: Math.PI / 2 },
  ]);
  expect(made.e).toBeCloseTo(66.775, 2);
  expect(made.nu).toBeCloseTo(0.06268, 4);
});

test("cloth off its fibre: 70, 64.28, 52.04, 40.29, 31.55, 21.79, 17.72 GPa (Jones, ch. 2, computed)", () => {
  const wanted = [70, 64.28, 52.04, 40.29, 31.55, 21.79, 17.72];
  [0, 5, 10, 15, 20, 30, 45].forEach((deg, i) => {
    expect(modulus("carbon-woven", (deg * Math.PI) / 180)).toBeCloseTo(wanted[i] ?? 0, 1);
  });
  // Of graphite lamina at 60°, 12.42 (Kaw, from memory).
  const lamina = { e1: 181, e2: 10.3, g12: 7.17, nu12: 0.28 };
  expect(laminate([{ ply: lamina, angle: Math.PI / 3 }]).e).toBeCloseTo(12.42, 0);
});

test("quasi-isotropic sheet is alike in every direction, and softer than cloth along its fibre", () => {
  for (const a of [0, 0.1, 0.5, 0.9]) {
    expect(modulus("carbon-quasi-isotropic", a)).toBeCloseTo(
      modulus("carbon-quasi-isotropic", 0),
      9,
    );
  }
  expect(modulus("carbon-quasi-isotropic", 0)).toBeLessThan(CARBON_CLOTH.e1);
});
