/**
 * The player of motion: what programs do to a sheet, moment by moment, from their own text as it was read back.
 *
 * It belongs to no page: it is given an element and data, and asks for nothing else. Nothing moves until it is told
 * to; with reduced motion asked for, the picture changes twice a second instead of flowing.
 */

import { EVENTS, KIND } from "../../core/jobsheet/motion/encode.ts";
import type { BoxJson, PlayerData } from "../../core/jobsheet/motion/player-data.ts";
import { showDepth, showLegend } from "./legend.ts";
import { drawMarks, type Moment } from "./marks.ts";
import { newPainter, type Painter, paintTo } from "./painter.ts";
import { buildParts, option, type Parts } from "./parts.ts";
import { put, showFigures, showLines, spoken } from "./readout.ts";
import {
  at,
  momentAt,
  placeAt,
  type Stage,
  secondsAt,
  stageOf,
  stepOfLine,
  type Take,
} from "./stage.ts";

export interface Player {
  /** Shows a program at a line; false where there is no such program. */
  readonly show: (file: string, line: number) => boolean;
  /** Stops, and leaves the element empty. */
  readonly close: () => void;
}

interface State {
  readonly data: PlayerData;
  readonly parts: Parts;
  readonly stages: Map<number, Stage | undefined>;
  readonly texts: Map<Take, readonly string[]>;
  stage: Stage;
  take: Take;
  step: number;
  share: number;
  painter: Painter | undefined;
  playing: boolean;
  /** Of the last frame, ms. */
  last: number;
  frame: number;
}

/** Of the slider, for each second: a millisecond is finer than a finger and a key steps by blocks anyway. */
const PER_SECOND = 1000;
/** ms in which a frame may paint; what is left is painted in the next. */
const BUDGET = 12;
/** A frame that came later than this was held up by something else: the clock does not leap. */
const LONGEST_FRAME = 100;
/** ms between pictures where reduced motion is asked for. */
const STILL = 500;
const BLOCKS_AT_ONCE = 100;
/** Share of the window's height that the picture takes at most. */
const TALLEST = 0.58;
const MOST_PIXELS = 1600;

export function mountPlayer(host: HTMLElement, data: PlayerData): Player | undefined {
  const stages = new Map<number, Stage | undefined>();
  const first = takeOf(data, stages, 0);
  if (first === undefined) return undefined;
  const parts = buildParts(data);
  const state: State = {
    data,
    parts,
    stages,
    texts: new Map(),
    ...first,
    step: 0,
    share: 0,
    painter: undefined,
    playing: false,
    last: 0,
    frame: 0,
  };
  host.replaceChildren(parts.root);
  listen(state);
  chooseProgram(state, 0);
  const resized = new ResizeObserver(() => layOut(state));
  resized.observe(parts.picture.parentElement ?? parts.picture);
  return {
    show: (file, line) => {
      const program = data.programs.findIndex((p) => p.file === file);
      if (program < 0) return false;
      chooseProgram(state, program);
      goToLine(state, line);
      return true;
    },
    close: () => {
      resized.disconnect();
      cancelAnimationFrame(state.frame);
      host.replaceChildren();
    },
  };
}

function takeOf(
  data: PlayerData,
  stages: Map<number, Stage | undefined>,
  program: number,
): { stage: Stage; take: Take } | undefined {
  const wanted = data.programs[program];
  if (wanted === undefined) return undefined;
  if (!stages.has(wanted.sheet)) stages.set(wanted.sheet, stageOf(data, wanted.sheet));
  const stage = stages.get(wanted.sheet);
  const take = stage?.takes.find((t) => t.program === wanted);
  return stage === undefined || take === undefined || take.motion.count === 0
    ? undefined
    : { stage, take };
}

function listen(state: State): void {
  const { parts } = state;
  parts.program.addEventListener("change", () => chooseProgram(state, Number(parts.program.value)));
  parts.look.addEventListener("change", () => layOut(state));
  parts.play.addEventListener("click", () => setPlaying(state, !state.playing));
  parts.back.addEventListener("click", () => stepBy(state, -1));
  parts.on.addEventListener("click", () => stepBy(state, 1));
  parts.line.addEventListener("change", () => goToLine(state, Number(parts.line.value)));
  parts.clock.addEventListener("input", () => {
    setPlaying(state, false);
    goTo(state, momentAt(state.take.motion, Number(parts.clock.value) / PER_SECOND));
  });
  parts.clock.addEventListener("keydown", (event) => {
    const blocks = BLOCKS_OF_KEY[event.key];
    if (blocks === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    stepBy(state, blocks);
  });
}

const BLOCKS_OF_KEY: Readonly<Record<string, number>> = {
  ArrowLeft: -1,
  ArrowDown: -1,
  ArrowRight: 1,
  ArrowUp: 1,
  PageDown: -BLOCKS_AT_ONCE,
  PageUp: BLOCKS_AT_ONCE,
};

function chooseProgram(state: State, program: number): void {
  const { parts } = state;
  const found = takeOf(state.data, state.stages, program);
  setPlaying(state, false);
  if (found === undefined) {
    put(parts.note, "This program moves nothing.");
    return;
  }
  const sameSheet = state.painter?.stage === found.stage;
  Object.assign(state, found);
  parts.program.value = String(program);
  const { motion } = state.take;
  parts.clock.max = String(Math.ceil(at(motion.end, motion.count - 1) * PER_SECOND));
  parts.line.max = String(textOf(state).length);
  if (!sameSheet) {
    offerViews(state);
    showLegend(parts, state.stage);
    layOut(state);
  }
  goTo(state, { step: 0, share: 0 });
}

function offerViews({ parts, stage }: State): void {
  parts.look.replaceChildren(
    option("whole sheet", -1),
    ...stage.sheet.plates.map((plate, i) => option(plate.name, i)),
  );
  parts.stock.setAttribute(
    "aria-label",
    `Sheet ${stage.sheet.name} from above, with what is cut away so far; the figures tell where the cutter is.`,
  );
}

/** As large as there is room; a change paints anew. */
function layOut(state: State): void {
  const { parts, stage } = state;
  const room = parts.picture.parentElement?.clientWidth ?? 0;
  if (room === 0) return;
  const box = viewBox(stage, Number(parts.look.value));
  const shape = (box[3] - box[1]) / (box[2] - box[0]);
  const wide = Math.max(1, Math.min(room, (TALLEST * innerHeight) / shape));
  const width = Math.round(Math.min(wide * devicePixelRatio, MOST_PIXELS));
  const height = Math.max(1, Math.round(width * shape));
  const view = { box, width, height, fine: width / wide };
  const now = state.painter?.view;
  if (now !== undefined && state.painter?.stage === stage) {
    if (now.width === view.width && now.box.join() === box.join()) return;
  }
  for (const canvas of [parts.picture, parts.stock, parts.marks]) {
    canvas.style.width = `${wide}px`;
    canvas.style.height = `${wide * shape}px`;
  }
  parts.marks.width = view.width;
  parts.marks.height = view.height;
  state.painter = newPainter(stage, view, parts.stock);
  draw(state);
}

/** With a little of what is around. */
function viewBox({ sheet }: Stage, plate: number): BoxJson {
  const box = sheet.plates[plate]?.box ?? sheet.box;
  const pad = Math.max(6, 0.02 * (sheet.box[2] - sheet.box[0]));
  return [box[0] - pad, box[1] - pad, box[2] + pad, box[3] + pad];
}

function goTo(state: State, { step, share }: { step: number; share: number }): void {
  const last = state.take.motion.count - 1;
  state.step = Math.max(0, Math.min(step, last));
  state.share = step < 0 ? 0 : step > last ? 1 : share;
  put(state.parts.note, "");
  draw(state);
}

/** Forward to where the block ends, back to where the one before it ended. */
function stepBy(state: State, blocks: number): void {
  setPlaying(state, false);
  const under = blocks > 0 && state.share < 1 ? 1 : 0;
  goTo(state, { step: state.step + blocks - under, share: 1 });
}

function goToLine(state: State, line: number): void {
  const { parts, take } = state;
  setPlaying(state, false);
  if (!(line >= 1)) return;
  goTo(state, { step: stepOfLine(take.motion, Math.round(line)), share: 1 });
  const shown = at(take.motion.line, state.step);
  if (shown !== Math.round(line)) {
    put(parts.note, `Line ${Math.round(line)} moves nothing: shown is line ${shown}.`);
  }
}

function setPlaying(state: State, playing: boolean): void {
  const { parts, take } = state;
  state.playing = playing;
  put(parts.play, playing ? "Pause" : "Play");
  if (!playing) return;
  if (state.step >= take.motion.count - 1 && state.share >= 1) {
    goTo(state, { step: 0, share: 0 });
  }
  put(parts.note, "");
  state.last = 0;
  wake(state);
}

function wake(state: State): void {
  cancelAnimationFrame(state.frame);
  state.frame = requestAnimationFrame((now) => tick(state, now));
}

function tick(state: State, now: number): void {
  const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
  if (state.playing) {
    const gone = state.last === 0 ? 0 : now - state.last;
    if (still && state.last !== 0 && gone < STILL) {
      wake(state);
      return;
    }
    state.last = now;
    // What is not painted yet holds the clock up, so that picture and figures stay together.
    if (isPainted(state)) advance(state, Math.min(gone, still ? 2 * STILL : LONGEST_FRAME) / 1000);
  }
  draw(state);
}

function isPainted({ painter, take, step, share }: State): boolean {
  return painter === undefined || painter.done === take.first + step + share;
}

function advance(state: State, seconds: number): void {
  const { take, parts } = state;
  const { motion } = take;
  const from = state.step;
  const now = secondsAt(motion, state.step, state.share) + seconds * Number(parts.pace.value);
  const next = momentAt(motion, now);
  for (let i = from + 1; i <= next.step; i++) {
    if (at(motion.kind, i) !== KIND.event || EVENTS[at(motion.event, i)] !== "stop") continue;
    Object.assign(state, { step: i, share: 1 });
    setPlaying(state, false);
    put(parts.note, "The program stops here, and goes on when it is told to.");
    return;
  }
  if (next.step > state.step || next.share > state.share) Object.assign(state, next);
  if (now < at(motion.end, motion.count - 1)) return;
  Object.assign(state, { step: motion.count - 1, share: 1 });
  setPlaying(state, false);
  put(parts.note, "The program's end.");
}

function draw(state: State): void {
  const { parts, stage, take, step, share, painter } = state;
  const moment: Moment = { take, step, share };
  const line = at(take.motion.line, step);
  showFigures(parts, stage, moment);
  showDepth(parts, stage, placeAt(take.motion, step, share).z);
  showLines(parts, textOf(state), line);
  parts.clock.value = String(Math.round(secondsAt(take.motion, step, share) * PER_SECOND));
  parts.clock.setAttribute("aria-valuetext", spoken(moment));
  if (document.activeElement !== parts.line) parts.line.value = String(line);
  if (painter === undefined) return;
  const marks = parts.marks.getContext("2d");
  if (marks !== null) drawMarks(marks, stage, painter.view, moment);
  const there = paintTo(painter, take.first + step + share, performance.now() + BUDGET);
  parts.root.classList.toggle("player-busy", !there);
  if (!there || state.playing) wake(state);
}

function textOf({ texts, take }: State): readonly string[] {
  const known = texts.get(take);
  if (known !== undefined) return known;
  const lines = take.program.text.split(/\r?\n/);
  texts.set(take, lines);
  return lines;
}
