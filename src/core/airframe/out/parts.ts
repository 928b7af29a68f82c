/**
 * The hardware that holds an airframe together: what, how many, and why that long.
 *
 * Screws are as long as what they pass and what they bite into, rounded up to a length that is sold. Bites are common
 * practice: 3 mm in a motor (more would reach its winding), 6 mm in a standoff, a nut's height and a turn
 * beyond a nut.
 */

import type { Screw } from "../../plate/screw.ts";
import type { Airframe } from "../build-plates.ts";
import { carriesTop } from "../setting.ts";
import { nutHeight, screwLength } from "../sizes.ts";

export interface HardwareItem {
  readonly item: string;
  readonly count: number;
  readonly use: string;
}

const IN_MOTOR = 3;
const IN_STANDOFF = 6;
const BEYOND_NUT = 0.5;
/** Stack screws carry the boards on soft spacers above the plates, up to the standoffs' height. */
const STACK_HEIGHT = 20;

export function hardware({ setting: s, camera, plates }: Airframe): HardwareItem[] {
  const { spec, levels, arms } = s;
  const items: HardwareItem[] = [];
  const add = (item: string, count: number, use: string): void => {
    if (count > 0) items.push({ item, count, use });
  };
  const screw = (size: Screw, through: number, more: number): string =>
    `${size} × ${screwLength(through + more)} screw`;
  const mount = s.separate ? levels.arms - levels.bottom : levels.bottom;
  const each =
    spec.motor.pairs === undefined && spec.motor.boltCircle !== undefined ? spec.motor.holes : 4;
  add("motor", arms.length, "as the airframe file says");
  add("propeller", arms.length, `${spec.propeller.diameter} mm; half of them turning left`);
  add(
    screw(spec.motor.screw, mount, IN_MOTOR),
    arms.length * each,
    "motors; check that none touches the winding",
  );
  const stackUp = Math.min(STACK_HEIGHT, spec.standoffs.height);
  add(screw(spec.stack.screw, levels.clamp, stackUp), 4, "stack, from below");
  add(`${spec.stack.screw} locking nut`, 4, "stack");
  add(`${spec.stack.screw} soft spacer`, 4, "under the boards");
  const inner = arms.filter((a) => a.root !== undefined && !a.root.innerIsStack).length;
  const nut = nutHeight(spec.arms.screw) + BEYOND_NUT;
  add(screw(spec.arms.screw, levels.clamp, nut), inner, "inner screws of the arms");
  add(`${spec.arms.screw} locking nut`, inner, "inner screws of the arms");
  if (!carriesTop(spec)) {
    const outer = arms.filter((a) => a.root !== undefined).length;
    add(screw(spec.arms.screw, levels.clamp, nut), outer, "outer screws of the arms");
    add(`${spec.arms.screw} locking nut`, outer, "outer screws of the arms");
  }
  for (const [height, count] of heights(s.standoffs.map((p) => p.height))) {
    add(`${spec.standoffs.screw} standoff ${height} mm`, count, "between the plates");
  }
  for (const [through, count] of heights(s.standoffs.map((_, i) => under(s, i)))) {
    add(screw(spec.standoffs.screw, through, IN_STANDOFF), count, "standoffs, from below");
  }
  // From above and below two screws share one standoff: they may not meet in it.
  add(
    screw(spec.standoffs.screw, levels.top - levels.topUnder, IN_STANDOFF),
    s.standoffs.length,
    "standoffs, from above",
  );
  if (camera !== undefined && camera.camera.bracket === undefined) {
    add(screw(camera.camera.screw, camera.thickness, IN_MOTOR), 4, "camera, two a side");
  }
  if (spec.straps !== undefined) {
    add(`battery strap ${spec.straps.width} mm`, spec.straps.at.length, "top plate");
  }
  return plates.length === 0 ? [] : items;
}

/** What the screw of a standoff passes: all of it on an arm's screw, the deck alone in a row. */
function under(s: Airframe["setting"], i: number): number {
  const { levels } = s;
  if (i < armCount(s)) return levels.clamp;
  return levels.deck - (levels.deck > levels.arms ? levels.arms : 0);
}

function armCount(s: Airframe["setting"]): number {
  if (!carriesTop(s.spec)) return 0;
  return s.arms.filter((a) => a.root !== undefined).length;
}

function heights(list: readonly number[]): [number, number][] {
  const counts = new Map<number, number>();
  for (const h of list) counts.set(round(h), (counts.get(round(h)) ?? 0) + 1);
  return [...counts];
}

function round(v: number): number {
  return Number(v.toFixed(2));
}

export function partsCsv(items: readonly HardwareItem[], plates: Airframe["plates"]): string {
  const rows = [
    ["item", "count", "use"],
    ...plates.map((p) => [
      `plate ${p.name}`,
      String(p.stands.length),
      `sheet ${p.sheet}, ${round(p.thickness)} mm`,
    ]),
    ...items.map((i) => [i.item, String(i.count), i.use]),
  ];
  return `${rows.map((r) => r.map(cell).join(",")).join("\r\n")}\r\n`;
}

/** RFC 4180; a cell that a spreadsheet would run as a formula is kept text. */
function cell(text: string): string {
  const safe = /^[=+\-@]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replace(/"/g, '""')}"` : safe;
}
