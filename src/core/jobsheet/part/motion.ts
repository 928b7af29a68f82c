/**
 * Where the player stands, and its data. The sheet's only script; what it needs is in the sheet, as data that no
 * browser runs. Without scripts the part tells what is missing; on paper there is no such part.
 */

import { type Html, h, raw } from "../html.ts";
import type { PlayerData } from "../motion/player-data.ts";
import { PLAYER_DATA, PLAYER_PLACE } from "../motion/player-ids.ts";

export function motionPart(data: PlayerData): Html {
  const programs = data.programs.map((p) => p.file).join(", ");
  return h(
    "section",
    { "aria-labelledby": "motion", class: "screen" },
    h("h2", { id: "motion" }, "The motion"),
    h(
      "p",
      {},
      "Each program as it was read back from its own text, at the speeds that the machine reaches. The colour tells how deep ",
      "the sheet is cut so far. It shows what the program says, not where your clamps are.",
    ),
    h(
      "div",
      { id: PLAYER_PLACE },
      h("p", {}, `Here ${programs} would play, but this reader runs no scripts.`),
    ),
  );
}

export function motionData(data: PlayerData): Html {
  return h("script", { type: "application/json", id: PLAYER_DATA }, raw(jsonForScript(data)));
}

/** Text of a script ends at the first `</script`, and reads otherwise after `<!--`: no `<` is left in it. */
export function jsonForScript(value: unknown): string {
  return JSON.stringify(value).replace(/</g, "\\u003c");
}
