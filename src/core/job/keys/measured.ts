/** The file in which a coupon's measures are written down: its keys, and its text as checked values. */
import { z } from "zod";
import { type Finding, type Outcome, reporter } from "../../finding/finding.ts";
import { reportCoupon } from "../../finding/say-coupon.ts";
import { sayJob } from "../../finding/say-job.ts";
import type { SchemaNode } from "../json-schema.ts";
import { at, issueFindings } from "../source/issues.ts";
import { readSource } from "../source/yaml-source.ts";
import { fileName, length, name, quantity } from "./quantity.ts";

const step = z.strictObject({
  number: z.int().min(1).max(100).meta({ description: "As many dots are beside it." }),
  drawn: length({ above: 0, max: 500 }, "Its size as drawn."),
  clearance: length({ min: -5, max: 5 }, "Room in all, as planned."),
});
const best = () =>
  quantity("number", { min: 1, max: 100 }, "The one that fits as wanted.").nullish();

const measuredSchema = z.strictObject({
  job: fileName("The job that the coupon was planned for, from this file."),
  sheet: name("The sheet that it was cut from."),
  cutter: name("The cutter that cut it."),
  plannedDiameter: length({ min: 0.1, max: 25 }, "That its programs were made for."),
  thickness: length({ min: 0.1, max: 25 }, "Of the sheet, measured beside the piece."),
  walls: z
    .array(
      z.strictObject({
        id: name("As the form names it."),
        axis: z.enum(["x", "y", "both"]).meta({ description: "Along which the walls are apart." }),
        side: z.enum(["inside", "outside"]).meta({ description: "Where the cutter was." }),
        drawn: length({ above: 0, max: 2000 }, "As drawn."),
        measured: length({ above: 0, max: 2000 }, "As measured.").nullish(),
      }),
    )
    .max(200)
    .meta({ description: "What was measured between walls." }),
  fits: z
    .strictObject({
      wanted: length({ min: -5, max: 5 }, "The clearance that the steps go round."),
      gauge: length({ above: 0, max: 500 }, "Of the window that tongues are tried in."),
      bestSlot: best(),
      bestTongue: best(),
      slots: z.array(step).max(100).meta({ description: "Slots of stepped width." }),
      tongues: z.array(step).max(100).meta({ description: "Tongues of stepped width." }),
    })
    .meta({ description: "What fits as wanted." }),
});

export interface MeasuredFile {
  readonly job: string;
  readonly sheet: string;
  readonly cutter: string;
  readonly measured: Measures;
}

/** What was planned, and what was written down beside it; blanks are left out. */
export interface Measures {
  readonly plannedDiameter: number;
  readonly thickness: number;
  readonly wanted: number;
  readonly gauge: number;
  readonly walls: readonly {
    readonly id: string;
    readonly axis: "x" | "y" | "both";
    readonly side: "inside" | "outside";
    readonly drawn: number;
    readonly measured: number;
  }[];
  readonly slots: readonly z.infer<typeof step>[];
  readonly tongues: readonly z.infer<typeof step>[];
  readonly bestSlot?: number | undefined;
  readonly bestTongue?: number | undefined;
}

const say = reporter(sayJob);

export function parseMeasured(file: {
  readonly name: string;
  readonly text: string;
}): Outcome<MeasuredFile | undefined> {
  const refused = (findings: readonly Finding[]) => ({ value: undefined, findings });
  const commas = decimalCommas(file);
  if (commas.length > 0) return refused(commas);
  const source = readSource(file.text);
  const [problem] = source.problems;
  if (problem !== undefined) {
    const { line, column, text } = problem;
    return refused([say("job-syntax", { line, column, text }, at(file.name, problem))]);
  }
  const read = measuredSchema.safeParse(source.value);
  if (!read.success) {
    const schema = z.toJSONSchema(measuredSchema, { io: "input" }) as SchemaNode;
    const whole = "the measures";
    return refused(issueFindings(read.error.issues, { file: file.name, source, schema, whole }));
  }
  return { value: resolved(read.data), findings: [] };
}

/** In YAML a comma begins another key, so the schema's complaint would be about something else. */
function decimalCommas({
  name,
  text,
}: {
  readonly name: string;
  readonly text: string;
}): Finding[] {
  return text.split(/\r\n|\r|\n/).flatMap((line, i) => {
    const found = /^[^#]*\b\w+: *(\d+,\d+)/.exec(line)?.[1];
    if (found === undefined) return [];
    const place = at(name, { line: i + 1, column: line.indexOf(found) + 1 });
    return [reportCoupon("coupon-decimal-comma", { text: found, line: i + 1 }, place)];
  });
}

function resolved(data: z.infer<typeof measuredSchema>): MeasuredFile {
  const { job, sheet, cutter, plannedDiameter, thickness, walls, fits } = data;
  const { bestSlot, bestTongue, ...rest } = fits;
  const measured: Measures = {
    plannedDiameter,
    thickness,
    ...rest,
    // What was left blank was not measured.
    walls: walls.flatMap((w) =>
      w.measured === null || w.measured === undefined ? [] : [{ ...w, measured: w.measured }],
    ),
    bestSlot: bestSlot ?? undefined,
    bestTongue: bestTongue ?? undefined,
  };
  return { job, sheet, cutter, measured };
}
