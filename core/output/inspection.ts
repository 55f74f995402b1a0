/** What is in a drawing, a planned drawing or a plan as JSON, as one record: its size, and its pieces in order. */
import { readArtwork } from "../artwork/read.ts";
import type { Artwork, Pin, Technique } from "../artwork/types.ts";
import { parseXml } from "../artwork/xml.ts";
import { ArtworkError } from "../errors.ts";
import { type Layers, readLayers } from "../layers/read-layers.ts";
import { readMarks } from "../layers/read-marks.ts";
import { DEFAULT_SETTINGS } from "../settings.ts";
import { chooseTechniques } from "../techniques/choose-techniques.ts";
import { PLAN_FORMAT, PLAN_VERSION } from "./json.ts";

/** A piece as `tuckline inspect` lists it. */
export interface InspectedPiece {
  readonly id: string;
  readonly element: string;
  readonly paint: "fill" | "stroke";
  readonly technique: Technique;
  readonly colour: string;
  /** Sewing number, from 1; block and strand, from 1. Null where the piece is not planned. */
  readonly order: number | null;
  readonly block: number | null;
  readonly strand: number | null;
}

/** What a file holds, as `tuckline inspect` shows it. */
export interface Inspection {
  readonly kind: "drawing" | "planned drawing" | "plan";
  readonly size: { readonly widthMm: number; readonly heightMm: number };
  /** In sewing order; those that are not planned last, in paint order. */
  readonly pieces: readonly InspectedPiece[];
  readonly blocks: number;
  readonly strands: number;
  /** Points that the artist pinned. A plan as JSON does not say which points were pinned: none. */
  readonly pins: readonly Pin[];
}

/**
 * Looks into a drawing. The technique of a piece is the one that it has by its own `data-tuck-technique`, else
 * by the default settings.
 *
 * @throws ArtworkError where the text is no drawing
 */
export function inspectDrawing(svgText: string, name: string): Inspection {
  const root = parseXml(svgText);
  const artwork = chooseTechniques(readArtwork(svgText, name, DEFAULT_SETTINGS), DEFAULT_SETTINGS);
  const layers = readLayers(root);
  const planned = layers ? plannedPlaces(layers) : new Map<string, Place>();
  const pieces = artwork.pieces.map((piece) => inspectedPiece(piece, planned.get(piece.id)));
  return {
    kind: layers ? "planned drawing" : "drawing",
    size: artwork.size,
    pieces: pieces.sort((a, b) => orderOf(a) - orderOf(b)),
    blocks: numberOf([...planned.values()].map(({ block }) => block)),
    strands: numberOf([...planned.values()].map(({ strand }) => strand)),
    pins: readMarks(root, artwork).marks.pins,
  };
}

interface Place {
  readonly order: number;
  readonly block: number;
  readonly strand: number;
}

/** Numbers blocks and strands from 1: a strand ends with its block, and where the machine jumps. */
function plannedPlaces({ pieces, jumpsAfter }: Layers): Map<string, Place> {
  const places = new Map<string, Place>();
  let block = 0;
  let strand = 0;
  for (const [k, piece] of pieces.entries()) {
    const before = pieces[k - 1];
    const opensBlock = before?.block !== piece.block;
    if (opensBlock) block++;
    if (opensBlock || jumpsAfter.has(before.id)) strand++;
    for (const id of piece.members) places.set(id, { order: piece.order, block, strand });
  }
  return places;
}

const inspectedPiece = (piece: Artwork["pieces"][number], place: Place | undefined): InspectedPiece => ({
  id: piece.id,
  element: piece.element,
  paint: piece.paint,
  technique: piece.technique,
  colour: piece.colour,
  order: place?.order ?? null,
  block: place?.block ?? null,
  strand: place?.strand ?? null,
});

const orderOf = ({ order }: InspectedPiece): number => order ?? Number.MAX_SAFE_INTEGER;

const numberOf = (values: readonly number[]): number => new Set(values).size;

/**
 * Looks into a plan that was written as JSON.
 *
 * @param document what `JSON.parse` made of it
 * @throws ArtworkError where it is no plan, or one of another version
 */
export function inspectPlan(document: unknown): Inspection {
  const plan = recordIn({ plan: document }, "plan");
  if (plan.format !== PLAN_FORMAT)
    throw new ArtworkError(
      `This is JSON, but no plan (its format is not "${PLAN_FORMAT}"); write one with --json.`,
    );
  if (plan.version !== PLAN_VERSION)
    throw new ArtworkError(
      `This plan has version ${JSON.stringify(plan.version)}, and only ${PLAN_VERSION} can be read; plan the drawing again.`,
    );

  const sewn = listIn(plan, "sewing").flatMap((step, k) => sewnPlace(recordIn({ [`sewing[${k}]`]: step })));
  const places = new Map([...sewn].reverse());
  const size = recordIn(plan, "size");
  return {
    kind: "plan",
    size: { widthMm: numberIn(size, "width"), heightMm: numberIn(size, "height") },
    pieces: listIn(plan, "pieces").map((entry, k) => {
      const piece = recordIn({ [`pieces[${k}]`]: entry });
      const place = places.get(textIn(piece, "id"));
      return {
        id: textIn(piece, "id"),
        element: textIn(piece, "element"),
        paint: textIn(piece, "paint") as "fill" | "stroke",
        technique: textIn(piece, "technique") as Technique,
        colour: textIn(piece, "colour"),
        order: numberIn(piece, "order"),
        block: place ? place.block + 1 : null,
        strand: place ? place.strand + 1 : null,
      };
    }),
    blocks: numberOf([...places.values()].map(({ block }) => block)),
    strands: numberOf([...places.values()].map(({ strand }) => strand)),
    pins: [],
  };
}

/** Which piece a sewing entry belongs to, with its block and strand as counted in the plan. */
function sewnPlace(step: Fields): [piece: string, place: Omit<Place, "order">][] {
  if (step.piece === undefined) return [];
  return [[textIn(step, "piece"), { block: numberIn(step, "block"), strand: numberIn(step, "strand") }]];
}

type Fields = Readonly<Record<string, unknown>>;

/** A member of a record that is a record itself; the only one where no name is given. */
function recordIn(fields: Fields, name = Object.keys(fields)[0]): Fields {
  const value = fields[name];
  if (typeof value !== "object" || value === null || Array.isArray(value)) throw damaged(name, "a record");
  return value as Fields;
}

function listIn(fields: Fields, name: string): readonly unknown[] {
  const value = fields[name];
  if (!Array.isArray(value)) throw damaged(name, "a list");
  return value;
}

function textIn(fields: Fields, name: string): string {
  const value = fields[name];
  if (typeof value !== "string") throw damaged(name, "a text");
  return value;
}

function numberIn(fields: Fields, name: string): number {
  const value = fields[name];
  if (typeof value !== "number") throw damaged(name, "a number");
  return value;
}

const damaged = (name: string, kind: string): ArtworkError =>
  new ArtworkError(`This plan is damaged: "${name}" is not ${kind}; plan the drawing again.`);
