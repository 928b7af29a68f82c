/** Changes of a program that change nothing about what it cuts: other notation, other numbers for the same places. */
import type { Random } from "../../../src/core/geometry/seeded.ts";
import { readProgram } from "../../../src/core/program/read/read.ts";
import type { TraceMove } from "../../../src/core/program/read/trace.ts";
import { movesOf } from "./oracle.ts";

export interface Style {
  readonly name: string;
  /** Other numbers are made from the writer's own notation, so they come before another notation. */
  readonly what: "notation" | "numbers";
  /** Undefined where the program is no such one as the style is made from. */
  readonly restyle: (text: string, random: Random) => string | undefined;
}

const n4 = (v: number): string => String(Number(v.toFixed(4)));
const n5 = (v: number): string => String(Number(v.toFixed(5)));
const isCode = (line: string): boolean => line !== "" && !/^[(%]/.test(line);
const eachCode = (text: string, edit: (line: string, i: number) => string): string =>
  text
    .split("\n")
    .map((line, i) => (isCode(line) ? edit(line, i) : line))
    .join("\n");

/** In mm, absolute, with centres: what weftcut writes. */
const plain = (text: string): boolean => /^G21$/m.test(text) && !/^G91$/m.test(text);

function moveOfLine(text: string): Map<number, TraceMove> {
  return new Map(movesOf(readProgram("", text)).map((m) => [m.line, m]));
}

export const STYLES: readonly Style[] = [
  {
    name: "comments",
    what: "notation",
    restyle: (text, random) =>
      eachCode(text, (line) => (random() < 0.2 ? `(checked)\n${line}` : line)),
  },
  {
    name: "line numbers",
    what: "notation",
    restyle: (text) =>
      eachCode(text, (line, i) => (/^N\d/i.test(line) ? line : `N${(i * 10) % 100000} ${line}`)),
  },
  {
    name: "spacing and case",
    what: "notation",
    restyle: (text, random) =>
      eachCode(text, (line) => {
        const spread = line.replace(/([A-Z])(-?[\d.])/gi, "$1 $2");
        return random() < 0.5 ? spread.toLowerCase() : line.replaceAll(" ", "");
      }),
  },
  {
    name: "zeros and signs",
    what: "notation",
    restyle: (text) =>
      eachCode(text, (line) =>
        line
          .replace(/\bG([0-3])(?!\d)/g, "G0$1")
          .replace(/([XYZIJ])(\d)/g, "$1+$2")
          .replace(/([XYZIJ][-+]?)0\./g, "$1."),
      ),
  },
  {
    name: "the feed again and again",
    what: "numbers",
    restyle: (text) => {
      let feed = "";
      return eachCode(text, (line) => {
        feed = /F[\d.]+/i.exec(line)?.[0] ?? feed;
        const bare =
          feed === "" || /[FM]/i.test(line) || !/[XYZ]/i.test(line) || /G8[0-9]/i.test(line);
        return bare || line.length > 55 ? line : `${line} ${feed}`;
      });
    },
  },
  {
    name: "a straight way in two",
    what: "numbers",
    restyle: (text, random) => {
      if (!plain(text)) return undefined;
      const moves = moveOfLine(text);
      return eachCode(text, (line, i) => {
        const m = moves.get(i + 1);
        const flat = m?.kind === "feed" && m.arc === undefined && m.z0 === m.z1;
        // Along an axis the middle lies on the line, whatever its rounding.
        if (!(m && flat && (m.x0 === m.x1 || m.y0 === m.y1)) || random() < 0.5) return line;
        const half = `X${n4((m.x0 + m.x1) / 2)} Y${n4((m.y0 + m.y1) / 2)}`;
        return `G1 ${half}${/ F[\d.]+/.exec(line)?.[0] ?? ""}\n${line}`;
      });
    },
  },
  {
    name: "arcs by radius",
    what: "numbers",
    restyle: (text) => {
      if (!plain(text)) return undefined;
      const moves = moveOfLine(text);
      return eachCode(text, (line, i) => {
        const { arc } = moves.get(i + 1) ?? {};
        // Near a half turn a radius of four decimals does not tell the centre.
        if (arc === undefined || Math.abs(arc.sweep) > 2.6) return line;
        return `${line.replace(/ [IJ]-?[\d.]+/g, "")} R${n4(arc.radius)}`;
      });
    },
  },
  {
    name: "inches",
    what: "numbers",
    restyle: (text) => {
      if (!plain(text)) return undefined;
      return eachCode(text, (line) =>
        line
          .replace(/^G21$/, "G20")
          .replace(/([XYZIJRF])(-?[\d.]+)/g, (_, letter: string, v: string) => {
            return `${letter}${letter === "F" ? n4(Number(v) / 25.4) : n5(Number(v) / 25.4)}`;
          }),
      );
    },
  },
  {
    name: "steps instead of places",
    what: "numbers",
    restyle: (text) => {
      if (!plain(text)) return undefined;
      const moves = moveOfLine(text);
      let relative = false;
      return eachCode(text, (line, i) => {
        const m = moves.get(i + 1);
        if (m === undefined) return line;
        // The first places are told as they are; from the first feed on, all are steps.
        if (!relative && m.kind === "rapid") return line;
        const step: Readonly<Record<string, number>> = {
          X: m.x1 - m.x0,
          Y: m.y1 - m.y0,
          Z: m.z1 - m.z0,
        };
        const made = line.replace(/([XYZ])-?[\d.]+/g, (_, a: string) => `${a}${n4(step[a] ?? 0)}`);
        if (relative) return made;
        relative = true;
        return `G91\n${made}`;
      });
    },
  },
];
