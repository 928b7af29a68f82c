/** Is it a tour of the instance, and what does it cost? Judged from the instance alone, by nothing of the solver's. */
import type { Instance } from "./instance.ts";

export interface Judged {
  readonly cost: number;
  /** What is wrong with it; nothing where it is a tour. */
  readonly faults: readonly string[];
}

/** `nodes` in the order in which they are visited, the first one included, the return to it not. */
export function judge(instance: Instance, nodes: readonly number[]): Judged {
  const { groups, before, costs, closed, startGroup } = instance;
  const faults: string[] = [];
  const when = groups.map((group, g) => {
    const visits = nodes.flatMap((n, at) => (group.includes(n) ? [at] : []));
    if (visits.length !== 1) faults.push(`group ${g + 1} is visited ${visits.length} times`);
    return visits[0] ?? -1;
  });
  if (nodes.length !== groups.length) faults.push(`${nodes.length} visits`);
  if (when[startGroup] !== 0) faults.push(`begins elsewhere than in group ${startGroup + 1}`);
  for (const [first, second] of before) {
    if ((when[first] ?? 0) >= (when[second] ?? 0)) {
      faults.push(`group ${second + 1} is visited before group ${first + 1}`);
    }
  }
  let cost = 0;
  const legs = nodes.slice(1).map((to, i) => [nodes[i] ?? 0, to]);
  if (closed) legs.push([nodes.at(-1) ?? 0, nodes[0] ?? 0]);
  for (const [from = 0, to = 0] of legs) {
    const c = costs[from]?.[to] ?? -1;
    // The way home is not bound by precedence: whatever it costs, it is the start that it leads to.
    if (c < 0) faults.push(`from node ${from + 1} no way leads to node ${to + 1}`);
    cost += c;
  }
  return { cost, faults };
}
