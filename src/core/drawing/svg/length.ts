/**
 * Lengths, number lists, view boxes and transforms of SVG attributes (SVG 1.1 sec. 7, CSS Transforms 1).
 */
import { radians, tan } from "../../geometry/trig.ts";
import { type Affine, compose, IDENTITY, rotation, scaling, shift } from "../curve/affine.ts";

export type CssUnit =
  | ""
  | "px"
  | "mm"
  | "cm"
  | "in"
  | "pt"
  | "pc"
  | "q"
  | "%"
  | "em"
  | "ex"
  | "other";

export interface Length {
  readonly value: number;
  readonly unit: CssUnit;
}

const LENGTH = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*(%|[a-z]*)\s*$/i;
const UNITS: ReadonlySet<string> = new Set([
  "",
  "px",
  "mm",
  "cm",
  "in",
  "pt",
  "pc",
  "q",
  "%",
  "em",
  "ex",
]);

export function parseLength(text: string | undefined): Length | undefined {
  if (text === undefined) return undefined;
  const m = LENGTH.exec(text);
  if (m === null) return undefined;
  const unit = (m[2] ?? "").toLowerCase();
  return { value: Number(m[1]), unit: UNITS.has(unit) ? (unit as CssUnit) : "other" };
}

/** px for one of each absolute unit; px are user units inside a drawing (CSS Values and Units 3). */
const PX: Partial<Record<CssUnit, number>> = {
  "": 1,
  px: 1,
  mm: 96 / 25.4,
  cm: 960 / 25.4,
  in: 96,
  pt: 96 / 72,
  pc: 16,
  q: 24 / 25.4,
  // A font of 16 px, as browsers have where nothing else is said; plates are not drawn in it.
  em: 16,
  ex: 8,
};

/** A coordinate in user units; `whole` is what 100 % stands for. */
export function userUnits(text: string | undefined, otherwise: number, whole: number): number {
  const l = parseLength(text);
  if (l === undefined) return otherwise;
  if (l.unit === "%") return (l.value / 100) * whole;
  return l.value * (PX[l.unit] ?? 1);
}

const NUMBERS = /[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?/gi;

export function parseNumbers(text: string): number[] {
  return (text.match(NUMBERS) ?? []).map(Number);
}

export interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export function parseViewBox(text: string | undefined): ViewBox | undefined {
  const [x, y, width, height] = parseNumbers(text ?? "");
  if (x === undefined || y === undefined || width === undefined || height === undefined)
    return undefined;
  return width > 0 && height > 0 ? { x, y, width, height } : undefined;
}

/** From a view box to a viewport at (x, y) of this size (SVG 1.1 sec. 7.8). */
export function viewBoxMove(box: ViewBox, port: ViewBox, aspect: string | undefined): Affine {
  const [align = "xMidYMid", meet = "meet"] = (aspect ?? "")
    .trim()
    .split(/\s+/)
    .filter((w) => w !== "" && w !== "defer");
  let sx = port.width / box.width;
  let sy = port.height / box.height;
  if (align !== "none") sx = sy = meet === "slice" ? Math.max(sx, sy) : Math.min(sx, sy);
  const free = (side: "x" | "y"): number => {
    if (align === "none") return 0;
    const word = side === "x" ? align.slice(0, 4) : align.slice(4);
    const left = side === "x" ? port.width - sx * box.width : port.height - sy * box.height;
    return word.endsWith("Mid") ? left / 2 : word.endsWith("Max") ? left : 0;
  };
  const x = port.x + free("x") - sx * box.x;
  const y = port.y + free("y") - sy * box.y;
  return { a: sx, b: 0, c: 0, d: sy, e: x, f: y };
}

const FUNCTION = /([a-z]+)\s*\(([^)]*)\)/gi;

/** A list of transform functions; undefined where one of them is not known. */
export function parseTransform(text: string | undefined): Affine | undefined {
  if (text === undefined || text.trim() === "" || text.trim() === "none") return IDENTITY;
  let move: Affine = IDENTITY;
  let known = 0;
  for (const m of text.matchAll(FUNCTION)) {
    const next = transformFunction((m[1] ?? "").toLowerCase(), m[2] ?? "");
    if (next === undefined) return undefined;
    move = compose(move, next);
    known++;
  }
  return known === 0 ? undefined : move;
}

function transformFunction(name: string, text: string): Affine | undefined {
  const n = parseNumbers(text);
  const [x = 0, y = 0] = n;
  const angle =
    /rad\b/.test(text) && !/grad/.test(text)
      ? x
      : radians(/turn/.test(text) ? 360 * x : /grad/.test(text) ? 0.9 * x : x);
  switch (name) {
    case "matrix": {
      const [a, b, c, d, e, f] = n;
      if (n.length < 6) return undefined;
      return { a, b, c, d, e, f } as Affine;
    }
    case "translate":
      return shift(x * pxIn(text), y * pxIn(text));
    case "translatex":
      return shift(x * pxIn(text), 0);
    case "translatey":
      return shift(0, x * pxIn(text));
    case "scale":
      return scaling(x, n.length > 1 ? y : x);
    case "scalex":
      return scaling(x, 1);
    case "scaley":
      return scaling(1, x);
    case "rotate": {
      const [, cx = 0, cy = 0] = n;
      return compose(compose(shift(cx, cy), rotation(angle)), shift(-cx, -cy));
    }
    case "skewx":
      return { ...IDENTITY, c: tan(angle) };
    case "skewy":
      return { ...IDENTITY, b: tan(angle) };
    default:
      return undefined;
  }
}

/** CSS transforms may carry a unit; one unit for the whole function. */
function pxIn(text: string): number {
  const unit = /(mm|cm|in|pt|pc)\b/i.exec(text)?.[1]?.toLowerCase() as CssUnit | undefined;
  return unit === undefined ? 1 : (PX[unit] ?? 1);
}
