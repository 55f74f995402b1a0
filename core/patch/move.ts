/** Artwork in another place: everything in a piece that has a place moves with it. */

import { multiply, translation } from "../artwork/matrix.ts";
import type { Artwork, Piece } from "../artwork/types.ts";
import type { Point, Polyline, Region } from "../geometry/types.ts";

/** The piece moved by `dx`, `dy` millimetres. */
export function movePiece(piece: Piece, [dx, dy]: Point): Piece {
  const point = ([x, y]: Point): Point => [x + dx, y + dy];
  const line = (points: Polyline): Polyline => points.map(point);
  const region = (polygons: Region): Region =>
    polygons.map(({ outer, holes }) => ({ outer: line(outer), holes: holes.map(line) }));
  return {
    ...piece,
    region: region(piece.region),
    ...(piece.line === undefined ? {} : { line: line(piece.line) }),
    ...(piece.lines === undefined ? {} : { lines: piece.lines.map(line) }),
    ...(piece.parts === undefined
      ? {}
      : {
          parts: piece.parts.map((part) => ({
            ...part,
            region: region(part.region),
            ...(part.line === undefined ? {} : { line: line(part.line) }),
          })),
        }),
    ...(piece.joints === undefined
      ? {}
      : { joints: piece.joints.map((joint) => ({ ...joint, at: point(joint.at) })) }),
  };
}

/** The artwork moved on its page, with its findings and cut lines. */
export function moveArtwork(artwork: Artwork, by: Point): Artwork {
  const point = ([x, y]: Point): Point => [x + by[0], y + by[1]];
  return {
    ...artwork,
    userToMm: multiply(translation(by[0], by[1]), artwork.userToMm),
    pieces: artwork.pieces.map((piece) => movePiece(piece, by)),
    findings: artwork.findings.map((finding) =>
      finding.at === undefined ? finding : { ...finding, at: point(finding.at) },
    ),
    ...(artwork.cutLine === undefined ? {} : { cutLine: artwork.cutLine.map((ring) => ring.map(point)) }),
  };
}
