/**
 * What the job sheet runs: finds the player's place and its data in the sheet, and puts the player there. A link to
 * a program's line takes the player to it; what is ticked and typed is kept over a reload.
 */

import type { PlayerData } from "../../core/jobsheet/motion/player-data.ts";
import { PLAYER_DATA, PLAYER_PLACE } from "../../core/jobsheet/motion/player-ids.ts";
import { keepInputs } from "./kept-inputs.ts";
import { mountPlayer } from "./player.ts";

const inputs = [...document.querySelectorAll("input")];
const place = document.getElementById(PLAYER_PLACE);
const text = document.getElementById(PLAYER_DATA)?.textContent;
const player =
  place !== null && text ? mountPlayer(place, JSON.parse(text) as PlayerData) : undefined;

for (const link of document.querySelectorAll<HTMLElement>("a[data-line]")) {
  const { file, line } = link.dataset;
  link.addEventListener("click", () => player?.show(file ?? "", Number(line)));
}

if (text) keepInputs(inputs, text);
