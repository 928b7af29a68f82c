/**
 * Contours and labels to an SVG text in millimetres, Y turned down about the page's top, true arcs.
 *
 * Promise: reads back the same within 1e-6 mm; the page's lower-left corner comes back as (0, 0) of the reader,
 * so `shift` of the answer says what to add to get the coordinates that were written.
 */
import { isCircle } from "../geometry/contour.ts";
import { pointAt } from "../geometry/segment.ts";
import type { Arc, Box, Contour, Point, Segment } from "../geometry/shape.ts";
import { degrees, TAU } from "../geometry/trig.ts";
import type { DrawnLayer, Label } from "./write-dxf.ts";

export interface Style {
  readonly fill?: string | undefined;
  readonly stroke?: string | undefined;
  readonly strokeWidth?: number | undefined;
}

export interface StyledLayer extends DrawnLayer {
  readonly style?: Style | undefined;
  /** The contours are one shape with holes: even-odd, in one path. */
  readonly together?: boolean | undefined;
}

/** The SVG document of these layers on a page of this size. */
export function writeSvg(layers: readonly StyledLayer[], page: Box, title = ""): string {
  const w = page.max.x - page.min.x;
  const h = page.max.y - page.min.y;
  const frame: Frame = { x: page.min.x, top: page.max.y };
  const head = `<svg xmlns="http://www.w3.org/2000/svg" width="${number(w)}mm" height="${number(h)}mm" viewBox="0 0 ${number(w)} ${number(h)}">`;
  const body = layers.map((l) => group(l, frame));
  const named = title === "" ? [] : [`<title>${text(title)}</title>`];
  return `${[`<?xml version="1.0" encoding="UTF-8"?>`, head, ...named, ...body, "</svg>"].join("\n")}\n`;
}

interface Frame {
  readonly x: number;
  readonly top: number;
}

function group(layer: StyledLayer, f: Frame): string {
  const { fill = "none", stroke = "black", strokeWidth = 0.2 } = layer.style ?? {};
  const paint = `fill="${text(fill)}" stroke="${text(stroke)}" stroke-width="${number(strokeWidth)}" fill-rule="evenodd"`;
  const shapes =
    layer.together === true
      ? [`<path d="${layer.contours.map((c) => pathData(c, f)).join(" ")}"/>`]
      : layer.contours.map((c) => shape(c, f));
  const labels = (layer.labels ?? []).map((l) => label(l, f));
  return [`<g id="${text(layer.name)}" ${paint}>`, ...shapes, ...labels, "</g>"].join("\n");
}

function shape(c: Contour, f: Frame): string {
  if (isCircle(c)) {
    const { centre, radius } = c.segments[0] as Arc;
    const p = down(centre, f);
    return `<circle cx="${number(p.x)}" cy="${number(p.y)}" r="${number(radius)}"/>`;
  }
  return `<path d="${pathData(c, f)}"/>`;
}

/** Path data of a closed contour. */
function pathData(c: Contour, f: Frame): string {
  const first = c.segments[0];
  if (first === undefined) return "";
  const start = down(first.from, f);
  const parts = c.segments.flatMap(halves);
  return `M${number(start.x)} ${number(start.y)}${parts.map((s) => step(s, f)).join("")}Z`;
}

function step(s: Segment, f: Frame): string {
  const p = down(s.to, f);
  if (s.kind === "line") return `L${number(p.x)} ${number(p.y)}`;
  const large = Math.abs(s.sweep) > TAU / 2 ? 1 : 0;
  // Y is turned, and with it the direction of travel.
  const positive = s.sweep > 0 ? 0 : 1;
  return `A${number(s.radius)} ${number(s.radius)} 0 ${large} ${positive} ${number(p.x)} ${number(p.y)}`;
}

/** SVG finds an arc's centre from its ends: near a half or a full turn that is ill-conditioned, so halve it. */
function halves(s: Segment): Segment[] {
  if (s.kind === "line" || Math.abs(s.sweep) < TAU * 0.45) return [s];
  const n = Math.ceil(Math.abs(s.sweep) / (TAU * 0.3));
  const out: Segment[] = [];
  let from = s.from;
  for (let i = 1; i <= n; i++) {
    const to = i === n ? s.to : turned(s, (s.sweep * i) / n);
    out.push({ ...s, from, to, sweep: s.sweep / n });
    from = to;
  }
  return out;
}

function turned(s: Arc, angle: number): Point {
  return pointAt(s, angle / s.sweep);
}

function down(p: Point, f: Frame): Point {
  return { x: p.x - f.x, y: f.top - p.y };
}

function number(v: number): string {
  const text = v.toFixed(9).replace(/\.?0+$/, "");
  return text === "-0" ? "0" : text;
}

function label(l: Label, f: Frame): string {
  const p = down(l.at, f);
  const turn =
    l.angle === undefined || l.angle === 0
      ? ""
      : ` transform="rotate(${number(-degrees(l.angle))} ${number(p.x)} ${number(p.y)})"`;
  return `<text x="${number(p.x)}" y="${number(p.y)}" font-size="${number(l.height)}" font-family="sans-serif" text-anchor="middle" dominant-baseline="middle" fill="black" stroke="none"${turn}>${text(l.text)}</text>`;
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

function text(t: string): string {
  // Characters that XML 1.0 has no place for are left out.
  return t.replace(/[^\t\n\r\x20-\ufffd]/g, "").replace(/[&<>"']/g, (c) => ENTITIES[c] as string);
}
