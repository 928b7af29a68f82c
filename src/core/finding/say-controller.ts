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
  "work-offset-other": {
    severity: "warn",
    message: (d: { code: string; own: string }) =>
      `${d.code} is chosen, and the machine profile says ${d.own}: zero is wherever ${d.code} was set.`,
    hint: (d: { code: string; own: string }) =>
      `Set zero in ${d.code} before the program, or write ${d.own}.`,
  },
  "codes-often-refused": {
    severity: "note",
    message: (d: { codes: string }) => `The commonest small controllers refuse ${d.codes}.`,
    hint: () => "Run it in the air first, or have it written without.",
  },
  "speed-scale-unlikely": {
    severity: "warn",
    message: (d: { s: number; rpm: number; other: number; likely: number; max: number }) =>
      d.other === d.max
        ? `S${d.s} is ${d.rpm} rpm by the scale of the machine profile; if S counts rpm, it is ${d.likely}.`
        : `S${d.s} is ${d.rpm} rpm by the machine profile; where S is ${d.other} at full speed, it is ${d.likely}.`,
    hint: () =>
      "Look up what S counts on this controller. Then set spindle.sAtMax in the profile, or mend the program.",
  },
  "dwell-unit-unlikely": {
    severity: "warn",
    message: (d: { seconds: number; unit: string }) =>
      `With P in ${d.unit}, as the machine profile says, this dwell lasts ${d.seconds} s.`,
    hint: () =>
      "Look up what P counts on this controller: the wrong unit is a factor of 1000. Then set dwell in the profile, or mend the program.",
  },
} satisfies Catalogue;
