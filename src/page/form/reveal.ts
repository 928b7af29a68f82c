/** From a finding to where in the form it is answered. */
import type { Finding } from "../../core/finding/finding.ts";
import { baseOf } from "../state/answers.ts";
import type { Belongings } from "../state/job-view.ts";

/** Opens what hides the field that a finding is about, and goes there; false where there is none. */
export function revealField(said: Belongings, finding: Finding): boolean {
  const key = [...said].find(([, list]) => list.includes(finding))?.[0];
  if (key === undefined) return false;
  const fields = [...document.querySelectorAll<HTMLElement>("[data-spot]")];
  const exact = fields.find((f) => f.dataset["spot"] === key);
  // A pair's second number, a key within a group.
  const holder = exact ?? fields.find((f) => key.startsWith(`${f.dataset["spot"]}[`));
  if (holder === undefined) return false;
  opened(holder);
  if (holder instanceof HTMLDetailsElement) holder.open = true;
  holder.querySelector<HTMLElement>("input, select")?.focus();
  return true;
}

export function revealDrawing(file: string): void {
  const drawings = [...document.querySelectorAll<HTMLDetailsElement>("details.drawing")];
  const own = drawings.find((d) => baseOf(d.dataset["file"] ?? "") === baseOf(file));
  if (own === undefined) return;
  own.open = true;
  opened(own);
  own.querySelector<HTMLElement>("summary")?.focus();
}

function opened(element: HTMLElement): void {
  for (let e: HTMLElement | null = element; e !== null; e = e.parentElement) {
    if (e instanceof HTMLDetailsElement) e.open = true;
  }
  element.scrollIntoView({ block: "center" });
}
