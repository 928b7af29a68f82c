/** What is said of job files, machine profiles and cutter files. `where` ends a message that has a place in a text. */
import { type Entry, mm } from "./finding.ts";

type Where = { readonly line: number; readonly column: number };

function where(data: Where): string {
  return ` (line ${data.line}, column ${data.column})`;
}

function list(text: string): string {
  return text === "" ? "" : `Known here: ${text}.`;
}

type AtKey = Where & { readonly path: string };

/** What each finding is told. */
type Said = {
  readonly "job-syntax": Where & { readonly text: string };
  readonly "job-not-text": Where;
  readonly "job-empty": Where & { readonly wanted: string };
  readonly "unknown-key": AtKey & {
    readonly key: string;
    readonly inside: string;
    readonly meant: string;
    readonly known: string;
  };
  readonly "missing-key": AtKey & {
    readonly key: string;
    readonly inside: string;
    readonly wanted: string;
  };
  readonly "wrong-type": AtKey & {
    readonly name: string;
    readonly wanted: string;
    readonly found: string;
    readonly help: string;
  };
  readonly "out-of-range": AtKey & {
    readonly name: string;
    readonly wanted: string;
    readonly found: string;
  };
  readonly "unknown-word": AtKey & {
    readonly name: string;
    readonly found: string;
    readonly wanted: string;
    readonly meant: string;
  };
  readonly "job-version": Where & { readonly found: string };
  readonly "machine-file-missing": Where & { readonly file: string };
  readonly "name-twice": Where & {
    readonly what: string;
    readonly name: string;
    readonly first: number;
  };
  readonly "names-make-one-file": Where & {
    readonly what: string;
    readonly name: string;
    readonly other: string;
    readonly slug: string;
  };
  readonly "unknown-name": Where & {
    readonly what: string;
    readonly name: string;
    readonly user: string;
    readonly meant: string;
    readonly known: string;
  };
  readonly "mate-of-itself": Where & { readonly plate: string };
  readonly "more-places-than-copies": Where & {
    readonly plate: string;
    readonly places: number;
    readonly count: number;
  };
  readonly "sheet-without-shape": Where & { readonly sheet: string };
  readonly "sheet-with-two-shapes": Where & { readonly sheet: string };
  readonly "measured-far-from-nominal": Where & {
    readonly name: string;
    readonly measured: number;
    readonly nominal: number;
    readonly quantity: string;
  };
  readonly "empty-keep-out": Where & { readonly sheet: string };
  readonly "margins-fill-sheet": Where & {
    readonly sheet: string;
    readonly width: number;
    readonly height: number;
    readonly margin: number;
  };
  readonly "sheet-without-plates": Where & { readonly sheet: string };
  readonly "cutter-longer-than-reach": Where & {
    readonly cutter: string;
    readonly overhang: number;
    readonly travel: number;
    readonly machine: string;
  };
  readonly "flutes-longer-than-overhang": Where & {
    readonly cutter: string;
    readonly flute: number;
    readonly overhang: number;
  };
  readonly "z-travel-too-short": Where & {
    readonly sheet: string;
    readonly needed: number;
    /** The clearance for which there is room. */
    readonly lowest: number;
    readonly travel: number;
    readonly machine: string;
  };
  readonly "spindle-range-reversed": Where & { readonly min: number; readonly max: number };
  readonly "own-line-refused": Where & {
    readonly key: string;
    readonly number: number;
    readonly text: string;
    readonly why: string;
    readonly wayOut: string;
  };
  readonly "recess-through-sheet": Where & {
    readonly plate: string;
    readonly layer: string;
    readonly depth: number;
    readonly thickness: number;
  };
  readonly "layer-in-two-roles": Where & {
    readonly plate: string;
    readonly layer: string;
    readonly roles: string;
  };
  readonly "plan-not-json": { readonly why: string };
  readonly "plan-shape": {
    readonly path: string;
    readonly why: string;
    readonly problems: number;
  };
};

export const sayJob: { readonly [Code in keyof Said]: Entry<Said[Code]> } = {
  "job-syntax": {
    severity: "stop",
    message: (d) => `not readable as YAML or JSON: ${d.text}${where(d)}`,
    hint: () =>
      "Indent with blanks, one level the same everywhere; put text with : # [ ] { } in quotes.",
  },
  "job-not-text": {
    severity: "stop",
    message: (d) => `not a text in UTF-8: a byte that no ASCII text has${where(d)}`,
    hint: () => "Save the file as plain text in UTF-8.",
  },
  "job-empty": {
    severity: "stop",
    message: (d) => `nothing in it; ${d.wanted} was expected${where(d)}`,
    hint: () => "`weftcut new DIR` writes a job to start from.",
  },
  "unknown-key": {
    severity: "stop",
    message: (d) =>
      `unknown key "${d.key}" in ${d.inside}${d.meant === "" ? "" : `; did you mean "${d.meant}"?`}${where(d)}`,
    hint: (d) => list(d.known),
  },
  "missing-key": {
    severity: "stop",
    message: (d) => `"${d.key}" is missing in ${d.inside}: ${d.wanted} is needed${where(d)}`,
  },
  "wrong-type": {
    severity: "stop",
    message: (d) => `${d.name} wants ${d.wanted}, found ${d.found}${where(d)}`,
    hint: (d) => d.help,
  },
  "out-of-range": {
    severity: "stop",
    message: (d) => `${d.name} wants ${d.wanted}, found ${d.found}${where(d)}`,
  },
  "unknown-word": {
    severity: "stop",
    message: (d) =>
      `${d.name} wants ${d.wanted}, found ${d.found}${d.meant === "" ? "" : `; did you mean "${d.meant}"?`}${where(d)}`,
  },
  "job-version": {
    severity: "stop",
    message: (d) => `this weftcut reads job files of version 1, found ${d.found}${where(d)}`,
    hint: () => "Write `weftcut: 1`, or use the weftcut that the file was made for.",
  },
  "machine-file-missing": {
    severity: "stop",
    message: (d) => `machine profile "${d.file}" cannot be read${where(d)}`,
    hint: () => "Name a file beside the job, or write the machine into the job itself.",
  },
  "name-twice": {
    severity: "stop",
    message: (d) => `the ${d.what} name "${d.name}" is taken already in line ${d.first}${where(d)}`,
    hint: (d) => `Give each ${d.what} a name of its own.`,
  },
  "names-make-one-file": {
    severity: "stop",
    message: (d) =>
      `${d.what} names "${d.other}" and "${d.name}" both give "${d.slug}" in file names${where(d)}`,
    hint: () => "Let them differ in letters or digits.",
  },
  "unknown-name": {
    severity: "stop",
    message: (d) =>
      `${d.user} names the ${d.what} "${d.name}", which the job does not have${
        d.meant === "" ? "" : `; did you mean "${d.meant}"?`
      }${where(d)}`,
    hint: (d) => list(d.known),
  },
  "mate-of-itself": {
    severity: "stop",
    message: (d) => `plate "${d.plate}" cannot sit in a slot of its own${where(d)}`,
  },
  "more-places-than-copies": {
    severity: "stop",
    message: (d) =>
      `plate "${d.plate}" has ${d.places} fixed places but a count of ${d.count}${where(d)}`,
    hint: () => "Raise count, or take places away.",
  },
  "sheet-without-shape": {
    severity: "stop",
    message: (d) => `sheet "${d.sheet}" has neither size nor outline${where(d)}`,
    hint: () =>
      "Write `size: [width, height]` in mm, or `outline: FILE` with a drawing of the offcut.",
  },
  "sheet-with-two-shapes": {
    severity: "stop",
    message: (d) => `sheet "${d.sheet}" has both size and outline; only one can be true${where(d)}`,
    hint: () => "Take one of them away.",
  },
  "measured-far-from-nominal": {
    severity: "warn",
    message: (d) =>
      `${d.name} is ${mm(d.nominal)} but measured ${mm(d.measured)}: more than a fifth off${where(d)}`,
    hint: (d) => `Measure the ${d.quantity} again, or mend the nominal value.`,
  },
  "empty-keep-out": {
    severity: "stop",
    message: (d) => `a keep-out of sheet "${d.sheet}" has no width or no height${where(d)}`,
    hint: () => "`from` and `to` are opposite corners.",
  },
  "margins-fill-sheet": {
    severity: "stop",
    message: (d) =>
      `a margin of ${mm(d.margin)} leaves nothing of sheet "${d.sheet}", ${mm(d.width)} × ${mm(d.height)}${where(d)}`,
    hint: () => "Lower the margin.",
  },
  "sheet-without-plates": {
    severity: "note",
    message: (d) => `no plate is cut from sheet "${d.sheet}"${where(d)}`,
  },
  "cutter-longer-than-reach": {
    severity: "stop",
    message: (d) =>
      `cutter "${d.cutter}" stands out ${mm(d.overhang)}, more than the ${mm(d.travel)} that "${d.machine}" moves in Z${where(d)}`,
    hint: () => "Push the cutter further into the collet, or take a shorter one.",
  },
  "flutes-longer-than-overhang": {
    severity: "stop",
    message: (d) =>
      `cutter "${d.cutter}" has flutes of ${mm(d.flute)} but stands out only ${mm(d.overhang)}${where(d)}`,
    hint: () => "overhang is measured from the collet's face to the tip and holds the flutes.",
  },
  "z-travel-too-short": {
    severity: "stop",
    message: (d) =>
      `sheet "${d.sheet}" needs ${mm(d.needed)} of Z from clearance to below the sheet; "${d.machine}" has ${mm(d.travel)}${where(d)}`,
    hint: (d) =>
      d.lowest >= 0.5
        ? `Lower cutting.clearance to ${mm(d.lowest)} or less, if no clamp is higher.`
        : `No clearance is low enough: it takes a machine that moves more than ${mm(d.needed)} in Z.`,
  },
  "spindle-range-reversed": {
    severity: "stop",
    message: (d) => `spindle min ${d.min} rpm is more than its max ${d.max} rpm${where(d)}`,
    hint: () => "min is the slowest speed at which it can cut, max the fastest that it has.",
  },
  "own-line-refused": {
    severity: "stop",
    message: (d) => `line ${d.number} of ${d.key}, "${d.text}", ${d.why}${where(d)}`,
    hint: (d) => d.wayOut,
  },
  "recess-through-sheet": {
    severity: "stop",
    message: (d) =>
      `recess "${d.layer}" of plate "${d.plate}" is ${mm(d.depth)} deep in a sheet of ${mm(d.thickness)}${where(d)}`,
    hint: () => "Draw it on a cut layer if it is to go through.",
  },
  "layer-in-two-roles": {
    severity: "stop",
    message: (d) => `layer "${d.layer}" of plate "${d.plate}" is listed as ${d.roles}${where(d)}`,
    hint: () => "A layer has one meaning.",
  },
  "plan-not-json": {
    severity: "stop",
    message: (d) => `no plan: not readable as JSON (${d.why})`,
    hint: () => "Name the plan.json that `weftcut plan` wrote.",
  },
  "plan-shape": {
    severity: "stop",
    message: (d) => `no plan that can be used: ${d.path}: ${d.why} (${d.problems} in all)`,
    hint: () => "Name the plan.json that `weftcut plan` wrote, or plan the job again.",
  },
};
