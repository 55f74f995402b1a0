/**
 * All that the artist marked by hand in a drawing: on shapes, by moving markers, by reshaping connectors.
 *
 * What was done last counts. A marker that was moved since it was planned goes before the attribute on its
 * element; the attribute goes before a marker that merely stands where it was pinned. So that a moved marker
 * does not lose to an older attribute when the drawing is planned again, the marker is written with the
 * attribute's text (`data-tuck-over`) and goes before it as long as that text is the same. A marker that shows
 * what an attribute says is no pin by itself: deleting the attribute frees the point. Bends go by the same rule.
 */
import type { Artwork, Bend, Marks, Pin } from "../artwork/types.ts";
import { parseXml, type XmlElement } from "../artwork/xml.ts";
import type { Finding } from "../findings.ts";
import { elementMarks, type Written } from "./element-marks.ts";
import { drawnBends } from "./read-bends.ts";
import { type Drawn, markerPins } from "./read-pins.ts";

/**
 * The marks in a drawing, and findings about those that could not be read.
 *
 * @param drawing its text, or the root that `parseXml` made of it
 * @param artwork what was read from the drawing
 * @throws ArtworkError where a text is not well-formed XML
 */
export function readMarks(
  drawing: string | XmlElement,
  artwork: Pick<Artwork, "pieces" | "userToMm">,
): { marks: Marks; findings: readonly Finding[] } {
  const root = typeof drawing === "string" ? parseXml(drawing) : drawing;
  const onElements = elementMarks(root, artwork);
  const onMarkers = markerPins(root, artwork.userToMm);
  return {
    marks: {
      pins: latest(onElements.pins, onMarkers.pins, pinKeys),
      bends: latest(onElements.bends, drawnBends(root, artwork.userToMm), bendKeys),
      after: onElements.after,
    },
    findings: [...onElements.findings, ...onMarkers.findings],
  };
}

const pinKeys = ({ piece, point }: Pin): string[] => [`${point} ${piece}`];
const bendKeys = ({ from, to }: Bend): string[] => from.map((piece) => `${piece} ${to}`);

/** Of marks on the same thing, the one that was made last. */
function latest<T extends Pin | Bend>(
  written: readonly Written<T>[],
  drawn: readonly Drawn<T>[],
  keysOf: (mark: T) => string[],
): T[] {
  const textOf = new Map(
    written.flatMap(({ mark, text }) => keysOf(mark).map((key) => [key, text] as const)),
  );
  const kept = drawn.flatMap(({ mark, isMoved }) => {
    const { over, ...rest } = mark;
    const text = textOf.get(keysOf(mark)[0]);
    if (text === undefined) return [rest as T];
    return isMoved || over === text ? [{ ...rest, over: text } as T] : [];
  });
  const taken = new Set(kept.flatMap(keysOf));
  return [
    ...written.flatMap(({ mark }) => (keysOf(mark).some((key) => taken.has(key)) ? [] : [mark])),
    ...kept,
  ];
}
