/**
 * Markers that the artist moved are pins.
 *
 * A marker's point is where the first path in it begins, through every transform from that path up to the root:
 * editors move things by either. A marker is a pin where that point lies elsewhere than `data-tuck-at` says it
 * was planned, or where it was a pin before (`data-tuck-pinned="yes"`); deleting a pinned marker frees the point.
 * A whole layer that was moved has moved all its markers: they are all pins then. A marker that only shows what an
 * attribute on the element says (`data-tuck-pinned="element"`) is no pin by itself.
 */
import { apply, IDENTITY, multiply } from "../artwork/matrix.ts";
import { parseTransform } from "../artwork/transform.ts";
import type { Pin } from "../artwork/types.ts";
import { parseXml, type XmlElement } from "../artwork/xml.ts";
import { MARKER_MOVED_MM } from "../constants.ts";
import type { Finding } from "../findings.ts";
import { distance } from "../geometry/point.ts";
import type { Matrix, Point } from "../geometry/types.ts";

/** The pins that moved markers say. */
export interface ReadPins {
  /** At most one for each piece and kind of point, in the order of the drawing. */
  readonly pins: readonly Pin[];
  /** Markers that were passed over, or that contradict each other. */
  readonly findings: readonly Finding[];
}

/** A mark in the layers, and whether it was moved since it was planned. */
export interface Drawn<T> {
  readonly mark: T;
  readonly isMoved: boolean;
}

/**
 * The pins that the markers of a planned drawing are. Of several moved markers for one point the last in the
 * drawing counts.
 *
 * @param drawing its text, or the root that `parseXml` made of it
 * @param userToMm from the root's user units to millimetres, as in the artwork
 * @throws ArtworkError where a text is not well-formed XML
 */
export function readPins(drawing: string | XmlElement, userToMm: Matrix): ReadPins {
  const { pins, findings } = markerPins(typeof drawing === "string" ? parseXml(drawing) : drawing, userToMm);
  return { pins: pins.map(({ mark: { over: _, ...pin } }) => pin), findings };
}

/** The same, with what tells whether an attribute on the element goes before them (`read-marks.ts`). */
export function markerPins(
  root: XmlElement,
  userToMm: Matrix,
): { pins: readonly Drawn<Pin>[]; findings: readonly Finding[] } {
  const pins = new Map<string, Drawn<Pin>>();
  const findings: Finding[] = [];

  for (const element of markersBelow(root)) {
    const marker = readMarker(element);
    if (typeof marker === "string") {
      findings.push(unreadable(element, marker));
      continue;
    }
    const { piece, point, over } = marker;
    const at = apply(userToMm, marker.anchor);
    const plannedAt = apply(userToMm, marker.plannedAt);
    const isMoved = distance(at, plannedAt) > MARKER_MOVED_MM;
    if (!isMoved && !marker.isPinned) continue;

    const placed: Pin = { piece, point, at: isMoved ? at : plannedAt };
    const pin = over === undefined ? placed : { ...placed, over };
    const key = `${point} ${piece}`;
    const earlier = pins.get(key)?.mark;
    if (earlier && distance(earlier.at, pin.at) > MARKER_MOVED_MM) findings.push(contradiction(pin));
    pins.set(key, { mark: pin, isMoved });
  }
  return { pins: [...pins.values()], findings };
}

interface Marker {
  readonly piece: string;
  readonly point: "entry" | "exit";
  /** Both in the root's user units. */
  readonly anchor: Point;
  readonly plannedAt: Point;
  readonly isPinned: boolean;
  readonly over: string | undefined;
}

function markersBelow(element: XmlElement): XmlElement[] {
  return element.children.flatMap((child) => {
    if (child.type === "text") return [];
    return Object.hasOwn(child.attributes, "data-tuck-point") ? [child] : markersBelow(child);
  });
}

/** Where a marker stands, in the root's user units; `null` where it cannot be read. */
export function markerPlace(
  element: XmlElement,
): { readonly piece: string; readonly point: Pin["point"]; readonly at: Point } | null {
  const marker = readMarker(element);
  return typeof marker === "string" ? null : { piece: marker.piece, point: marker.point, at: marker.anchor };
}

/** The marker, or what is wrong with it. */
function readMarker(element: XmlElement): Marker | string {
  const point = element.attributes["data-tuck-point"];
  const piece = element.attributes["data-tuck-piece"];
  if (point !== "entry" && point !== "exit") return "it is neither an entry nor an exit";
  if (!piece) return "it names no piece";
  const plannedAt = firstPair(element.attributes["data-tuck-at"] ?? "");
  if (plannedAt === null) return "where it was planned is not two numbers";
  const path = firstPath(element);
  if (path === null) return "there is no path in it";
  const start = /^\s*m/i.test(path.attributes.d ?? "")
    ? firstPair(path.attributes.d.trimStart().slice(1))
    : null;
  if (start === null) return "its path does not begin at a point";
  const toRoot = transformToRoot(path);
  const anchor = toRoot && apply(toRoot, start);
  if (!anchor?.every(Number.isFinite)) return "its transform is in error";
  return {
    piece,
    point,
    anchor,
    plannedAt,
    isPinned: element.attributes["data-tuck-pinned"] === "yes",
    over: element.attributes["data-tuck-over"],
  };
}

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/;
const SEPARATOR = /^\s*,?\s*/;

/** The two numbers that the text begins with, as SVG writes coordinate pairs: `1,2`, `1 2`, `1-2`. */
function firstPair(text: string): Point | null {
  const trimmed = text.trimStart();
  const x = NUMBER.exec(trimmed)?.[0];
  if (x === undefined) return null;
  const y = NUMBER.exec(trimmed.slice(x.length).replace(SEPARATOR, ""))?.[0];
  if (y === undefined) return null;
  const pair: Point = [Number(x), Number(y)];
  return pair.every(Number.isFinite) ? pair : null;
}

function firstPath(element: XmlElement): XmlElement | null {
  for (const child of element.children) {
    if (child.type === "text") continue;
    const path = child.name === "path" ? child : firstPath(child);
    if (path !== null) return path;
  }
  return null;
}

/** All transforms on the way up, the root's own left out; `null` where one of them is in error. */
export function transformToRoot(element: XmlElement): Matrix | null {
  let matrix = IDENTITY;
  for (let each: XmlElement | null = element; each?.parent; each = each.parent) {
    const own = parseTransform(each.attributes.transform ?? "");
    if (own === null) return null;
    matrix = multiply(own, matrix);
  }
  return matrix;
}

/** What the finding is about: the piece where the marker names one, else the marker's own id. */
function subject(element: XmlElement): Pick<Finding, "piece"> {
  const piece = element.attributes["data-tuck-piece"] || element.attributes.id;
  return piece ? { piece } : {};
}

const unreadable = (element: XmlElement, why: string): Finding => ({
  code: "marker-unreadable",
  severity: "warning",
  ...subject(element),
  message: `The marker on line ${element.line} was passed over: ${why}.`,
  remedy: "Delete it; planning again draws it anew, and it can be moved then.",
});

/** Without a place, so that no mark of it is drawn: planning again leaves one marker, and nothing to report. */
const contradiction = ({ piece, point }: Pin): Finding => ({
  code: "marker-doubled",
  severity: "warning",
  piece,
  message: `Several markers fix the ${point} of ${piece} at different places; the last one in the drawing counts.`,
  remedy: "Delete those that are not meant.",
});
