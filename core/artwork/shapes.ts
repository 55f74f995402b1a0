/** The basic shapes and paths as outlines (SVG 2, chapters 9 and 10). */
import type { Point } from "../geometry/types.ts";
import type { LengthContext } from "./lengths.ts";
import { type Axis, lengthToUser, numberList } from "./lengths.ts";
import type { Outline, Segment } from "./outline.ts";
import { readPathData } from "./path-data.ts";

export interface ShapeReading {
  readonly outline: Outline;
  /** What is wrong with the element, as the end of a sentence that begins with its name. */
  readonly problem?: string;
}

/** Reads a property of the element: its geometry may be set by attribute or by style. */
export type Property = (name: string) => string | undefined;

const SHAPES: Readonly<Record<string, (shape: ShapeReader) => ShapeReading>> = {
  path: readPath,
  rect: readRect,
  circle: readCircle,
  ellipse: readEllipse,
  line: readLine,
  polyline: (shape) => readPoints(shape, false),
  polygon: (shape) => readPoints(shape, true),
};

export const isShape = (name: string): boolean => Object.hasOwn(SHAPES, name);

/**
 * The outline of a shape in user units: empty where SVG draws nothing. A shape with a number that is malformed
 * or not finite, or with a negative size, is empty and has a problem; a path is drawn up to its error.
 */
export function readShape(name: string, property: Property, lengths: LengthContext): ShapeReading {
  const reader = new ShapeReader(property, lengths);
  const reading = SHAPES[name](reader);
  if (reader.problem !== undefined) return { outline: [], problem: reader.problem };
  return everyPointIsFinite(reading.outline)
    ? reading
    : { outline: [], problem: "has a coordinate that is not a finite number" };
}

class ShapeReader {
  readonly property: Property;
  readonly #lengths: LengthContext;
  problem: string | undefined;

  constructor(property: Property, lengths: LengthContext) {
    this.property = property;
    this.#lengths = lengths;
  }

  /** A length; 0 where it is absent. */
  length(name: string, axis: Axis): number {
    return this.optional(name, axis) ?? 0;
  }

  /** A size: a length that may not be negative. */
  size(name: string, axis: Axis): number {
    return this.optionalSize(name, axis) ?? 0;
  }

  optionalSize(name: string, axis: Axis): number | null {
    const size = this.optional(name, axis);
    if (size !== null && size < 0) this.problem = `has a negative ${name}`;
    return size;
  }

  optional(name: string, axis: Axis): number | null {
    const text = this.property(name);
    if (text === undefined || text === "auto" || text.trim() === "") return null;
    const value = lengthToUser(text, axis, this.#lengths);
    if (value === null || !Number.isFinite(value)) {
      this.problem = `has ${name}="${text.slice(0, 24)}", which is not a finite number`;
      return null;
    }
    return value;
  }
}

function readPath(shape: ShapeReader): ShapeReading {
  const data = shape.property("d") ?? "";
  const inStyle = /^path\(\s*["'](.*)["']\s*\)$/s.exec(data);
  const { outline, error } = readPathData(inStyle?.[1] ?? data);
  return error === undefined ? { outline } : { outline, problem: `has an error in its path data: ${error}` };
}

function readRect(shape: ShapeReader): ShapeReading {
  const x = shape.length("x", "x");
  const y = shape.length("y", "y");
  const width = shape.size("width", "x");
  const height = shape.size("height", "y");
  if (width <= 0 || height <= 0) return { outline: [] };
  const givenX = shape.optionalSize("rx", "x");
  const givenY = shape.optionalSize("ry", "y");
  const rx = Math.min(givenX ?? givenY ?? 0, width / 2);
  const ry = Math.min(givenY ?? givenX ?? 0, height / 2);
  const right = x + width;
  const bottom = y + height;
  if (rx === 0 || ry === 0) {
    const corners: Point[] = [
      [right, y],
      [right, bottom],
      [x, bottom],
    ];
    return { outline: [closedSubpath([x, y], corners.map(lineTo))] };
  }
  const corner = (to: Point): Segment => ({
    kind: "arc",
    rx,
    ry,
    rotationDeg: 0,
    largeArc: false,
    sweep: true,
    to,
  });
  return {
    outline: [
      closedSubpath(
        [x + rx, y],
        [
          lineTo([right - rx, y]),
          corner([right, y + ry]),
          lineTo([right, bottom - ry]),
          corner([right - rx, bottom]),
          lineTo([x + rx, bottom]),
          corner([x, bottom - ry]),
          lineTo([x, y + ry]),
          corner([x + rx, y]),
        ],
      ),
    ],
  };
}

function readCircle(shape: ShapeReader): ShapeReading {
  const r = shape.size("r", "other");
  return {
    outline: ellipse(shape.length("cx", "x"), shape.length("cy", "y"), r, r),
  };
}

function readEllipse(shape: ShapeReader): ShapeReading {
  const givenX = shape.optionalSize("rx", "x");
  const givenY = shape.optionalSize("ry", "y");
  const rx = givenX ?? givenY ?? 0;
  const ry = givenY ?? givenX ?? 0;
  return {
    outline: ellipse(shape.length("cx", "x"), shape.length("cy", "y"), rx, ry),
  };
}

/** Four quarter arcs from the rightmost point, towards positive y. */
function ellipse(cx: number, cy: number, rx: number, ry: number): Outline {
  if (rx <= 0 || ry <= 0) return [];
  const quarters: Point[] = [
    [cx, cy + ry],
    [cx - rx, cy],
    [cx, cy - ry],
    [cx + rx, cy],
  ];
  return [
    closedSubpath(
      [cx + rx, cy],
      quarters.map((to) => ({
        kind: "arc",
        rx,
        ry,
        rotationDeg: 0,
        largeArc: false,
        sweep: true,
        to,
      })),
    ),
  ];
}

function readLine(shape: ShapeReader): ShapeReading {
  const start: Point = [shape.length("x1", "x"), shape.length("y1", "y")];
  const end: Point = [shape.length("x2", "x"), shape.length("y2", "y")];
  return { outline: [{ start, segments: [lineTo(end)], closed: false }] };
}

/** A list in error is drawn up to its last whole point. */
function readPoints(shape: ShapeReader, closed: boolean): ShapeReading {
  const { numbers, rest } = numberList(shape.property("points") ?? "");
  const points: Point[] = [];
  for (let i = 0; i + 1 < numbers.length; i += 2) points.push([numbers[i], numbers[i + 1]]);
  const [start, ...others] = points;
  const outline = start === undefined ? [] : [{ start, segments: others.map(lineTo), closed }];
  if (rest !== "")
    return {
      outline,
      problem: `has points that can’t be read from “${rest.slice(0, 24)}” on`,
    };
  return numbers.length % 2 === 0
    ? { outline }
    : { outline, problem: "has an x without its y in its points" };
}

const lineTo = (to: Point): Segment => ({ kind: "line", to });

const closedSubpath = (start: Point, segments: readonly Segment[]) => ({
  start,
  segments,
  closed: true,
});

const finite = (p: Point): boolean => Number.isFinite(p[0]) && Number.isFinite(p[1]);

const everyPointIsFinite = (outline: Outline): boolean =>
  outline.every(({ start, segments }) => finite(start) && segments.every(segmentIsFinite));

function segmentIsFinite(segment: Segment): boolean {
  if (!finite(segment.to)) return false;
  switch (segment.kind) {
    case "line":
      return true;
    case "quadratic":
      return finite(segment.control);
    case "cubic":
      return finite(segment.control1) && finite(segment.control2);
    case "arc":
      return finite([segment.rx, segment.ry]) && Number.isFinite(segment.rotationDeg);
  }
}
