/** The few names of clipper-lib 6.4.2 that `clipper.ts` calls; the package brings no types. */
// biome-ignore lint/correctness/noUnresolvedImports: its "main" is written without the extension.
declare module "clipper-lib" {
  interface IntPoint {
    X: number;
    Y: number;
  }

  class Clipper {
    constructor(options?: number);
    AddPaths(paths: IntPoint[][], polyType: number, closed: boolean): boolean;
    Execute(clipType: number, solution: IntPoint[][], subject: number, clip: number): boolean;
  }

  const library: {
    Clipper: typeof Clipper;
    ClipType: { ctIntersection: number; ctUnion: number; ctDifference: number };
    PolyType: { ptSubject: number; ptClip: number };
    PolyFillType: { pftEvenOdd: number; pftNonZero: number; pftPositive: number };
  };
  // biome-ignore lint/style/noDefaultExport: so a CommonJS module comes in.
  export default library;
}
