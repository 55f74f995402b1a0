/**
 * From what is drawn to what is sewn: each shape's fill and stroke as pieces, in paint order.
 *
 * A fill gives one piece an island. A stroke gives one piece a subpath or dash; where a clip cuts it, one for
 * each part of the centre line that is left.
 */
import { clipLine } from "../geometry/clip-line.ts";
import { closeRing, polylineLength } from "../geometry/polyline.ts";
import { intersect, regionArea, regionFromRings } from "../geometry/region.ts";
import type { Point, Polygon, Polyline, Region } from "../geometry/types.ts";
import { once } from "../once.ts";
import type { Settings } from "../settings.ts";
import type { Colour } from "./colour.ts";
import type { Drawing } from "./drawing.ts";
import { apply, invert } from "./matrix.ts";
import { untaken } from "./names.ts";
import { solidColour } from "./paint-server.ts";
import { fillRegion, isComputable, strokeRegion } from "./painted-region.ts";
import { islandsOf, within } from "./region-parts.ts";
import { type Painted, seenThrough } from "./see-through.ts";
import { spreadPoints } from "./spread-points.ts";
import { type Stroke, type StrokeLine, strokeOf } from "./stroke.ts";
import { strokeRings } from "./stroke-outline.ts";
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
    const fill = () => fillPieces(shape, taken, drawing);
    const stroke = () => strokePieces(shape, pxToMm, settings, taken, drawing);
    return shape.style.strokeFirst ? [...stroke(), ...fill()] : [...fill(), ...stroke()];
  });
  return seenThrough(painted, taken, ({ element }) => noteFaint(element, drawing));
}

function fillPieces(shape: Shape, taken: Set<string>, drawing: Drawing): Painted[] {
  const { name, overrides } = shape;
  const area = once(() => fillRegion(shape, drawing));
  const colour = thread(shape, "fill", area, drawing);
  if (colour === null) return [];
  const islands = keepSewable(area(), name, drawing);
  return islands.map((island) => ({
    piece: {
      ...identity(shape, "fill", colour.hex, taken),
      region: [island],
      // Running stitch on an area follows its outer edge.
      ...(overrides.technique === "run" ? { line: closeRing(island.outer) } : {}),
      technique: fillTechnique(overrides.technique),
    },
    alpha: colour.alpha,
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
): Painted[] {
  if (!(shape.style.strokeWidth > 0)) return [];
  const outlined = once(() => strokeOf(shape, pxToMm, drawing));
  const isSound = once(() =>
    isComputable(
      outlined().lines.flatMap((line) => line.rings),
      shape.name,
      drawing,
    ),
  );
  const colour = thread(shape, "stroke", () => (isSound() ? strokeRegion(outlined(), shape) : []), drawing);
  if (colour === null || !isSound()) return [];
  const stroke = outlined();
  return stroke.lines
    .flatMap((line) => strokeParts(line, stroke, shape, drawing))
    .map(({ island, line }) => ({
      piece: {
        ...identity(shape, "stroke", colour.hex, taken),
        region: [island],
        ...(line === null ? {} : { line, widthMm: stroke.widthMm }),
        technique:
          shape.overrides.technique ?? (line === null ? "fill" : widthTechnique(stroke.widthMm, settings)),
      },
      alpha: colour.alpha,
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

const noteFaint = (name: string, drawing: Drawing): void =>
  drawing.notes.add(
    "too-faint",
    "info",
    name,
    `“${name}” is so faint that fabric would be most of what is seen of it; it is left out where it lies over nothing else.`,
    "Give it a plain colour if it should be sewn there.",
  );

/** What every piece of a shape has in common, under an id of its own. */
function identity(shape: Shape, paint: "fill" | "stroke", colour: string, taken: Set<string>) {
  return {
    id: untaken(paint === "fill" ? shape.name : `${shape.name}.stroke`, taken, "."),
    element: shape.elementName,
    paint,
    colour,
    overrides: shape.overrides,
    ...(shape.groups.length === 0 ? {} : { groups: shape.groups }),
  };
}

/**
 * The thread's colour for a fill or stroke, and how solid it is with the opacity of all around it: `null` where it
 * is not painted or wholly transparent.
 *
 * @param area what it covers: asked only where the colour differs from place to place
 */
function thread(shape: Shape, paint: "fill" | "stroke", area: () => Region, drawing: Drawing): Colour | null {
  const { style, name, toMm } = shape;
  const places = (): Point[] => spreadPoints(area()).map((place) => apply(invert(toMm), place));
  const colour = solidColour(style[paint], shape, places, drawing);
  if (colour === null) return null;
  const own = colour.alpha * (paint === "fill" ? style.fillOpacity : style.strokeOpacity);
  if (own === 0) return null;
  if (own < 1) noteTransparent(name, drawing);
  return { hex: colour.hex, alpha: own * shape.opacity };
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
