/**
 * The one colour that stands for a paint: thread has no gradients. A gradient becomes the mean of what the shape shows
 * of it, a pattern the mean of what it paints by area.
 */
import { polylineLength, signedArea } from "../geometry/polyline.ts";
import { regionFromRings } from "../geometry/region.ts";
import type { Point } from "../geometry/types.ts";
import { type Colour, meanColour, parseColour } from "./colour.ts";
import type { Drawing } from "./drawing.ts";
import { flatten } from "./flatten.ts";
import { chainOf, gradientOn, type Stop } from "./gradient.ts";
import { IDENTITY } from "./matrix.ts";
import { NO_OVERRIDES } from "./overrides.ts";
import type { Paint } from "./paint.ts";
import { parseOpacity } from "./properties.ts";
import { spreadPoints } from "./spread-points.ts";
import { elementsIn } from "./tree.ts";
import { type Shape, shapesWithin } from "./walk.ts";
import type { XmlElement } from "./xml.ts";

const GRADIENTS = new Set(["linearGradient", "radialGradient"]);

/** A pattern's areas are measured on curves cut this coarsely, in its own units. */
const PATTERN_TOLERANCE = 0.1;

/**
 * The colour of a fill or stroke, or `null` where it paints nothing.
 *
 * @param shape what is painted
 * @param places in its user units, spread evenly over what the paint covers: asked only for a gradient
 * @param chain patterns being resolved: one that comes up again paints itself
 */
export function solidColour(
  paint: Paint,
  shape: Shape,
  places: () => readonly Point[],
  drawing: Drawing,
  chain: readonly XmlElement[] = [],
): Colour | null {
  switch (paint.kind) {
    case "none":
    case "context":
      return null;
    case "current-colour":
      return shape.style.colour;
    case "colour":
      return paint.colour;
    case "server": {
      const server = drawing.target(paint.href, shape.name);
      if (server !== null && GRADIENTS.has(server.name))
        return gradientColour(server, shape, places, drawing);
      if (server !== null && server.name === "pattern" && !chain.includes(server))
        return patternColour(server, shape.name, drawing, chain);
      return paint.fallback === null ? null : solidColour(paint.fallback, shape, places, drawing, chain);
    }
  }
}

function gradientColour(
  gradient: XmlElement,
  shape: Shape,
  places: () => readonly Point[],
  drawing: Drawing,
): Colour | null {
  const holder = chainOf(gradient, drawing).find((one) => stopsIn(one).length > 0);
  if (holder === undefined) return null;
  let last = 0;
  const stops = stopsIn(holder).map((stop) => {
    last = Math.max(last, parseOpacity(stop.attributes.offset ?? "0") ?? 0);
    return { offset: last, colour: stopColour(stop, drawing) };
  });
  const colourAt = gradientOn(gradient, stops, shape, drawing);
  const shown = colourAt === null ? [] : places().map((place) => ({ colour: colourAt(place), weight: 1 }));
  const mean = meanColour(shown.length > 0 ? shown : overLength(stops));
  if (mean !== null && mean.alpha > 0) noteMean("gradient", mean, shape.name, drawing);
  return mean;
}

/** Each stop with its share of a gradient's length. */
const overLength = (stops: readonly Stop[]) =>
  stops.map(({ offset, colour }, i) => {
    const from = i === 0 ? 0 : (stops[i - 1].offset + offset) / 2;
    const to = i === stops.length - 1 ? 1 : (offset + stops[i + 1].offset) / 2;
    return { colour, weight: to - from };
  });

const stopsIn = (gradient: XmlElement): XmlElement[] =>
  elementsIn(gradient).filter((child) => child.name === "stop");

function stopColour(stop: XmlElement, drawing: Drawing): Colour {
  const declared = drawing.declaredOn(stop);
  const text = declared.get("stop-color") ?? "black";
  const inherited = drawing.styleInPlace(stop).colour;
  const colour = text.toLowerCase() === "currentcolor" ? inherited : parseColour(text);
  const opacity = parseOpacity(declared.get("stop-opacity") ?? "1") ?? 1;
  return { hex: colour?.hex ?? "#000000", alpha: (colour?.alpha ?? 1) * opacity };
}

function patternColour(
  pattern: XmlElement,
  name: string,
  drawing: Drawing,
  chain: readonly XmlElement[],
): Colour | null {
  const holder = chainOf(pattern, drawing).find((one) => elementsIn(one).length > 0);
  if (holder === undefined) return null;
  const shapes = shapesWithin(
    holder,
    {
      toMm: IDENTITY,
      style: drawing.styleInPlace(holder),
      viewportWidth: 1,
      viewportHeight: 1,
      clip: null,
      overrides: NO_OVERRIDES,
      opacity: 1,
      prefix: "",
      chain: [holder],
      groups: [],
      purpose: "measure",
    },
    drawing,
  );
  const mean = meanColour(
    shapes.flatMap((shape) => paintedShares({ ...shape, name }, drawing, [...chain, pattern, holder])),
  );
  if (mean !== null) noteMean("pattern", mean, name, drawing);
  return mean;
}

function paintedShares(shape: Shape, drawing: Drawing, chain: readonly XmlElement[]) {
  const { style, outline, toMm } = shape;
  const flat = flatten(outline, toMm, PATTERN_TOLERANCE);
  const area = Math.abs(flat.reduce((sum, { points }) => sum + signedArea(points), 0));
  const length = flat.reduce((sum, { points }) => sum + polylineLength(points), 0);
  const places = () => {
    const rings = flatten(outline, IDENTITY, PATTERN_TOLERANCE).map(({ points }) => points);
    return spreadPoints(regionFromRings(rings, style.fillRule));
  };
  const fill = solidColour(style.fill, shape, places, drawing, chain);
  const stroke = solidColour(style.stroke, shape, places, drawing, chain);
  return [
    ...(fill === null ? [] : [{ colour: fill, weight: area }]),
    ...(stroke === null ? [] : [{ colour: stroke, weight: length * style.strokeWidth }]),
  ];
}

const noteMean = (kind: string, { hex }: Colour, name: string, drawing: Drawing): void =>
  drawing.notes.add(
    `${kind}-one-colour`,
    "info",
    name,
    `The ${kind} of “${name}” is sewn in one colour, its mean ${hex}.`,
    "Give the element a plain colour, or build the shading from shapes.",
  );
