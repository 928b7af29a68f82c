/** The script in the job sheet is that of `src/page/player`. `npm run player` writes it anew. */
import { expect, test } from "vitest";
import { PLAYER_HASH, PLAYER_SCRIPT } from "../../../src/core/jobsheet/motion/player-text.ts";
import { playerScript, playerText, policyHash } from "./player-text.ts";

test("src/core/jobsheet/motion/player-text.ts is up to date", async () => {
  await expect(playerText(await playerScript())).toMatchFileSnapshot(
    "../../../src/core/jobsheet/motion/player-text.ts",
  );
});

test("the policy names the script by its hash", () => {
  expect(PLAYER_HASH).toBe(policyHash(PLAYER_SCRIPT));
});

test("the script stands in a page as it is: plain characters, nothing that ends or changes a script element", () => {
  expect(PLAYER_SCRIPT).toMatch(/^[\x20-\x7e\t\n]+$/);
  expect(PLAYER_SCRIPT).not.toMatch(/<\/script|<!--|<script/i);
});

test("it asks for nothing and stays small", () => {
  expect(PLAYER_SCRIPT).not.toMatch(
    /\bfetch\b|XMLHttpRequest|WebSocket|\bimport\b|\beval\b|Function\(|innerHTML|insertAdjacent|document\.write|https?:/,
  );
  expect(PLAYER_SCRIPT.length).toBeLessThan(20_000);
});
