/**
 * Connectors that the artist reshaped are bends.
 *
 * A connector's path says in `data-tuck-planned` how it was planned. Where what is drawn strays from that, by
 * path data or by a transform, the points that lie elsewhere are those the connector is led through from then on;
 * between them it finds its own way, and its ends are chosen as ever. A straight connector that was moved
 * sideways is led through its middle. A connector that was bent before says so in `data-tuck-through`; deleting
 * it lets it find its own way again. Jumps are not sewn: reshaping one means nothing.
 */

import { flatten } from "../artwork/flatten.ts";
import { apply, multiply } from "../artwork/matrix.ts";
import { readPathData } from "../artwork/path-data.ts";
import type { Bend } from "../artwork/types.ts";
import type { XmlElement } from "../artwork/xml.ts";
import { FLATTEN_TOLERANCE_MM, MARKER_MOVED_MM } from "../constants.ts";
import { lerp } from "../geometry/point.ts";
import { nearestOnPolyline } from "../geometry/polyline.ts";
import { simplifyLine } from "../geometry/simplify.ts";
import type { Matrix, Point, Polyline } from "../geometry/types.ts";
import { isNear } from "./element-marks.ts";
import { numbersIn, pairsOf } from "./numbers.ts";
import { type Drawn, transformToRoot } from "./read-pins.ts";

/** A curve becomes points that keep this near to it: half a thread. */
const CURVE_MM = 0.2;

/** The bends of a planned drawing's connectors. Paths that an editor spoilt are passed over. */
export function drawnBends(root: XmlElement, userToMm: Matrix): Drawn<Bend>[] {
  return connectorsBelow(root).flatMap((path) => drawnBend(path, userToMm) ?? []);
}

function connectorsBelow(element: XmlElement): XmlElement[] {
  return element.children.flatMap((child) => {
    if (child.type === "text") return [];
    return Object.hasOwn(child.attributes, "data-tuck-planned") ? [child] : connectorsBelow(child);
  });
}

function drawnBend(path: XmlElement, userToMm: Matrix): Drawn<Bend> | null {
  const { attributes } = path;
  const from = attributes["data-tuck-from"];
  const to = attributes["data-tuck-to"];
  const over = attributes["data-tuck-over"];
  if (!from || !to) return null;
  const ends = { from: [from], to, ...(over === undefined ? {} : { over }) };
  const reshaped = pointsElsewhere(path, userToMm);
  if (reshaped !== null) return { mark: { ...ends, through: reshaped }, isMoved: true };
  const through = pairsOf(numbersIn(attributes["data-tuck-through"] ?? "") ?? []).map((p) =>
    apply(userToMm, p),
  );
  return through.length > 0 && through.every(isNear) ? { mark: { ...ends, through }, isMoved: false } : null;
}

/** The points at which a connector is drawn elsewhere than planned; `null` where it is as it was. */
function pointsElsewhere(path: XmlElement, userToMm: Matrix): Polyline | null {
  const { d = "", "data-tuck-planned": asPlanned } = path.attributes;
  const toRoot = transformToRoot(path);
  if (toRoot === null || (d === asPlanned && isIdentity(toRoot))) return null;
  const drawn = lineOf(d, multiply(userToMm, toRoot));
  const planned = lineOf(asPlanned, userToMm);
  if (drawn === null || planned === null) return null;
  const strays = (p: Point, line: Polyline) => nearestOnPolyline(p, line).distance > MARKER_MOVED_MM;
  if (!drawn.some((p) => strays(p, planned)) && !planned.some((p) => strays(p, drawn))) return null;
  const inner = simplifyLine(drawn, CURVE_MM).slice(1, -1);
  const moved = inner.filter((p) => strays(p, planned));
  if (moved.length > 0) return moved;
  return inner.length > 0 ? inner : [lerp(drawn[0], drawn[drawn.length - 1], 0.5)];
}

function lineOf(d: string, toMm: Matrix): Polyline | null {
  const [first] = flatten(readPathData(d).outline.slice(0, 1), toMm, FLATTEN_TOLERANCE_MM);
  if (first === undefined || first.points.length < 2) return null;
  return first.points.every(isNear) ? first.points : null;
}

const isIdentity = ([a, b, c, d, e, f]: Matrix): boolean =>
  a === 1 && b === 0 && c === 0 && d === 1 && e === 0 && f === 0;
