/** From plates on sheets to programs read back. */
import { type Finding, stops } from "../../finding/finding.ts";
import { once } from "../../geometry/remember.ts";
import type { SheetLayout } from "../../layout/layout.ts";
import type { Feedback } from "../../motion/wear/feedback.ts";
import { splitter } from "../../motion/wear/split.ts";
import type { Routed } from "../../toolpath/cut.ts";
import {
  beginRoute,
  joinRoutes,
  type RouteOptions,
  type SheetRoute,
} from "../../toolpath/route.ts";
import type { Job } from "../job.ts";
import type { Runner } from "../work/errands.ts";
import { keyOf, type PlanMemory } from "../work/memory.ts";
import { splitInput } from "./account/reckon.ts";
import { beginPrograms, type Made } from "./programs.ts";
import { type SentChecks, sentChecks } from "./proving.ts";

export interface CutSheets {
  readonly routed: Routed;
  readonly sent: SentChecks;
  /** On cutters that are worn out between. */
  readonly worn: () => readonly Finding[];
  readonly finish: () => readonly Made[];
}

export interface CutHow extends Pick<RouteOptions, "orderSteps" | "trial"> {
  readonly say: (stage: string) => void;
  readonly feedback: Feedback;
  readonly memory: PlanMemory;
  readonly elsewhere: Runner;
}

/**
 * Sheet by sheet from cuts to programs read back, so that the first sheet's proof begins before the second is routed. Once
 * a sheet is stopped, the others are routed for what there is to say of them.
 */
export function cutSheets(
  job: Job,
  layouts: readonly SheetLayout[],
  { say, feedback, memory, elsewhere, ...how }: CutHow,
): CutSheets {
  const routes = routesOf(job, layouts, how, memory);
  const sent = sentChecks(job, layouts, () => routes.flatMap((r) => r.heads()), elsewhere);
  const wear = splitter(splitInput(job, feedback, memory));
  const making = beginPrograms(job, memory);
  const routed: Routed[] = [];
  let stopped = false;
  for (const { route } of routes) {
    say("routing");
    const sheet = route();
    routed.push(sheet);
    stopped ||= stops(sheet.findings);
    if (stopped) continue;
    const parts = wear.split(sheet.programs);
    say("writing programs");
    sent.send(making.add(parts), sheet.tabs);
  }
  sent.sendRest();
  return { routed: joinRoutes(routed), sent, worn: wear.findings, finish: making.finish };
}

interface RememberedRoute {
  readonly heads: () => SheetRoute["heads"];
  readonly route: () => Routed;
}

function routesOf(
  job: Job,
  layouts: readonly SheetLayout[],
  how: Pick<RouteOptions, "orderSteps" | "trial">,
  { recall, id }: PlanMemory,
): RememberedRoute[] {
  const cutters = job.cutters.map(({ place: _place, ...cutter }) => cutter);
  const { cutting: options, machine } = job;
  return layouts.map((layout) => {
    const begin = once(() => beginRoute(layout, { cutters, options, machine, ...how }));
    const key = (): string => keyOf(id(layout), cutters, options, machine, how);
    return { heads: () => begin().heads, route: () => recall("route", key, () => begin().route()) };
  });
}
