/**
 * Pin an entry or an exit: `data-tuck-entry` and `data-tuck-exit` on the artist's element, at the selected node of
 * its path, or, of a selected marker, at the point of its piece's outline (of a line: of the line) that is nearest
 * to where the marker stands.
 */
import { apply } from "../../../../core/artwork/matrix.ts";
import { nodePlace } from "../../../../core/artwork/path-nodes.ts";
import { elementsIn } from "../../../../core/artwork/tree.ts";
import type { Artwork, Piece, Pin } from "../../../../core/artwork/types.ts";
import { parseXml, type XmlElement } from "../../../../core/artwork/xml.ts";
import { nearestOnPolyline } from "../../../../core/geometry/polyline.ts";
import { nearestOnEdge } from "../../../../core/geometry/region.ts";
import type { Point } from "../../../../core/geometry/types.ts";
import { type MarkEdit, withMarks } from "../../../../core/layers/edit-marks.ts";
import { pinAttribute } from "../../../../core/layers/element-marks.ts";
import { markerPlace } from "../../../../core/layers/read-pins.ts";
import { userUnits } from "../../../../core/layers/user-units.ts";
import { type Entry, Refusal, type Request } from "../entry.ts";
import { choiceOf } from "../fields.ts";
import { artworkOf, planAgain } from "../planning.ts";
import { artworkSelected, elementById, elementOf } from "../selection.ts";
import { PIN, PLAN_AGAIN, REFUSALS } from "../texts.ts";

export const pin: Entry = {
  name: "pin",
  label: PIN.label,
  tip: PIN.tip,
  hasPreview: true,
  fields: [
    { kind: "note", text: PIN.how },
    choiceOf("do", PIN.what, { pin: PIN.pin, release: PIN.release }),
    choiceOf("point", PIN.point, { entry: PIN.entry, exit: PIN.exit }),
    choiceOf("paint", PIN.paint, { fill: PIN.fill, stroke: PIN.stroke }),
    { kind: "flag", name: "again", label: PLAN_AGAIN, preset: true },
  ],

  run(request) {
    const { svg, values } = request;
    const artwork = artworkOf(svg);
    const edited =
      values.text("do") === "pin"
        ? pinned(svg, placesMeant(request, artwork), artwork)
        : released(svg, pointsMeant(request, artwork), artwork);
    return { svg: values.flag("again") ? planAgain(edited) : edited };
  },
};

/** The entry or the exit of a piece. */
interface PiecePoint {
  readonly piece: Piece;
  readonly point: Pin["point"];
}

/** A point of a piece, and where it is to be, in millimetres. */
interface Place extends PiecePoint {
  readonly at: Point;
}

/** Where the selected markers stand; else where the selected node lies. */
function placesMeant(request: Request, artwork: Artwork): Place[] {
  const { svg, nodes } = request;
  const root = parseXml(svg);
  const markers = markersSelected(request, root, artwork);
  if (markers.length > 0) return markers;
  if (nodes.length === 0) throw new Refusal(REFUSALS.noPlace);
  if (nodes.length > 1) throw new Refusal(REFUSALS.manyNodes);
  const [{ element, subpath, node }] = nodes;
  const place = nodePlace(root, element, subpath, node);
  if (place === "missing") throw new Refusal(REFUSALS.noNode);
  if (place === "beyond-arc") throw new Refusal(REFUSALS.arcBefore);
  const at = apply(artwork.userToMm, place);
  return pointsOf([element], request, artwork).map((point) => ({ ...point, at }));
}

/** The points of the selected markers; else those of the selected shapes. */
function pointsMeant(request: Request, artwork: Artwork): PiecePoint[] {
  const { svg, selection } = request;
  const markers = markersSelected(request, parseXml(svg), artwork);
  return markers.length > 0 ? markers : pointsOf(artworkSelected(svg, selection), request, artwork);
}

function markersSelected({ selection }: Request, root: XmlElement, { pieces, userToMm }: Artwork): Place[] {
  return selection.flatMap((id) => {
    const element = elementById(root, id);
    const marker = element && markerPlace(element);
    const piece = marker && pieces.find((one) => one.id === marker.piece);
    if (!marker || !piece) return [];
    return [{ piece, point: marker.point, at: nearestOf(piece, apply(userToMm, marker.at)) }];
  });
}

/** The nearest point of its outline; of what is sewn along a line, of that line. */
const nearestOf = ({ region, line, technique }: Piece, at: Point): Point =>
  line !== undefined && technique === "run"
    ? nearestOnPolyline(at, line).point
    : nearestOnEdge(region, at).point;

/** The chosen point of what these elements draw, once an element: of their fill or their stroke, as chosen. */
function pointsOf(elements: readonly string[], { values }: Request, { pieces }: Artwork): PiecePoint[] {
  const point = values.text("point") as Pin["point"];
  const paint = values.text("paint");
  const points = elements.flatMap((element) => {
    const own = pieces.filter((piece) => elementOf(piece) === element);
    const piece = own.find((one) => one.paint === paint) ?? own[0];
    return piece === undefined ? [] : [{ piece, point }];
  });
  if (points.length === 0) throw new Refusal(REFUSALS.nothingSewn);
  return points;
}

function pinned(svg: string, places: readonly Place[], { pieces, userToMm }: Artwork): string {
  const user = userUnits(userToMm);
  const edits = places.map(
    ({ piece, point, at }): MarkEdit => ({
      element: elementOf(piece),
      name: pinAttribute(piece, point, pieces),
      value: user.point(at, " "),
    }),
  );
  return withMarks(withoutMarkers(svg, places), edits);
}

function released(svg: string, points: readonly PiecePoint[], { pieces }: Artwork): string {
  const edits = points.map(
    ({ piece, point }): MarkEdit => ({
      element: elementOf(piece),
      name: pinAttribute(piece, point, pieces),
      value: null,
    }),
  );
  return withMarks(withoutMarkers(svg, points), edits);
}

/**
 * The drawing without the markers of these points. A marker that was moved is a pin itself and would go before the
 * attribute; planning again draws it anew.
 */
function withoutMarkers(svg: string, points: readonly PiecePoint[]): string {
  const isMeant = (element: XmlElement): boolean => {
    const marker = markerPlace(element);
    return points.some(({ piece, point }) => marker?.piece === piece.id && marker.point === point);
  };
  const markers = markersIn(parseXml(svg)).filter(isMeant);
  return markers.reverse().reduce((text, { start, end }) => text.slice(0, start) + text.slice(end), svg);
}

const markersIn = (element: XmlElement): XmlElement[] =>
  elementsIn(element).flatMap((child) =>
    Object.hasOwn(child.attributes, "data-tuck-point") ? [child] : markersIn(child),
  );
