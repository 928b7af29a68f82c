/** The job file's schema as JSON Schema (draft 2020-12), for editors and for docs/job.schema.json. */
import { z } from "zod";
import { cutterSchema } from "./keys/cutter.ts";
import { machineSchema } from "./keys/machine.ts";
import { jobSchema } from "./schema.ts";

/** What this module and its readers need of a JSON Schema node. */
export interface SchemaNode {
  readonly type?: string;
  readonly description?: string;
  readonly unit?: string;
  readonly properties?: Readonly<Record<string, SchemaNode>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: boolean | SchemaNode;
  readonly items?: boolean | SchemaNode;
  readonly prefixItems?: readonly SchemaNode[];
  readonly anyOf?: readonly SchemaNode[];
  readonly enum?: readonly (string | number)[];
  readonly const?: string | number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
}

export type FileKind = "job" | "machine" | "cutter";

const SCHEMAS = { job: jobSchema, machine: machineSchema, cutter: cutterSchema } as const;

const made = new Map<FileKind, SchemaNode>();

/** As the file is written, so what has a default is not required. Made once, when first asked for. */
export function jsonSchemaOf(kind: FileKind): SchemaNode {
  const known = made.get(kind);
  if (known !== undefined) return known;
  const node = z.toJSONSchema(SCHEMAS[kind], { io: "input" }) as SchemaNode;
  made.set(kind, node);
  return node;
}
