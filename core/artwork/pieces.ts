/**
 * From what is drawn to what is sewn: each shape's fill and stroke as pieces, in paint order.
 *
 * A fill gives one piece an island. A stroke gives one piece a subpath or dash; where a clip cuts it, one for
 * each part of the centre line that is left.
 */
import { clipLine } from "../geometry/clip-line.ts";
import { closeRing, polylineLength } from "../geometry/polyline.ts";
import { intersect, regionArea, regionFromRings } from "../geometry/region.ts";
import type { Polygon, Polyline, Region, Ring } from "../geometry/types.ts";
import type { Settings } from "../settings.ts";
import type { Colour } from "./colour.ts";
import type { Drawing } from "./drawing.ts";
import { flatten } from "./flatten.ts";
import { MAX_COORDINATE_MM } from "./limits.ts";
import { untaken } from "./names.ts";
import { solidColour } from "./paint-server.ts";
import { islandsOf, within } from "./region-parts.ts";
import { type Painted, seenThrough } from "./see-through.ts";
import { type Stroke, type StrokeLine, strokeOf } from "./stroke.ts";
import { strokeRings } from "./stroke-outline.ts";
import { CURVE_TOLERANCE_MM } from "./tolerance.ts";
import type { Piece, Technique } from "./types.ts";
import { noteTransparent, type Shape } from "./walk.ts";

/** Parts of a clipped region that agree with the whole to this share of its area were not cut at all. */
const UNCUT_SHARE = 1e-6;

/**
 * The pieces of all shapes, in paint order.
 *
 * @param pxToMm from pixels of the outermost viewport, for strokes of fixed width
 */
export function piecesOf(
  shapes: readonly Shape[],
  pxToMm: number,
  settings: Settings,
  drawing: Drawing,
): Piece[] {
  const taken = new Set<string>();
  const painted = shapes.flatMap((shape) => {
    const fill = () => withAlpha(shape, "fill", fillPieces(shape, taken, drawing), drawing);
    const stroke = () =>
      withAlpha(shape, "stroke", strokePieces(shape, pxToMm, settings, taken, drawing), drawing);
    return shape.style.strokeFirst ? [...stroke(), ...fill()] : [...fill(), ...stroke()];
  });
  return seenThrough(painted, taken);
}

function withAlpha(
  shape: Shape,
  paint: "fill" | "stroke",
  pieces: readonly Piece[],
  drawing: Drawing,
): Painted[] {
  if (pieces.length === 0) return [];
  const alpha = shape.opacity * alphaOf(shape, paint, drawing);
  return pieces.map((piece) => ({ piece, alpha }));
}

/** How solid a fill or stroke is, the opacity of the element apart. */
const alphaOf = ({ style, name }: Shape, paint: "fill" | "stroke", drawing: Drawing): number =>
  (solidColour(style[paint], style, name, drawing)?.alpha ?? 0) *
  (paint === "fill" ? style.fillOpacity : style.strokeOpacity);

function fillPieces(shape: Shape, taken: Set<string>, drawing: Drawing): Piece[] {
  const { style, outline, toMm, clip, name, overrides } = shape;
  const colour = thread(shape, "fill", drawing);
  if (colour === null) return [];
  const rings = flatten(outline, toMm, CURVE_TOLERANCE_MM)
    .map(({ points }) => points)
    .filter((ring) => ring.length >= 3);
  drawing.countPoints(rings.reduce((count, ring) => count + ring.length, 0));
  if (!isComputable(rings, name, drawing)) return [];
  const islands = keepSewable(within(regionFromRings(rings, style.fillRule), clip), name, drawing);
  return islands.map((island) => ({
    ...identity(shape, "fill", colour, taken),
    region: [island],
    // Running stitch on an area follows its outer edge.
    ...(overrides.technique === "run" ? { line: closeRing(island.outer) } : {}),
    technique: fillTechnique(overrides.technique),
  }));
}

const fillTechnique = (set: Technique | undefined): Technique =>
  set === undefined || set === "satin" ? "fill" : set;

function strokePieces(
  shape: Shape,
  pxToMm: number,
  settings: Settings,
  taken: Set<string>,
  drawing: Drawing,
): Piece[] {
  if (!(shape.style.strokeWidth > 0)) return [];
  const colour = thread(shape, "stroke", drawing);
  if (colour === null) return [];
  const stroke = strokeOf(shape, pxToMm, drawing);
  const rings = stroke.lines.flatMap((line) => line.rings);
  if (!isComputable(rings, shape.name, drawing)) return [];
  return stroke.lines
    .flatMap((line) => strokeParts(line, stroke, shape, drawing))
    .map(({ island, line }) => ({
      ...identity(shape, "stroke", colour, taken),
      region: [island],
      ...(line === null ? {} : { line, widthMm: stroke.widthMm }),
      technique:
        shape.overrides.technique ?? (line === null ? "fill" : widthTechnique(stroke.widthMm, settings)),
    }));
}

const widthTechnique = (widthMm: number, { satinMinWidthMm, satinMaxWidthMm }: Settings): Technique => {
  if (widthMm < satinMinWidthMm) return "run";
  return widthMm <= satinMaxWidthMm ? "satin" : "fill";
};

/** One polygon of a stroke, and the centre line in it; without one it is an area like any other. */
interface StrokePart {
  readonly island: Polygon;
  readonly line: Polyline | null;
}

/**
 * The polygons that one line of a stroke becomes: one, unless a clip cuts it. A cut polygon takes the part of
 * the centre line that lies in it; if several do, it is shared out among them.
 */
function strokeParts(
  { line, rings }: StrokeLine,
  stroke: Stroke,
  { clip, name }: Shape,
  drawing: Drawing,
): StrokePart[] {
  const whole = regionFromRings(rings, "nonzero");
  const visible = within(whole, clip);
  const uncut = visible === whole || regionArea(visible) >= regionArea(whole) * (1 - UNCUT_SHARE);
  const centre = polylineLength(line) > 0 ? line : null;
  const islands = keepSewable(uncut ? whole : visible, name, drawing);
  if (uncut && islands.length === 1) return [{ island: islands[0], line: centre }];
  return islands.flatMap((island): StrokePart[] => {
    const parts = centre === null ? [] : clipLine(centre, [island]);
    if (parts.length === 0) return [{ island, line: null }];
    if (parts.length === 1) return [{ island, line: parts[0] }];
    return parts.flatMap((part) => {
      const share = largest(intersect(outlineOf(part, stroke), [island]));
      return share === null ? [] : [{ island: share, line: part }];
    });
  });
}

/** The outline of a part of a centre line, longer at both ends by half its width: a clip may cut it at a slant. */
const outlineOf = (line: Polyline, { pen, widthMm }: Stroke): Region =>
  regionFromRings(
    strokeRings(
      { points: line, corners: line.map(() => false), closed: false },
      { ...pen, halfWidth: widthMm / 2, cap: "square" },
    ),
    "nonzero",
  );

const largest = (region: Region): Polygon | null =>
  region.reduce<Polygon | null>(
    (best, one) => (best === null || regionArea([one]) > regionArea([best]) ? one : best),
    null,
  );

/** What every piece of a shape has in common, under an id of its own. */
function identity(shape: Shape, paint: "fill" | "stroke", colour: string, taken: Set<string>) {
  const base = paint === "fill" ? shape.name : `${shape.name}.stroke`;
  let id = base;
  for (let n = 2; taken.has(id); n++) id = `${base}.${n}`;
  return {
    id: untaken(id, taken),
    element: shape.elementName,
    paint,
    colour,
    overrides: shape.overrides,
    ...(shape.groups.length === 0 ? {} : { groups: shape.groups }),
  };
}

/** The thread's colour for a fill or stroke: `null` where it is not painted or wholly transparent. */
function thread(shape: Shape, paint: "fill" | "stroke", drawing: Drawing): string | null {
  const { style, name } = shape;
  const colour: Colour | null = solidColour(style[paint], style, name, drawing);
  if (colour === null) return null;
  const alpha = alphaOf(shape, paint, drawing);
  if (alpha === 0) return null;
  if (alpha < 1) noteTransparent(name, drawing);
  return colour.hex;
}

function keepSewable(region: Region, name: string, drawing: Drawing): readonly Polygon[] {
  const { kept, dropped } = islandsOf(region);
  if (dropped > 0)
    drawing.notes.add(
      "too-small",
      "info",
      name,
      kept.length === 0
        ? `“${name}” is too small to sew at this size; it is left out.`
        : `“${name}” has parts too small to sew at this size; they are left out.`,
      "Sew the design larger, or enlarge these parts.",
    );
  return kept;
}

/** Whether polygon sums can be done with these rings at all; if not, a finding says why. */
function isComputable(rings: readonly Ring[], name: string, drawing: Drawing): boolean {
  const fits = rings.every((ring) =>
    ring.every(([x, y]) => Math.abs(x) <= MAX_COORDINATE_MM && Math.abs(y) <= MAX_COORDINATE_MM),
  );
  if (!fits) {
    drawing.notes.add(
      "out-of-range",
      "warning",
      name,
      `“${name}” reaches further than ${MAX_COORDINATE_MM / 1000} m from the drawing; it is left out.`,
      "Bring it back to the drawing’s size in the editor.",
    );
    return false;
  }
  if (drawing.mayCross(rings)) return true;
  drawing.notes.add(
    "too-tangled",
    "warning",
    name,
    `“${name}” crosses itself too often to be worked out; it is left out.`,
    "Simplify its path in the editor.",
  );
  return false;
}
