/** The part of svg-path-parser (1.1) that `path-data.ts` uses. */
declare module "svg-path-parser" {
  interface ParsedCommand {
    readonly code: string;
    readonly x: number;
    readonly y: number;
    readonly x1: number;
    readonly y1: number;
    readonly x2: number;
    readonly y2: number;
    readonly rx: number;
    readonly ry: number;
    readonly xAxisRotation: number;
    readonly largeArc: boolean;
    readonly sweep: boolean;
  }
  /** Throws where the text is not path data. Fields that a command lacks are absent. */
  export default function parse(pathData: string): ParsedCommand[];
}
