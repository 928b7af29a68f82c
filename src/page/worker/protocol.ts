/** What the page asks of its worker, and what the worker says. All of it survives a structured clone. */
import type { Finding } from "../../core/finding/finding.ts";
import type { PlanJson } from "../../core/job/plan-json.ts";
import type { PlayerData } from "../../core/jobsheet/motion/player-data.ts";

export type Bytes = Uint8Array<ArrayBuffer>;
/** By name as the job names them. */
export type Files = ReadonlyMap<string, Bytes>;

export interface JobText {
  readonly name: string;
  readonly text: string;
}

/** Files are sent when they change; what is asked after goes by the last ones. */
export type Asked =
  | { readonly kind: "files"; readonly put: Files; readonly drop: readonly string[] }
  | { readonly kind: "plan"; readonly ask: number; readonly job: JobText | undefined }
  | { readonly kind: "take"; readonly ask: number; readonly which: "all" | "programs" }
  | { readonly kind: "motion"; readonly ask: number }
  | {
      readonly kind: "draft";
      readonly ask: number;
      readonly airframe: JobText;
      readonly beside: Files;
    };

export interface LayerSeen {
  readonly name: string;
  /** Outlines and open chains on it that are read. */
  readonly drawn: number;
  /** Why it is not read, if it is not. */
  readonly leftOut?: string;
}

/** A drawing as it was understood. */
export interface Inspected {
  readonly file: string;
  readonly picture: string;
  /** Of the plates, mm; of everything where there is no plate. */
  readonly width: number;
  readonly height: number;
  readonly units: string;
  readonly layers: readonly LayerSeen[];
  readonly plates: readonly PlateSeen[];
  readonly findings: readonly Finding[];
}

export interface PlateSeen {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly area: number;
  readonly counts: readonly { readonly kind: string; readonly count: number }[];
}

export type Said =
  | { readonly kind: "progress"; readonly ask: number; readonly stage: string }
  | {
      readonly kind: "inspected";
      readonly ask: number;
      readonly drawings: readonly Inspected[];
    }
  | {
      /** All but the proof, which is still to come. */
      readonly kind: "drafted";
      readonly ask: number;
      readonly plan: PlanJson;
      readonly findings: readonly Finding[];
    }
  | {
      readonly kind: "planned";
      readonly ask: number;
      readonly plan: PlanJson | undefined;
      readonly findings: readonly Finding[];
      readonly stopped: boolean;
    }
  /** Nothing more comes for this plan: it is planned, inspected only, or faulty. */
  | { readonly kind: "done"; readonly ask: number }
  | { readonly kind: "motion"; readonly ask: number; readonly motion: PlayerData }
  | { readonly kind: "taken"; readonly ask: number; readonly zip: Bytes }
  | {
      readonly kind: "draft";
      readonly ask: number;
      readonly files: ReadonlyMap<string, string | Bytes>;
      readonly findings: readonly Finding[];
    }
  | { readonly kind: "fault"; readonly ask: number; readonly what: string; readonly where: string };
