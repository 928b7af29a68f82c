/**
 * Asks every rule, and applies what the job says of their weight.
 *
 * Promise: a rule's severity changes only where the job gives a reason, which every such finding then names; nothing
 * is ever dropped. What a rule and a later stage both see is told once (`withoutToldTwice`).
 */
import type { Finding, Severity } from "../finding/finding.ts";
import { type CheckCode, reportChecking, weighed } from "../finding/say-check.ts";
import { RULES } from "./registry.ts";
import { type CheckInput, viewOf } from "./view.ts";

/** What the job says of one rule: for one plate, or for all. */
export interface Override {
  readonly code: CheckCode;
  readonly severity: Severity;
  readonly reason: string;
  readonly plate?: string | undefined;
}

/** Rules of plates where there is no layout yet, rules of the layout where there is one. */
export function runChecks(input: CheckInput, overrides: readonly Override[] = []): Finding[] {
  const view = viewOf(input);
  const when = input.layouts === undefined ? "plates" : "layout";
  return RULES.filter((r) => r.when === when)
    .flatMap((r) => r.run(view))
    .map((f) => weigh(f, overrides));
}

function weigh(finding: Finding, overrides: readonly Override[]): Finding {
  // One that names the plate goes before one that does not.
  const own = overrides
    .filter((o) => o.code === finding.code && (o.plate ?? finding.plate) === finding.plate)
    .sort((a, b) => Number(b.plate !== undefined) - Number(a.plate !== undefined))[0];
  if (own === undefined || own.severity === finding.severity) return finding;
  return weighed(finding, own.severity, own.reason);
}

/** The later stage's findings without those that a rule has told already of the same plate and feature. */
export function withoutToldTwice(told: readonly Finding[], later: readonly Finding[]): Finding[] {
  const known = new Set(told.map(faultOf));
  return later.filter((f) => f.severity === "stop" || !known.has(faultOf(f)));
}

function faultOf({ code, plate, data }: Finding): string {
  return JSON.stringify([code, plate, data["feature"]]);
}

/** Changes of weight that no finding met: a name misspelt, or a fault mended since. */
export function unusedOverrides(
  overrides: readonly Override[],
  findings: readonly Finding[],
): Finding[] {
  return overrides.flatMap((o) => {
    const met = findings.some((f) => f.code === o.code && (o.plate ?? f.plate) === f.plate);
    if (met) return [];
    const data = { rule: o.code, severity: o.severity, reason: o.reason };
    return [reportChecking("weight-unused", data, o.plate === undefined ? {} : { plate: o.plate })];
  });
}
