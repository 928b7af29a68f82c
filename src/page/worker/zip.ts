/** Files as one zip, the same bytes for the same files: all of them bear one date. */
import { strToU8, zipSync } from "fflate";
import type { Bytes } from "./protocol.ts";

/** A zip's clock begins in 1980, and counts in the machine's own zone. */
const DATE = new Date(1980, 0, 1);

export function zipped(files: ReadonlyMap<string, string | Uint8Array>): Bytes {
  const entries = [...files].map(([name, content]) => [
    name,
    typeof content === "string" ? strToU8(content) : content,
  ]);
  return zipSync(Object.fromEntries(entries), { mtime: DATE }) as Bytes;
}
