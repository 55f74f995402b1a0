/**
 * Each element of 80 real drawings, against the same element drawn alone in black by @resvg/resvg-js, a
 * rasteriser that shares nothing with the core. The areas must agree to 0.5 %.
 *
 * The element is drawn alone by emptying all others: the file keeps its groups and definitions. The picture is
 * cropped to the element, so that small ones are drawn large. Its area is the sum of its pixels' coverage. Some
 * few in a thousand of the edge's pixels are its own error, so that slender elements are not worth a comparison.
 */
import { describe, expect, it } from "vitest";
import { readArtwork } from "../../core/artwork/read.ts";
import type { Artwork, Piece } from "../../core/artwork/types.ts";
import { parseXml, type XmlElement } from "../../core/artwork/xml.ts";
import { growBox } from "../../core/geometry/point.ts";
import { regionArea, regionBox, union } from "../../core/geometry/region.ts";
import type { Box, Region } from "../../core/geometry/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { svgToPixels } from "../support/png.ts";
import { sampleFiles } from "../support/sample.ts";

/** Of the longer side of the picture. */
const PX_SIZE = 600;
/** So wide that the flattening tolerance, which is of the thread's scale, is no part of the comparison. */
const WIDTH_MM = 4000;
const LEAST_PX = 40_000;

const SHAPES = new Set(["path", "rect", "circle", "ellipse", "line", "polyline", "polygon"]);

describe("silhouettes of real drawings", () => {
  const sample = sampleFiles();

  it("holds 80 files", () => expect(new Set(sample.map(({ name }) => name)).size).toBe(80));

  it("agree with a rasteriser to 0.5 % of the area, element by element", () => {
    const wrong: string[] = [];
    let compared = 0;
    for (const { name, text } of sample) {
      const artwork = readArtwork(text, name, { ...DEFAULT_SETTINGS, widthMm: WIDTH_MM });
      for (const [element, pieces] of byElement(artwork.pieces)) {
        const region = union(pieces.map((piece) => piece.region));
        const box = boxOnPage(region, artwork);
        const pxPerMm = PX_SIZE / Math.max(box.maxX - box.minX, box.maxY - box.minY);
        const readPx = regionArea(region) * pxPerMm ** 2;
        if (readPx < LEAST_PX) continue;
        compared++;
        const drawnPx = coverage(cropped(alone(text, element), box, pxPerMm, artwork));
        if (Math.abs(readPx / drawnPx - 1) > 0.005)
          wrong.push(`${name} ${element}: ${readPx.toFixed(0)} px read, ${drawnPx.toFixed(0)} px drawn`);
      }
    }
    expect(wrong).toEqual([]);
    expect(compared).toBeGreaterThan(400);
  }, 120_000);
});

function byElement(pieces: readonly Piece[]): Map<string, Piece[]> {
  const groups = new Map<string, Piece[]>();
  for (const piece of pieces) groups.set(piece.element, [...(groups.get(piece.element) ?? []), piece]);
  return groups;
}

/** The drawing with one shape left, black and solid; others become empty groups. */
function alone(text: string, wanted: string): string {
  const counts = new Map<string, number>();
  const edits: { start: number; end: number; by: string }[] = [];
  const visit = (element: XmlElement, inDefinitions: boolean): void => {
    const count = (counts.get(element.name) ?? 0) + 1;
    counts.set(element.name, count);
    const name = element.attributes.id ?? `${element.name}-${count}`;
    if (SHAPES.has(element.name) && !inDefinitions) {
      const opening = text.slice(element.start, element.openEnd);
      if (name === wanted) {
        edits.push({ start: element.start, end: element.openEnd, by: blackened(opening) });
      } else edits.push({ start: element.start, end: element.end, by: "<g/>" });
    } else if ("opacity" in element.attributes) {
      const opening = text.slice(element.start, element.openEnd);
      edits.push({ start: element.start, end: element.openEnd, by: opening.replace(/ opacity="[^"]*"/, "") });
    }
    for (const child of element.children)
      if (child.type === "element")
        visit(child, inDefinitions || ["defs", "clipPath"].includes(element.name));
  };
  visit(parseXml(text), false);
  return edits
    .sort((a, b) => b.start - a.start)
    .reduce((out, { start, end, by }) => out.slice(0, start) + by + out.slice(end), text);
}

const blackened = (opening: string): string =>
  opening
    .replace(/ (fill-)?opacity="[^"]*"/g, "")
    .replace(/ fill="(?!none)[^"]*"/, ' fill="#000"')
    .replace(/ stroke="(?!none)[^"]*"/, ' stroke="#000"');

function boxOnPage(region: Region, { size }: Artwork): Box {
  const { minX, minY, maxX, maxY } = growBox(regionBox(region), 1);
  return {
    minX: Math.max(0, minX),
    minY: Math.max(0, minY),
    maxX: Math.min(size.widthMm, maxX),
    maxY: Math.min(size.heightMm, maxY),
  };
}

/** The drawing with a box of it, given in millimetres, for its page: whole pixels, so that nothing is stretched. */
function cropped(text: string, box: Box, pxPerMm: number, { userToMm }: Artwork): string {
  const [scale, , , , left, top] = userToMm;
  const width = Math.ceil((box.maxX - box.minX) * pxPerMm);
  const height = Math.ceil((box.maxY - box.minY) * pxPerMm);
  const viewBox = [box.minX - left, box.minY - top, width / pxPerMm, height / pxPerMm]
    .map((mm) => mm / scale)
    .join(" ");
  const root = parseXml(text);
  const opening = text
    .slice(root.start, root.openEnd)
    .replace(/ (viewBox|width|height|x|y)="[^"]*"/g, "")
    .replace(/^<svg/, `<svg viewBox="${viewBox}" width="${width}" height="${height}"`);
  return text.slice(0, root.start) + opening + text.slice(root.openEnd);
}

/** The sum of the pixels' coverage, in pixels. */
function coverage(svg: string): number {
  const width = Number(/ width="(\d+)"/.exec(svg)?.[1]);
  const { rgba } = svgToPixels(svg, width);
  let sum = 0;
  for (let i = 3; i < rgba.length; i += 4) sum += rgba[i];
  return sum / 255;
}
