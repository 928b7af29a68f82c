/** What the reading of drawings has to say. */
import { type Entry, mm, type Report, reporter } from "./finding.ts";

type None = Readonly<Record<string, never>>;
interface Count extends Readonly<Record<string, number | string>> {
  readonly count: number;
}
interface EntityAt extends Readonly<Record<string, number | string>> {
  readonly entity: string;
  readonly line: number;
}
interface Spot extends Readonly<Record<string, number | string>> {
  readonly x: number;
  readonly y: number;
}
interface GapAt extends Spot {
  readonly gap: number;
}

interface Apart extends Spot {
  readonly distance: number;
}
interface Size extends Readonly<Record<string, number | string>> {
  readonly width: number;
  readonly height: number;
}
interface Round extends Count, Spot {
  readonly diameter: number;
  readonly facets: number;
  readonly smaller: number;
  readonly off: number;
}

const things = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
const spot = (d: Spot): string => `(${Number(d.x.toFixed(3))}, ${Number(d.y.toFixed(3))})`;

export const sayDrawing = {
  "not-a-drawing": {
    severity: "stop",
    message: (d: { what: string }) => `This is ${d.what}, not a drawing.`,
    hint: () => "Get the file itself, as DXF or SVG, from where it was drawn or published.",
  } as Entry<{ what: string }>,
  "nothing-drawn": {
    severity: "stop",
    message: () => "The drawing holds nothing that could be cut.",
    hint: () => "See what was left out, and name layers to cut in the job where they are hidden.",
  } as Entry<None>,
  "no-loop": {
    severity: "stop",
    message: (d: { chains: number }) =>
      `No closed outline: ${things(d.chains, "open chain")} and nothing that encloses an area.`,
    hint: () =>
      "Close the outline in the drawing, or say closeGaps at the plate in the job, where the gaps are known.",
  } as Entry<{ chains: number }>,
  "drawing-cut-short": {
    severity: "stop",
    message: (d: EntityAt) =>
      `The file ends in the middle of ${d.entity} (line ${d.line}); that and all after it is missing.`,
    hint: () => "Export or download the drawing again.",
  } as Entry<EntityAt>,
  "end-missing": {
    severity: "warn",
    message: () =>
      "The file has no end mark; it may have been cut short. All that is there was read.",
    hint: () => "Compare the number of holes with the original.",
  } as Entry<None>,
  "lines-skipped": {
    severity: "stop",
    message: (d: { count: number; line: number }) =>
      `${things(d.count, "line")} should hold a group code and do not, the first at line ${d.line}: the file is damaged.`,
    hint: () => "Export or download the drawing again.",
  } as Entry<{ count: number; line: number }>,
  "number-unreadable": {
    severity: "stop",
    message: (d: EntityAt & { value: string }) =>
      `Line ${d.line}: "${d.value}" is no number, so this ${d.entity} could not be read.`,
    hint: () => "Mend the line, or export the drawing again.",
  } as Entry<EntityAt & { value: string }>,
  "comma-decimals": {
    severity: "note",
    message: (d: { count: number; line: number }) =>
      `${things(d.count, "number")} with a decimal comma, the first at line ${d.line}; read as decimal points.`,
  } as Entry<{ count: number; line: number }>,
  "polyline-unended": {
    severity: "note",
    message: (d: Count) =>
      `${things(d.count, "polyline")} without an end mark; ended at the next entity.`,
  } as Entry<Count>,
  "names-undecoded": {
    severity: "note",
    message: (d: { encoding: string }) =>
      `Layer names are in code page ${d.encoding}, which is not known here; shapes are not affected.`,
  } as Entry<{ encoding: string }>,
  "entity-incomplete": {
    severity: "stop",
    message: (d: EntityAt) => `${d.entity} at line ${d.line} lacks what makes its shape.`,
    hint: () => "Mend or delete it in the drawing.",
  } as Entry<EntityAt>,
  "entity-not-flat": {
    severity: "warn",
    message: (d: EntityAt) =>
      `${d.entity} at line ${d.line} does not lie in the drawing's plane and was left out.`,
    hint: () => "Draw plates in the XY plane.",
  } as Entry<EntityAt>,
  "insert-left-out": {
    severity: "warn",
    message: (d: { block: string; line: number; why: string }) =>
      `The INSERT of ${d.block === "" ? "a block without a name" : `block "${d.block}"`} at line ${d.line} was left out: ${d.why}.`,
    hint: () => "Bind or explode the block where the drawing was made.",
  } as Entry<{ block: string; line: number; why: string }>,
  "too-many-pieces": {
    severity: "stop",
    message: (d: { most: number }) => `More than ${d.most} pieces: no plate has that many.`,
    hint: () => "Look for blocks that insert each other, or export one plate a drawing.",
  } as Entry<{ most: number }>,
  "too-dense": {
    severity: "stop",
    message: () => "Too much is drawn over one place to compare it all; doubles may be left.",
    hint: () => "Remove hatching and fills that are drawn as lines.",
  } as Entry<None>,
  "paper-space": {
    severity: "note",
    message: (d: Count) =>
      `${things(d.count, "thing")} on a paper layout left out; only the model is cut.`,
  } as Entry<Count>,
  "layer-hidden": {
    severity: "warn",
    message: (d: { layer: string; count: number; why: string }) =>
      `${things(d.count, "outline")} on ${d.layer === "" ? "no layer" : `layer "${d.layer}"`} left out: ${d.why}.`,
    hint: (d: { layer: string }) =>
      d.layer === ""
        ? "To cut them, make them visible in the drawing."
        : `To cut them, name "${d.layer}" under layers: cut in the job.`,
  } as Entry<{ layer: string; count: number; why: string }>,
  "unit-unknown": {
    severity: "stop",
    message: (d: { asMm: string; asInch: string }) =>
      `The drawing does not say its unit. In mm it is ${d.asMm}; in inches ${d.asInch}.`,
    hint: () => "Say which: units: mm (or in) in the job, or --units.",
  } as Entry<{ asMm: string; asInch: string }>,
  "unit-doubtful": {
    severity: "warn",
    message: (d: { declared: string; asDeclared: string; other: string; asOther: string }) =>
      `The drawing says ${d.declared}: ${d.asDeclared}. In ${d.other} it would be ${d.asOther}, as plates are.`,
    hint: () => "If that is right, say units in the job, or --units.",
  } as Entry<{ declared: string; asDeclared: string; other: string; asOther: string }>,
  "px-assumed": {
    severity: "warn",
    message: (d: { perInch: number; as96: string; as90: string; as72: string; asMm: string }) =>
      `Sizes are in px, taken as ${d.perInch} to the inch. At 96: ${d.as96}; at 90: ${d.as90}; at 72: ${d.as72}; as mm: ${d.asMm}.`,
    hint: () =>
      "Export with the page's size in mm, or say units: mm in the job where one unit is a millimetre.",
  } as Entry<{ perInch: number; as96: string; as90: string; as72: string; asMm: string }>,
  "xml-broken": {
    severity: "stop",
    message: (d: { line: number }) =>
      `Line ${d.line} is not well-formed XML; what came before was read.`,
    hint: () => "Export or download the drawing again.",
  } as Entry<{ line: number }>,
  "path-broken": {
    severity: "stop",
    message: (d: { line: number }) =>
      `The path at line ${d.line} stops making sense; its beginning was read.`,
    hint: () => "Mend or redraw the path.",
  } as Entry<{ line: number }>,
  "transform-unread": {
    severity: "stop",
    message: (d: { line: number; text: string }) =>
      `The transform at line ${d.line} is not one that is known here: "${d.text}".`,
    hint: () => "Apply transforms in the drawing program before exporting.",
  } as Entry<{ line: number; text: string }>,
  "use-left-out": {
    severity: "warn",
    message: (d: { line: number; name: string; why: string }) =>
      `The use of "${d.name}" at line ${d.line} was left out: ${d.why}.`,
  } as Entry<{ line: number; name: string; why: string }>,
  "clip-ignored": {
    severity: "warn",
    message: (d: Count) =>
      `${things(d.count, "thing")} drawn through a clip or mask; shapes were read whole.`,
    hint: () => "Cut the shapes themselves in the drawing program.",
  } as Entry<Count>,
  "width-ignored": {
    severity: "note",
    message: (d: Count) =>
      `${things(d.count, "polyline")} drawn with a width; the centre line is cut.`,
  } as Entry<Count>,
  "arc-start-equals-end": {
    severity: "warn",
    message: (d: Count) =>
      `${things(d.count, "arc")} with equal start and end angle; read as ${d.count === 1 ? "a full circle" : "full circles"}.`,
    hint: () => "Some programs draw a point there. Draw a circle to be sure.",
  } as Entry<Count>,
  "spline-from-fit-points": {
    severity: "warn",
    message: (d: Count) =>
      `${things(d.count, "spline")} with fit points only; a smooth curve was laid through them.`,
    hint: () => "Between the points the curve may differ from what was seen when it was drawn.",
  } as Entry<Count>,
  "spline-mended": {
    severity: "warn",
    message: (d: Count) =>
      `${things(d.count, "spline")} with missing or wrong knots or weights; even ones were used.`,
    hint: () => "Look at the picture before cutting.",
  } as Entry<Count>,
  "vertex-repeated": {
    severity: "note",
    message: (d: Count) =>
      `${things(d.count, "polyline")} with repeated vertices; each was taken once.`,
  } as Entry<Count>,
  "specks-dropped": {
    severity: "note",
    message: (d: Count) => `${things(d.count, "segment")} shorter than 0.1 µm dropped.`,
  } as Entry<Count>,
  "duplicates-removed": {
    severity: "note",
    message: (d: Count & { shortened: number }) =>
      `${things(d.count, "thing")} drawn twice; one of each kept.${d.shortened > 0 ? ` ${things(d.shortened, "line or arc", "lines or arcs")} lay partly on others.` : ""}`,
  } as Entry<Count & { shortened: number }>,
  "ends-joined": {
    severity: "note",
    message: (d: Count & Spot & { widest: number }) =>
      `${things(d.count, "pair")} of loose ends joined, at most ${mm(d.widest)} apart, at ${spot(d)}.`,
  } as Entry<Count & Spot & { widest: number }>,
  "gap-closed": {
    severity: "note",
    message: (d: GapAt) => `A gap of ${mm(d.gap)} at ${spot(d)} closed, as asked.`,
  } as Entry<GapAt>,
  gap: {
    severity: "stop",
    message: (d: GapAt) => `An outline is open by ${mm(d.gap)} at ${spot(d)}.`,
    hint: (d: GapAt) =>
      `Close it in the drawing, or allow gaps of ${mm(Math.ceil(d.gap * 100) / 100)} with closeGaps at the plate in the job.`,
  } as Entry<GapAt>,
  "open-chain": {
    severity: "warn",
    message: (d: GapAt) =>
      `A line ends free at ${spot(d)}, ${mm(d.gap)} from its start; it is not cut.`,
    hint: () => "Put construction lines on a layer of their own, and leave that out in the job.",
  } as Entry<GapAt>,
  "open-outline": {
    severity: "stop",
    message: (d: GapAt) =>
      `An outline stays open: it ends at ${spot(d)}, ${mm(d.gap)} from its start.`,
    hint: () => "Draw the missing edge, or leave its layer out in the job where it is no outline.",
  } as Entry<GapAt>,
  "more-of-these": {
    severity: "warn",
    message: (d: Count & { what: string }) => `And ${d.count} more of the kind ${d.what}.`,
  } as Entry<Count & { what: string }>,
  "near-duplicate": {
    severity: "stop",
    message: (d: Apart) =>
      `An outline is drawn twice, ${mm(d.distance)} apart at ${spot(d)}: one of the two is wrong.`,
    hint: () =>
      "Delete one in the drawing, or say dropNearDuplicates: true at the plate in the job: the first drawn is kept.",
  } as Entry<Apart>,
  "near-duplicate-dropped": {
    severity: "note",
    message: (d: Apart) =>
      `An outline drawn twice, ${mm(d.distance)} apart at ${spot(d)}: the first was kept, as asked.`,
  } as Entry<Apart>,
  "near-duplicate-line": {
    severity: "warn",
    message: (d: Apart) =>
      `A line follows an outline within ${mm(d.distance)} up to ${spot(d)}; it is not cut.`,
    hint: () => "Delete it in the drawing.",
  } as Entry<Apart>,
  "sheet-border": {
    severity: "warn",
    message: (d: Spot & Size) =>
      `A sheet border of ${mm(d.width)} × ${mm(d.height)} was left out; what it holds is cut.`,
    hint: () => "If it is a plate, name its layer among those to cut and put the rest on another.",
  } as Entry<Spot & Size>,
  "maybe-border": {
    severity: "warn",
    message: (d: Spot & Size) =>
      `The outline of ${mm(d.width)} × ${mm(d.height)} around everything may be a sheet border; it is taken for a plate.`,
    hint: () => "If it is a border, leave its layer out in the job, or delete it.",
  } as Entry<Spot & Size>,
  "round-from-facets": {
    severity: "note",
    message: (d: Round) =>
      `${things(d.count, "round outline")} drawn with ${d.facets} flats, taken for a circle of ${mm(d.diameter)}: drawn ${mm(d.smaller)} smaller across the flats.`,
  } as Entry<Round>,
  "round-from-curves": {
    severity: "note",
    message: (d: Round) =>
      `${things(d.count, "round outline")} drawn as curves, taken for a circle of ${mm(d.diameter)}: nowhere more than ${mm(d.off)} off.`,
  } as Entry<Round>,
  "arcs-from-facets": {
    severity: "note",
    message: (d: Count & Spot & { rise: number }) =>
      `${things(d.count, "flat")} of faceted curves taken for arcs, which rise at most ${mm(d.rise)} over them, first at ${spot(d)}.`,
  } as Entry<Count & Spot & { rise: number }>,
  "self-crossing": {
    severity: "stop",
    message: (d: Spot) => `An outline crosses itself at ${spot(d)}.`,
    hint: () => "Redraw it there: what is inside and what is outside cannot be told.",
  } as Entry<Spot>,
  "self-touching": {
    severity: "warn",
    message: (d: Spot) => `An outline touches itself at ${spot(d)}.`,
    hint: () => "Nothing holds there once it is cut. Leave a gap, or draw two outlines.",
  } as Entry<Spot>,
  "loops-cross": {
    severity: "stop",
    message: (d: Spot) => `Two outlines cross at ${spot(d)}.`,
    hint: () => "Move one of them, or join both into one outline.",
  } as Entry<Spot>,
  "loops-touch": {
    severity: "warn",
    message: (d: Spot) => `Two outlines touch at ${spot(d)}.`,
    hint: () => "Nothing holds there once both are cut. Draw them apart, or as one.",
  } as Entry<Spot>,
  branch: {
    severity: "stop",
    message: (d: Spot) =>
      `Three lines meet at ${spot(d)}: which way the outline goes is not clear.`,
    hint: () =>
      "Remove the line that is none of the outline, or draw the shared edge once for each plate.",
  } as Entry<Spot>,
};

export const reportDrawing: Report<typeof sayDrawing> = reporter(sayDrawing);
