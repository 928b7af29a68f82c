/**
 * Drilling cycles G81, G82 and G83, expanded into their moves (NISTIR 6556, sec. 3.5.16).
 *
 * R and Z stay in force while the same cycle does. In G91, X, Y and R count from where the cutter
 * stands, Z from R, and L repeats the step. G98 rises to where the cycle began, G99 to R.
 */
import { type Block, letterBit, letterIndex } from "./scan.ts";
import { aim, moveTo, placeOf, report, type State, X, Y, Z } from "./state.ts";

/** How far above the last peck the rapid stops: 0.010 in, as the standard's own source has it (from memory). */
const PECK_BACK_OFF = 0.254;
/** Beyond this a typing error in L or Q would fill the memory. */
const MOST_MOVES = 10_000;

interface Cycle {
  readonly code: number;
  readonly bottom: number;
  readonly r: number;
  readonly repeats: number;
  readonly stepX: number;
  readonly stepY: number;
}

const value = (block: Block, letter: string): number => block.values[letterIndex(letter)] as number;
const has = (block: Block, letter: string): boolean => (block.letters & letterBit(letter)) !== 0;

export function runCycle(state: State, block: Block, code: number): void {
  const why = takeSticky(state, block, code) ?? startCycle(state, block, code);
  if (why === undefined) return;
  state.findings.push(report("program-cycle", { column: 1, why }, placeOf(state)));
}

/** Drills, or answers why it cannot. */
function startCycle(state: State, block: Block, code: number): string | undefined {
  const { at, unit, absolute, cycle } = state;
  if (state.feed === 0) {
    state.findings.push(report("program-zero-feed", { column: 1 }, placeOf(state)));
  }
  const named = (has(block, "X") ? X : 0) | (has(block, "Y") ? Y : 0);
  if (state.unknown & ~(absolute ? named : 0)) {
    const text = `G${code / 10}`;
    state.findings.push(report("program-start-unknown", { column: 1, text }, placeOf(state)));
    return undefined;
  }
  const r = absolute ? cycle.r + (state.offset[2] as number) : (at[2] as number) + cycle.r;
  const bottom = absolute ? cycle.z + (state.offset[2] as number) : r + cycle.z;
  if (r < bottom) return "r-below-z";
  const repeats = has(block, "L") ? value(block, "L") : 1;
  const pecks = code === 830 ? Math.ceil((r - bottom) / cycle.peck) : 1;
  if (repeats * pecks * 3 > MOST_MOVES) return "too-many";
  const stepX = absolute || !has(block, "X") ? 0 : value(block, "X") * unit;
  const stepY = absolute || !has(block, "Y") ? 0 : value(block, "Y") * unit;
  drill(state, { code, bottom, r, repeats, stepX, stepY }, firstPlace(state, block));
  return undefined;
}

function firstPlace(state: State, block: Block): readonly [number, number] {
  const { at, unit, offset } = state;
  const base = state.absolute ? offset : at;
  return [
    has(block, "X") ? value(block, "X") * unit + (base[0] as number) : (at[0] as number),
    has(block, "Y") ? value(block, "Y") * unit + (base[1] as number) : (at[1] as number),
  ];
}

/** Takes Z, R, P and Q into force; answers why it cannot. */
function takeSticky(state: State, block: Block, code: number): string | undefined {
  const { cycle, unit } = state;
  const why = cycleWordsBad(state, block, code);
  if (why !== undefined) return why;
  if (has(block, "Z")) cycle.z = value(block, "Z") * unit;
  if (has(block, "R")) cycle.r = value(block, "R") * unit;
  if (has(block, "P")) cycle.dwell = value(block, "P");
  if (has(block, "Q")) cycle.peck = value(block, "Q") * unit;
  return undefined;
}

function cycleWordsBad(state: State, block: Block, code: number): string | undefined {
  const again = state.motion === code;
  if (state.inverse) return "inverse-time";
  if (!has(block, "X") && !has(block, "Y")) return "no-place";
  if (!again && !(has(block, "Z") && has(block, "R"))) return "no-depth";
  const repeats = has(block, "L") ? value(block, "L") : 1;
  if (repeats < 1 || !Number.isInteger(repeats)) return "repeats";
  if (code === 820 && !again && !has(block, "P")) return "no-dwell";
  if (code === 830 && !(has(block, "Q") ? value(block, "Q") > 0 : again)) return "no-peck";
  return undefined;
}

function drill(state: State, cycle: Cycle, first: readonly [number, number]): void {
  const { at } = state;
  const { r, bottom, code } = cycle;
  if ((at[2] as number) < r) toZ(state, r);
  const clear = state.retract === 980 ? Math.max(at[2] as number, r) : r;
  let [x, y] = first;
  for (let n = 0; n < cycle.repeats; n++) {
    aim(state, x, y, at[2] as number);
    moveTo(state, X | Y, undefined);
    toZ(state, r);
    if (code === 830) peck(state, cycle);
    else toZ(state, bottom, state.feed);
    if (code === 820) {
      state.steps.push({ kind: "dwell", line: state.line, seconds: state.cycle.dwell });
    }
    toZ(state, clear);
    x += cycle.stepX;
    y += cycle.stepY;
  }
}

function toZ(state: State, z: number, feed?: number): void {
  aim(state, state.at[0] as number, state.at[1] as number, z);
  moveTo(state, Z, feed);
}

function peck(state: State, cycle: Cycle): void {
  const depth = state.cycle.peck;
  for (let n = 1; ; n++) {
    const to = Math.max(cycle.bottom, cycle.r - n * depth);
    toZ(state, to, state.feed);
    if (to <= cycle.bottom) return;
    toZ(state, cycle.r);
    toZ(state, Math.min(to + PECK_BACK_OFF, cycle.r));
  }
}
