/** From plates on sheets to programs read back. */
import type { TrialMaterial } from "../../cutting/cutter.ts";
import { type Finding, stops } from "../../finding/finding.ts";
import { once } from "../../geometry/remember.ts";
import type { SheetLayout } from "../../layout/layout.ts";
import type { Feedback } from "../../motion/wear/feedback.ts";
import { splitter } from "../../motion/wear/split.ts";
import type { Routed } from "../../toolpath/cut.ts";
import { ahead, type Homes, homesOf } from "../../toolpath/homes.ts";
import { beginRoute, joinRoutes, type SheetRoute } from "../../toolpath/route.ts";
import type { Job } from "../job.ts";
import type { Runner } from "../work/errands.ts";
import { keyOf, type PlanMemory } from "../work/memory.ts";
import { splitInput } from "./account/reckon.ts";
import type { Gathered } from "./gather.ts";
import { beginPrograms, type Made } from "./programs.ts";
import { type SentChecks, sentChecks } from "./proving.ts";

export interface CutSheets {
  readonly routed: Routed;
  readonly sent: SentChecks;
  /** On cutters that are worn out between. */
  readonly worn: () => readonly Finding[];
  readonly finish: () => readonly Made[];
}

export interface CutHow {
  readonly homes: Homes;
  readonly orderSteps: number;
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
  { homes, orderSteps, say, feedback, memory, elsewhere }: CutHow,
): CutSheets {
  const routes = routesOf(layouts, homes, orderSteps, memory);
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
  layouts: readonly SheetLayout[],
  homes: Homes,
  orderSteps: number,
  { recall, id }: PlanMemory,
): RememberedRoute[] {
  return layouts.map((layout) => {
    const begin = once(() => beginRoute(layout, homes, orderSteps));
    const key = (): string => keyOf(id(layout), id(homes), orderSteps);
    return { heads: () => begin().heads, route: () => recall("route", key, () => begin().route()) };
  });
}

/** What the job's plates get from its cutters, wherever they will lie. */
export function homesFor(
  job: Job,
  trial: TrialMaterial | undefined,
  { recall }: PlanMemory,
): Homes {
  const cutters = job.cutters.map(({ place: _place, ...cutter }) => cutter);
  const { cutting: options, machine } = job;
  const input = { cutters, options, machine, trial };
  return recall(
    "homes",
    () => keyOf(input),
    () => homesOf(input),
  );
}

/** Goes ahead with what does not hang on where plates lie, for as long as there is nothing else to do. */
export function workAhead(homes: Homes, { sheets, orders }: Gathered, idle: () => boolean): void {
  for (const sheet of sheets) {
    const plates = orders.filter((o) => o.sheet === sheet.name).map((o) => o.plate);
    for (const piece of ahead(homes, sheet, plates)) {
      if (!idle()) return;
      piece();
    }
  }
}
