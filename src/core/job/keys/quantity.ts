/** What keys of job, machine and cutter files are made of: numbers with a unit and a range, names, points. */
import { config, z } from "zod";

// A file is checked once, and compiling its schema with `new Function` takes longer than that; the page's policy forbids
// it. Said here, since schemas ask for it when they are made, and all are made of these.
config({ jitless: true });

interface Range {
  readonly min?: number;
  /** Greater than this, not equal. */
  readonly above?: number;
  readonly max?: number;
}

export function quantity(unit: string, range: Range, description: string) {
  let schema = z.number();
  if (range.min !== undefined) schema = schema.min(range.min);
  if (range.above !== undefined) schema = schema.gt(range.above);
  if (range.max !== undefined) schema = schema.max(range.max);
  return schema.meta({ unit, description });
}

export const length = (range: Range, description: string) => quantity("mm", range, description);
export const angle = (range: Range, description: string) => quantity("degrees", range, description);
export const coordinate = () => length({ min: -10_000, max: 10_000 }, "A coordinate.");
export const point = (description: string) =>
  z.tuple([coordinate(), coordinate()]).meta({ description });
export const whole = (min: number, max: number, description: string) =>
  z.int().min(min).max(max).meta({ description });

/** One line of printable text: names reach comments of programs and names of files. */
export const name = (description: string) =>
  z
    .string()
    .min(1)
    .max(80)
    // biome-ignore lint/suspicious/noControlCharactersInRegex: keeping them out is the point.
    .regex(/^[^\u0000-\u001f\u007f]*$/)
    .meta({ description });
export const fileName = (description: string) =>
  z
    .string()
    .min(1)
    .max(400)
    // biome-ignore lint/suspicious/noControlCharactersInRegex: no file name has them.
    .regex(/^[^\u0000-\u001f\u007f]*$/)
    .meta({ description });

export const axes = (unit: string, range: Range, description: string) =>
  z
    .tuple([quantity(unit, range, "X"), quantity(unit, range, "Y"), quantity(unit, range, "Z")])
    .meta({ description });
