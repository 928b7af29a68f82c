/** What the recognition of plates has to say. */
import { type Entry, type Report, reporter } from "./finding.ts";

interface Spot extends Readonly<Record<string, number | string>> {
  readonly x: number;
  readonly y: number;
}

const spot = (d: Spot): string => `(${Number(d.x.toFixed(3))}, ${Number(d.y.toFixed(3))})`;

export const sayPlate = {
  "loop-vanishes": {
    severity: "warn",
    message: (d: Spot) => `The loop at ${spot(d)} is too small to keep a shape and was left out.`,
  } as Entry<Spot>,
  "recess-outside": {
    severity: "warn",
    message: (d: Spot & { layer: string }) =>
      `The recess at ${spot(d)} on layer "${d.layer}" lies in no plate and was left out.`,
    hint: () => "A recess is drawn inside the outline of its plate.",
  } as Entry<Spot & { layer: string }>,
};

export const reportPlate: Report<typeof sayPlate> = reporter(sayPlate);
