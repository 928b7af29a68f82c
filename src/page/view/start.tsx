/** Before there is any work: what one can begin with. */
import type { VNode } from "preact";
import { readSource } from "../../core/job/source/yaml-source.ts";
import type { Samples } from "../samples.ts";

export interface StartProps {
  readonly samples: Samples;
  readonly onFiles: (files: readonly File[]) => void;
  readonly onDemo: () => void;
  readonly onAirframe: (name: string) => void;
}

export function Start({ samples, onFiles, onDemo, onAirframe }: StartProps): VNode {
  return (
    <div class="start">
      <h1>From drawing to proven program</h1>
      <p>
        Drop drawings (DXF or SVG) here, or a job with its drawings. Everything is worked out in
        this browser; nothing leaves this machine.
      </p>
      <p class="begin">
        <Choose label="Choose drawings or a job" onFiles={onFiles} />
        <button type="button" onClick={onDemo}>
          Look at the demo
        </button>
      </p>
      <h2>Or draft an airframe</h2>
      <ul class="airframes">
        {Object.entries(samples.airframes).map(([file, text]) => (
          <li key={file}>
            <button type="button" onClick={() => onAirframe(file)}>
              {titleOf(file, text)}
            </button>{" "}
            <span class="facts">{aboutOf(text)}</span>
          </li>
        ))}
      </ul>
      <p class="facts">
        Plates of multirotors from parameters, as drawings with the job that cuts them. Flying is
        governed by local aviation rules.
      </p>
    </div>
  );
}

function titleOf(file: string, text: string): string {
  const { name } = Object(Object(readSource(text).value).airframe);
  return typeof name === "string" ? name : file;
}

/** Its file says in its first line what it is. */
function aboutOf(text: string): string {
  return /^# (.*)/.exec(text)?.[1] ?? "";
}

/** A file picker that looks like a button and is one for who uses keys. */
export function Choose({
  label,
  onFiles,
}: {
  readonly label: string;
  readonly onFiles: (files: readonly File[]) => void;
}): VNode {
  return (
    <label class="choose">
      {label}
      <input
        type="file"
        multiple
        accept=".dxf,.svg,.yaml,.yml,.json,.jsonl"
        onChange={(e) => {
          onFiles([...(e.currentTarget.files ?? [])]);
          e.currentTarget.value = "";
        }}
      />
    </label>
  );
}
