/**
 * The layer of markers: where each piece is entered and left, for the artist to see and to move.
 *
 * A marker is a group of two paths, halo and ink, each of which begins at the very point it marks. So the
 * point is found again whether an editor moves a marker by a transform or by rewriting path data.
 */
import { distance, norm } from "../geometry/point.ts";
import type { Point, Polyline } from "../geometry/types.ts";
import { numberLines } from "./digits.ts";
import { inkOnHalo } from "./ink.ts";
import { type Drawing, layer } from "./layer.ts";
import { isTie, type SewnPiece } from "./sewn-pieces.ts";

/** Half the span of a marker's arms or bar; a whole marker is 1.6 mm across. */
const HALF_SPAN_MM = 0.8;
const CHEVRON_DEPTH_MM = 1.1;
const CHEVRON_REACH_MM = norm(CHEVRON_DEPTH_MM, HALF_SPAN_MM);
const NUMBER_HEIGHT_MM = 1.1;
const NUMBER_GAP_MM = 0.35;
/** Of the line under the number of a pinned marker. */
const UNDERLINE_MM = 1.4;
const UNDERLINE_GAP_MM = 0.3;

/** Stitches shorter than this have no direction to speak of. */
const MIN_DIRECTION_MM = 1e-3;

export function pointsLayer(pieces: readonly SewnPiece[], drawing: Drawing): string {
  return layer(
    "points",
    drawing,
    pieces.flatMap((sewn) => [marker("entry", sewn, drawing), marker("exit", sewn, drawing)]),
  );
}

function marker(point: "entry" | "exit", sewn: SewnPiece, { svg, user }: Drawing): string {
  const { piece } = sewn;
  const isEntry = point === "entry";
  const at = isEntry ? piece.entry : piece.exit;
  const isPinned = isEntry ? piece.entryPinned : piece.exitPinned;
  const pin = isEntry ? piece.entryPin : piece.exitPin;
  const along = isEntry ? firstDirection(sewn) : lastDirection(sewn);
  const shape = isEntry ? chevron(at, along) : bar(at, along);
  return svg.element(
    "g",
    {
      "data-tuck-point": point,
      "data-tuck-piece": piece.id,
      "data-tuck-at": user.point(at, " "),
      "data-tuck-pinned": isPinned ? (pin?.by ?? "yes") : undefined,
      "data-tuck-over": pin?.over,
    },
    [
      svg.text(
        "title",
        `${isEntry ? "Entry" : "Exit"} ${piece.order}: ${piece.id}${isPinned ? ", pinned" : ""}`,
      ),
      ...inkOnHalo([shape, ...label(piece.order, at, isEntry, isPinned)], user, svg),
    ],
  );
}

/** An open chevron whose tip is the entry; it points along the first stitch. */
const chevron = (at: Point, along: Point): Polyline => [
  at,
  beside(at, along, -CHEVRON_DEPTH_MM, HALF_SPAN_MM),
  at,
  beside(at, along, -CHEVRON_DEPTH_MM, -HALF_SPAN_MM),
];

/** A bar through the exit, across the last stitch. */
const bar = (at: Point, along: Point): Polyline => [
  at,
  beside(at, along, 0, HALF_SPAN_MM),
  beside(at, along, 0, -HALF_SPAN_MM),
];

/** The point so far along a direction, and so far to the right of it. */
const beside = ([x, y]: Point, [dx, dy]: Point, alongMm: number, rightMm: number): Point => [
  x + dx * alongMm - dy * rightMm,
  y + dy * alongMm + dx * rightMm,
];

/**
 * The sewing number: of an entry above its point, of an exit below, each beyond the reach of a chevron that
 * points anywhere. An exit and the next entry often share one point, and so nothing covers either number. A
 * pinned marker's number is underlined.
 */
function label(order: number, [x, atY]: Point, isEntry: boolean, isPinned: boolean): Polyline[] {
  const half = NUMBER_HEIGHT_MM / 2;
  const underline = isPinned ? 2 * UNDERLINE_GAP_MM : 0;
  const away = CHEVRON_REACH_MM + NUMBER_GAP_MM + half;
  const y = isEntry ? atY - away - underline : atY + away;
  const digits = numberLines(order, [x, y], NUMBER_HEIGHT_MM);
  if (!isPinned) return digits;
  const below = y + half + UNDERLINE_GAP_MM;
  const line: Polyline = [
    [x - UNDERLINE_MM / 2, below],
    [x + UNDERLINE_MM / 2, below],
  ];
  return [...digits, line];
}

/** Unit direction of a piece's first stitch, its tie left aside; along x where it has none. */
function firstDirection({ steps }: SewnPiece): Point {
  const line = needlePoints(steps);
  return direction(line);
}

function lastDirection({ steps }: SewnPiece): Point {
  const [x, y] = direction(needlePoints(steps).reverse());
  return [-x, -y];
}

function needlePoints(steps: SewnPiece["steps"]): Point[] {
  const line: Point[] = [];
  for (const { role, points } of steps) {
    if (isTie(role)) continue;
    for (let i = 0; i < points.length; i += 2) line.push([points[i], points[i + 1]]);
  }
  return line;
}

function direction(line: readonly Point[]): Point {
  const [from] = line;
  const to = line.find((p) => distance(from, p) > MIN_DIRECTION_MM);
  if (to === undefined) return [1, 0];
  const length = distance(from, to);
  return [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
}
