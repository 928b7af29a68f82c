/**
 * A regular DXF text as a document: layers, blocks, and the entities of model and paper space, each with its
 * groups in the order drawn. dxf-parser walks sections, tables and blocks; the entities are read by handlers
 * of our own, because its own drop spline weights, vertices beyond the count, and extrusions.
 *
 * Cost: O(n).
 */

import type { Group, Handler, Scanner } from "dxf-parser/dist/dxf-parser.js";
import DxfParser from "dxf-parser/dist/dxf-parser.js";
import { CUT_TYPES, type Regular } from "./regular.ts";

/** One entity: its type and its groups. */
export interface Entity {
  readonly type: string;
  readonly codes: readonly number[];
  readonly values: readonly (number | string)[];
  /** Vertices of a POLYLINE. */
  readonly vertices: readonly Entity[];
}

export interface Layer {
  readonly name: string;
  readonly off: boolean;
  readonly frozen: boolean;
}

export interface Block {
  readonly base: { readonly x: number; readonly y: number; readonly z: number };
  /** Defined in another drawing. */
  readonly external: boolean;
  readonly entities: readonly Entity[];
}

export interface Document {
  /** By the names of the regular text: `L0`, `B0`. */
  readonly layers: ReadonlyMap<string, Layer>;
  readonly blocks: ReadonlyMap<string, Block>;
  readonly entities: readonly Entity[];
}

/** Values of a group, in the order drawn. */
export function numbers(e: Entity, code: number): number[] {
  const found: number[] = [];
  for (let i = 0; i < e.codes.length; i++) {
    if (e.codes[i] === code) found.push(Number(e.values[i]));
  }
  return found;
}

export function number(e: Entity, code: number, otherwise: number): number {
  const at = e.codes.indexOf(code);
  return at < 0 ? otherwise : Number(e.values[at]);
}

export function textOf(e: Entity, code: number): string {
  const at = e.codes.indexOf(code);
  return at < 0 ? "" : String(e.values[at]);
}

/** XREF and XREF overlay, of the block flags (DXF reference, BLOCK, group 70). */
const EXTERNAL = 4 | 8;

export function documentOf(regular: Regular): Document {
  const parser = new DxfParser();
  for (const type of [...CUT_TYPES, "OTHER"]) parser.registerEntityHandler(handlerOf(type));
  const dxf = parser.parse(regular.text);
  const drawn = dxf?.tables?.layer?.layers ?? {};
  const layers = new Map<string, Layer>();
  regular.layers.forEach((name, i) => {
    const layer = drawn[`L${i}`];
    layers.set(`L${i}`, { name, off: layer?.visible === false, frozen: layer?.frozen === true });
  });
  const blocks = new Map<string, Block>();
  for (const [key, block] of Object.entries(dxf?.blocks ?? {})) {
    const { x = 0, y = 0, z = 0 } = block.position ?? {};
    blocks.set(key, {
      base: { x, y, z },
      external: ((block.type ?? 0) & EXTERNAL) !== 0,
      entities: (block.entities ?? []) as readonly Entity[],
    });
  }
  return { layers, blocks, entities: (dxf?.entities ?? []) as readonly Entity[] };
}

/** dxf-parser makes its handlers with `new`, hence a class. */
function handlerOf(type: string): new () => Handler {
  return class implements Handler {
    readonly ForEntityName = type;
    parseEntity(scanner: Scanner, group: Group): Entity {
      return readEntity(scanner, group);
    }
  };
}

function readEntity(scanner: Scanner, start: Group): Entity {
  const type = String(start.value);
  const codes: number[] = [];
  const values: (number | string)[] = [];
  const vertices: Entity[] = [];
  let group = scanner.next();
  while (group.code !== 0 && !scanner.isEOF()) {
    codes.push(group.code);
    values.push(group.value as number | string);
    group = scanner.next();
  }
  if (type === "POLYLINE") {
    while (group.code === 0 && group.value === "VERTEX") {
      const read = readVertex(scanner);
      vertices.push(read.vertex);
      group = read.next;
    }
    if (group.value === "SEQEND") scanner.next();
  }
  return { type, codes, values, vertices };
}

function readVertex(scanner: Scanner): { vertex: Entity; next: Group } {
  const codes: number[] = [];
  const values: (number | string)[] = [];
  let next = scanner.next();
  while (next.code !== 0 && !scanner.isEOF()) {
    codes.push(next.code);
    values.push(next.value as number | string);
    next = scanner.next();
  }
  return { vertex: { type: "VERTEX", codes, values, vertices: [] }, next };
}
