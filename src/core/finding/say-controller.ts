/** What controllers do differently from RS-274 with words that a program holds. */
import type { Catalogue } from "./finding.ts";

export const sayController = {
  "end-may-delete": {
    severity: "warn",
    message: () => "M30 ends the program; some controllers delete the file with it.",
    hint: () => "End with M2.",
  },
  "stop-may-be-ignored": {
    severity: "warn",
    message: (d: { code: string }) =>
      `${d.code} stops the program on most controllers; some go on without.`,
    hint: () => "Use a program of its own for what comes after the stop.",
  },
  "dwell-unit-unlikely": {
    severity: "warn",
    message: (d: { seconds: number; unit: string }) =>
      `With P in ${d.unit}, as the machine profile says, this dwell lasts ${d.seconds} s.`,
    hint: () =>
      "Look up what P counts on this controller: the wrong unit is a factor of 1000. Then set dwell in the profile, or mend the program.",
  },
} satisfies Catalogue;
