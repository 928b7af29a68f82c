/**
 * How long a way through the air takes: up, across, down, each from rest to rest.
 *
 * Between up and across the way turns square, where a controller hardly moves; that it does a little is left out. What the
 * program really takes is told later, from its text.
 */
import type { Point } from "../../geometry/shape.ts";
import type { Machine } from "../../machine/machine.ts";

/** Seconds over a straight way from rest to rest at no more than `speed` mm/s. */
export function restToRest(length: number, speed: number, acceleration: number): number {
  if (length * acceleration >= speed * speed) return length / speed + speed / acceleration;
  return 2 * Math.sqrt(length / acceleration);
}

export interface AirTimes {
  /** Seconds up or down by so much. */
  readonly lift: (mm: number) => number;
  readonly across: (from: Point, to: Point) => number;
}

export function airTimes({ maxFeed, acceleration }: Machine): AirTimes {
  const [vx, vy, vz] = [maxFeed[0] / 60, maxFeed[1] / 60, maxFeed[2] / 60];
  const [ax, ay, az] = acceleration;
  return {
    lift: (mm) => restToRest(Math.abs(mm), vz, az),
    across: (from, to) => {
      const dx = Math.abs(to.x - from.x);
      const dy = Math.abs(to.y - from.y);
      const length = Math.sqrt(dx * dx + dy * dy);
      if (length === 0) return 0;
      // Each axis keeps to its own share of the direction.
      const speed = length * Math.min(vx / dx, vy / dy);
      return restToRest(length, speed, length * Math.min(ax / dx, ay / dy));
    },
  };
}
