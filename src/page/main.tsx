/** The page begins here: what rides along in its text is read, and drawn is whatever the state says. */
import { render } from "preact";
import type { Samples } from "./samples.ts";
import { makeStore } from "./state/store.ts";
import { Page } from "./view/page.tsx";

function embedded(id: string): unknown {
  return JSON.parse(document.getElementById(id)?.textContent ?? "null");
}

const root = document.getElementById("page");
if (root !== null) {
  const samples = embedded("samples") as Samples;
  let drawing = false;
  const draw = () => {
    // Several changes before the next frame are drawn once.
    if (drawing) return;
    drawing = true;
    queueMicrotask(() => {
      drawing = false;
      render(<Page store={store} samples={samples} />, root);
    });
  };
  const store = makeStore(String(embedded("worker-text")), draw);
  addEventListener("error", (event) => store.fault(event.error));
  addEventListener("unhandledrejection", (event) => store.fault(event.reason));
  draw();
}
