/**
 * The page's state and all that happens to it: the work with its history, what the worker last said of it, and
 * what is looked at. Whoever draws it is told of every change.
 */
import type { Finding } from "../../core/finding/finding.ts";
import type { PlanJson } from "../../core/job/plan-json.ts";
import type { PlayerData } from "../../core/jobsheet/motion/player-data.ts";
import { type Client, workerClient } from "../worker/client.ts";
import type { Files, Inspected, JobText, Said } from "../worker/protocol.ts";
import { keep, kept } from "./keep.ts";
import {
  begun,
  changedTo,
  type History,
  isEmpty,
  NOTHING,
  redone,
  undone,
  type Work,
} from "./work.ts";

/** What the worker said of the work; of an earlier state of it while `stale`. */
export interface Told {
  readonly drawings: readonly Inspected[];
  readonly plan: PlanJson | undefined;
  /** The last plan of this job, where there is none now. */
  readonly before: PlanJson | undefined;
  readonly findings: readonly Finding[];
  /** The plan is drawn and its proof still to come. */
  readonly proving: boolean;
  readonly stopped: boolean;
}

export interface Fault {
  readonly what: string;
  readonly where: string;
}

export interface State {
  readonly history: History;
  readonly told: Told;
  /** Stage of the work that goes on; undefined where all is told. */
  readonly busy: string | undefined;
  readonly stale: boolean;
  readonly cancelled: boolean;
  readonly fault: Fault | undefined;
  /** The last thing said to the user, for those who hear the page. */
  readonly notice: string;
  readonly loaded: boolean;
}

export interface Store {
  readonly state: () => State;
  readonly change: (work: Work, of?: string) => void;
  /** Another job: nothing that was told holds of it. Undo leads back. */
  readonly begin: (work: Work) => void;
  readonly undo: () => void;
  readonly redo: () => void;
  readonly cancel: () => void;
  /** Plans again what was cancelled or failed. */
  readonly again: () => void;
  readonly notice: (text: string) => void;
  readonly fault: (error: unknown) => void;
  readonly motion: () => Promise<PlayerData>;
  readonly take: (which: "all" | "programs") => Promise<Uint8Array<ArrayBuffer>>;
  /** `beside`: files that the airframe may name. */
  readonly draft: (
    airframe: JobText,
    beside: Files,
  ) => Promise<Extract<Said, { readonly kind: "draft" }>>;
}

const NOTHING_TOLD: Told = {
  drawings: [],
  plan: undefined,
  before: undefined,
  findings: [],
  proving: false,
  stopped: false,
};

const KEEP_AFTER = 150;

export function makeStore(workerText: string, draw: () => void): Store {
  let state: State = {
    history: begun(NOTHING),
    told: NOTHING_TOLD,
    busy: undefined,
    stale: false,
    cancelled: false,
    fault: undefined,
    notice: "",
    loaded: false,
  };
  const set = (part: Partial<State>) => {
    state = { ...state, ...part };
    draw();
  };
  const answers = new Map<number, (said: Said) => void>();
  let current = 0;
  /** What was asked before is of another job. */
  let oldest = 0;
  const client: Client = workerClient(workerText, (said) => {
    const answer = answers.get(said.ask);
    if (answer !== undefined) {
      answers.delete(said.ask);
      answer(said);
    } else if (said.ask >= oldest || said.kind === "fault") {
      // An older plan of this job is nearer to what is wanted than the one before it, and stays outdated.
      const old = said.ask < current;
      const part = heard(state, said);
      set(old ? { ...part, stale: true, busy: state.busy } : part);
      if (said.kind === "drafted") drawn("plan-drawn");
      if (said.kind === "planned") drawn("plan-proven");
    }
  });
  const asked = <K extends Said["kind"]>(ask: number, kind: K) =>
    new Promise<Extract<Said, { readonly kind: K }>>((resolve, reject) => {
      answers.set(ask, (said) => {
        if (said.kind === kind) resolve(said as Extract<Said, { readonly kind: K }>);
        else reject(new Error(said.kind === "fault" ? said.what : "no answer"));
      });
    });
  let keeping: ReturnType<typeof setTimeout> | undefined;
  const plan = (history: History) => {
    clearTimeout(keeping);
    keeping = setTimeout(() => void keep(history.now), KEEP_AFTER);
    if (isEmpty(history.now)) {
      client.cancel();
      oldest = current + 1;
      set({ history, told: NOTHING_TOLD, busy: undefined, stale: false, fault: undefined });
      return;
    }
    current = client.plan(history.now.job, history.now.files);
    set({ history, busy: "reading", stale: true, cancelled: false, fault: undefined });
  };
  const fault = (error: unknown) => {
    const { message, stack = "" } = error instanceof Error ? error : new Error(String(error));
    set({ fault: { what: message, where: stack } });
  };
  void kept().then((work) => {
    // Whatever was begun meanwhile is newer.
    if (work !== undefined && isEmpty(state.history.now) && !isEmpty(work)) plan(begun(work));
    set({ loaded: true });
  });
  return {
    state: () => state,
    change: (work, of) => plan(changedTo(state.history, work, of, performance.now())),
    begin: (work) => {
      state = { ...state, told: NOTHING_TOLD };
      oldest = current + 1;
      plan(changedTo(state.history, work, undefined, performance.now()));
    },
    undo: () => plan(undone(state.history)),
    redo: () => plan(redone(state.history)),
    cancel: () => {
      client.cancel();
      set({ busy: undefined, cancelled: true });
    },
    again: () => plan(state.history),
    notice: (notice) => set({ notice }),
    fault,
    motion: async () => (await asked(client.motion(), "motion")).motion,
    take: async (which) => (await asked(client.take(which), "taken")).zip,
    draft: (airframe, beside) => asked(client.draft(airframe, beside), "draft"),
  };
}

/** Marks the moment after what was said has been drawn and laid out, for who measures it. */
function drawn(what: string): void {
  requestAnimationFrame(() => setTimeout(() => performance.mark(what)));
}

function heard(state: State, said: Said): Partial<State> {
  const { told } = state;
  switch (said.kind) {
    case "progress":
      return { busy: said.stage };
    case "inspected":
      return { told: { ...told, drawings: said.drawings } };
    case "drafted": {
      const { plan, findings } = said;
      const made = { plan, before: plan, findings, proving: true, stopped: false };
      return { told: { ...told, ...made } };
    }
    case "planned": {
      const { plan, findings, stopped } = said;
      const before = plan ?? told.before;
      const made = { plan, before, findings, stopped, proving: false };
      return { stale: false, told: { ...told, ...made } };
    }
    case "fault":
      return { fault: said };
    case "done":
      return { busy: undefined, stale: false };
    default:
      return {};
  }
}
