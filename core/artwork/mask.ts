/**
 * `mask` elements as regions (CSS Masking 1, 7). A mask lets through as much as its content is bright and solid;
 * thread shows or does not, so an element is kept where its mask lets half or more through. Masks of white and black
 * shapes, which most are, come out as drawn.
 *
 * In paint order, a shape adds what it covers where it is *open* (lets half through by itself), takes it away
 * where it is solid and dark, and leaves what is there where it is faint.
 */
import { intersect, subtract, union } from "../geometry/region.ts";
import type { Point, Region } from "../geometry/types.ts";
import { boundsOf, fromUnitSquare } from "./clip.ts";
import type { Colour } from "./colour.ts";
import type { Drawing } from "./drawing.ts";
import { type Axis, type LengthContext, lengthToUser, PX_PER_MM } from "./lengths.ts";
import { apply, IDENTITY, invert, multiply } from "./matrix.ts";
import { solidColour } from "./paint-server.ts";
import { fillRegion, isComputable, strokeRegion } from "./painted-region.ts";
import { rectangle } from "./rectangle.ts";
import { spreadPoints } from "./spread-points.ts";
import { strokeOf } from "./stroke.ts";
import type { Context, enter, Shape, shapesWithin } from "./walk.ts";
import type { XmlElement } from "./xml.ts";

/** What lets through at least so much is open. */
const OPEN = 0.5;
/** Between these shares a mask is soft: what it half hides can't be sewn. */
const SOFT = [0.1, 0.9] as const;

export interface Masked {
  /** What shows, in millimetres; empty where it hides everything. */
  readonly region: Region;
  /** Whether some of it is half hidden. */
  readonly soft: boolean;
}

/**
 * The region that a mask leaves of an element.
 *
 * @param context of the masked element, with its transform
 * @param content what the element draws, in its own user units: asked only for its box
 * @param collect the walk over an element's children, handed in because it in turn asks for masks
 */
export function maskRegion(
  mask: XmlElement,
  context: Context,
  content: () => Shape[],
  collect: typeof shapesWithin,
  step: typeof enter,
  drawing: Drawing,
): Masked {
  const box = boundsOf(content());
  if (!(box.maxX > box.minX && box.maxY > box.minY)) return { region: [], soft: false };
  const ofBox = multiply(context.toMm, fromUnitSquare(box));
  const { attributes } = mask;
  const inside = step(
    mask,
    {
      ...context,
      toMm: attributes.maskContentUnits === "objectBoundingBox" ? ofBox : context.toMm,
      style: mask.parent === null ? context.style : drawing.styleInPlace(mask.parent),
      clip: null,
      opacity: 1,
      purpose: "mask",
    },
    drawing,
  );
  if (inside === null) return { region: [], soft: false };
  const byAlpha = drawing.declaredOn(mask).get("mask-type") === "alpha";
  let open: Region = [];
  let soft = false;
  for (const layer of collect(mask, inside, drawing).flatMap((shape) => layersOf(shape, drawing))) {
    const { alpha } = layer.colour;
    const share = alpha * (byAlpha ? 1 : luminance(layer.colour.hex));
    if (share >= OPEN) open = union([open, layer.region]);
    else if (alpha >= OPEN && !byAlpha) open = subtract(open, layer.region);
    soft ||= layer.varies || (share > SOFT[0] && share < SOFT[1]);
  }
  const window =
    attributes.maskUnits === "userSpaceOnUse"
      ? windowIn(mask, lengthsOf(context), context.toMm)
      : windowIn(mask, UNIT_SQUARE, ofBox);
  return { region: intersect(open, window), soft };
}

interface Layer {
  readonly region: Region;
  /** Its alpha with the opacity of all around it. */
  readonly colour: Colour;
  /** Whether the paint differs from place to place. */
  readonly varies: boolean;
}

/** The fill and the stroke of a shape in the mask, in paint order. */
function layersOf(shape: Shape, drawing: Drawing): Layer[] {
  const { style } = shape;
  const fill = () => layerOf(shape, "fill", () => fillRegion(shape, drawing), style.fillOpacity, drawing);
  const stroke = () =>
    layerOf(shape, "stroke", () => maskStroke(shape, drawing), style.strokeOpacity, drawing);
  return style.strokeFirst ? [...stroke(), ...fill()] : [...fill(), ...stroke()];
}

function layerOf(
  shape: Shape,
  paint: "fill" | "stroke",
  area: () => Region,
  opacity: number,
  drawing: Drawing,
): Layer[] {
  if (shape.style[paint].kind === "none") return [];
  const region = area();
  const places = (): Point[] => spreadPoints(region).map((place) => apply(invert(shape.toMm), place));
  const colour = region.length === 0 ? null : solidColour(shape.style[paint], shape, places, drawing);
  if (colour === null) return [];
  const alpha = colour.alpha * opacity * shape.opacity;
  return [{ region, colour: { ...colour, alpha }, varies: shape.style[paint].kind === "server" }];
}

function maskStroke(shape: Shape, drawing: Drawing): Region {
  if (!(shape.style.strokeWidth > 0)) return [];
  // A stroke of fixed width in a mask is as wide as in a drawing at its natural size.
  const stroke = strokeOf(shape, 1 / PX_PER_MM, drawing);
  const rings = stroke.lines.flatMap((line) => line.rings);
  return isComputable(rings, shape.name, drawing) ? strokeRegion(stroke, shape) : [];
}

/** How bright a colour is: 0 black, 1 white (CSS Masking 1, 7.3 with Filter Effects 1, luminanceToAlpha). */
function luminance(hex: string): number {
  const value = Number.parseInt(hex.slice(1), 16);
  return (0.2125 * (value >> 16) + 0.7154 * ((value >> 8) & 255) + 0.0721 * (value & 255)) / 255;
}

const UNIT_SQUARE: LengthContext = { fontSizePx: 1, viewportWidth: 1, viewportHeight: 1 };

const lengthsOf = ({ style, viewportWidth, viewportHeight }: Context): LengthContext => ({
  fontSizePx: style.fontSizePx,
  viewportWidth,
  viewportHeight,
});

/** Outside of its window a mask hides everything: a rectangle a tenth larger all round, unless it says otherwise. */
function windowIn({ attributes }: XmlElement, lengths: LengthContext, toMm = IDENTITY): Region {
  const length = (key: string, axis: Axis, usual: string): number =>
    lengthToUser(attributes[key] ?? usual, axis, lengths) ?? lengthToUser(usual, axis, lengths) ?? 0;
  const [width, height] = [length("width", "x", "120%"), length("height", "y", "120%")];
  if (!(width > 0 && height > 0)) return [];
  return rectangle(length("x", "x", "-10%"), length("y", "y", "-10%"), width, height, toMm);
}
