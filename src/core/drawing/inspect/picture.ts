/**
 * A picture of a drawing as it was understood: SVG in true size, Y up, nothing outside it needed.
 *
 * What differs in meaning differs in shape as well as in colour: plates are filled, features carry the numbers
 * of the table, open chains are dashed with a ring at each end, and every place that something was said of has
 * a numbered triangle, explained under the picture.
 */
import type { Finding } from "../../finding/finding.ts";
import { boundsOf } from "../../geometry/contour.ts";
import { isFullCircle, pointAt } from "../../geometry/segment.ts";
import type { Box, Point, Segment } from "../../geometry/shape.ts";
import type { Plate } from "../../plate/plate.ts";
import type { Drawing } from "../drawing.ts";

const INK = "#1d2b33";
const PLATE = "#a9c3d3";
const OPEN = "#9a4a00";
const MARK = "#7b1f5c";

/** Features that are numbered; more would cover the plate. */
const NUMBERED = 400;
const MARKS_MOST = 40;
/** Characters of a line under the picture. */
const LINE = 96;

export function inspectSvg(drawing: Drawing, plates: readonly Plate[]): string {
  const box = wholeOf(drawing, plates);
  const width = box.max.x - box.min.x;
  const height = box.max.y - box.min.y;
  const text = Math.max(Math.max(width, height) / 45, Math.min(width, height) / 30, 1e-3);
  const marks = marksOf(drawing);
  const words = marks.flatMap((f, i) => wrapped(`${i + 1}  ${f.message}`));
  const pad = 3 * text;
  const least = 0.52 * text * Math.max(30, ...words.map((w) => w.length));
  const w = Math.max(width + 2 * pad, least + 2 * pad);
  const h = height + 2 * pad + (words.length + 2) * 1.5 * text;
  const x = box.min.x - pad;
  const y = -box.max.y - pad;
  const below = -box.min.y + 2 * text;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${num(w)}mm" height="${num(h)}mm" viewBox="${num(x)} ${num(y)} ${num(w)} ${num(h)}" font-family="system-ui, sans-serif" font-size="${num(text)}">`,
    `<title>${escaped(drawing.file)}</title>`,
    `<rect x="${num(x)}" y="${num(y)}" width="${num(w)}" height="${num(h)}" fill="#fff"/>`,
    ...plates.map((p) => platePart(p, text)),
    ...drawing.openChains.map((c) => chainPart(c.segments, c.start, c.end, text)),
    ...plates.map((p) => numbers(p, text)),
    ...marks.map((f, i) => mark(f, i + 1, text)),
    `<text x="${num(box.min.x)}" y="${num(below)}" font-weight="700" font-size="${num(1.4 * text)}">${num(width)} × ${num(height)} mm</text>`,
    ...words.map(
      (line, i) =>
        `<text x="${num(box.min.x)}" y="${num(below + (i + 1.4) * 1.5 * text)}" fill="${INK}">${escaped(line)}</text>`,
    ),
    "</svg>\n",
  ].join("\n");
}

function wholeOf(drawing: Drawing, plates: readonly Plate[]): Box {
  const segments = [
    ...plates.flatMap((p) => p.outer.segments),
    ...drawing.openChains.flatMap((c) => c.segments),
  ];
  if (segments.length === 0) return { min: { x: 0, y: 0 }, max: { x: 100, y: 40 } };
  return boundsOf(segments);
}

function marksOf(drawing: Drawing): Finding[] {
  const all = [...drawing.findings, ...drawing.repairs].filter((f) => f.at !== undefined);
  const order = { stop: 0, warn: 1, note: 2 } as const;
  return all.sort((a, b) => order[a.severity] - order[b.severity]).slice(0, MARKS_MOST);
}

function wrapped(sentence: string): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of sentence.split(/\s+/)) {
    if (line !== "" && line.length + word.length >= LINE) {
      lines.push(line);
      line = "   ";
    }
    line += line === "" || line === "   " ? word : ` ${word}`;
  }
  return [...lines, line];
}

function platePart(p: Plate, text: number): string {
  const through = p.features.filter((f) => f.kind !== "recess");
  const recesses = p.features.filter((f) => f.kind === "recess");
  const d = [p.outer, ...through.map((f) => f.contour)].map((c) => path(c.segments, true)).join("");
  const line = `stroke="${INK}" stroke-width="${num(text / 14)}"`;
  return [
    `<path d="${d}" fill="${PLATE}" fill-rule="evenodd" ${line}/>`,
    ...recesses.map(
      (f) => `<path d="${path(f.contour.segments, true)}" fill="#fff" fill-opacity=".5" ${line}/>`,
    ),
  ].join("");
}

function chainPart(segments: readonly Segment[], a: Point, b: Point, text: number): string {
  const line = `fill="none" stroke="${OPEN}" stroke-width="${num(text / 8)}"`;
  const ring = (p: Point): string =>
    `<circle cx="${num(p.x)}" cy="${num(-p.y)}" r="${num(text / 3)}" ${line}/>`;
  const dash = `stroke-dasharray="${num(text / 2)} ${num(text / 4)}"`;
  return `<path d="${path(segments, false)}" ${line} ${dash}/>${ring(a)}${ring(b)}`;
}

function numbers(p: Plate, text: number): string {
  const size = 0.7 * text;
  return p.features
    .slice(0, NUMBERED)
    .map((f) => {
      const box = boundsOf(f.contour.segments);
      const room = Math.min(box.max.x - box.min.x, box.max.y - box.min.y);
      const fit = Math.min(size, Math.max(room / 1.6, size / 2));
      return `<text x="${num(f.at.x)}" y="${num(-f.at.y + fit * 0.35)}" text-anchor="middle" font-size="${num(fit)}" fill="${INK}">${f.id + 1}</text>`;
    })
    .join("");
}

function mark(f: Finding, n: number, text: number): string {
  const [x, y] = f.at as readonly [number, number];
  const r = 0.75 * text;
  const label = `<text x="${num(x)}" y="${num(-y + 1.75 * r)}" text-anchor="middle" font-size="${num(0.7 * text)}" fill="#fff">${n}</text>`;
  return `<path d="M${num(x)} ${num(-y)}l${num(r)} ${num(2 * r)}h${num(-2 * r)}z" fill="${MARK}"/>${label}`;
}

function path(segments: readonly Segment[], closed: boolean): string {
  const first = segments[0];
  if (first === undefined) return "";
  return `M${xy(first.from)}${segments.map(step).join("")}${closed ? "Z" : ""}`;
}

function step(s: Segment): string {
  if (s.kind === "line") return `L${xy(s.to)}`;
  const r = num(s.radius);
  // Y is turned, so counter-clockwise is SVG's negative direction.
  const sweep = s.sweep > 0 ? 0 : 1;
  const large = Math.abs(s.sweep) > Math.PI ? 1 : 0;
  const end = `A${r} ${r} 0 ${large} ${sweep} ${xy(s.to)}`;
  // SVG draws nothing for an arc that ends where it begins.
  return isFullCircle(s) ? `A${r} ${r} 0 0 ${sweep} ${xy(pointAt(s, 0.5))}${end}` : end;
}

function xy(p: Point): string {
  return `${num(p.x)} ${num(-p.y)}`;
}

function num(v: number): string {
  return String(Number(v.toFixed(4)) + 0);
}

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;" };

function escaped(t: string): string {
  // Characters that XML 1.0 has no place for are left out.
  return t.replace(/[^\t\n\r\x20-\ufffd]/g, "").replace(/[&<>]/g, (c) => ENTITIES[c] as string);
}
