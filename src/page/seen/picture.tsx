/** A sheet as it will be cut, with what can be done on it: plates are moved, findings are shown in their places. */
import type { VNode } from "preact";
import { useMemo, useState } from "preact/hooks";
import type { Finding } from "../../core/finding/finding.ts";
import type { FixedPlace } from "../../core/job/job.ts";
import type { PlanJson, SheetJson } from "../../core/job/plan-json.ts";
import { pathOf } from "../../core/layout/drawn/svg.ts";
import { layoutSvg } from "../../core/layout/picture.ts";
import type { JobView } from "../state/job-view.ts";
import type { Store } from "../state/store.ts";
import {
  collider,
  fibreOf,
  type Lying,
  lyingOn,
  outlineAt,
  sheetAsLying,
  widestOf,
  withoutPlaces,
  withPlace,
} from "./lying.ts";
import { isAbout, spotsOf } from "./marks.ts";
import { keyMove, useDragging } from "./moving.ts";

/** What is pointed at, in the list or in the picture. */
export interface Pointed {
  readonly finding?: Finding | undefined;
  readonly plate?: { readonly plate: string; readonly copy: number } | undefined;
}

export interface PictureProps {
  readonly store: Store;
  readonly view: JobView;
  readonly plan: PlanJson;
  readonly sheet: SheetJson;
  /** In the order of the list, whose numbers the marks bear. */
  readonly findings: readonly Finding[];
  readonly pointed: Pointed;
  readonly onPoint: (pointed: Pointed) => void;
}

export function SheetPicture(props: PictureProps): VNode {
  const { store, view, plan, sheet, pointed } = props;
  const all = useMemo(() => lyingOn(view, sheet), [view, sheet]);
  const svg = useMemo(
    () => layoutSvg(sheetAsLying(sheet, all), plan.origin, { idPrefix: "sheet" }),
    [all, sheet, plan.origin],
  );
  const [zoom, setZoom] = useState(1);
  const widest = widestOf(plan, view);
  const colliderOf = (one: Lying) =>
    collider(sheet, all, one, { widest, fibreDeg: fibreOf(view, one.placement.plate) });
  const put = (one: Lying, place: FixedPlace, of?: string) => {
    const work = withPlace(view, all, one, place);
    if (work !== undefined) store.change(work, of);
  };
  const { live, handlers } = useDragging(colliderOf, put);
  const shownLive = live ?? standing(all, pointed, colliderOf);
  const box = /viewBox="([^"]+)"/.exec(svg)?.[1] ?? "0 0 1 1";
  const free = (which: Parameters<typeof withoutPlaces>[1]) => {
    const work = withoutPlaces(view, which);
    if (work !== undefined) store.change(work);
  };
  const chosen = pointed.plate && all.find((l) => isSame(l, pointed.plate));
  return (
    <figure class="sheet">
      <div class="picture" style={{ "--zoom": String(zoom), "--aspect": aspectOf(box) }}>
        <div class="stack">
          <div dangerouslySetInnerHTML={{ __html: svg }} />
          {/* biome-ignore lint/a11y/useSemanticElements: a picture holds no field set. */}
          <svg class="over" viewBox={box} role="group" aria-label={`Plates on sheet ${sheet.name}`}>
            {all.map((lying) => (
              <PlateOver
                key={`${lying.placement.plate} ${lying.placement.copy}`}
                {...props}
                lying={lying}
                live={live?.one === lying ? live.place : undefined}
                blocked={
                  shownLive?.one === lying && shownLive.findings.some((f) => f.severity === "stop")
                }
                handlers={handlers}
                onKey={(event) => {
                  const place = keyMove(event, lying);
                  if (place === undefined) return;
                  const { plate, copy } = lying.placement;
                  put(lying, place, `place ${plate} ${copy}`);
                }}
              />
            ))}
            <Marks {...props} all={all} />
          </svg>
        </div>
      </div>
      <p class="live" role="status">
        {shownLive === undefined ? "" : told(shownLive.one, shownLive.place, shownLive.findings)}
      </p>
      <p class="acts">
        <button type="button" onClick={() => setZoom(Math.min(6, zoom * 1.5))}>
          Larger
        </button>
        <button
          type="button"
          disabled={zoom === 1}
          onClick={() => setZoom(Math.max(1, zoom / 1.5))}
        >
          Smaller
        </button>
        {all.some((l) => l.fixed) && (
          <button type="button" onClick={() => free({ sheet: kindOf(view, sheet) })}>
            Lay this sheet anew
          </button>
        )}
        {chosen?.fixed === true && (
          <button type="button" onClick={() => free({ plate: chosen.placement.plate })}>
            Leave {chosen.placement.plate} to the layout
          </button>
        )}
      </p>
      <p class="facts" id="how-to-move">
        Drag a plate, or focus it: arrows move it by 1 mm (with Shift 10, with Alt 0.1), R turns it
        by 90° (Shift+R by 15°), F turns it over. Its sheet's other plates stay where they are.
      </p>
    </figure>
  );
}

/** Width ÷ height, so that the whole sheet fits into the window. */
function aspectOf(viewBox: string): string {
  const [, , width = 1, height = 1] = viewBox.split(" ").map(Number);
  return String(width / height);
}

function isSame({ placement: p }: Lying, plate: Pointed["plate"]): boolean {
  return p.plate === plate?.plate && p.copy === plate.copy;
}

/** A plate that is pointed at and lies badly says so without being dragged. */
function standing(
  all: readonly Lying[],
  pointed: Pointed,
  colliderOf: (one: Lying) => (place: FixedPlace) => readonly Finding[],
): { one: Lying; place: FixedPlace; findings: readonly Finding[] } | undefined {
  const one = all.find((l) => isSame(l, pointed.plate));
  if (one === undefined) return undefined;
  return { one, place: one.place, findings: one.fixed ? colliderOf(one)(one.place) : [] };
}

/** The job's name for a sheet, without the number that copies of it get. */
function kindOf(view: JobView, sheet: SheetJson): string {
  const names = (Object(view.source.value).sheets ?? []) as readonly { name?: unknown }[];
  const own = names.map((s) => String(s?.name));
  return own.find((n) => n === sheet.name) ?? own.find((n) => sheet.name.startsWith(`${n} `)) ?? "";
}

function nameOf({ placement: p }: Lying): string {
  return `${p.plate} ${p.copy}`;
}

function told(one: Lying, { x, y, rotationDeg }: FixedPlace, findings: readonly Finding[]): string {
  const where = `${nameOf(one)}: ${Number(x.toFixed(2))}, ${Number(y.toFixed(2))} mm, turned ${Number(rotationDeg.toFixed(2))}°`;
  const [first] = [...findings].sort((a, b) =>
    a.severity === "stop" ? -1 : b.severity === "stop" ? 1 : 0,
  );
  return first === undefined
    ? `${where}.`
    : `${where}. ${first.severity === "stop" ? "Stop" : "Look"}: ${first.message}.`;
}

interface PlateOverProps extends PictureProps {
  readonly lying: Lying;
  readonly live: FixedPlace | undefined;
  readonly blocked: boolean;
  readonly handlers: ReturnType<typeof useDragging>["handlers"];
  readonly onKey: (event: KeyboardEvent) => void;
}

function PlateOver(props: PlateOverProps): VNode {
  const { sheet, lying, live, blocked, pointed, onPoint, handlers, onKey } = props;
  const { plate, copy } = lying.placement;
  const lit =
    isSame(lying, pointed.plate) ||
    (pointed.finding !== undefined && isAbout(pointed.finding, lying, sheet));
  const d = outlineAt(lying, live ?? lying.place)
    .map(pathOf)
    .join("");
  const held = lying.held === undefined ? "" : ` Not to be moved: ${lying.held}.`;
  const { x, y, rotationDeg } = live ?? lying.place;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a button has no outline of a plate.
    <path
      class={`plate${lit ? " lit" : ""}${blocked ? " blocked" : ""}${live ? " moving" : ""}${lying.held === undefined ? "" : " held"}${lying.fixed ? " fixed" : ""}`}
      d={d}
      fill-rule="evenodd"
      tabIndex={0}
      role="button"
      aria-label={`${nameOf(lying)}${lying.fixed ? ", fixed" : ""} at ${x.toFixed(1)}, ${y.toFixed(1)} mm, turned ${Math.round(rotationDeg)} degrees.${held}`}
      aria-describedby="how-to-move"
      {...handlers(lying)}
      onKeyDown={onKey}
      onFocus={() => onPoint({ plate: { plate, copy } })}
      onPointerEnter={(e) => {
        if (e.pointerType === "mouse" && e.buttons === 0) onPoint({ plate: { plate, copy } });
      }}
    />
  );
}

/** Stops and warnings where they are; notes only while they are pointed at. */
function Marks({
  all,
  sheet,
  findings,
  pointed,
  onPoint,
}: PictureProps & { readonly all: readonly Lying[] }): VNode {
  return (
    <g>
      {findings.flatMap((finding, i) => {
        const lit = finding === pointed.finding;
        if (finding.severity === "note" && !lit) return [];
        return spotsOf(finding, all, sheet)
          .slice(0, 40)
          .map(({ x, y }, k) => (
            <g
              key={`${i} ${k}`}
              class={`mark ${finding.severity}${lit ? " lit" : ""}`}
              transform={`translate(${x} ${-y})`}
              onPointerEnter={() => onPoint({ finding })}
            >
              {lit && <circle r="7" class="ring" />}
              <path d={finding.severity === "stop" ? "M-3-3H3V3H-3Z" : "M0-3.6L3.4 2.4H-3.4Z"} />
              <text y="1.7" text-anchor="middle" font-size="3.4">
                {i + 1}
              </text>
            </g>
          ));
      })}
    </g>
  );
}
