/**
 * Will it fit: jobs just outside and just inside each limit.
 * Long: one case after another.
 */
import type { CheckInput, Fastener } from "../../../src/core/check/view.ts";
import type { Contour } from "../../../src/core/geometry/shape.ts";
import { box, hole, jobOf, onePlate, pattern, plateOf, poly } from "../build.ts";
import { type Case, HAIR } from "./case.ts";

const blank = box(0, 0, 80, 60, 4);
const motor = (across = 16) => [...pattern(0, 0, across, 3.4), hole(0, 0, 6)];
const board = (x = 0, y = 0, side = 30.5) => pattern(x, y, side * Math.SQRT2, 3.4);

/** A motor's pattern with its first hole moved away from the middle. */
const bent = (by: number): Contour[] => {
  const [, ...rest] = motor();
  const k = (8 + by) / Math.SQRT2;
  return [hole(k, k, 3.4), ...rest];
};

/** The distance of that hole from its true place: the others' middle and mean follow it by a share. */
const bentOff = (by: number): number => {
  const r = [8 + by, 8, 8, 8];
  const places = r.map((d, i) => {
    const a = Math.PI / 4 + (i * Math.PI) / 2;
    return { x: d * Math.cos(a), y: d * Math.sin(a) };
  });
  const c = { x: by / 4 / Math.SQRT2, y: by / 4 / Math.SQRT2 };
  const turn =
    places.reduce((s, p, i) => {
      const a = Math.atan2(p.y - c.y, p.x - c.x) - (Math.PI / 4 + (i * Math.PI) / 2);
      return s + a - 2 * Math.PI * Math.round(a / (2 * Math.PI));
    }, 0) / 4;
  const radius = [(16 + by) / 2, 8];
  return Math.max(
    ...places.map((p, i) => {
      const a = Math.PI / 4 + turn + (i * Math.PI) / 2;
      const d = radius[i % 2] as number;
      return Math.hypot(p.x - c.x - d * Math.cos(a), p.y - c.y - d * Math.sin(a));
    }),
  );
};

/** 96 flats on an ellipse of these half axes. */
const ellipse = (a: number, b: number): Contour =>
  poly(
    ...Array.from({ length: 96 }, (_, i): [number, number] => {
      const t = (i * Math.PI) / 48;
      return [a * Math.cos(t), b * Math.sin(t)];
    }),
  );

const screw = (diameter: number, ...fasteners: Fastener[]): CheckInput =>
  jobOf({ plates: [{ plate: plateOf(blank, [hole(0, 0, diameter)]), fasteners }] });

const M3: Fastener = { screw: "M3", at: { x: 0, y: 0 } };

/** A plate that is symmetric but for one corner, moved along X. */
const lopsided = (by: number) =>
  onePlate(
    poly(
      [-30, -20],
      [-10, -26],
      [10, -26],
      [30, -20],
      [30, 20],
      [10, 26],
      [-10, 26],
      [-30 - by, 20],
    ),
  );

/** Two plates in one frame, the last hole of the second moved. */
const standoffs = (by: number): CheckInput => {
  const corners: readonly (readonly [number, number])[] = [
    [30, 20],
    [-30, 20],
    [-30, -20],
    [30, -20],
  ];
  const holes = (off: number) => corners.map(([x, y], i) => hole(x, y + (i === 3 ? off : 0), 3.2));
  return jobOf({
    plates: [
      { plate: plateOf(blank, holes(0), "bottom") },
      { plate: plateOf(blank, holes(by), "top") },
    ],
  });
};

/** Two plates in frames of their own, their rectangles of different widths. */
const rectangles = (by: number): CheckInput => {
  const holes = (x: number, w: number) =>
    [x, x + w].flatMap((cx) => [hole(cx, -20, 3.2), hole(cx, 20, 3.2)]);
  return jobOf({
    plates: [
      { plate: plateOf(blank, holes(-30, 60), "bottom") },
      { plate: plateOf(box(200, 0, 80, 60, 4), holes(170, 60 + by), "top") },
    ],
  });
};

/** ISO 273, fine and coarse series. */
const ISO: readonly (readonly [
  screw: "M2" | "M2.5" | "M3" | "M4" | "M5",
  fine: number,
  coarse: number,
])[] = [
  ["M2", 2.2, 2.6],
  ["M2.5", 2.7, 3.1],
  ["M3", 3.2, 3.6],
  ["M4", 4.3, 4.8],
  ["M5", 5.3, 5.8],
];

const isoCases = ISO.flatMap(([size, fine, coarse]): Case[] => {
  const named: Fastener = { screw: size, at: { x: 0, y: 0 } };
  return [
    {
      code: "clearance-hole-off",
      what: `${size} named, under the fine series (ISO 273)`,
      severity: "warn",
      outside: screw(fine - HAIR, named),
      inside: screw(fine, named),
      found: fine - HAIR,
      wanted: fine,
      at: [0, 0],
    },
    {
      code: "clearance-hole-off",
      what: `${size} named, over the coarse series (ISO 273)`,
      severity: "warn",
      outside: screw(coarse + HAIR, named),
      inside: screw(coarse, named),
      found: coarse + HAIR,
      wanted: coarse,
    },
  ];
});

export const hardwareCases: readonly Case[] = [
  ...isoCases,
  {
    code: "clearance-hole-off",
    what: "a hole as M3 holes are often drawn, nothing named",
    severity: "warn",
    outside: screw(3),
    inside: screw(3.2),
    found: 3,
    wanted: 3.2,
  },
  {
    code: "clearance-hole-off",
    what: "a named screw that does not go through at all",
    severity: "stop",
    outside: screw(3 - HAIR, M3),
    inside: screw(3, M3),
    insideSays: "warn",
    found: 2.999,
    wanted: 3.2,
  },
  {
    code: "hole-not-round",
    what: "an ellipse",
    severity: "warn",
    outside: onePlate(blank, [ellipse(3.03, 3)]),
    inside: onePlate(blank, [ellipse(3.015, 3)]),
    found: 0.03,
    wanted: 0.02,
    // Facets of the drawn ellipse: 3 (1 − cos(π/96)) = 0.0016 in the middle of the flattest.
    within: 0.002,
    at: [0, 0],
  },
  {
    code: "pattern-recognised",
    what: "a motor's pattern, by bolt circle and side",
    severity: "note",
    outside: onePlate(blank, motor(16.35 - HAIR)),
    inside: onePlate(blank, motor(16.35 + HAIR)),
    found: 16.349,
    wanted: 16,
    // The drawing's grid.
    within: 2e-4,
    at: [0, 0],
  },
  {
    code: "pattern-recognised",
    what: "a board's pattern",
    severity: "note",
    outside: onePlate(blank, board(0, 0, 25.15 + HAIR)),
    inside: onePlate(blank, board(0, 0, 25.15 - HAIR)),
    found: 25.151,
    wanted: 25.5,
    within: 2e-4,
  },
  {
    code: "pattern-not-true",
    what: "one hole further out than the others",
    severity: "warn",
    outside: onePlate(blank, bent(0.21)),
    inside: onePlate(blank, bent(0.19)),
    found: bentOff(0.21),
    wanted: 0.05,
    // The drawing's grid.
    within: 1e-4,
  },
  {
    code: "pattern-off-size",
    what: "a motor's pattern drawn too wide",
    severity: "warn",
    outside: onePlate(blank, motor(16.1 + HAIR)),
    inside: onePlate(blank, motor(16.1 - HAIR)),
    found: 16.101,
    wanted: 16,
    within: 2e-4,
  },
  {
    code: "pattern-off-size",
    what: "a board's pattern drawn too small",
    severity: "warn",
    outside: onePlate(blank, board(0, 0, 30.4 - HAIR)),
    inside: onePlate(blank, board(0, 0, 30.4 + HAIR)),
    found: 30.399,
    wanted: 30.5,
    within: 2e-4,
  },
  {
    code: "motor-relief-missing",
    what: "a relief that is a little small",
    severity: "warn",
    outside: onePlate(blank, [...pattern(0, 0, 16, 3.4), hole(0, 0, 5 - HAIR)]),
    inside: onePlate(blank, [...pattern(0, 0, 16, 3.4), hole(0, 0, 5)]),
    found: 4.999,
    wanted: 5,
    at: [0, 0],
  },
  {
    code: "motor-relief-missing",
    what: "no relief at all",
    severity: "warn",
    outside: onePlate(blank, pattern(0, 0, 12, 2.4)),
    inside: onePlate(blank, [...pattern(0, 0, 12, 2.4), hole(0, 0, 3.75)]),
    found: 0,
    wanted: 3.75,
  },
  {
    code: "stack-off-centre",
    what: "a board a little to the right",
    severity: "warn",
    outside: onePlate(box(0, 0, 80, 60, 4), board(0.051)),
    inside: onePlate(box(0, 0, 80, 60, 4), board(0.05)),
    found: 0.051,
    wanted: 0.05,
    within: 2e-4,
  },
  {
    code: "stack-off-centre",
    what: "a board moved on purpose is let be",
    severity: "warn",
    outside: onePlate(box(0, 0, 80, 60, 4), board(0.999)),
    inside: onePlate(box(0, 0, 80, 60, 4), board(1.001)),
    found: 0.999,
    wanted: 0.05,
    within: 2e-4,
  },
  {
    code: "holes-do-not-line-up",
    what: "plates in one frame",
    severity: "warn",
    outside: standoffs(0.051),
    inside: standoffs(0.05),
    found: 0.051,
    wanted: 0.05,
  },
  {
    code: "holes-do-not-line-up",
    what: "plates in frames of their own",
    severity: "warn",
    outside: rectangles(0.051),
    inside: rectangles(0.05),
    found: 0.051,
    wanted: 0.05,
  },
  {
    code: "nearly-symmetric",
    what: "one vertex a little off",
    severity: "warn",
    outside: lopsided(0.051),
    inside: lopsided(0.05),
    found: 0.051,
    wanted: 0.05,
  },
  {
    code: "nearly-symmetric",
    what: "one vertex off on purpose is let be",
    severity: "warn",
    outside: lopsided(0.999),
    inside: lopsided(1.001),
    found: 0.999,
    wanted: 0.05,
  },
];
