/**
 * What was ticked and typed on the sheet outlives a reload, which a phone does by itself after a while in the pocket. It is kept for
 * this window and this very plan only: a sheet that is opened anew begins unticked.
 */

type Kept = readonly (boolean | string)[];

export function keepInputs(inputs: readonly HTMLInputElement[], plan: string): void {
  const key = `weftcut-${location.pathname}-${plan.length}-${summed(plan)}`;
  forgiving(() => {
    const kept = JSON.parse(sessionStorage.getItem(key) ?? "[]") as Kept;
    for (const [i, input] of inputs.entries()) restore(input, kept[i]);
  });
  addEventListener("input", () =>
    forgiving(() => sessionStorage.setItem(key, JSON.stringify(inputs.map(state)))),
  );
}

/** In a browser that keeps nothing for files from disk the sheet works, and forgets. */
function forgiving(work: () => void): void {
  try {
    work();
  } catch {
    return;
  }
}

function state(input: HTMLInputElement): boolean | string {
  return input.type === "checkbox" ? input.checked : input.value;
}

function restore(input: HTMLInputElement, kept: boolean | string | undefined): void {
  if (typeof kept === "boolean") input.checked = kept;
  else if (kept !== undefined) input.value = kept;
}

/** Tells plans apart. */
function summed(text: string): number {
  let sum = 0;
  for (let i = 0; i < text.length; i++) sum = (31 * sum + text.charCodeAt(i)) | 0;
  return sum;
}
