/** Drawings that are no plate by their size: a unit or a scale went wrong on the way. */
import { reportCheck } from "../../finding/say-check.ts";
import { AT_LIMIT, COMMON_PRACTICE, type Rule } from "../rule.ts";

/** The longest side of a plate, mm. */
export const LEAST_SIDE = 8;
export const MOST_SIDE = 500;
/** What plates usually measure, mm: the scale that brings a drawing in here is the one to try. */
const USUAL = [20, 300] as const;
const FACTORS: readonly (readonly [text: string, factor: number])[] = [
  ["25.4 (inches read as mm)", 25.4],
  ["1/25.4 (mm read as inches)", 1 / 25.4],
  ["10 (cm read as mm)", 10],
  ["0.1 (mm read as cm)", 0.1],
  ["25.4/72 (points read as mm)", 25.4 / 72],
  ["1000 (m read as mm)", 1000],
];

export const size: Rule = {
  code: "size-unlike-a-plate",
  asks: "Is the drawing as large as plates are?",
  reason: "A wrong unit is seen at once on paper and on the machine only after the sheet is gone.",
  limits: [
    {
      what: "the longest side",
      value: `${LEAST_SIDE} to ${MOST_SIDE} mm`,
      source: `${COMMON_PRACTICE}: arms 98–133 mm, plates of 65 mm to 318 mm airframes`,
    },
  ],
  when: "plates",
  run: (view) =>
    view.plates.flatMap(({ plate }) => {
      const { min, max } = plate.bounds;
      const longest = Math.max(max.x - min.x, max.y - min.y);
      const small = longest < LEAST_SIDE - AT_LIMIT;
      if (!small && longest <= MOST_SIDE + AT_LIMIT) return [];
      const [low, high] = USUAL;
      const meant = FACTORS.find(([, f]) => longest * f >= low && longest * f <= high);
      const data = {
        found: longest,
        wanted: small ? LEAST_SIDE : MOST_SIDE,
        width: max.x - min.x,
        height: max.y - min.y,
        meant: meant?.[0] ?? "",
      };
      const place = { plate: plate.name, drawing: plate.origin };
      return [reportCheck("size-unlike-a-plate", data, place)];
    }),
};
