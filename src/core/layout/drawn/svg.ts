/**
 * SVG as text: numbers, escaping, paths of contours. Drawings have Y up and SVG has Y down, so every Y is
 * written negated and nothing needs a transform.
 */
import { isFullCircle, pointAt } from "../../geometry/segment.ts";
import type { Contour, Point, Segment } from "../../geometry/shape.ts";

/** At most three decimals, no trailing zeros, never −0. */
export function num(value: number): string {
  const rounded = Number(value.toFixed(3));
  return String(rounded === 0 ? 0 : rounded);
}

/** Text for element content and for attributes in either kind of quotes; control characters go. */
export function escapeText(text: string): string {
  return (
    text
      // biome-ignore lint/suspicious/noControlCharactersInRegex: XML has no way to say them.
      .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udfff]/gu, "\ufffd")
      .replace(/&/g, "&amp;")
      .replace(/</g, "&lt;")
      .replace(/>/g, "&gt;")
      .replace(/"/g, "&quot;")
      .replace(/'/g, "&#39;")
  );
}

export function xy(p: Point): string {
  return `${num(p.x)} ${num(-p.y)}`;
}

/** A closed contour as path data. */
export function pathOf(contour: Contour): string {
  const first = contour.segments[0];
  if (first === undefined) return "";
  return `M${xy(first.from)}${contour.segments.map(stepOf).join("")}Z`;
}

function stepOf(s: Segment): string {
  if (s.kind === "line") return `L${xy(s.to)}`;
  const r = num(s.radius);
  // Y is turned, so counter-clockwise is SVG's negative direction.
  const sweep = s.sweep > 0 ? 0 : 1;
  const large = Math.abs(s.sweep) > Math.PI ? 1 : 0;
  const end = `A${r} ${r} 0 ${large} ${sweep} ${xy(s.to)}`;
  // SVG draws nothing for an arc that ends where it begins.
  return isFullCircle(s) ? `A${r} ${r} 0 0 ${sweep} ${xy(pointAt(s, 0.5))}${end}` : end;
}
