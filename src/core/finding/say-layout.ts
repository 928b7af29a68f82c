/** What the layout has to say. */
import { type Entry, mm } from "./finding.ts";

interface Sizes extends Readonly<Record<string, number | string>> {
  readonly plate: string;
  readonly sheet: string;
  readonly width: number;
  readonly height: number;
  readonly clearWidth: number;
  readonly clearHeight: number;
  readonly margin: number;
}

interface Full extends Sizes {
  readonly missing: number;
  readonly count: number;
}

interface Pair extends Readonly<Record<string, number | string>> {
  readonly plate: string;
  readonly other: string;
  readonly sheet: string;
  readonly distance: number;
  readonly needed: number;
}

interface Edge extends Readonly<Record<string, number | string>> {
  readonly plate: string;
  readonly sheet: string;
  readonly distance: number;
  readonly needed: number;
}

interface Gap extends Readonly<Record<string, number | string>> {
  readonly plate: string;
  readonly sheet: string;
  readonly asked: number;
  readonly used: number;
}

interface Rider extends Readonly<Record<string, number | string>> {
  readonly plate: string;
  readonly host: string;
  readonly distance: number;
  readonly needed: number;
}

interface Drawn extends Readonly<Record<string, number | string>> {
  readonly file: string;
  readonly layer: string;
}

const size = (d: { readonly width: number; readonly height: number }): string =>
  `${Number(d.width.toFixed(2))} × ${mm(d.height)}`;
const clear = (d: Sizes): string => `${Number(d.clearWidth.toFixed(2))} × ${mm(d.clearHeight)}`;

export const sayLayout = {
  "sheet-unknown": {
    severity: "stop",
    message: (d) => `plate ${d.plate} wants sheet ${d.sheet}, which the job does not have`,
    hint: () => "name one of the job's sheets",
  } satisfies Entry<{ plate: string; sheet: string }>,

  "plate-larger-than-sheet": {
    severity: "stop",
    message: (d) =>
      `plate ${d.plate} is ${size(d)} as it would lie; ` +
      `sheet ${d.sheet} has ${clear(d)} inside its margin of ${mm(d.margin)}`,
    hint: () => "take a larger sheet, a smaller margin, or free the plate's fibre direction",
  } satisfies Entry<Sizes>,

  "sheet-full": {
    severity: "stop",
    message: (d) =>
      `${d.missing} of ${d.count} ${d.plate} (${size(d)}) found no place on sheet ${d.sheet} ` +
      `(${clear(d)} inside its margin of ${mm(d.margin)})`,
    hint: () => "take a larger sheet, move some plates to another one, or a smaller count or gap",
  } satisfies Entry<Full>,

  "sheet-needed": {
    severity: "note",
    message: (d) =>
      `what found no place on sheet ${d.sheet} (${d.missing} plates) would go on a sheet of ` +
      `${Number(d.width.toFixed(2))} × ${mm(d.height)}`,
  } satisfies Entry<{ sheet: string; missing: number; width: number; height: number }>,

  "search-ended-early": {
    severity: "note",
    message: () =>
      "the search for a better layout was ended before its steps were done: the same job may be " +
      "laid out otherwise next time",
  } satisfies Entry<Record<never, never>>,

  "gap-raised": {
    severity: "note",
    message: (d) =>
      `gap round ${d.plate} on sheet ${d.sheet}: ${mm(d.used)} instead of ${mm(d.asked)}, ` +
      "so that a web of sheet stays between two cuts",
  } satisfies Entry<Gap>,

  "gap-narrow": {
    severity: "warn",
    message: (d) =>
      `plates on sheet ${d.sheet} fit only with a gap of ${mm(d.used)}; ` +
      `${mm(d.wanted)} would leave a web of sheet between two cuts`,
    hint: () =>
      "a strip that comes loose between two cuts can jam the cutter: a larger sheet is safer",
  } satisfies Entry<{ sheet: string; used: number; wanted: number }>,

  "place-overlap": {
    severity: "stop",
    message: (d) =>
      `the fixed places of ${d.plate} and ${d.other} on sheet ${d.sheet} are ${mm(d.distance)} apart; ` +
      `the cutter needs ${mm(d.needed)}`,
    hint: () => "move one of them in the job's place list",
  } satisfies Entry<Pair>,

  "place-near": {
    severity: "warn",
    message: (d) =>
      `${d.plate} and ${d.other} on sheet ${d.sheet} are ${mm(d.distance)} apart; ` +
      `less than ${mm(d.needed)} leaves a loose strip or none between their cuts`,
    hint: () => "move one of them in the job's place list",
  } satisfies Entry<Pair>,

  "place-outside": {
    severity: "stop",
    message: (d) => `the fixed place of ${d.plate} is not wholly on sheet ${d.sheet}`,
    hint: () =>
      "the place moves the drawing's own zero, not the plate's corner: see the drawing's bounds",
  } satisfies Entry<{ plate: string; sheet: string }>,

  "place-near-edge": {
    severity: "warn",
    message: (d) =>
      `the fixed place of ${d.plate} is ${mm(d.distance)} from the edge of sheet ${d.sheet}; ` +
      `its margin is ${mm(d.needed)}`,
  } satisfies Entry<Edge>,

  "place-on-keep-out": {
    severity: "stop",
    message: (d) =>
      `the fixed place of ${d.plate} is ${mm(d.distance)} from keep-out ${d.keepOut} of sheet ${d.sheet}; ` +
      `the cutter needs ${mm(d.needed)}`,
    hint: () => "move the plate or the clamp",
  } satisfies Entry<Edge & { readonly keepOut: number }>,

  "place-off-fibre": {
    severity: "warn",
    message: (d) =>
      `the fixed place of ${d.plate} turns it ${Number(d.offDeg.toFixed(2))}° off the fibres of sheet ${d.sheet}`,
    hint: () => "a woven plate 10° off its fibres loses about a quarter of its stiffness",
  } satisfies Entry<{ plate: string; sheet: string; offDeg: number }>,

  "rider-too-tight": {
    severity: "note",
    message: (d) =>
      `${d.plate} is drawn ${mm(d.distance)} inside a window of ${d.host}; both cuts need ${mm(d.needed)}, ` +
      "so it is placed by itself",
  } satisfies Entry<Rider>,

  "rider-off-fibre": {
    severity: "note",
    message: (d) =>
      `${d.plate} is drawn inside a window of ${d.host} but along other fibres, so it is placed by itself`,
  } satisfies Entry<{ plate: string; host: string }>,

  "rider-elsewhere": {
    severity: "note",
    message: (d) =>
      `${d.plate} is drawn inside a window of ${d.host}, which is cut from another sheet or has a fixed place, ` +
      "so it is placed by itself",
  } satisfies Entry<{ plate: string; host: string }>,

  "layout-read": {
    severity: "note",
    message: (d) =>
      `${d.count} of the plates on sheet ${d.sheet} lie where ${d.file} shows them; ` +
      `their outlines agree within ${mm(Math.max(0.001, d.residual))}`,
  } satisfies Entry<{ sheet: string; file: string; count: number; residual: number }>,

  "layout-unknown-plate": {
    severity: "stop",
    message: (d) =>
      `${d.file} has a layer "${d.layer}"; sheet ${d.sheet} has no such plate. Its layers would be: ${d.known}`,
    hint: () => "give the layer the name of the plate that it shows, or erase what is on it",
  } satisfies Entry<Drawn & { sheet: string; known: string }>,

  "layout-unknown-copy": {
    severity: "stop",
    message: (d) =>
      `${d.file} has a layer "${d.layer}", but the job's count of ${d.plate} is ${d.count}`,
    hint: () => "raise the plate's count in the job, or erase what is on that layer",
  } satisfies Entry<Drawn & { plate: string; count: number }>,

  "layout-without-outline": {
    severity: "stop",
    message: (d) => `layer "${d.layer}" of ${d.file} shows no closed outline`,
    hint: () =>
      "close it, or erase what is left on the layer: a copy that the drawing does not show is laid by weftcut",
  } satisfies Entry<Drawn>,

  "layout-no-match": {
    severity: "stop",
    message: (d) =>
      `what layer "${d.layer}" of ${d.file} shows is not ${d.plate}: no turn lays one outline on the other ` +
      `within ${mm(d.limit)}`,
    hint: () =>
      "plates may be moved and turned in a layout, not changed: change the plate's own drawing and plan again",
  } satisfies Entry<Drawn & { plate: string; limit: number }>,

  "layout-scaled": {
    severity: "stop",
    message: (d) =>
      `layer "${d.layer}" of ${d.file} shows ${d.plate} ${Number(d.scale.toPrecision(5))} times as large as it is`,
    hint: () => "draw it at its true size; if all plates are so, save the drawing in millimetres",
  } satisfies Entry<Drawn & { plate: string; scale: number }>,

  "layout-drawn-twice": {
    severity: "stop",
    message: (d) => `${d.file} shows ${d.plate} ${d.copy} ${d.times} times`,
    hint: () =>
      "erase all but one, or move the others to layers of further copies and raise the count",
  } satisfies Entry<{ file: string; plate: string; copy: number; times: number }>,

  "layout-stray": {
    severity: "stop",
    message: (d) =>
      `layer "${d.layer}" of ${d.file} shows an outline that is no part of ${d.plate}, as it lies outside it`,
    hint: () => "erase it, or move it to a layer whose name does not begin with PLATE",
  } satisfies Entry<Drawn & { plate: string }>,

  "layout-turned-over": {
    severity: "stop",
    message: (d) =>
      `layer "${d.layer}" of ${d.file} shows ${d.plate} turned over, which the job does not allow`,
    hint: () => "mirror it back, or say mayFlip: true for the plate",
  } satisfies Entry<Drawn & { plate: string }>,

  "layout-other-openings": {
    severity: "warn",
    message: (d) =>
      `layer "${d.layer}" of ${d.file} shows ${d.plate} with ${d.unlike} openings more or fewer than it has, ` +
      "or elsewhere; it is cut as its own drawing has it",
    hint: () => "change the plate's own drawing and plan again",
  } satisfies Entry<Drawn & { plate: string; unlike: number }>,

  "layout-other-sheet": {
    severity: "warn",
    message: (d) =>
      `${d.file} was drawn for a sheet of ${size(d)}; sheet ${d.sheet} is ${Number(d.sheetWidth.toFixed(2))} × ` +
      `${mm(d.sheetHeight)}. Places are taken from the lower-left corner`,
    hint: () => "look whether all plates lie where they should",
  } satisfies Entry<{
    file: string;
    sheet: string;
    width: number;
    height: number;
    sheetWidth: number;
    sheetHeight: number;
  }>,

  "layout-and-place": {
    severity: "warn",
    message: (d) =>
      `${d.plate} ${d.copy} has a place in the job and lies ${mm(d.off)} from it in ${d.file}: the job's holds`,
    hint: () => "take the place out of the job to have the drawn one",
  } satisfies Entry<{ file: string; plate: string; copy: number; off: number }>,

  "layout-empty": {
    severity: "warn",
    message: (d) =>
      `${d.file} has no layer whose name begins with PLATE: it fixes nothing on sheet ${d.sheet}`,
    hint: () =>
      "a layout that weftcut writes has a layer for every plate; see that the drawing program kept them",
  } satisfies Entry<{ file: string; sheet: string }>,
};
