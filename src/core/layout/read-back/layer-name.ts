/**
 * Names of a layout drawing's layers: `SHEET` for the sheet's edge, `PLATE arm 2` for the second arm.
 *
 * Drawing programs change names: letters become large, spaces become underlines, and what the format does not
 * take has become a hyphen. Keys are what is left of a name when all that is undone.
 */

export const SHEET_LAYER = "SHEET";

export function plateLayer(plate: string, copy: number): string {
  return `PLATE ${plate} ${copy}`;
}

/** Without the characters that layer names may not hold. */
export function plainName(name: string): string {
  return name.replace(/[<>/\\":;?*|=`,\p{Cc}]/gu, "-").slice(0, 120);
}

export function layerKey(name: string): string {
  return plainName(name)
    .toUpperCase()
    .replace(/[\s_]+/g, " ")
    .trim();
}

export function isPlateLayer(name: string): boolean {
  return layerKey(name).startsWith("PLATE ");
}

export function isSheetLayer(name: string): boolean {
  return layerKey(name) === SHEET_LAYER;
}
