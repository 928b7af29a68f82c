/**
 * Offsets of the same contours by weftcut and by two polygon libraries: time, how far each one's area is from a
 * reference, and how many pieces a cutter would have to follow.
 *
 * The libraries know polygons alone, so arcs go in as chords: coarse ones as a program would use them, and fine
 * ones that come near weftcut's own exactness. The reference is one of them on chords ten times finer still.
 */
// biome-ignore lint/correctness/noUnresolvedImports: its "main" is written without the extension.
import ClipperLib from "clipper-lib";
import { areaPathsD, EndType, inflatePathsD, JoinType } from "clipper2-ts";
import { flatten } from "../../src/core/geometry/contour.ts";
import { offsetRings } from "../../src/core/geometry/offset.ts";
import { areaOf } from "../../src/core/geometry/region.ts";
import type { Contour, Point } from "../../src/core/geometry/shape.ts";
import { sample } from "../geometry/corpus.ts";
import { interleaved, type Spread, spread, timed } from "./numbers.ts";

export interface OffsetRow {
  readonly name: string;
  readonly ms: Spread;
  /** Largest difference of one region's area from the reference, as a share of it. */
  readonly worstArea: number;
  readonly pieces: number;
}

interface Task {
  readonly rings: readonly Contour[];
  readonly distance: number;
}

interface Answer {
  readonly area: number;
  readonly pieces: number;
}

type Method = (task: Task) => Answer;

/** Greatest distance of a chord from its arc, mm. */
const COARSE = 0.01;
const FINE = 0.001;
const FINEST = 0.0001;
const PER_MM = 1e4;

interface Offsetting {
  AddPaths(paths: { X: number; Y: number }[][], join: number, end: number): void;
  Execute(solution: { X: number; Y: number }[][], delta: number): void;
}
/** The names of clipper-lib that weftcut itself does not use, and so has no types for. */
const library = ClipperLib as unknown as {
  readonly ClipperOffset: new (miter: number, arc: number) => Offsetting;
  readonly JoinType: { readonly jtRound: number };
  readonly EndType: { readonly etClosedPolygon: number };
  readonly JS: {
    readonly AreaOfPolygons: (paths: { X: number; Y: number }[][], scale: number) => number;
  };
};

function byFirstLibrary(chord: number): Method {
  return ({ rings, distance }) => {
    const paths = chords(rings, chord).map((path) =>
      path.map((p) => ({ X: Math.round(p.x * PER_MM), Y: Math.round(p.y * PER_MM) })),
    );
    const work = new library.ClipperOffset(2, chord * PER_MM);
    work.AddPaths(paths, library.JoinType.jtRound, library.EndType.etClosedPolygon);
    const grown: { X: number; Y: number }[][] = [];
    work.Execute(grown, distance * PER_MM);
    return { area: library.JS.AreaOfPolygons(grown, PER_MM), pieces: countOf(grown) };
  };
}

function bySecondLibrary(chord: number): Method {
  return ({ rings, distance }) => {
    const paths = chords(rings, chord);
    const grown = inflatePathsD(paths, distance, JoinType.Round, EndType.Polygon, 2, 5, chord);
    return { area: areaPathsD(grown), pieces: countOf(grown) };
  };
}

const byWeftcut: Method = ({ rings, distance }) => {
  const grown = offsetRings(rings, distance);
  return {
    area: areaOf(grown),
    pieces: grown.reduce((sum, ring) => sum + ring.segments.length, 0),
  };
};

/** Counted from the first point, so that far-away rings keep their decimals. */
function chords(rings: readonly Contour[], chord: number): Point[][] {
  const flat = rings.map((ring) => flatten(ring, chord));
  const o = flat[0]?.[0] ?? { x: 0, y: 0 };
  return flat.map((path) => path.map((p) => ({ x: p.x - o.x, y: p.y - o.y })));
}

function countOf(paths: readonly (readonly unknown[])[]): number {
  return paths.reduce((sum, path) => sum + path.length, 0);
}

const METHODS: Readonly<Record<string, Method>> = {
  "weftcut, lines and arcs": byWeftcut,
  [`clipper-lib 6.4.2, chords within ${COARSE} mm`]: byFirstLibrary(COARSE),
  [`clipper-lib 6.4.2, chords within ${FINE} mm`]: byFirstLibrary(FINE),
  [`clipper2-ts 2.0.1, chords within ${COARSE} mm`]: bySecondLibrary(COARSE),
  [`clipper2-ts 2.0.1, chords within ${FINE} mm`]: bySecondLibrary(FINE),
};

export function offsetContest(regions: number, rounds: number): OffsetRow[] {
  const tasks = Array.from({ length: regions }, (_, seed): Task => {
    return { rings: sample(seed).rings, distance: [1, -1, 0.3, -0.5, 3.1][seed % 5] as number };
  });
  const reference = tasks.map(bySecondLibrary(FINEST));
  const runs = interleaved(
    Object.fromEntries(
      Object.entries(METHODS).map(([name, method]) => [name, () => timed(() => tasks.map(method))]),
    ),
    rounds + 1,
  );
  return [...runs].map(([name, all]) => {
    // The first round compiles.
    const [{ value: answers }] = all as [(typeof all)[number]];
    return {
      name,
      ms: spread(all.slice(1).map((run) => run.ms)),
      worstArea: Math.max(...answers.map((a, i) => offBy(a.area, reference[i]?.area ?? 0))),
      pieces: answers.reduce((sum, a) => sum + a.pieces, 0),
    };
  });
}

function offBy(area: number, reference: number): number {
  // Below a square millimetre an offset has all but vanished, and a share of it says nothing.
  return Math.abs(area - reference) / Math.max(reference, 1);
}
