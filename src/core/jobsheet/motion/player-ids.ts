/** By what the job sheet's script finds the player's place and data. */
export const PLAYER_PLACE = "player";
export const PLAYER_DATA = "player-data";
