/** What the airframe generator has to say. Every entry names the key whose number to change. */
import { type Entry, mm } from "./finding.ts";

type Key = { readonly parameter: string; readonly line: number; readonly column: number };

/** Ends a message that has a place in the file. */
function where(d: Key): string {
  return ` (line ${d.line}, column ${d.column})`;
}

type Said = {
  readonly "sheet-unknown": Key & { readonly sheet: string; readonly known: string };
  readonly "propellers-meet": Key & {
    readonly clearance: number;
    readonly wanted: number;
    readonly wheelbase: number;
    readonly wheelbaseWanted: number;
  };
  readonly "propeller-over-plate": Key & {
    readonly clearance: number;
    readonly wanted: number;
    readonly above: number;
  };
  readonly "propeller-through-plate": Key & {
    readonly clearance: number;
    readonly wanted: number;
  };
  readonly "motor-pattern": Key & { readonly given: number };
  readonly "pad-small": Key & { readonly pad: number; readonly wanted: number };
  readonly "tip-over-root": Key & { readonly tip: number; readonly root: number };
  readonly "arm-over-pad": Key & { readonly width: number; readonly pad: number };
  readonly "root-narrow": Key & {
    readonly root: number;
    readonly wanted: number;
    readonly hole: number;
  };
  readonly "arm-short": Key & {
    readonly free: number;
    readonly wanted: number;
    readonly short: number;
  };
  readonly "top-unsupported": Key & { readonly standoffs: number };
  readonly "camera-without-top": Key;
  readonly "camera-over-arm": Key & { readonly layout: string };
  readonly "camera-high": Key & { readonly height: number; readonly wanted: number };
  readonly "standoff-in-way": Key & {
    readonly x: number;
    readonly y: number;
    readonly of: string;
    readonly gap: number;
    readonly wanted: number;
  };
  readonly "clamp-without-arms": Key;
  readonly "tail-servo": Key;
  readonly "plate-impossible": Key & { readonly plate: string };
  readonly "outline-crosses": Key & { readonly plate: string };
  readonly "outside-plate": Key & { readonly plate: string; readonly what: string };
  readonly "screw-near-edge": Key & {
    readonly plate: string;
    readonly what: string;
    readonly edge: number;
    readonly wanted: number;
    readonly hole: number;
  };
  readonly "web-thin": Key & {
    readonly plate: string;
    readonly what: string;
    readonly other: string;
    readonly otherParameter: string;
    readonly web: number;
    readonly wanted: number;
  };
  readonly "too-narrow": Key & {
    readonly plate: string;
    readonly what: string;
    readonly cutter: number;
  };
  readonly "neck-thin": Key & {
    readonly plate: string;
    readonly wanted: number;
    readonly parts: number;
  };
  readonly "nothing-lightened": Key & { readonly plate: string };
};

export const sayAirframe: { readonly [Code in keyof Said]: Entry<Said[Code]> } = {
  "sheet-unknown": {
    severity: "stop",
    message: (d) =>
      `airframe.${d.parameter} names the sheet "${d.sheet}", which is not there${where(d)}`,
    hint: (d) => `Known here: ${d.known}.`,
  },
  "propellers-meet": {
    severity: "stop",
    message: (d) =>
      `two propeller discs are ${mm(d.clearance)} apart; ${mm(d.wanted)} is wanted${where(d)}`,
    hint: (d) =>
      `Make airframe.wheelbase at least ${mm(d.wheelbaseWanted)}, or change airframe.propeller.diameter or clearance.`,
  },
  "propeller-over-plate": {
    severity: "warn",
    message: (d) =>
      `a propeller disc comes within ${mm(d.clearance)} of the top plate seen from above, ${mm(d.above)} over it; ${mm(d.wanted)} is wanted${where(d)}`,
    hint: () =>
      "Make airframe.wheelbase larger, the top plate smaller (arms.pitch, standoffs.rows), or propeller.bodyClearance less.",
  },
  "propeller-through-plate": {
    severity: "stop",
    message: (d) =>
      `a propeller would strike the top plate: ${mm(d.clearance)} apart at the same height; ${mm(d.wanted)} is wanted${where(d)}`,
    hint: () =>
      "Make airframe.wheelbase larger, the top plate smaller (arms.pitch, standoffs.rows), or motor.height more.",
  },
  "motor-pattern": {
    severity: "stop",
    message: (d) => `airframe.motor has ${d.given} hole patterns; one is needed${where(d)}`,
    hint: () =>
      "Say one of airframe.motor.boltCircle (across opposite holes), side (of the square) and pairs.",
  },
  "pad-small": {
    severity: "stop",
    message: (d) => `a pad of ${mm(d.pad)} leaves too little beyond the motor's screws${where(d)}`,
    hint: (d) => `Make airframe.motor.pad at least ${mm(d.wanted)}, or leave it out.`,
  },
  "tip-over-root": {
    severity: "stop",
    message: (d) =>
      `the arm is wider at the tip (${mm(d.tip)}) than at the root (${mm(d.root)})${where(d)}`,
    hint: () => "Make airframe.arms.tip no more than arms.root.",
  },
  "arm-over-pad": {
    severity: "stop",
    message: (d) =>
      `the arm (${mm(d.width)}) is as wide as the motor's pad (${mm(d.pad)})${where(d)}`,
    hint: (d) => `Make airframe.${d.parameter} less, or motor.pad more.`,
  },
  "root-narrow": {
    severity: "stop",
    message: (d) =>
      `an arm of ${mm(d.root)} is too narrow for its screws (holes of ${mm(d.hole)})${where(d)}`,
    hint: (d) => `Make airframe.arms.root at least ${mm(d.wanted)}, or arms.screw smaller.`,
  },
  "arm-short": {
    severity: "stop",
    message: (d) =>
      `between body and motor pad ${mm(d.free)} of arm are left; ${mm(d.wanted)} is the least${where(d)}`,
    hint: (d) =>
      `Lengthen every arm by ${mm(d.short)} (airframe.${d.parameter}), or make stack, arms.root, arms.pitch or motor.pad smaller.`,
  },
  "top-unsupported": {
    severity: "stop",
    message: (d) =>
      `the top plate needs three standoffs that are not in one line, and has ${d.standoffs}${where(d)}`,
    hint: () => "Add rows to airframe.standoffs.rows, or leave out top.",
  },
  "camera-without-top": {
    severity: "stop",
    message: (d) => `camera sides stand between two plates, and there is no top plate${where(d)}`,
    hint: () => "Add airframe.top, or leave out camera.",
  },
  "camera-over-arm": {
    severity: "stop",
    message: (d) =>
      `in the layout "${d.layout}" an arm runs where the camera sides stand${where(d)}`,
    hint: () =>
      "Add airframe.clamp for them to stand on, choose another layout, or leave out camera.",
  },
  "camera-high": {
    severity: "stop",
    message: (d) =>
      `between the plates are ${mm(d.height)}; the camera's screws need ${mm(d.wanted)}${where(d)}`,
    hint: () => "Make airframe.standoffs.height more, or camera.swing less.",
  },
  "standoff-in-way": {
    severity: "stop",
    message: (d) =>
      `the standoff at (${mm(d.x)}, ${mm(d.y)}) is ${mm(d.gap)} from ${d.of}; ${mm(d.wanted)} is wanted${where(d)}`,
    hint: (d) => `Change airframe.${d.parameter}, or make standoffs.body smaller.`,
  },
  "clamp-without-arms": {
    severity: "stop",
    message: (d) =>
      `a clamp plate holds separate arms, and this airframe is of one piece${where(d)}`,
    hint: () => "Say construction: separate-arms, or leave out airframe.clamp.",
  },
  "tail-servo": {
    severity: "note",
    message: (d) =>
      `three motors need one that tilts: the rear mount is drawn like the others${where(d)}`,
    hint: () => "Put the servo's hinge between pad and motor.",
  },
  "plate-impossible": {
    severity: "stop",
    message: (d) => `the plate "${d.plate}" cannot be drawn with these numbers${where(d)}`,
    hint: (d) => `Change airframe.${d.parameter}.`,
  },
  "outline-crosses": {
    severity: "stop",
    message: (d) => `the outline of "${d.plate}" would cross itself${where(d)}`,
    hint: (d) => `Change airframe.${d.parameter}.`,
  },
  "outside-plate": {
    severity: "stop",
    message: (d) =>
      `on "${d.plate}", ${d.what} would break through the edge or lie outside${where(d)}`,
    hint: (d) => `Change airframe.${d.parameter}.`,
  },
  "screw-near-edge": {
    severity: "stop",
    message: (d) =>
      `on "${d.plate}", ${d.what} (hole ${mm(d.hole)}) is ${mm(d.edge)} from the edge; ${mm(d.wanted)} is the least${where(d)}`,
    hint: (d) => `Change airframe.${d.parameter}, or make the plate wider there.`,
  },
  "web-thin": {
    severity: "stop",
    message: (d) =>
      `on "${d.plate}", ${d.what} leaves ${mm(d.web)} to ${d.other}; ${mm(d.wanted)} is the least${where(d)}`,
    hint: (d) =>
      d.otherParameter === "" || d.otherParameter === d.parameter
        ? `Change airframe.${d.parameter}.`
        : `Change airframe.${d.parameter} or airframe.${d.otherParameter}.`,
  },
  "too-narrow": {
    severity: "stop",
    message: (d) =>
      `on "${d.plate}", ${d.what} is narrower than the thinnest cutter, ${mm(d.cutter)}${where(d)}`,
    hint: (d) => `Make it wider (airframe.${d.parameter}), or add a thinner cutter.`,
  },
  "neck-thin": {
    severity: "stop",
    message: (d) => `"${d.plate}" has a neck thinner than ${mm(d.wanted)}${where(d)}`,
    hint: (d) => `Change airframe.${d.parameter}.`,
  },
  "nothing-lightened": {
    severity: "note",
    message: (d) => `"${d.plate}" has no room for lightening windows${where(d)}`,
    hint: () => "Make airframe.lighten.web, corner, least or pitch smaller.",
  },
};
