/** The player's controls and figures, built once; who changes them is `player.ts`. */

import type { PlayerData } from "../../core/jobsheet/motion/player-data.ts";
import { DEPTHS } from "./depth-scale.ts";

export interface Parts {
  readonly root: HTMLElement;
  readonly picture: HTMLElement;
  readonly stock: HTMLCanvasElement;
  readonly marks: HTMLCanvasElement;
  readonly program: HTMLSelectElement;
  readonly look: HTMLSelectElement;
  readonly pace: HTMLSelectElement;
  readonly clock: HTMLInputElement;
  readonly play: HTMLButtonElement;
  readonly back: HTMLButtonElement;
  readonly on: HTMLButtonElement;
  readonly line: HTMLInputElement;
  readonly lines: HTMLElement;
  readonly note: HTMLElement;
  readonly figures: Readonly<Record<FigureName, HTMLElement>>;
  readonly scale: HTMLElement;
  readonly depthNow: HTMLElement;
}

/** In the order in which they are shown. */
const FIGURES = ["Clock", "Z", "X", "Y", "Feed", "Moves at", "Spindle", "Cutter"] as const;
export type FigureName = (typeof FIGURES)[number];

/** Seconds of the machine's clock in one of the viewer's: 1 is as the machine does it. */
const PACES = [1, 4, 16, 60, 240];
const FIRST_PACE = 16;

export function element<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  className: string,
  ...children: readonly (Node | string)[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(tag);
  if (className !== "") made.className = `player-${className}`;
  made.append(...children);
  return made;
}

function labelled(text: string, control: HTMLElement, className = "field"): HTMLElement {
  return element("label", className, element("span", "", text), control);
}

export function option(text: string, value: number): HTMLOptionElement {
  const made = element("option", "", text);
  made.value = String(value);
  return made;
}

function button(text: string): HTMLButtonElement {
  const made = element("button", "", text);
  made.type = "button";
  return made;
}

function input(type: string): HTMLInputElement {
  const made = element("input", "");
  made.type = type;
  return made;
}

export function buildParts(data: PlayerData): Parts {
  const stock = element("canvas", "stock");
  const marks = element("canvas", "marks");
  stock.setAttribute("role", "img");
  const program = element("select", "");
  program.append(
    ...data.programs.map((p, i) => option(`${i + 1}: ${p.file.replace(/\.nc$/, "")}`, i)),
  );
  const pace = element("select", "");
  pace.append(...PACES.map((p) => option(p === 1 ? "as it runs" : `${p} times`, p)));
  pace.value = String(FIRST_PACE);
  const clock = input("range");
  clock.min = "0";
  clock.step = "1";
  const line = input("number");
  line.min = "1";
  line.inputMode = "numeric";
  const figures = Object.fromEntries(
    FIGURES.map((name) => [name, element("dd", "")]),
  ) as Parts["figures"];
  const parts = {
    stock,
    marks,
    program,
    pace,
    clock,
    line,
    figures,
    picture: element("div", "picture", stock, marks),
    look: element("select", ""),
    play: button("Play"),
    back: button("Block back"),
    on: button("Block on"),
    lines: element("ol", "lines"),
    note: element("p", "note"),
    scale: element("div", "scale"),
    depthNow: element("i", "now"),
  };
  parts.lines.setAttribute("aria-label", "Program text around the block");
  parts.note.setAttribute("role", "status");
  return { ...parts, root: arranged(parts) };
}

function arranged(parts: Omit<Parts, "root">): HTMLElement {
  const { figures } = parts;
  parts.scale.style.background = `linear-gradient(to right,${DEPTHS.join()})`;
  return element(
    "div",
    "all",
    element(
      "div",
      "choices",
      labelled("Program", parts.program),
      labelled("Look at", parts.look),
      labelled("Pace", parts.pace),
      labelled("Line", parts.line, "field player-short"),
    ),
    element("div", "view", parts.picture, element("div", "depth", parts.scale)),
    element(
      "div",
      "side",
      element(
        "dl",
        "figures",
        ...FIGURES.map((name) => element("div", "", element("dt", "", name), figures[name])),
      ),
      parts.lines,
    ),
    element(
      "div",
      "drive",
      labelled("Machine clock", parts.clock, "field player-clock"),
      element("div", "buttons", parts.play, parts.back, parts.on),
      parts.note,
    ),
  );
}
