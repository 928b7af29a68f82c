/**
 * A picture of a sheet as it will be cut: SVG, one unit a millimetre, nothing outside it needed.
 *
 * What differs in meaning differs in shape as well as in colour, so that it can be read in grey and by people
 * who see few colours: plates are filled, keep-outs hatched and crossed, the margin dashed, tabs numbered
 * discs in breaking order, entries open diamonds, program zero a quartered disc.
 */
import { bounds } from "../../geometry/contour.ts";
import type { Box, Contour, Point } from "../../geometry/shape.ts";
import { cos, hypot, radians, sin } from "../../geometry/trig.ts";
import type { KeepOut } from "../layout.ts";
import { plateLayer, SHEET_LAYER } from "../read-back/layer-name.ts";
import { INK, labelPart, type PicturePlate } from "./label.ts";
import { escapeText, num, pathOf, xy } from "./svg.ts";
import { breakingOrder, type TabSpot } from "./tab-order.ts";

export interface SheetPicture {
  readonly name: string;
  readonly material: string;
  readonly thickness: number;
  readonly fibreDeg: number;
  readonly outline: Contour;
  readonly margin: number;
  readonly keepOuts: readonly KeepOut[];
  readonly plates: readonly PicturePlate[];
  readonly tabs: readonly TabSpot[];
  /** Where the cutter first goes into the sheet for each cut; empty where that is not known. */
  readonly entries: readonly Point[];
  /** Program X0 Y0. */
  readonly zero: Point;
  /** What Z0 is, in words; empty where the picture need not say. */
  readonly zeroZ: string;
}

export interface PictureStyle {
  /** Put before every id, so that several pictures can stand in one page. */
  readonly idPrefix?: string | undefined;
  /** A file of its own, in true size; else it takes the width that the page gives it. */
  readonly alone?: boolean | undefined;
}

const PLATE = "#a9c3d3";
const SHEET = "#f3f1ea";
const WEAVE = "#dedacd";
const FAINT = "#6b7780";
const KEEP_OUT = "#9a4a00";
const TAB = "#7b1f5c";

/** What every part of the picture is drawn by. */
interface Canvas {
  readonly box: Box;
  /** Height of text, mm. */
  readonly text: number;
  readonly id: string;
}

export function drawSheet(picture: SheetPicture, style: PictureStyle = {}): string {
  const box = bounds(picture.outline);
  const width = box.max.x - box.min.x;
  const canvas: Canvas = {
    box,
    text: Math.min(9, Math.max(3, Math.max(width, 0.7 * (box.max.y - box.min.y)) / 42)),
    id: style.idPrefix ?? "sheet",
  };
  const legend = legendOf(picture, canvas);
  const marks = tabMarks(breakingOrder(picture.tabs), canvas);
  const pad = canvas.text * 2.4;
  const view: Box = {
    min: { x: box.min.x - pad, y: box.min.y - pad - legend.height },
    max: { x: box.max.x + pad * 0.6, y: box.max.y + pad * 0.6 },
  };
  const w = view.max.x - view.min.x;
  const h = view.max.y - view.min.y;
  const size = style.alone ? ` width="${num(w)}mm" height="${num(h)}mm"` : "";
  return [
    `<svg xmlns="http://www.w3.org/2000/svg"${size} viewBox="${num(view.min.x)} ${num(-view.max.y)} ${num(w)} ${num(h)}"`,
    ` role="img" aria-labelledby="${canvas.id}-title ${canvas.id}-desc"`,
    ` font-family="system-ui, sans-serif" font-size="${num(canvas.text)}">`,
    `<title id="${canvas.id}-title">${escapeText(`Sheet ${picture.name}`)}</title>`,
    `<desc id="${canvas.id}-desc">${escapeText(description(picture))}</desc>`,
    patterns(picture, canvas),
    `<rect x="${num(view.min.x)}" y="${num(-view.max.y)}" width="${num(w)}" height="${num(h)}" fill="#fff"/>`,
    sheetPart(picture, canvas, style.alone === true),
    picture.keepOuts.map((k) => keepOutPart(k, canvas)).join(""),
    picture.plates.map((p) => platePart(p, style.alone === true)).join(""),
    picture.plates
      .map((p) => labelPart(p, { tabs: marks, entries: picture.entries }, canvas.text))
      .join(""),
    picture.entries.map((p) => entryMark(p, canvas)).join(""),
    marks.map((p, i) => tabMark(p, i + 1, canvas)).join(""),
    zeroMark(picture.zero, canvas),
    sizes(canvas),
    legend.svg,
    "</svg>",
  ].join("");
}

function description(p: SheetPicture): string {
  const { min, max } = bounds(p.outline);
  const plates = p.plates.map((q) => (q.of > 1 ? `${q.plate} ${q.copy}` : q.plate)).join(", ");
  return (
    `${p.material}, ${num(max.x - min.x)} × ${num(max.y - min.y)} × ${num(p.thickness)} mm, ` +
    `fibre at ${num(p.fibreDeg)}°. Plates: ${plates === "" ? "none" : plates}. ` +
    `${p.tabs.length} holding tabs, ${p.keepOuts.length} keep-outs. ` +
    `Program zero at ${num(p.zero.x)}, ${num(p.zero.y)} from the sheet's lower-left corner.`
  );
}

function patterns(p: SheetPicture, c: Canvas): string {
  const s = num(c.text * 0.8);
  return (
    `<defs><pattern id="${c.id}-weave" width="${s}" height="${s}" patternUnits="userSpaceOnUse" ` +
    `patternTransform="rotate(${num(-p.fibreDeg)})">` +
    `<path d="M0 0H${s}" stroke="${WEAVE}" stroke-width="${num(c.text * 0.16)}"/></pattern>` +
    `<pattern id="${c.id}-keep" width="2.4" height="2.4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">` +
    `<rect width="2.4" height="2.4" fill="#fff"/>` +
    `<path d="M0 0V2.4" stroke="${KEEP_OUT}" stroke-width="1.3"/></pattern></defs>`
  );
}

/** A group whose name is that of the layer in the drawing of this layout; in a page, names would meet again. */
function layer(name: string, alone: boolean, svg: string): string {
  return alone ? `<g id="${escapeText(name.replace(/\s+/g, "_"))}">${svg}</g>` : svg;
}

function sheetPart(p: SheetPicture, c: Canvas, alone: boolean): string {
  const d = pathOf(p.outline);
  const { min, max } = c.box;
  const m = p.margin;
  // The margin of an odd outline is not drawn: its box would tell a wrong story.
  const isBox =
    p.outline.segments.length === 4 && p.outline.segments.every((s) => s.kind === "line");
  const margin =
    isBox && m > 0
      ? `<rect x="${num(min.x + m)}" y="${num(-max.y + m)}" width="${num(max.x - min.x - 2 * m)}" ` +
        `height="${num(max.y - min.y - 2 * m)}" fill="none" stroke="${FAINT}" stroke-width=".35" stroke-dasharray="2 1.6"/>`
      : "";
  return (
    `${layer(SHEET_LAYER, alone, `<path d="${d}" fill="${SHEET}"/>`)}` +
    `<path d="${d}" fill="url(#${c.id}-weave)" stroke="${INK}" stroke-width=".7"/>${margin}`
  );
}

function keepOutPart(k: KeepOut, c: Canvas): string {
  const paint = `fill="url(#${c.id}-keep)" stroke="${KEEP_OUT}" stroke-width=".6"`;
  if (k.kind === "disc") {
    const [x, y, r] = [num(k.at.x), num(-k.at.y), num(k.diameter / 2)];
    return `<circle cx="${x}" cy="${y}" r="${r}" ${paint}/>`;
  }
  const { min, max } = k.box;
  const size = `width="${num(max.x - min.x)}" height="${num(max.y - min.y)}"`;
  return `<rect x="${num(min.x)}" y="${num(-max.y)}" ${size} ${paint}/>`;
}

function platePart(p: PicturePlate, alone: boolean): string {
  const d = [p.outer, ...p.inner].map(pathOf).join("");
  const recesses = p.recesses.map(
    (c) =>
      `<path d="${pathOf(c)}" fill="#fff" fill-opacity=".5" stroke="${INK}" stroke-width=".3"/>`,
  );
  const shape = `<path d="${d}" fill="${PLATE}" fill-rule="evenodd" stroke="${INK}" stroke-width=".4"/>`;
  return layer(plateLayer(p.plate, p.copy), alone, shape + recesses.join(""));
}

function entryMark(p: Point, c: Canvas): string {
  const r = c.text * 0.28;
  return `<path d="M${num(p.x - r)} ${num(-p.y)}l${num(r)} ${num(-r)} ${num(r)} ${num(r)} ${num(-r)} ${num(r)}z" fill="#fff" stroke="${INK}" stroke-width=".4"/>`;
}

/**
 * Where the tabs' numbers stand: on the tab, but those of a window's slug a little toward the slug, so that
 * numbers on both sides of a narrow web keep apart.
 */
function tabMarks(tabs: readonly TabSpot[], c: Canvas): Point[] {
  return tabs.map((tab) => {
    if (tab.feature === undefined) return tab.at;
    const mates = tabs.filter(
      (t) => t.plate === tab.plate && t.copy === tab.copy && t.feature === tab.feature,
    );
    const dx = mates.reduce((sum, t) => sum + t.at.x, 0) / mates.length - tab.at.x;
    const dy = mates.reduce((sum, t) => sum + t.at.y, 0) / mates.length - tab.at.y;
    const way = hypot(dx, dy);
    const step = way === 0 ? 0 : Math.min(c.text * 0.55, way * 0.4) / way;
    return { x: tab.at.x + dx * step, y: tab.at.y + dy * step };
  });
}

function tabMark(p: Point, number: number, c: Canvas): string {
  const size = c.text * 0.62;
  const r = size * (number > 99 ? 0.95 : 0.78);
  return (
    `<circle cx="${num(p.x)}" cy="${num(-p.y)}" r="${num(r)}" fill="${TAB}" stroke="#fff" stroke-width=".4"/>` +
    `<text x="${num(p.x)}" y="${num(-p.y + size * 0.35)}" text-anchor="middle" font-size="${num(size)}" ` +
    `font-weight="700" fill="#fff">${number}</text>`
  );
}

/** A disc in quarters, as drawings mark a datum. */
function zeroMark(p: Point, c: Canvas): string {
  const r = c.text * 0.55;
  const [x, y] = [num(p.x), num(-p.y)];
  const quarter = (sx: number, sy: number): string =>
    `M${x} ${y}h${num(sx * r)}A${num(r)} ${num(r)} 0 0 ${sx * sy > 0 ? 1 : 0} ${x} ${num(-p.y + sy * r)}Z`;
  return (
    `<circle cx="${x}" cy="${y}" r="${num(r)}" fill="#fff" stroke="${INK}" stroke-width=".5"/>` +
    `<path d="${quarter(1, 1)}${quarter(-1, -1)}" fill="${INK}"/>`
  );
}

function sizes(c: Canvas): string {
  const { min, max } = c.box;
  const off = c.text * 1.5;
  const middle = { x: (min.x + max.x) / 2, y: (min.y + max.y) / 2 };
  const [w, h] = [num(max.x - min.x), num(max.y - min.y)];
  const left = num(min.x - off + c.text * 0.6);
  return (
    `<g fill="${INK}" text-anchor="middle"><text x="${num(middle.x)}" y="${num(-min.y + off)}">${w} mm</text>` +
    `<text x="${left}" y="${num(-middle.y)}" transform="rotate(-90 ${left} ${num(-middle.y)})">${h} mm</text></g>`
  );
}

interface Key {
  readonly mark: (at: Point) => string;
  readonly label: string;
}

function keysOf(p: SheetPicture, c: Canvas): Key[] {
  const keys: Key[] = [
    { mark: (at) => fibreArrow(at, p.fibreDeg, c), label: `fibre ${num(p.fibreDeg)}°` },
    { mark: (at) => zeroMark(at, c), label: `X0 Y0${p.zeroZ === "" ? "" : `, Z0 ${p.zeroZ}`}` },
  ];
  if (p.tabs.length > 0) {
    keys.push({ mark: (at) => tabMark(at, 1, c), label: "tab, in breaking order" });
  }
  if (p.keepOuts.length > 0) {
    const disc = (at: Point): KeepOut => ({ kind: "disc", at, diameter: c.text * 1.1 });
    keys.push({ mark: (at) => keepOutPart(disc(at), c), label: "keep-out" });
  }
  if (p.entries.length > 0) keys.push({ mark: (at) => entryMark(at, c), label: "cutter goes in" });
  return keys;
}

/** Under the sheet, as many to a row as its width takes. */
function legendOf(p: SheetPicture, c: Canvas): { svg: string; height: number } {
  const row = c.text * 1.7;
  const right = c.box.max.x;
  let x = c.box.min.x;
  let y = c.box.min.y - c.text * 3.2;
  let rows = 1;
  const parts = keysOf(p, c).map((key) => {
    const width = c.text * (2.2 + 0.51 * key.label.length);
    if (x > c.box.min.x && x + width > right) {
      x = c.box.min.x;
      y -= row;
      rows++;
    }
    const mark = key.mark({ x: x + c.text * 0.8, y });
    const text = `<text x="${num(x + c.text * 1.9)}" y="${num(-y + c.text * 0.35)}" fill="${INK}">${escapeText(key.label)}</text>`;
    x += width + c.text * 0.3;
    return mark + text;
  });
  return { svg: parts.join(""), height: rows * row + c.text * 0.2 };
}

function fibreArrow(at: Point, deg: number, c: Canvas): string {
  const half = c.text * 0.8;
  const head = half * 0.45;
  const a = radians(deg);
  const to = (along: number, across: number): string =>
    xy({
      x: at.x + along * cos(a) - across * sin(a),
      y: at.y + along * sin(a) + across * cos(a),
    });
  const arrow = (end: number): string =>
    `M${to(end - Math.sign(end) * head, head * 0.7)}L${to(end, 0)}L${to(end - Math.sign(end) * head, -head * 0.7)}`;
  return (
    `<path d="M${to(-half, 0)}L${to(half, 0)}${arrow(half)}${arrow(-half)}" fill="none" stroke="${INK}" ` +
    `stroke-width="${num(c.text * 0.1)}"/>`
  );
}
