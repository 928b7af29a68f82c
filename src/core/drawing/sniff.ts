/**
 * What a file is, by its first bytes: content before extension, because a download is often something else.
 */

export type Sniffed =
  | { readonly format: "dxf" | "svg" }
  | { readonly format: "none"; readonly what: string };

const LOOK = 4096;

export function sniff(file: string, content: Uint8Array | string, isBinaryDxf: boolean): Sniffed {
  if (isBinaryDxf) return { format: "dxf" };
  if (content.length === 0) return none("an empty file");
  const raw = head(content);
  for (const [start, what] of MAGIC) if (raw.startsWith(start)) return none(what);
  const text = raw
    .replace(/\0/g, "")
    .replace(/^(?:\u00ef\u00bb\u00bf|\u00ff\u00fe|\u00fe\u00ff|\ufeff)/, "")
    .trimStart();
  if (text === "") return none("a file of blanks");
  if (text.startsWith("version https://git-lfs")) {
    return none("a pointer kept in place of a large file that was not downloaded");
  }
  if (text.startsWith("<")) {
    if (/<(?:\w+:)?svg[\s>]/i.test(text) && !/<html[\s>]/i.test(text)) return { format: "svg" };
    if (/<!doctype html|<html[\s>]/i.test(text)) return none("a web page");
    return file.toLowerCase().endsWith(".svg") ? { format: "svg" } : none("some other XML");
  }
  if (
    /^(?:[ \t]*999[ \t]*\r?\n.*\r?\n|[ \t]*\r?\n)*[ \t]*0[ \t]*(?:\r\n|\r|\n)[ \t]*(?:SECTION|EOF)/i.test(
      text,
    )
  )
    return { format: "dxf" };
  if (/(?:^|[\r\n])[ \t]*SECTION[ \t]*[\r\n]/i.test(text)) return { format: "dxf" };
  return file.toLowerCase().endsWith(".svg")
    ? { format: "svg" }
    : none("no DXF or SVG by its content");
}

function none(what: string): Sniffed {
  return { format: "none", what };
}

/** First bytes of what people mistake for a drawing. */
const MAGIC: readonly (readonly [string, string])[] = [
  ["%PDF", "a PDF"],
  ["PK\u0003\u0004", "a ZIP archive"],
  ["\u001f\u008b", "a compressed file"],
  ["\u0089PNG", "a picture"],
  ["\u00ff\u00d8\u00ff", "a picture"],
  ["GIF8", "a picture"],
  ["%!PS", "a PostScript file"],
  ["ISO-10303", "a STEP file"],
  ["solid ", "an STL file"],
  ["AC10", "a DWG"],
];

function head(content: Uint8Array | string): string {
  if (typeof content === "string") return content.slice(0, LOOK);
  let text = "";
  for (const b of content.subarray(0, LOOK)) text += String.fromCharCode(b);
  return text;
}
