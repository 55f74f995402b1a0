/**
 * The conformance tests of SVG 1.1, second edition (W3C), with the pictures of how they should look, as Debian's
 * package librsvg2-tests carries them: every one is planned or refused in one line, and what is read of those that
 * are about shapes lies where the picture has it, in its colour.
 *
 * The same package has drawings that made another program stop: none stops this one.
 */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readArtwork } from "../../core/artwork/read.ts";
import type { Artwork } from "../../core/artwork/types.ts";
import { ArtworkError } from "../../core/errors.ts";
import { ringsOf } from "../../core/geometry/region.ts";
import type { Ring } from "../../core/geometry/types.ts";
import { makePlan } from "../../core/plan/make-plan.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { CONFORMANCE_FOLDER, CRASH_FOLDERS, filesIn } from "../support/drawing-sets.ts";
import { needlePathFaults } from "../support/plan-checks.ts";
import { type Pixels, svgToPixels } from "../support/png.ts";

const isThere = existsSync(CONFORMANCE_FOLDER);
if (!isThere) console.warn("The conformance tests of SVG are not run: Debian's librsvg2-tests has them.");
const conformance = isThere ? filesIn(CONFORMANCE_FOLDER) : [];
const crashes = isThere
  ? CRASH_FOLDERS.flatMap((folder) => filesIn(folder).map((name) => [name, folder]))
  : [];

/** What came of a drawing: faults of its needle path, or the one line that refuses it. */
function outcome(folder: string, name: string): string[] {
  const text = readFileSync(join(folder, name), "utf8");
  try {
    return needlePathFaults(makePlan(text, name, { ...DEFAULT_SETTINGS, widthMm: 100 }));
  } catch (error) {
    if (!(error instanceof ArtworkError)) throw error;
    return error.message.includes("\n") || error.message === "" ? [`said ${error.message}`] : [];
  }
}

describe("SVG's conformance tests", () => {
  test.skipIf(!isThere && process.env.CI !== "true")("are on this machine", () => {
    expect(conformance.length).toBeGreaterThan(100);
  });

  test.each(conformance)("%s is planned", (name) => {
    expect(outcome(CONFORMANCE_FOLDER, name)).toEqual([]);
  });

  test.each(conformance.filter(isAboutShapes))("%s looks as it should", (name) => {
    const text = readFileSync(join(CONFORMANCE_FOLDER, name), "utf8");
    const ours = picturedRead(readArtwork(text, name, DEFAULT_SETTINGS));
    const { strayShare, missingShare } = compared(ours, referenceOf(name, ours));
    expect(strayShare).toBeLessThan(MOST_STRAY);
    expect(missingShare).toBeLessThan(MOST_MISSING);
  });

  test.each(crashes)("%s, which made another program stop, is planned or refused", (name, folder) => {
    expect(outcome(folder, name)).toEqual([]);
  });
});

/** Of families about what Tuckline sews. */
function isAboutShapes(name: string): boolean {
  return (
    /^(coords|masking-path|painting|paths|shapes|struct|styling|types)/.test(name) && !(name in OTHERWISE)
  );
}

/** Those of them that are about something else, or are sewn otherwise on purpose. */
const OTHERWISE: Readonly<Record<string, string>> = {
  "coords-viewattr-01-b.svg": "images",
  "coords-viewattr-02-b.svg": "images",
  "masking-path-03-b.svg": "letters cut off by the edges of viewports",
  "masking-path-04-b.svg": "an image",
  "painting-marker-01-f.svg": "markers",
  "painting-marker-02-f.svg": "markers",
  "painting-marker-03-f.svg": "markers",
  "painting-marker-04-f.svg": "markers",
  "painting-marker-06-f.svg": "markers",
  "painting-marker-07-f.svg": "markers",
  "painting-marker-properties-01-f.svg": "markers",
  "painting-stroke-05-t.svg": "lines finer than thread, which are sewn in full",
  "painting-stroke-08-t.svg": "see-through strokes, which are sewn solid",
  "struct-cond-03-t.svg": "requiredFeatures, which SVG 2 leaves out",
  "struct-use-01-t.svg": "an image and letters",
  "struct-use-04-b.svg": "other files",
};

/** Of all pixels painted: hairlines and small letters are pale in one picture and not in the other. */
const MOST_STRAY = 0.08;
/** Of all pixels painted: coloured ones of the reference that stay bare. */
const MOST_MISSING = 0.04;

const PX_WIDTH = 480;

/** All that is read, each piece in its colour, by a rasteriser that shares nothing with the core. */
function picturedRead({ size: { widthMm, heightMm }, pieces }: Artwork): Pixels {
  const data = (ring: Ring): string =>
    `M${ring.map((p) => p.map((mm) => mm.toFixed(3)).join(" ")).join("L")}z`;
  const painted = pieces.map(
    ({ region, colour }) =>
      `<path fill="${colour}" fill-rule="evenodd" d="${ringsOf(region).map(data).join("")}"/>`,
  );
  return onWhite(`viewBox="0 0 ${widthMm} ${heightMm}"`, PX_WIDTH, (PX_WIDTH * heightMm) / widthMm, painted);
}

function referenceOf(name: string, { width, height }: Pixels): Pixels {
  const png = readFileSync(join(CONFORMANCE_FOLDER, name.replace(".svg", "-ref.png"))).toString("base64");
  const image = `<image width="${width}" height="${height}" preserveAspectRatio="none" href="data:image/png;base64,${png}"/>`;
  return onWhite("", width, height, [image]);
}

const onWhite = (view: string, width: number, height: number, content: readonly string[]): Pixels =>
  svgToPixels(
    `<svg xmlns="http://www.w3.org/2000/svg" ${view} width="${width}" height="${height}"><rect width="${width}" height="${height}" fill="#fff"/>${content.join("")}</svg>`,
    PX_WIDTH,
  );

/**
 * The share of painted pixels that have another colour in the reference, and, as a share of as many, the coloured
 * pixels of the reference that are bare. Letters, which are black, are not looked for. A pixel aside is no fault.
 */
function compared(ours: Pixels, reference: Pixels): { strayShare: number; missingShare: number } {
  const count = ours.width * ours.height;
  let [painted, stray, missing] = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    const [ownLeast] = range(ours, i);
    if (ownLeast < PAINTED_BELOW) {
      painted++;
      if (!isLikeNearby(ours, i, reference)) stray++;
    }
    const [least, most] = range(reference, i);
    if (most - least > COLOURED_ABOVE && !isLikeNearby(reference, i, ours)) missing++;
  }
  return { strayShare: stray / painted, missingShare: missing / painted };
}

const PAINTED_BELOW = 250;
const COLOURED_ABOVE = 60;
/** A sum over the three channels, as the sew-out's likeness is measured by. */
const ALIKE = 48;

function range({ rgba }: Pixels, i: number): [least: number, most: number] {
  const rgb = rgba.subarray(4 * i, 4 * i + 3);
  return [Math.min(...rgb), Math.max(...rgb)];
}

function isLikeNearby(of: Pixels, i: number, other: Pixels): boolean {
  const { width, height } = of;
  const [x, y] = [i % width, Math.floor(i / width)];
  for (let row = Math.max(0, y - 1); row <= Math.min(height - 1, y + 1); row++)
    for (let column = Math.max(0, x - 1); column <= Math.min(width - 1, x + 1); column++) {
      const j = row * width + column;
      const away = [0, 1, 2].reduce(
        (sum, c) => sum + Math.abs(of.rgba[4 * i + c] - other.rgba[4 * j + c]),
        0,
      );
      if (away <= ALIKE) return true;
    }
  return false;
}
