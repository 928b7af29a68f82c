/** Plates moved by pointer and by keys. */
import { useRef, useState } from "preact/hooks";
import type { Finding } from "../../core/finding/finding.ts";
import type { FixedPlace } from "../../core/job/job.ts";
import { type Lying, turnedBy, turnedOver } from "./lying.ts";

export interface Live {
  readonly one: Lying;
  readonly place: FixedPlace;
  readonly findings: readonly Finding[];
}

type Collider = (place: FixedPlace) => readonly Finding[];

interface Drag {
  readonly one: Lying;
  readonly collide: Collider;
  readonly pointer: number;
  readonly svg: SVGSVGElement;
  readonly from: DOMPoint;
  place: FixedPlace;
}

/** What is dragged goes in steps of this, mm. */
const STEP = 0.1;
/** Less than this is a click, mm. */
const STILL = 0.25;

export function useDragging(
  colliderOf: (one: Lying) => Collider,
  put: (one: Lying, place: FixedPlace) => void,
) {
  const drag = useRef<Drag | undefined>(undefined);
  const [live, setLive] = useState<Live | undefined>(undefined);
  const show = (d: Drag) => setLive({ one: d.one, place: d.place, findings: d.collide(d.place) });
  const end = () => {
    drag.current = undefined;
    setLive(undefined);
  };
  const handlers = (one: Lying) => ({
    onPointerDown: (event: PointerEvent) => {
      const path = event.currentTarget as SVGGraphicsElement;
      const svg = path.ownerSVGElement;
      if (one.held !== undefined || event.button !== 0 || svg === null) return;
      path.setPointerCapture(event.pointerId);
      const from = sheetPoint(svg, event);
      const collide = colliderOf(one);
      drag.current = { one, collide, pointer: event.pointerId, svg, from, place: one.place };
    },
    onPointerMove: (event: PointerEvent) => {
      const d = drag.current;
      if (d === undefined || event.pointerId !== d.pointer) return;
      const to = sheetPoint(d.svg, event);
      const x = d.one.place.x + to.x - d.from.x;
      // The picture's Y goes down.
      const y = d.one.place.y - (to.y - d.from.y);
      if (live === undefined && Math.hypot(to.x - d.from.x, to.y - d.from.y) < STILL) return;
      d.place = { ...d.place, x: stepped(x), y: stepped(y) };
      show(d);
    },
    onPointerUp: (event: PointerEvent) => {
      const d = drag.current;
      if (d === undefined || event.pointerId !== d.pointer) return;
      const { place } = d;
      end();
      if (place !== one.place) put(one, place);
    },
    onPointerCancel: end,
  });
  return { live, handlers };
}

function stepped(value: number): number {
  return Number((Math.round(value / STEP) * STEP).toFixed(1));
}

function sheetPoint(svg: SVGSVGElement, { clientX, clientY }: PointerEvent): DOMPoint {
  const matrix = svg.getScreenCTM()?.inverse() ?? new DOMMatrix();
  return new DOMPoint(clientX, clientY).matrixTransform(matrix);
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** Where a key takes a plate; undefined where it is none of these keys. */
export function keyMove(event: KeyboardEvent, lying: Lying): FixedPlace | undefined {
  const { key, shiftKey, altKey, ctrlKey, metaKey } = event;
  if (lying.held !== undefined || ctrlKey || metaKey) return undefined;
  const { place } = lying;
  const arrow = ARROWS[key];
  if (arrow !== undefined) {
    event.preventDefault();
    const by = shiftKey ? 10 : altKey ? 0.1 : 1;
    return { ...place, x: neatly(place.x + by * arrow[0]), y: neatly(place.y + by * arrow[1]) };
  }
  if (key === "r" || key === "R") return turnedBy(lying, place, shiftKey ? 15 : 90);
  if (key === "f" || key === "F") return turnedOver(lying, place);
  return undefined;
}

function neatly(value: number): number {
  return Number(value.toFixed(4));
}
