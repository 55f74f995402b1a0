import type { Finding } from "../findings.ts";
import type { Matrix, Point, Polyline, Region, Ring } from "../geometry/types.ts";
import type { ThreadLabel } from "../threads/types.ts";

/** How a piece is sewn; `skip` leaves it out. */
export type Technique = "fill" | "satin" | "run" | "skip";

/** What the artist set on the element with `data-tuck-*`; absent means «as the settings say». */
export interface PieceOverrides {
  readonly technique?: Technique;
  readonly angleDeg?: number;
  readonly spacingMm?: number;
  readonly lengthMm?: number;
  readonly pullMm?: number;
  readonly underlay?: string;
  readonly strand?: string;
}

/**
 * One area or line, one thread, one technique.
 *
 * Guaranteed: style, transforms, units, clips and `use` are resolved; coordinates are millimetres at sewn
 * size with the origin at the artwork's top left corner; curves are flat to 0.05 mm; `region` is one polygon
 * (with its holes), not empty, and is what the element paints here; `colour` is `#rrggbb`.
 */
export interface Piece {
  /** The element's id, with `.stroke` for a stroke and `.2`, `.3` … for further islands. Unique. */
  readonly id: string;
  readonly element: string;
  readonly paint: "fill" | "stroke";
  readonly colour: string;
  /** Where its colour is that of a thread from a list: which. */
  readonly thread?: ThreadLabel;
  /** The painted area: of a stroke, its outline with caps, joins and dashes. One polygon. */
  readonly region: Region;
  /** Of a stroke: its centre line (closed: the first point is repeated at the end). */
  readonly line?: Polyline;
  /** Of a network (sequence/networks.ts), in place of one line: the lines of its members, which touch. */
  readonly lines?: readonly Polyline[];
  /** Of a network: the ids of the pieces it was made of, its own first. Its region may be several polygons. */
  readonly members?: readonly string[];
  /** Of a run: how often its line is sewn at least; absent: twice, out and back. */
  readonly passes?: number;
  /** Of a stroke: its width. */
  readonly widthMm?: number;
  /** Resolved from the override, else from the paint and the width. */
  readonly technique: Technique;
  readonly overrides: PieceOverrides;
  /** Names by which the groups and layers around it are known (ids, titles, labels), outermost first. */
  readonly groups?: readonly string[];
  /** On a sheet of copies: the number of its copy, from 2; the first has none. */
  readonly copy?: number;
  /** Of a fill that is sewn in another order: its region in paint order, which its rows are shared out over. */
  readonly rowsOver?: Region;
  /** Where several techniques or columns share the region: its parts, which overlap a little. */
  readonly parts?: readonly PiecePart[];
  /** Where the parts hang together: a tree. */
  readonly joints?: readonly PieceJoint[];
}

/** A part of a piece's region that is sewn by one technique. */
export interface PiecePart {
  readonly technique: "fill" | "satin" | "run";
  /** One polygon. A satin is one column: from end to end, or round one hole. */
  readonly region: Region;
  /** Of a run: the line sewn along. Of a satin: the middle line (round a hole it repeats its first point). */
  readonly line?: Polyline;
  /** Of a satin: half its width at each point of the line. */
  readonly halfWidthsMm?: readonly number[];
}

/** A point that lies in two parts of a piece, given by their places among its parts. */
export interface PieceJoint {
  readonly parts: readonly [number, number];
  readonly at: Point;
}

/** An entry or exit point that the artist fixed: by moving its marker, or with an attribute on the element. */
export interface Pin {
  readonly piece: string;
  readonly point: "entry" | "exit";
  readonly at: Point;
  /** Set where an attribute on the element says so; a marker otherwise. */
  readonly by?: "element";
  /** Of a marker that was moved later than the element's attribute was set: that attribute's text. */
  readonly over?: string;
}

/** Points that the artist leads a connector through. */
export interface Bend {
  /** The connector leaves one of these pieces: those of one element. */
  readonly from: readonly string[];
  readonly to: string;
  /** Millimetres; at least one point. */
  readonly through: Polyline;
  /** As for pins; otherwise the connector itself was reshaped. */
  readonly by?: "element";
  readonly over?: string;
}

/** The artist's wish that the pieces of an element are sewn right after another piece. */
export interface OrderWish {
  /** The element that says so: a shape, a group, a `use`. */
  readonly element: string;
  /** All its pieces, in paint order. */
  readonly pieces: readonly string[];
  /** `null`: they are sewn first of all. */
  readonly after: string | null;
}

/** What the artist marked by hand, all in the drawing itself. Wishes stand in document order. */
export interface Marks {
  readonly pins: readonly Pin[];
  readonly bends: readonly Bend[];
  readonly after: readonly OrderWish[];
}

/** Nothing was marked by hand. */
export const NO_MARKS: Marks = { pins: [], bends: [], after: [] };

/** The drawing, resolved once. Pieces stand in paint order. */
export interface Artwork {
  readonly source: { readonly name: string; readonly sha256: string };
  readonly size: { readonly widthMm: number; readonly heightMm: number };
  /** From the root element's user units to millimetres. */
  readonly userToMm: Matrix;
  readonly pieces: readonly Piece[];
  readonly findings: readonly Finding[];
  /** Where the size is no longer the drawing's own (a patch, a sheet of copies): what that was. */
  readonly drawnSize?: { readonly widthMm: number; readonly heightMm: number };
  /** Of patches: where each is cut out. */
  readonly cutLine?: readonly Ring[];
  /** The pieces stand in the order in which they are to be sewn; nothing regroups them. */
  readonly inSewingOrder?: true;
}
