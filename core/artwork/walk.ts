/**
 * From the tree to what it draws: every graphics element that is rendered, in paint order, with all that lies
 * on the way down resolved: `use`, `switch`, nested viewports, transforms, style, opacity, clips.
 */
import { ArtworkError } from "../errors.ts";
import { intersect } from "../geometry/region.ts";
import type { Matrix, Region } from "../geometry/types.ts";
import { clipRegion } from "./clip.ts";
import { type Drawing, hrefOf, isSvg } from "./drawing.ts";
import { type LengthContext, lengthToUser } from "./lengths.ts";
import { MAX_DEPTH } from "./limits.ts";
import { maskRegion } from "./mask.ts";
import { IDENTITY, isSingular, multiply, translation } from "./matrix.ts";
import type { Outline } from "./outline.ts";
import { inheritOverrides } from "./overrides.ts";
import { guestsIn, isOwn } from "./own-layers.ts";
import { urlIn } from "./paint.ts";
import { parseOpacity } from "./properties.ts";
import { rectangle } from "./rectangle.ts";
import { isShape, readShape } from "./shapes.ts";
import type { Declared } from "./sheet.ts";
import { computeStyle, type Style } from "./style.ts";
import { parseTransform } from "./transform.ts";
import { elementsIn } from "./tree.ts";
import type { PieceOverrides } from "./types.ts";
import { parseViewBox, viewBoxMatrix } from "./viewport.ts";
import type { XmlElement } from "./xml.ts";

/** One graphics element as it is drawn once. */
export interface Shape {
  readonly element: XmlElement;
  /** Id of the element in the document. */
  readonly elementName: string;
  /** The same, after the names of the `use` elements that it is drawn through. */
  readonly name: string;
  /** In user units. */
  readonly outline: Outline;
  readonly toMm: Matrix;
  readonly style: Style;
  /** What relative lengths of its paints refer to. */
  readonly lengths: LengthContext;
  /** `vector-effect: non-scaling-stroke`: the stroke's width is in pixels of the outermost viewport. */
  readonly fixedStroke: boolean;
  /** Where it may paint, in millimetres; `null` is everywhere. */
  readonly clip: Region | null;
  readonly overrides: PieceOverrides;
  /** Of the element and all around it, multiplied. */
  readonly opacity: number;
  /** Names of the groups around it: ids, titles, labels; outermost first. */
  readonly groups: readonly string[];
}

/** What holds for an element, from all around it. */
export interface Context {
  readonly toMm: Matrix;
  readonly style: Style;
  readonly viewportWidth: number;
  readonly viewportHeight: number;
  readonly clip: Region | null;
  readonly overrides: PieceOverrides;
  readonly opacity: number;
  /** Names of the `use` elements on the way, each with a slash. */
  readonly prefix: string;
  /** Elements being drawn, from the root: one that comes up again draws itself. */
  readonly chain: readonly XmlElement[];
  /** Names of the groups being drawn, outermost first. */
  readonly groups: readonly string[];
  /**
   * What the shapes are for. To `paint`: what is transparent is left out and findings are made. For a `clip`:
   * opacity means nothing. To `measure`: clips mean nothing either. For a `mask`: as to paint, but without findings.
   */
  readonly purpose: "paint" | "clip" | "measure" | "mask";
}

const CONTAINERS = new Set(["g", "a"]);
const LEFT_OUT = new Map([
  ["text", "Convert it to paths in the editor."],
  ["image", "Trace it to paths in the editor."],
  ["foreignObject", "Draw its content with SVG shapes."],
]);

/** Everything that one element draws, in paint order. */
export function shapesOf(element: XmlElement, context: Context, drawing: Drawing): Shape[] {
  const shapes: Shape[] = [];
  visit(element, context, drawing, shapes);
  return shapes;
}

/** Everything that the children of an element draw, in paint order; the element itself plays no part. */
export function shapesWithin(element: XmlElement, context: Context, drawing: Drawing): Shape[] {
  const shapes: Shape[] = [];
  visitChildren(element, context, drawing, shapes);
  return shapes;
}

function visitChildren(element: XmlElement, context: Context, drawing: Drawing, shapes: Shape[]): void {
  for (const child of elementsIn(element)) visit(child, context, drawing, shapes);
}

function visit(element: XmlElement, outer: Context, drawing: Drawing, shapes: Shape[]): void {
  if (isOwn(element)) visitGuests(element, outer, drawing, shapes);
  if (isOwn(element) || !isSvg(element) || !isDrawable(element.name)) return;
  drawing.countVisit();
  if (outer.chain.length >= MAX_DEPTH)
    throw new ArtworkError(`Elements are drawn more than ${MAX_DEPTH} deep: ungroup the drawing.`, element);
  const context = enter(element, outer, drawing);
  if (context !== null) draw(element, context, drawing, shapes);
}

function visitGuests(layer: XmlElement, outer: Context, drawing: Drawing, shapes: Shape[]): void {
  const guests = guestsIn(layer);
  const context = guests.length === 0 ? null : enter(layer, outer, drawing);
  if (context !== null) for (const guest of guests) visit(guest, context, drawing, shapes);
}

const isDrawable = (name: string): boolean =>
  isShape(name) || CONTAINERS.has(name) || LEFT_OUT.has(name) || ["svg", "switch", "use"].includes(name);

/** The context inside an element: `null` where nothing of it is drawn. */
export function enter(element: XmlElement, outer: Context, drawing: Drawing): Context | null {
  const declared = drawing.declaredOn(element);
  if (declared.get("display") === "none" || !conditionsHold(element)) return null;
  const name = outer.prefix + drawing.nameOf(element);
  const paints = outer.purpose === "paint";

  const seen = paints || outer.purpose === "mask";
  const opacity = seen ? (parseOpacity(declared.get("opacity") ?? "1") ?? 1) : 1;
  if (opacity === 0) return null;
  if (paints) {
    if (opacity < 1) noteTransparent(name, drawing);
    noteFilter(name, declared, drawing);
  }
  const lengths = lengthsIn(outer);
  const toMm = transformed(declared, outer, lengths, name, drawing);
  if (toMm === null) return null;
  const context: Context = {
    ...outer,
    toMm,
    style: computeStyle(declared, outer.style, lengths),
    opacity: outer.opacity * opacity,
    overrides: inheritOverrides(outer.overrides, element, name, drawing.notes),
    chain: [...outer.chain, element],
    groups: element.name === "g" ? [...outer.groups, ...namesOf(element)] : outer.groups,
  };
  const clip = clipped(element, declared, context, name, drawing);
  if (clip !== null && clip.length === 0) return null;
  const left = seen ? masked(element, declared, { ...context, clip }, name, drawing) : clip;
  return left !== null && left.length === 0 ? null : { ...context, clip: left };
}

const lengthsIn = ({ style, viewportWidth, viewportHeight }: Context): LengthContext => ({
  fontSizePx: style.fontSizePx,
  viewportWidth,
  viewportHeight,
});

/** What an element draws once its own context is known. */
function draw(element: XmlElement, context: Context, drawing: Drawing, shapes: Shape[]): void {
  const name = context.prefix + drawing.nameOf(element);
  if (isShape(element.name)) drawShape(element, context, name, drawing, shapes);
  else if (CONTAINERS.has(element.name)) visitChildren(element, context, drawing, shapes);
  else if (element.name === "svg") drawViewport(element, element, context, drawing, shapes);
  else if (element.name === "use") drawUse(element, context, name, drawing, shapes);
  else if (element.name === "switch") {
    const chosen = elementsIn(element).find(
      (child) => isSvg(child) && isDrawable(child.name) && !LEFT_OUT.has(child.name) && conditionsHold(child),
    );
    if (chosen !== undefined) visit(chosen, context, drawing, shapes);
  } else if (context.purpose === "paint" && context.style.visible) {
    const remedy = LEFT_OUT.get(element.name) ?? "";
    const code = element.name === "foreignObject" ? "foreign-object" : element.name;
    drawing.notes.add(
      `${code}-left-out`,
      "warning",
      name,
      `The ${element.name} “${name}” is left out.`,
      remedy,
    );
  }
}

function drawShape(
  element: XmlElement,
  context: Context,
  name: string,
  drawing: Drawing,
  shapes: Shape[],
): void {
  const { style, toMm, clip, overrides } = context;
  if (!style.visible) return;
  const declared = drawing.declaredOn(element);
  const property = (key: string) => declared.get(key) ?? element.attributes[key];
  drawing.countPathText(property("d")?.length ?? 0);
  const { outline, problem } = readShape(element.name, property, lengthsIn(context));
  if (problem !== undefined)
    drawing.notes.add(
      "bad-geometry",
      "warning",
      name,
      outline.length === 0
        ? `“${name}” ${problem}; it is left out.`
        : `“${name}” ${problem}; it is drawn up to there.`,
      "Correct the element in the editor, or remove it.",
    );
  if (outline.length === 0) return;
  if (style.marked && context.purpose === "paint")
    drawing.notes.add(
      "marker-left-out",
      "info",
      name,
      `The markers on “${name}” are left out.`,
      "Convert the stroke and its markers to paths in the editor.",
    );
  const fixedStroke = declared.get("vector-effect") === "non-scaling-stroke";
  shapes.push({
    element,
    elementName: drawing.nameOf(element),
    name,
    outline,
    toMm,
    style,
    lengths: lengthsIn(context),
    fixedStroke,
    clip,
    overrides,
    opacity: context.opacity,
    groups: context.groups,
  });
}

/** What a group is called: by its id, by its title, by the label that a desktop editor gives a layer. */
function namesOf(group: XmlElement): string[] {
  const title = elementsIn(group).find(({ name }) => name === "title");
  const written = title?.children
    .map((child) => (child.type === "text" ? child.text : ""))
    .join("")
    .trim();
  const label = Object.entries(group.attributes).find(([name]) => name.endsWith(":label"))?.[1];
  const names = [group.attributes.id, written, label];
  return [...new Set(names.filter((name): name is string => name !== undefined && name !== ""))];
}

/**
 * The content of a nested `svg`, or of a `symbol`, in a viewport of its own (SVG 2, 8.3 and 5.6).
 *
 * @param sized the element whose x, y, width and height count: the viewport's own, or the `use` that draws it
 */
function drawViewport(
  element: XmlElement,
  sized: XmlElement,
  context: Context,
  drawing: Drawing,
  shapes: Shape[],
): void {
  const lengths = lengthsIn(context);
  const given = (key: string, axis: "x" | "y", absent: string): number => {
    const own = drawing.declaredOn(element).get(key) ?? absent;
    const text = sized === element ? own : (drawing.declaredOn(sized).get(key) ?? own);
    return lengthToUser(text === "auto" ? absent : text, axis, lengths) ?? 0;
  };
  const isSymbol = element.name === "symbol";
  const x = isSymbol ? 0 : placeOf(element, "x", lengths, drawing);
  const y = isSymbol ? 0 : placeOf(element, "y", lengths, drawing);
  const width = given("width", "x", "100%");
  const height = given("height", "y", "100%");
  if (!(width > 0 && height > 0 && Number.isFinite(width * height))) return;

  const box = parseViewBox(element.attributes.viewBox);
  if (box !== null && (box.width === 0 || box.height === 0)) return;
  const placed = multiply(context.toMm, translation(x, y));
  const fit =
    box === null ? IDENTITY : viewBoxMatrix(box, width, height, element.attributes.preserveAspectRatio ?? "");
  const shows = ["visible", "auto"].includes(drawing.declaredOn(element).get("overflow") ?? "hidden");
  const window = shows ? null : rectangle(0, 0, width, height, placed);
  const inner: Context = {
    ...context,
    toMm: multiply(placed, fit),
    viewportWidth: box?.width ?? width,
    viewportHeight: box?.height ?? height,
    clip: context.purpose === "measure" ? null : narrowed(context.clip, window),
  };
  visitChildren(element, inner, drawing, shapes);
}

const placeOf = (element: XmlElement, key: "x" | "y", lengths: LengthContext, drawing: Drawing): number => {
  const text = drawing.declaredOn(element).get(key);
  const value = text === undefined ? 0 : lengthToUser(text, key, lengths);
  return value !== null && Number.isFinite(value) ? value : 0;
};

function drawUse(
  element: XmlElement,
  context: Context,
  name: string,
  drawing: Drawing,
  shapes: Shape[],
): void {
  const href = hrefOf(element);
  if (href === undefined) return;
  const target = drawing.target(href, name);
  if (target === null) return;
  if (context.chain.includes(target)) {
    drawing.notes.add(
      "use-cycle",
      "warning",
      name,
      `“${name}” draws itself by way of “${drawing.nameOf(target)}”; it is left out.`,
      "Let it refer to an element that does not contain it.",
    );
    return;
  }
  const lengths = lengthsIn(context);
  const moved = translation(placeOf(element, "x", lengths, drawing), placeOf(element, "y", lengths, drawing));
  const inner: Context = { ...context, toMm: multiply(context.toMm, moved), prefix: `${name}/` };
  if (target.name !== "symbol" && target.name !== "svg") {
    visit(target, inner, drawing, shapes);
    return;
  }
  drawing.countVisit();
  const entered = enter(target, inner, drawing);
  if (entered !== null) drawViewport(target, element, entered, drawing, shapes);
}

/** `requiredExtensions` never holds, and the reader's language is English (SVG 2, 5.8). */
function conditionsHold({ attributes }: XmlElement): boolean {
  if (attributes.requiredExtensions !== undefined) return false;
  const languages = attributes.systemLanguage;
  return languages === undefined || languages.split(",").some((one) => /^en(?:-|$)/i.test(one.trim()));
}

/** The map inside an element with its transform; `null`, with a finding, where that can't be inverted. */
function transformed(
  declared: Declared,
  outer: Context,
  lengths: LengthContext,
  name: string,
  drawing: Drawing,
): Matrix | null {
  const text = declared.get("transform");
  if (text === undefined) return outer.toMm;
  const own = parseTransform(text);
  if (own === null) {
    drawing.notes.add(
      "bad-transform",
      "warning",
      name,
      `The transform of “${name}” can’t be read and is ignored: “${text.slice(0, 60)}”.`,
      "Correct the transform, or apply it to the shape in the editor.",
    );
    return outer.toMm;
  }
  const [x, y] = originOf(declared.get("transform-origin"), lengths);
  const about = x === 0 && y === 0 ? own : multiply(multiply(translation(x, y), own), translation(-x, -y));
  const toMm = multiply(outer.toMm, about);
  if (!isSingular(own) && !isSingular(toMm)) return toMm;
  drawing.notes.add(
    "singular-transform",
    "warning",
    name,
    `The transform of “${name}” flattens it to nothing; it is left out.`,
    "Give it a scale other than zero.",
  );
  return null;
}

/** The point that a transform is about, in user units: the origin unless the style names lengths. */
function originOf(text: string | undefined, lengths: LengthContext): [number, number] {
  if (text === undefined) return [0, 0];
  const [x, y] = text.trim().split(/\s+/);
  return [originAlong(x, "x", lengths), originAlong(y ?? "center", "y", lengths)];
}

const ORIGIN_WORDS: Readonly<Record<string, string>> = {
  left: "0%",
  top: "0%",
  center: "50%",
  right: "100%",
  bottom: "100%",
};

const originAlong = (word: string, axis: "x" | "y", lengths: LengthContext): number =>
  lengthToUser(ORIGIN_WORDS[word.toLowerCase()] ?? word, axis, lengths) ?? 0;

function clipped(
  element: XmlElement,
  declared: Declared,
  context: Context,
  name: string,
  drawing: Drawing,
): Region | null {
  const text = declared.get("clip-path");
  if (text === undefined || text === "none" || context.purpose === "measure") return context.clip;
  const href = urlIn(text);
  if (href === null) {
    drawing.notes.add(
      "clip-not-read",
      "warning",
      name,
      `The clip of “${name}” is ignored: “${text.slice(0, 40)}” is no reference to a clipPath.`,
      "Clip it with a path in the editor.",
    );
    return context.clip;
  }
  const target = drawing.target(href, name);
  if (target === null || target.name !== "clipPath") return context.clip;
  if (context.chain.includes(target)) {
    drawing.notes.add(
      "clip-cycle",
      "warning",
      name,
      `“${name}” is clipped by itself; that clip is ignored.`,
      "Clip it with another path.",
    );
    return context.clip;
  }
  const content = () => contentOf(element, context, drawing);
  return narrowed(context.clip, clipRegion(target, context, content, shapesOf, enter, drawing));
}

/** What an element draws, in its own user units, for its box. */
function contentOf(element: XmlElement, context: Context, drawing: Drawing): Shape[] {
  const shapes: Shape[] = [];
  const measured: Context = { ...context, toMm: IDENTITY, clip: null, purpose: "measure" };
  if (element.name === "mask") visitChildren(element, measured, drawing, shapes);
  else draw(element, measured, drawing, shapes);
  return shapes;
}

/** What a mask leaves of the clip around an element. */
function masked(
  element: XmlElement,
  declared: Declared,
  context: Context,
  name: string,
  drawing: Drawing,
): Region | null {
  const text = declared.get("mask") ?? "none";
  if (text === "none" || text === "initial") return context.clip;
  const href = urlIn(text);
  const target = href === null ? null : drawing.target(href, name);
  if (target === null && href !== null) return context.clip;
  if (target === null || target.name !== "mask" || context.chain.includes(target)) {
    noteLeftOut("mask", name, drawing);
    return context.clip;
  }
  const content = () => contentOf(element, context, drawing);
  const { region, soft } = maskRegion(target, context, content, shapesWithin, enter, drawing);
  if (soft && context.purpose === "paint")
    drawing.notes.add(
      "mask-hard-edged",
      "info",
      name,
      `The mask of “${name}” is soft; it is sewn where the mask lets half or more of it through.`,
      "Clip it with a path where it should end.",
    );
  return narrowed(context.clip, region);
}

const narrowed = (clip: Region | null, by: Region | null): Region | null =>
  clip === null || by === null ? (clip ?? by) : intersect(clip, by);

export const noteTransparent = (name: string, drawing: Drawing): void =>
  drawing.notes.add(
    "transparent-sewn-solid",
    "info",
    name,
    `“${name}” is partly transparent; thread is not, so it is sewn solid, in the colours that it has over what lies under it.`,
    "Give it the colour that it should have when sewn.",
  );

function noteFilter(name: string, declared: Declared, drawing: Drawing): void {
  const value = declared.get("filter") ?? "none";
  if (value !== "none" && value !== "initial") noteLeftOut("filter", name, drawing);
}

const noteLeftOut = (effect: "filter" | "mask", name: string, drawing: Drawing): void =>
  drawing.notes.add(
    `${effect}-left-out`,
    "warning",
    name,
    `“${name}” is drawn without its ${effect}.`,
    effect === "mask" ? "Clip it with a path instead." : "Draw the effect with shapes, or remove it.",
  );
