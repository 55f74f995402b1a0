/**
 * Gradients as functions of the place (SVG 2, 14.2): how far along a place lies, 0 at the first stop and 1 at the
 * last, and the colour there.
 *
 * - *along* a linear gradient: the place's projection on the vector from (x1, y1) to (x2, y2).
 * - *along* a radial one: the largest t for which the circle between the start circle (fx, fy, fr) and the end
 *   circle (cx, cy, r) runs through the place and has no negative radius: a quadratic equation.
 */
import type { Matrix, Point } from "../geometry/types.ts";
import { boundsOf, fromUnitSquare } from "./clip.ts";
import type { Colour } from "./colour.ts";
import { type Drawing, hrefOf } from "./drawing.ts";
import { type Axis, type LengthContext, lengthToUser } from "./lengths.ts";
import { apply, IDENTITY, invert, isSingular, multiply } from "./matrix.ts";
import { parseTransform } from "./transform.ts";
import type { Shape } from "./walk.ts";
import type { XmlElement } from "./xml.ts";

export interface Stop {
  /** 0 to 1, never less than that of the stop before. */
  readonly offset: number;
  readonly colour: Colour;
}

/** Longer chains of references between gradients or patterns are cut off. */
const LONGEST_CHAIN = 32;

/** A paint server, and after it all that it refers to, one after the other, for what it leaves unsaid. */
export function chainOf(server: XmlElement, drawing: Drawing): XmlElement[] {
  const chain: XmlElement[] = [];
  let one: XmlElement | null = server;
  while (one !== null && chain.length < LONGEST_CHAIN) {
    chain.push(one);
    const href: string | undefined = hrefOf(one);
    one = href === undefined ? null : drawing.target(href, drawing.nameOf(one));
  }
  return chain;
}

/**
 * The colours of a gradient on a shape, by place in the shape's user units; `null` where it has no extent there: on
 * a shape without width or height whose box it is measured in, or under a transform that can't be undone.
 *
 * @param stops one at least
 */
export function gradientOn(
  gradient: XmlElement,
  stops: readonly Stop[],
  shape: Shape,
  drawing: Drawing,
): ((place: Point) => Colour) | null {
  const chain = chainOf(gradient, drawing);
  const attribute = (key: string) =>
    chain.find(({ attributes }) => attributes[key] !== undefined)?.attributes[key];
  const inUserSpace = attribute("gradientUnits") === "userSpaceOnUse";
  const toUser = multiply(
    inUserSpace ? IDENTITY : fromUnitSquare(boundsOf([{ ...shape, toMm: IDENTITY }])),
    parseTransform(attribute("gradientTransform") ?? "") ?? IDENTITY,
  );
  if (isSingular(toUser)) return null;
  const fromUser: Matrix = invert(toUser);
  const lengths = inUserSpace ? shape.lengths : { ...shape.lengths, viewportWidth: 1, viewportHeight: 1 };
  const along =
    gradient.name === "linearGradient" ? alongLine(attribute, lengths) : alongCircles(attribute, lengths);
  const spread = SPREADS[attribute("spreadMethod") ?? "pad"] ?? SPREADS.pad;
  return (place) => {
    const t = along(apply(fromUser, place));
    return t === null ? { hex: stops[0].colour.hex, alpha: 0 } : colourAt(stops, spread(t));
  };
}

/** What lies before the first stop and after the last. */
const SPREADS: Readonly<Record<string, (t: number) => number>> = {
  pad: (t) => Math.min(1, Math.max(0, t)),
  repeat: (t) => t - Math.floor(t),
  reflect: (t) => 1 - Math.abs(1 - (t - 2 * Math.floor(t / 2))),
};

type Attribute = (key: string) => string | undefined;

const reader =
  (attribute: Attribute, lengths: LengthContext) =>
  (key: string, axis: Axis, usual: string): number => {
    const value = lengthToUser(attribute(key) ?? usual, axis, lengths) ?? lengthToUser(usual, axis, lengths);
    return value !== null && Number.isFinite(value) ? value : 0;
  };

function alongLine(attribute: Attribute, lengths: LengthContext): (place: Point) => number | null {
  const length = reader(attribute, lengths);
  const [x1, y1] = [length("x1", "x", "0%"), length("y1", "y", "0%")];
  const [dx, dy] = [length("x2", "x", "100%") - x1, length("y2", "y", "0%") - y1];
  const squared = dx * dx + dy * dy;
  // A gradient without extent paints its last stop.
  if (squared === 0) return () => 1;
  return ([x, y]) => ((x - x1) * dx + (y - y1) * dy) / squared;
}

function alongCircles(attribute: Attribute, lengths: LengthContext): (place: Point) => number | null {
  const length = reader(attribute, lengths);
  const [cx, cy] = [length("cx", "x", "50%"), length("cy", "y", "50%")];
  const [r, startR] = [length("r", "other", "50%"), length("fr", "other", "0%")];
  if (!(r > 0)) return () => 1;
  const fx = attribute("fx") === undefined ? cx : length("fx", "x", "50%");
  const fy = attribute("fy") === undefined ? cy : length("fy", "y", "50%");
  const [dx, dy, dr] = [cx - fx, cy - fy, r - startR];
  const a = dx * dx + dy * dy - dr * dr;
  return ([x, y]) => {
    const [px, py] = [x - fx, y - fy];
    const b = px * dx + py * dy + startR * dr;
    const c = px * px + py * py - startR * startR;
    const valid = rootsOf(a, b, c).filter((t) => startR + t * dr >= 0);
    return valid.length === 0 ? null : Math.max(...valid);
  };
}

/** The real roots of a t² − 2 b t + c. */
function rootsOf(a: number, b: number, c: number): number[] {
  if (Math.abs(a) < 1e-12) return b === 0 ? [] : [c / (2 * b)];
  const inside = b * b - a * c;
  if (inside < 0) return [];
  const root = Math.sqrt(inside);
  return [(b + root) / a, (b - root) / a];
}

/** Between two stops colours go over evenly, channel by channel in sRGB, and so does alpha. */
function colourAt(stops: readonly Stop[], t: number): Colour {
  const after = stops.findIndex(({ offset }) => offset > t);
  if (after === 0) return stops[0].colour;
  if (after < 0) return stops[stops.length - 1].colour;
  const [from, to] = [stops[after - 1], stops[after]];
  const share = (t - from.offset) / (to.offset - from.offset);
  const [a, b] = [from, to].map(({ colour }) => Number.parseInt(colour.hex.slice(1), 16));
  const between = [16, 8, 0].reduce(
    (hex, shift) => hex * 256 + Math.round((1 - share) * ((a >> shift) & 255) + share * ((b >> shift) & 255)),
    0,
  );
  return {
    hex: `#${between.toString(16).padStart(6, "0")}`,
    alpha: (1 - share) * from.colour.alpha + share * to.colour.alpha,
  };
}
