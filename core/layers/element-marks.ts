/**
 * Marks on the artist's own elements: attributes that stay when layers are stripped, and that one undo step of
 * any editor takes back. Places are in the root's user units.
 *
 * | attribute | value |
 * | --- | --- |
 * | `data-tuck-entry`, `data-tuck-exit` | `x y`: where the element's piece is entered, left; where it has a fill and a stroke, its fill's |
 * | `data-tuck-entry-stroke`, `data-tuck-exit-stroke` | the same for its stroke |
 * | `data-tuck-bend` | `PIECE x y x y …`: the connector from here to that piece runs through these points; several with `;` between |
 * | `data-tuck-after` | `PIECE`: the element's pieces are sewn right after that one; `-` is first of all |
 *
 * An element's pieces are those of all that it draws: a group's are those inside, a `use`'s its copies. A pin
 * belongs to the nearest of them.
 */
import { MAX_COORDINATE_MM } from "../artwork/limits.ts";
import { apply } from "../artwork/matrix.ts";
import { nameElements } from "../artwork/names.ts";
import { Notes } from "../artwork/notes.ts";
import { guestsIn, isOwn } from "../artwork/own-layers.ts";
import { elementsIn } from "../artwork/tree.ts";
import type { Artwork, Bend, Marks, OrderWish, Piece, Pin } from "../artwork/types.ts";
import type { XmlElement } from "../artwork/xml.ts";
import type { Finding } from "../findings.ts";
import { distanceToRegion } from "../geometry/region.ts";
import type { Matrix, Point, Polyline } from "../geometry/types.ts";
import { numbersIn, pairsOf } from "./numbers.ts";

/** A pin or a bend, and the text that says so. */
export interface Written<T> {
  readonly mark: T;
  readonly text: string;
}

export interface ElementMarks {
  readonly pins: readonly Written<Pin>[];
  readonly bends: readonly Written<Bend>[];
  readonly after: Marks["after"];
  /** Marks that were passed over. */
  readonly findings: readonly Finding[];
}

/** Each pin's attribute, the point it fixes, and whether it is the stroke's. */
const PIN_ATTRIBUTES = [
  { attribute: "data-tuck-entry", point: "entry", stroke: false },
  { attribute: "data-tuck-exit", point: "exit", stroke: false },
  { attribute: "data-tuck-entry-stroke", point: "entry", stroke: true },
  { attribute: "data-tuck-exit-stroke", point: "exit", stroke: true },
] as const;

/** Every attribute that marks an artist's element. */
export const MARK_ATTRIBUTES: readonly string[] = [
  ...PIN_ATTRIBUTES.map(({ attribute }) => attribute),
  "data-tuck-bend",
  "data-tuck-after",
];

/** The attribute that fixes a point of a piece, on the piece's `element`. */
export function pinAttribute(
  { element, paint }: Pick<Piece, "element" | "paint">,
  point: Pin["point"],
  pieces: readonly Pick<Piece, "element" | "paint">[],
): (typeof PIN_ATTRIBUTES)[number]["attribute"] {
  const stroke = paint === "stroke" && pieces.some((one) => one.element === element && one.paint === "fill");
  return PIN_ATTRIBUTES.find((one) => one.point === point && one.stroke === stroke)!.attribute;
}

/** The marks on all elements below the root, in document order. `pieces` and `userToMm` are those of the artwork. */
export function elementMarks(
  root: XmlElement,
  { pieces, userToMm }: Pick<Artwork, "pieces" | "userToMm">,
): ElementMarks {
  const marked = artworkBelow(root).filter(isMarked);
  if (marked.length === 0) return { pins: [], bends: [], after: [], findings: [] };
  const names = nameElements(root).nameOf;
  const notes = new Notes();
  const perElement = marked.map((element) =>
    marksOn(element, { name: names.get(element) ?? element.name, names, pieces, userToMm, notes }),
  );
  return {
    pins: perElement.flatMap(({ pins }) => pins),
    bends: perElement.flatMap(({ bends }) => bends),
    after: perElement.flatMap(({ after }) => after),
    findings: notes.findings,
  };
}

const isMarked = ({ attributes }: XmlElement): boolean =>
  MARK_ATTRIBUTES.some((name) => Object.hasOwn(attributes, name));

function artworkBelow(element: XmlElement): XmlElement[] {
  return elementsIn(element).flatMap((child) =>
    isOwn(child)
      ? guestsIn(child).flatMap((guest) => [guest, ...artworkBelow(guest)])
      : [child, ...artworkBelow(child)],
  );
}

interface Place {
  readonly name: string;
  readonly names: ReadonlyMap<XmlElement, string>;
  readonly pieces: readonly Piece[];
  readonly userToMm: Matrix;
  readonly notes: Notes;
}

function marksOn(element: XmlElement, place: Place): Omit<ElementMarks, "findings"> {
  const own = piecesOf(element, place);
  if (own.length === 0) {
    place.notes.add(
      "mark-without-piece",
      "info",
      place.name,
      `“${place.name}” has a mark (an entry, an exit, a bend or its place in the order), but nothing of it is sewn.`,
      "Nothing to do, unless it should be sewn.",
    );
    return { pins: [], bends: [], after: [] };
  }
  return {
    pins: PIN_ATTRIBUTES.flatMap((one) => pinsOn(element, one, own, place)),
    bends: bendsOn(element, own, place),
    after: wishOn(element, own, place),
  };
}

/** What the element draws: by itself, by what lies in it, or, of a `use`, by what it refers to. */
function piecesOf(element: XmlElement, { pieces, names }: Place): Piece[] {
  const inside = new Set([element, ...artworkBelow(element)].map((one) => names.get(one)));
  return pieces.filter(
    ({ id, element: drawn }) =>
      inside.has(drawn) ||
      id
        .split("/")
        .slice(0, -1)
        .some((use) => inside.has(use)),
  );
}

function pinsOn(
  { attributes }: XmlElement,
  { attribute, point, stroke }: (typeof PIN_ATTRIBUTES)[number],
  own: readonly Piece[],
  place: Place,
): Written<Pin>[] {
  const text = attributes[attribute]?.trim();
  if (text === undefined) return [];
  const numbers = numbersIn(text);
  if (numbers?.length !== 2) {
    refuse(place, attribute, text, "two numbers, x and y in the drawing’s user units");
    return [];
  }
  const paint = stroke ? "stroke" : "fill";
  const painted = own.filter((piece) => piece.paint === paint);
  const candidates = painted.length > 0 || stroke ? painted : own;
  const at = apply(place.userToMm, [numbers[0], numbers[1]]);
  if (!isNear(at)) {
    refuse(place, attribute, text, "a place on the drawing");
    return [];
  }
  const single = nearestPiece(
    candidates.filter(({ copy }) => copy === undefined),
    at,
  );
  if (single === null) {
    refuse(place, attribute, text, "data-tuck-entry or data-tuck-exit where there is no stroke that is sewn");
    return [];
  }
  return candidates
    .filter((piece) => piece === single || isCopyOf(piece, single))
    .map((piece) => ({
      mark: { piece: piece.id, point, at: movedWith(piece, single, at), by: "element" },
      text,
    }));
}

function nearestPiece(pieces: readonly Piece[], at: Point): Piece | null {
  let nearest: { piece: Piece; mm: number } | null = null;
  for (const piece of pieces) {
    const mm = distanceToRegion(piece.region, at);
    if (nearest === null || mm < nearest.mm) nearest = { piece, mm };
  }
  return nearest?.piece ?? null;
}

/** On a sheet, every copy of a piece has its points where the first has them. */
const isCopyOf = ({ id, copy }: Piece, first: Piece): boolean =>
  copy !== undefined && id === `copy-${copy}/${first.id}`;

function movedWith(piece: Piece, first: Piece, [x, y]: Point): Point {
  const [toX, toY] = piece.region[0].outer[0];
  const [fromX, fromY] = first.region[0].outer[0];
  return [x + toX - fromX, y + toY - fromY];
}

/** Whether polygon sums can be done with a place, in millimetres. */
export const isNear = (p: Point): boolean => p.every((value) => Math.abs(value) <= MAX_COORDINATE_MM);

function bendsOn({ attributes }: XmlElement, own: readonly Piece[], place: Place): Written<Bend>[] {
  const value = attributes["data-tuck-bend"];
  if (value === undefined) return [];
  const parts = value.split(";").map((part) => part.trim());
  return parts
    .filter((part) => part !== "")
    .flatMap((text) => {
      const read = readBend(text, place.userToMm);
      if (read === null) {
        refuse(
          place,
          "data-tuck-bend",
          text,
          "the piece that the connector leads to, then x y of each point",
        );
        return [];
      }
      return [{ mark: { from: own.map(({ id }) => id), ...read, by: "element" as const }, text }];
    });
}

/** `PIECE x y x y …`: the name is the first word and all up to the last that is no number. */
function readBend(text: string, userToMm: Matrix): { to: string; through: Polyline } | null {
  const words = text.split(/\s+/);
  const name =
    Math.max(
      0,
      words.findLastIndex((word) => numbersIn(word) === null),
    ) + 1;
  const numbers = numbersIn(words.slice(name).join(" "));
  if (numbers === null || numbers.length === 0 || numbers.length % 2 !== 0) return null;
  const through = pairsOf(numbers).map((p) => apply(userToMm, p));
  return through.every(isNear) ? { to: words.slice(0, name).join(" "), through } : null;
}

function wishOn({ attributes }: XmlElement, own: readonly Piece[], place: Place): OrderWish[] {
  const after = attributes["data-tuck-after"]?.trim();
  if (after === undefined) return [];
  if (after === "") {
    refuse(place, "data-tuck-after", after, "the name of a piece, or - to sew it first of all");
    return [];
  }
  return [{ element: place.name, pieces: own.map(({ id }) => id), after: after === "-" ? null : after }];
}

const refuse = ({ name, notes }: Place, attribute: string, text: string, allowed: string): void =>
  notes.add(
    `bad-${attribute.slice("data-tuck-".length)}`,
    "warning",
    name,
    `“${name}” has ${attribute}="${text.slice(0, 40)}", which is ignored.`,
    `Use ${allowed}.`,
  );
