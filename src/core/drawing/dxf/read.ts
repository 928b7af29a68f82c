/**
 * A DXF file to pieces in mm. Promise: ends on any bytes, and throws on none.
 */
import type { Finding } from "../../finding/finding.ts";
import { reportDrawing } from "../../finding/say-drawing.ts";
import { decode, latin1 } from "../bytes.ts";
import type { ReadOptions, Units } from "../drawing.ts";
import type { Pieces } from "../mend/piece.ts";
import { chosenUnits, unitOfCode } from "../units.ts";
import { documentOf } from "./document.ts";
import { placeDocument } from "./place.ts";
import { regularise } from "./regular.ts";
import { binaryTags, isBinary, type Tags, textTags } from "./tags.ts";

export interface DxfRead extends Pieces {
  readonly units: Units;
  /** Section names that were found. */
  readonly sections: ReadonlySet<string>;
}

export function readDxf(file: string, content: Uint8Array | string, options: ReadOptions): DxfRead {
  const early: Finding[] = [];
  const tags = tagsOf(file, content, options, early);
  const regular = regularise(file, tags);
  const doc = documentOf(regular);
  const declared = unitOfCode(regular.header.get("$INSUNITS"));
  const units = chosenUnits(declared, options);
  const placed = placeDocument(file, doc, units.factor, options);
  return {
    pieces: placed.pieces,
    ignored: placed.ignored,
    repairs: placed.repairs,
    findings: [...early, ...regular.findings, ...placed.findings],
    units,
    sections: regular.sections,
  };
}

/** Bytes in which the header's encoding and version are looked for. */
const HEAD = 100_000;

function tagsOf(
  file: string,
  content: Uint8Array | string,
  options: ReadOptions,
  findings: Finding[],
): Tags {
  if (typeof content === "string") return textTags(content.replace(/^\uFEFF/, ""));
  const head = latin1(content.subarray(0, HEAD));
  const page = /\$DWGCODEPAGE\s+3\s+(?:ansi_|dos)?(\d+)/i.exec(head)?.[1];
  // From AC1021 on (2007) every text is UTF-8.
  const modern = Number(/\$ACADVER\s+1\s+AC(\d{4})/.exec(head)?.[1] ?? 0) >= 1021;
  if (isBinary(content)) {
    return binaryTags(content, (b) => decode(b, page, modern, options.decodeText).text);
  }
  const read = decode(content, page, modern, options.decodeText);
  if (!read.exact)
    findings.push(
      reportDrawing("names-undecoded", { encoding: read.encoding }, { drawing: { file } }),
    );
  return textTags(read.text);
}
