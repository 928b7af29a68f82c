/** The job file's schema, as docs hold it: the fields' units, ranges and descriptions are those of the command line. */
import schema from "../../../docs/job.schema.json" with { type: "json" };
import type { SchemaNode } from "../../core/job/json-schema.ts";

const JOB = schema as unknown as SchemaNode;

/** The node that describes `keys`; lists are gone through as if they were their items. */
export function nodeFor(...keys: readonly string[]): SchemaNode {
  let node = JOB;
  for (const key of keys) {
    const at = objectIn(node);
    node = at.properties?.[key] ?? {};
  }
  return node;
}

export function objectIn(node: SchemaNode): SchemaNode {
  if (typeof node.items === "object") return objectIn(node.items);
  if (node.properties !== undefined) return node;
  return node.anyOf?.find((n) => n.properties !== undefined) ?? node;
}

export function optionsOf(node: SchemaNode): readonly string[] {
  return (node.enum ?? []).map(String);
}
