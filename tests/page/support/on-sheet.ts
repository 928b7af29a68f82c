/** The player's picture asked by places on the sheet: what colour is there, and is any plate cut into. */

import type { Page } from "playwright-core";

/** Of the whole sheet's picture, from the sheet's edge to the picture's, mm: 6, or a fiftieth of a wide sheet. */
const PAD = 6;

/** The colours at places of the sheet frame, `[r, g, b]` each; of what was kept under a name. */
export async function coloursAt(
  page: Page,
  name: string,
  places: readonly (readonly [number, number])[],
  size: readonly [number, number],
): Promise<number[][]> {
  return page.evaluate(
    ([key, wanted, [width, height], pad]) => {
      const { kept = {} } = globalThis as unknown as { kept?: Record<string, Uint8ClampedArray> };
      const data = kept[key] ?? new Uint8ClampedArray();
      const canvas = document.querySelector(".player-stock") as HTMLCanvasElement;
      const scale = canvas.width / (width + 2 * pad);
      return wanted.map(([x, y]) => {
        const column = Math.floor((x + pad) * scale);
        const row = Math.floor((height + pad - y) * scale);
        const at = 4 * (row * canvas.width + column);
        return [...data.slice(at, at + 3)];
      });
    },
    [name, places, size, PAD] as const,
  );
}

export interface Inside {
  readonly pixels: number;
  /** Those that are not as they were at the beginning. */
  readonly touched: number;
}

/** Pixels well inside the plates, by the browser's own filling of their outlines. */
export async function insidePlates(page: Page, from: string, to: string): Promise<Inside> {
  return page.evaluate(
    ([a, b, pad]) => {
      const { kept = {} } = globalThis as unknown as { kept?: Record<string, Uint8ClampedArray> };
      const [before, after] = [kept[a] ?? [], kept[b] ?? []];
      const data = JSON.parse(document.getElementById("player-data")?.textContent ?? "{}");
      const chosen = document.querySelector("#player select") as HTMLSelectElement;
      const sheet = data.sheets[data.programs[Number(chosen.value)].sheet];
      const stock = document.querySelector(".player-stock") as HTMLCanvasElement;
      const mask = document.createElement("canvas");
      mask.width = stock.width;
      mask.height = stock.height;
      const context = mask.getContext("2d") as CanvasRenderingContext2D;
      const [left, , right, top] = sheet.box;
      const scale = mask.width / (right - left + 2 * pad);
      context.setTransform(scale, 0, 0, scale, (pad - left) * scale, (top + pad) * scale);
      context.lineWidth = 3 / scale;
      for (const { path } of sheet.plates) {
        context.globalCompositeOperation = "source-over";
        context.fill(new Path2D(path), "evenodd");
        // What the edge's line and the strokes' soft edges touch is no inside.
        context.globalCompositeOperation = "destination-out";
        context.stroke(new Path2D(path));
      }
      const { data: filled } = context.getImageData(0, 0, mask.width, mask.height);
      let [pixels, touched] = [0, 0];
      for (let i = 0; i < filled.length; i += 4) {
        if (filled[i + 3] !== 255) continue;
        pixels++;
        if ([0, 1, 2].some((k) => before[i + k] !== after[i + k])) touched++;
      }
      return { pixels, touched };
    },
    [from, to, PAD] as const,
  );
}
