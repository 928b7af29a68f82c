/** Will it fly: jobs just outside and just inside each limit. */
import type { CheckInput, Propellers } from "../../../src/core/check/view.ts";
import { box, onePlate, pattern } from "../build.ts";
import { type Case, HAIR } from "./case.ts";

const props = (given: Partial<Propellers>): CheckInput => ({
  ...onePlate(box(0, 0, 60, 40, 4)),
  propellers: { diameter: 100, at: [], beside: [], gap: 3, ...given },
});

/** A long arm with a motor at its end, under a blade of 12 mm. */
const arm = (width: number): CheckInput => ({
  ...onePlate(box(0, 0, 140, width, 4), pattern(-55, 0, 9, 2.2)),
  propellers: { diameter: 100, chord: 12, at: [], beside: [], gap: 3 },
});

export const propellerCases: readonly Case[] = [
  {
    code: "propeller-discs-near",
    what: "two motors too near",
    severity: "warn",
    outside: props({
      at: [
        { x: 0, y: 0 },
        { x: 103 - HAIR, y: 0 },
      ],
    }),
    inside: props({
      at: [
        { x: 0, y: 0 },
        { x: 103, y: 0 },
      ],
    }),
    found: 2.999,
    wanted: 3,
  },
  {
    code: "propeller-near-plate",
    what: "a disc beside a plate of its height",
    severity: "warn",
    outside: props({ at: [{ x: 83 - HAIR, y: 0 }], beside: ["plate"] }),
    inside: props({ at: [{ x: 83, y: 0 }], beside: ["plate"] }),
    found: 2.999,
    wanted: 3,
    at: [30, 0],
  },
  {
    code: "arm-width-for-propeller",
    what: "an arm narrower than the blade",
    severity: "note",
    outside: arm(12 - HAIR),
    inside: arm(12),
    found: 11.999,
    wanted: 12,
  },
  {
    code: "arm-width-for-propeller",
    what: "an arm wider than one and a half blades",
    severity: "note",
    outside: arm(18 + HAIR),
    inside: arm(18),
    found: 18.001,
    wanted: 18,
  },
];
