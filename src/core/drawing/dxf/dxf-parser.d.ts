/**
 * What weftcut uses of dxf-parser. The package's own types pull in Node's, which core must not see; its
 * bundle is named by path so that every loader finds the same file.
 */
declare module "dxf-parser/dist/dxf-parser.js" {
  export interface Group {
    readonly code: number;
    readonly value: string | number | boolean;
  }
  export interface Scanner {
    next(): Group;
    isEOF(): boolean;
  }
  export interface Handler {
    readonly ForEntityName: string;
    parseEntity(scanner: Scanner, group: Group): object;
  }
  export interface Dxf {
    readonly tables?: {
      readonly layer?: {
        readonly layers?: Readonly<Record<string, { frozen?: boolean; visible?: boolean }>>;
      };
    };
    readonly blocks?: Readonly<
      Record<
        string,
        {
          position?: { x: number; y: number; z?: number };
          type?: number;
          entities?: readonly object[];
        }
      >
    >;
    readonly entities?: readonly object[];
  }
  const DxfParser: {
    new (): {
      registerEntityHandler(handler: new () => Handler): void;
      parse(text: string): Dxf | null;
    };
  };
  // biome-ignore lint/style/noDefaultExport: the package's module is the class itself.
  export default DxfParser;
}
