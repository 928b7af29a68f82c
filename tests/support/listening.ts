import type { Io } from "../../src/cli/io.ts";

/** A command's two streams, kept as text: nobody watches, no colour. */
export function listening(): { io: Io; said: { out: string; err: string } } {
  const said = { out: "", err: "" };
  const io: Io = {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    colourOut: false,
    colourErr: false,
    watched: false,
  };
  return { io, said };
}
