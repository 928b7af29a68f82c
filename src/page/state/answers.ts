/** Questions that a drawing leaves open, and what can be answered to them: each answer is a key of the job. */
import type { Finding } from "../../core/finding/finding.ts";
import type { Inspected } from "../worker/protocol.ts";
import { type JobView, listAt, withValue } from "./job-view.ts";
import type { Work } from "./work.ts";

export interface Answer {
  readonly label: string;
  readonly work: Work;
}

/** One answer may do for several findings of its kind. */
export interface Question {
  readonly findings: readonly Finding[];
  readonly answers: readonly Answer[];
}

/** Findings of one drawing that can be answered in the job, gravest first as they come. */
export function questionsOf(view: JobView, seen: Inspected): Question[] {
  const kinds = new Map<string, Finding[]>();
  for (const f of seen.findings) {
    const key = f.code === "layer-hidden" ? `${f.code} ${f.data["layer"]}` : f.code;
    kinds.set(key, [...(kinds.get(key) ?? []), f]);
  }
  return [...kinds.values()].flatMap((findings) => {
    const answers = answersTo(view, seen, findings);
    return answers.length === 0 ? [] : [{ findings, answers }];
  });
}

/** What is open wider than this lacks an edge, mm. */
const CLOSED_MOST = 2;

function answersTo(view: JobView, seen: Inspected, findings: readonly Finding[]): Answer[] {
  const [first] = findings;
  if (first === undefined) return [];
  const { data } = first;
  const say = (label: string, key: string, value: unknown): Answer[] => {
    const work = forDrawing(view, seen.file, key, () => value);
    return work === undefined ? [] : [{ label, work }];
  };
  switch (first.code) {
    case "unit-unknown":
      return [
        ...say(`Millimetres: ${data["asMm"]}`, "units", "mm"),
        ...say(`Inches: ${data["asInch"]}`, "units", "in"),
      ];
    case "px-assumed":
      return say(`One unit is a millimetre: ${data["asMm"]}`, "units", "mm");
    case "unit-doubtful": {
      const { declared, other } = data;
      const known = [declared, other].filter((u) => u === "mm" || u === "in");
      return known.flatMap((u) => {
        const size = u === declared ? data["asDeclared"] : data["asOther"];
        return say(`${u === "mm" ? "Millimetres" : "Inches"}: ${size}`, "units", u);
      });
    }
    case "gap":
    case "open-outline": {
      const widest = Math.max(...findings.map((f) => Number(f.data["gap"])));
      const limit = Math.ceil(widest * 100) / 100;
      if (limit > CLOSED_MOST) return [];
      const what = findings.length === 1 ? "the gap" : `all ${findings.length} gaps`;
      return say(`Close ${what}, up to ${limit} mm`, "closeGaps", limit);
    }
    case "near-duplicate":
      return say("Keep the one drawn first", "dropNearDuplicates", true);
    case "layer-hidden":
      return layerAnswers(view, seen, String(data["layer"]));
    default:
      return [];
  }
}

/** A hidden layer is cut once it is named; naming one means naming all. */
function layerAnswers(view: JobView, seen: Inspected, layer: string): Answer[] {
  if (layer === "") return [];
  const read = seen.layers.filter((l) => l.drawn > 0 && l.name !== "").map((l) => l.name);
  const cut = forDrawing(view, seen.file, "layers.cut", () => [...new Set([...read, layer])]);
  const ignore = forDrawing(view, seen.file, "layers.ignore", (old) => [
    ...(Array.isArray(old) ? old : []),
    layer,
  ]);
  return [
    ...(cut === undefined ? [] : [{ label: `Cut layer ${layer} too`, work: cut }]),
    ...(ignore === undefined ? [] : [{ label: `Leave ${layer} out`, work: ignore }]),
  ];
}

/** The same key of every plate that is cut from a drawing. */
export function forDrawing(
  view: JobView,
  drawing: string,
  key: string,
  value: (old: unknown) => unknown,
): Work | undefined {
  let work: Work | undefined;
  const steps = key.split(".");
  for (const [i, plate] of listAt(view, ["plates"]).entries()) {
    if (baseOf(String(Object(plate).drawing)) !== baseOf(drawing)) continue;
    const old = steps.reduce((v: unknown, step) => Object(v)[step], plate);
    const spot = { file: view.file, path: ["plates", i, ...steps] };
    work = withValue(work ?? view.work, spot, value(old)) ?? work;
  }
  return work;
}

export function baseOf(name: string): string {
  return name.split(/[\\/]/).at(-1) ?? name;
}
